"""Lengths and torques in the units of both kinds of workshop.

Source: NIST Special Publication 811, appendix B.8: 1 inch is 25.4 mm, 1 foot pound-force is 1.355 818 N·m (from memory).
"""

from __future__ import annotations

from contextvars import copy_context

import pytest

from rangebook.words.measures import millimetres, put_first, torque


@pytest.mark.parametrize("value", [0.5, 8, 9.5, 38, 120])
def test_both_are_shown_and_the_one_asked_for_stands_first(value: float) -> None:
    inches, pounds = value / 25.4, value / 1.355818
    assert millimetres(value) == f"{value:g} mm ({inches:.3f} in)"
    assert torque(value) == f"{value:g} N·m ({pounds:.1f} lbf·ft)"

    def in_us() -> None:
        put_first("us")
        assert millimetres(value) == f"{inches:.3f} in ({value:g} mm)"
        assert torque(value) == f"{pounds:.1f} lbf·ft ({value:g} N·m)"

    copy_context().run(in_us)
    assert millimetres(value) == f"{value:g} mm ({inches:.3f} in)"
