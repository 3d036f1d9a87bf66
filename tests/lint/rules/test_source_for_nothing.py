"""source-for-nothing."""


def test_each_fact_that_is_not_stated_is_found_where_it_is_named(look):
    (found,) = look(
        "source-for-nothing",
        "    kind: switch\n    parts:\n      - number: TB-20417\n"
        "        pins: {1: start_feed}\n        sources: [{kind: seen, for: [pins, mount]}]\n",
    )
    assert found.at == "mount]}]" and "TB-20417" in found.message and "pins" in found.fix


def test_powered_outputs_count_as_contacts(look):
    part = "      - number: TB-20417\n        signals: [{pin: 1, supply: 2, ground: 3}]\n        sources: [{kind: seen, for: [contacts]}]\n"
    assert look("source-for-nothing", f"    kind: switch\n    parts:\n{part}") == []


def test_never_closed_is_stated(look):
    part = "      - number: TB-20417\n        contacts: []\n        sources: [{kind: seen, for: [contacts]}]\n"
    assert look("source-for-nothing", f"    kind: switch\n    parts:\n{part}") == []


def test_a_family_s_source_may_stand_for_what_a_part_states(look):
    part = "      - number: TB-20417\n        pins: {1: start_feed}\n"
    top = f"    kind: switch\n    parts:\n{part}    sources: [{{kind: wiring-diagram, for: [pins, fitting]}}]\n    fitting: {{set_in: N}}\n"
    assert look("source-for-nothing", top) == []


def test_a_kit_and_a_successor(look):
    kit = "    kind: kit\n    sources: [{kind: seen, for: [pins]}]\n"
    (found,) = look("source-for-nothing", kit)
    assert "leave `for` out" in found.fix
    link = "          - {number: TB-2, sources: [{kind: catalogue, for: [supersession]}, {kind: hearsay, for: [mount]}]}\n"
    part = f"      - number: TB-20417\n        superseded_by:\n{link}"
    (found,) = look("source-for-nothing", f"    kind: switch\n    parts:\n{part}")
    assert "the successor TB-2" in found.message


def test_what_a_design_of_the_number_states_is_stated(look):
    part = "      - number: TB-20417\n        revisions: [{when: {marked: B}, pins: {1: start_feed}}]\n"
    source = "        sources: [{kind: seen, for: [pins, mount]}]\n"
    (found,) = look("source-for-nothing", f"    kind: switch\n    parts:\n{part}{source}")
    assert "`mount`" in found.message
