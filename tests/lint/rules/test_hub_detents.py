"""hub-detents."""

import pytest

HUB = "    kind: switch\n    mounts: {short-boss: {hub: {%s}}}\n"
STEPS = "steps_deg: [18, 16, 16, 18, 18]"


@pytest.mark.parametrize(
    ("hub", "said"),
    [
        (f"position: M, at_deg: 35, {STEPS}", "no position of this lever"),
        (f"position: N, {STEPS}", "only together"),
        (f"at_deg: 35, {STEPS}", "only together"),
        ("position: N, at_deg: 35, steps_deg: [18, 16, 16, 18]", "between 6 positions there are 5"),
        ("position: N, at_deg: 35, steps_deg: [18, 16, 16, 18, 18, 18]", "between 6 positions there are 5"),
        ("position: N, at_deg: 35, steps_deg: [18, 16, 0, 18, 18]", "one way"),
        ("position: N, at_deg: 35, steps_deg: [18, 16, -16, 18, 18]", "one way"),
        ("position: N, at_deg: 35, steps_deg: [90, 90, 90, 90, 90]", "less than once round"),
    ],
)
def test_what_cannot_be_is_told(look, hub: str, said: str):
    (found,) = look("hub-detents", HUB % hub)
    assert said in found.message and "short-boss" in found.message


@pytest.mark.parametrize("hub", [f"position: N, at_deg: -35, {STEPS}", "steps_deg: [-18, -16, -16, -18, -18]", "position: P, at_deg: 0"])
def test_what_can_be_and_what_is_left_out_is_let_be(look, hub: str):
    assert look("hub-detents", HUB % hub) == []
