"""Ends of a measure catch at corners first, then at edges, and at nothing farther than said."""

from __future__ import annotations

import pytest

from coverlayout.layout.measuring.catching import Caught, Edging, caught

# An L without symmetry: 40 wide, 30 high, its inner corner at (15, 12).
ELL = Edging("ell", ((0.0, 0.0), (40.0, 0.0), (40.0, 12.0), (15.0, 12.0), (15.0, 30.0), (0.0, 30.0)))
CREASE = Edging("crease", ((50.0, 0.0), (80.0, 40.0)), closed=False)
PIN = Edging("pin", ((-20.0, -20.0),))


@pytest.mark.parametrize(
    ("at_mm", "expected"),
    [
        ((16.0, 13.0), Caught((15.0, 12.0), "corner", "ell")),
        ((39.0, -1.0), Caught((40.0, 0.0), "corner", "ell")),
        ((25.0, 13.5), Caught((25.0, 12.0), "edge", "ell")),
        ((-1.5, 20.0), Caught((0.0, 20.0), "edge", "ell")),
        # The last edge runs back to the first point.
        ((1.0, 9.0), Caught((0.0, 9.0), "edge", "ell")),
        # Inside, far from every edge.
        ((7.0, 20.0), None),
        ((300.0, 300.0), None),
    ],
)
def test_an_outline_catches_by_hand_worked_places(at_mm: tuple[float, float], expected: Caught | None) -> None:
    assert caught(at_mm, [ELL], 2.0) == expected


def test_a_slanted_line_catches_at_the_foot_of_the_perpendicular() -> None:
    # Half way is (65, 20); the line runs along (3, 4) / 5, so (-4, 3) / 5 leads straight away from it.
    found = caught((65.0 - 0.8, 20.0 + 0.6), [CREASE], 1.5)
    assert found is not None
    assert found.at_mm == (pytest.approx(65.0), pytest.approx(20.0))
    assert (found.kind, found.name) == ("edge", "crease")


def test_an_open_line_has_no_edge_back_and_none_beyond_its_ends() -> None:
    bent = Edging("bent", ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0)), closed=False)
    assert caught((10.0, 10.5), [bent], 2.0) is None
    assert caught((10.0, 10.5), [Edging("bent", bent.points_mm)], 2.0) is not None
    assert caught((83.0, 44.0), [CREASE], 2.0) is None


def test_a_corner_wins_over_a_nearer_edge_and_the_nearest_corner_over_others() -> None:
    near = Edging("near", ((0.0, 1.0), (100.0, 1.0)), closed=False)
    found = caught((38.5, 1.0), [near, ELL], 2.0)
    assert found == Caught((40.0, 0.0), "corner", "ell")
    close = Edging("close", ((39.0, 1.0),))
    assert caught((38.5, 1.0), [ELL, close], 2.0) == Caught((39.0, 1.0), "corner", "close")


def test_a_single_point_catches_and_an_edge_without_length_is_its_point() -> None:
    assert caught((-19.5, -20.5), [PIN], 1.0) == Caught((-20.0, -20.0), "corner", "pin")
    doubled = Edging("doubled", ((5.0, 5.0), (5.0, 5.0), (50.0, 5.0)), closed=False)
    assert caught((20.0, 6.0), [doubled], 2.0) == Caught((20.0, 5.0), "edge", "doubled")


def test_what_is_just_too_far_does_not_catch() -> None:
    assert caught((25.0, 14.0), [ELL], 2.0) == Caught((25.0, 12.0), "edge", "ell")
    assert caught((25.0, 14.01), [ELL], 2.0) is None
    # Within the box around the corner, yet farther than said.
    assert caught((41.8, -1.8), [ELL], 2.0) is None
    assert caught((3.0, 3.0), [], 2.0) is None
