"""Length, parts and lean of a measure, against arithmetic worked by hand and the same figures seen mirrored."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.geometry.frames import cloth_to_back
from coverlayout.layout.measuring.measure import measured, square_deg

PLACES = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


def test_three_four_five() -> None:
    found = measured((100.0, 100.0), (70.0, 60.0))
    assert (found.length_mm, found.across_mm, found.along_mm) == (50.0, 30.0, 40.0)
    assert found.corner_mm == (70.0, 100.0)
    # Up and to the left is the same line as down and to the right: it falls by 53.13 degrees.
    assert found.lean_deg == pytest.approx(math.degrees(math.atan2(40, 30)))


@pytest.mark.parametrize(
    ("end_mm", "lean_deg"),
    [
        ((10.0, 0.0), 0.0),
        ((-10.0, 0.0), 0.0),
        ((0.0, 10.0), 90.0),
        ((0.0, -10.0), 90.0),
        ((10.0, 10.0), 45.0),
        ((10.0, -10.0), -45.0),
        ((-10.0, 10.0), -45.0),
        ((0.0, 0.0), 0.0),
    ],
)
def test_a_line_has_no_first_end(end_mm: tuple[float, float], lean_deg: float) -> None:
    assert measured((0.0, 0.0), end_mm).lean_deg == pytest.approx(lean_deg)


def test_by_a_base_line_the_parts_turn_with_it() -> None:
    # Across runs 30 degrees down to the right; 20 mm along that line are 20 across and nothing along.
    way = 20 * math.cos(math.radians(30)), 20 * math.sin(math.radians(30))
    found = measured((5.0, 5.0), (5.0 + way[0], 5.0 + way[1]), across_deg=30.0)
    assert (found.across_mm, found.along_mm) == (pytest.approx(20.0), pytest.approx(0.0))
    assert found.lean_deg == pytest.approx(0.0)
    # One degree off over 183 mm, as an edge may be: 183 sin 1 = 3.19 mm.
    off = measured((0.0, 0.0), (183.0, 0.0), across_deg=1.0)
    assert off.along_mm == pytest.approx(3.19, abs=0.005)
    assert off.lean_deg == pytest.approx(-1.0)


@pytest.mark.parametrize(
    ("start_mm", "end_mm", "expected_deg"),
    [
        # Across a line that runs from side to side is up and down.
        ((0.0, 0.0), (100.0, 2.0), math.degrees(math.atan2(2, 100)) - 90.0),
        ((100.0, 2.0), (0.0, 0.0), math.degrees(math.atan2(2, 100)) - 90.0),
        ((0.0, 5.0), (100.0, 5.0), 90.0),
        ((100.0, 5.0), (0.0, 5.0), 90.0),
        # Lengthwise, leaning to the right at the foot: across then rises to the right.
        ((0.0, 0.0), (2.0, 100.0), -math.degrees(math.atan2(2, 100))),
        ((2.0, 100.0), (0.0, 0.0), -math.degrees(math.atan2(2, 100))),
    ],
)
def test_a_line_says_which_way_is_across(
    start_mm: tuple[float, float], end_mm: tuple[float, float], expected_deg: float
) -> None:
    assert square_deg(start_mm, end_mm) == pytest.approx(expected_deg)


@given(PLACES, PLACES, st.floats(-45, 45))
def test_the_parts_make_the_length(start_mm: tuple[float, float], end_mm: tuple[float, float], across: float) -> None:
    found = measured(start_mm, end_mm, across)
    assert math.hypot(found.across_mm, found.along_mm) == pytest.approx(found.length_mm, abs=1e-9)
    assert math.dist(start_mm, found.corner_mm) == pytest.approx(found.across_mm, abs=1e-9)
    assert math.dist(found.corner_mm, end_mm) == pytest.approx(found.along_mm, abs=1e-9)
    assert -90.0 < found.lean_deg <= 90.0


@given(PLACES, PLACES)
def test_seen_from_the_back_the_figures_stay_and_the_lean_turns_round(
    start_mm: tuple[float, float], end_mm: tuple[float, float]
) -> None:
    over = cloth_to_back(304.8)
    front, back = measured(start_mm, end_mm), measured(over.at(start_mm), over.at(end_mm))
    assert back.length_mm == pytest.approx(front.length_mm, abs=1e-9)
    assert back.across_mm == pytest.approx(front.across_mm, abs=1e-9)
    assert back.along_mm == pytest.approx(front.along_mm, abs=1e-9)
    if front.across_mm > 1e-3 and front.along_mm > 1e-3:
        assert back.lean_deg == pytest.approx(-front.lean_deg, abs=1e-6)
