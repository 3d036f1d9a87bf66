"""name-spelling."""

import pytest

VEHICLES = "    kind: switch\n    applications: [%s]\n"


def _vehicles(*names):
    return VEHICLES % ", ".join(f"{{vehicle: {name}}}" for name in names)


def test_the_rarer_spelling_is_told_wherever_it_stands(look):
    found = look("name-spelling", _vehicles("corran delver 2.4", "Corran Delver 2.4", "Corran Delver 2.4", "Corran  Delver 2.4"))
    assert [one.at.split("}")[0] for one in found] == ["corran delver 2.4", "Corran  Delver 2.4"]
    assert all("write `Corran Delver 2.4`" in one.fix for one in found)


def test_of_two_as_frequent_the_later_is_told(look):
    (found,) = look("name-spelling", _vehicles("Corran-Delver 2.4", "Corran Delver 2.4"))
    assert found.at.startswith("Corran Delver") and "line 49" in found.message


@pytest.mark.parametrize("other", ["Corran Delver 2.0", "Corran Delver 24", "Corran Delver 2.4 TD", "Corran Delvar 2.4"])
def test_other_names_are_let_be(look, other):
    assert look("name-spelling", _vehicles("Corran Delver 2.4", other)) == []


def test_gearboxes_of_two_families_are_compared(look):
    (found,) = look(
        "name-spelling",
        """
    # entries/switches/other.md
    kind: switch
    id: other
    gearboxes: [Tamblin Post, TAMBLIN SHORT]
    parts: [{number: X-1, sources: [{kind: seen}]}]
    applications: []
""",
    )
    assert (found.file, found.at) == ("switches/other.md", "TAMBLIN SHORT]") and "applications" in found.fix


def test_a_vehicle_may_be_called_like_a_gearbox(look):
    assert look("name-spelling", _vehicles("tamblin short")) == []
