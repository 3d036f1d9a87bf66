"""wire-outside-plug."""

PLUG = """
    kind: switch
    parts: [{number: TB-20417, sources: [{kind: seen}]}]
    plugs:
      six-wire:
        connector: %s
        wires: {1: {}, 5: {}, 6: {}, A1: {}}
        reads: {pins: [%s], pull_up_ohms: 1000, volts: 5}
    applications: [{vehicle: Corran Delver 2.4, plug: six-wire, optional_cavities: [%s]}]
"""


def test_a_wire_is_found_at_its_cavity(look):
    (found,) = look("wire-outside-plug", PLUG % ("oval-9", "5, 6", "1"))
    assert found.at.startswith("A1: {}") and "1, 2, 3, 4, 5, 6" in found.message


def test_what_reads_or_may_be_missing_is_found_at_the_cavity(look):
    found = look("wire-outside-plug", PLUG.replace(", A1: {}", "") % ("oval-9", "2, 6", "1, 3"))
    assert [one.at.split("]")[0] for one in found] == ["2, 6", "3"]
    assert all("1, 5, 6" in one.message for one in found)


def test_a_jumper_is_found_at_its_end(look):
    plug = PLUG.replace(", A1: {}", "").replace("        reads:", "        loops: [[1, 7], [5, B9]]\n        reads:")
    (found,) = look("wire-outside-plug", plug % ("oval-9", "5, 6", "1"))
    assert found.at.startswith("B9]") and "a jumper" in found.message


def test_the_housing_may_be_read_against(look):
    assert look("wire-outside-plug", PLUG.replace(", A1: {}", "") % ("oval-9", "5, case", "1")) == []


def test_one_wrong_wire_is_told_once_however_often_it_is_spoken_of(look):
    assert len(look("wire-outside-plug", PLUG % ("oval-9", "A1, 6", "A1"))) == 1


def test_an_unknown_connector_has_unknown_cavities(look):
    assert look("wire-outside-plug", PLUG % ("oval-99", "5, 6", "1")) == []


def test_an_unknown_plug_has_unknown_wires(look):
    assert look("wire-outside-plug", "    kind: switch\n    applications: [{vehicle: X 1, plug: gone, optional_cavities: [9]}]\n") == []


def test_a_connector_with_one_label_twice_has_lost_another(look):
    rows = "\nand\n\n    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    rows: [[1, 2, 3, 4, 6], [6, 7, 8, 9]]\n"
    wires = PLUG.replace(", A1: {}", "") % ("oval-9", "5, 6", "1")
    assert look("wire-outside-plug", wires + rows) == []
    assert len(look("cavity-twice", wires + rows)) == 1
