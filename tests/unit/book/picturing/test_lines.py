"""Arcs, rounded corners and waves against geometry; places drawn closer together keep their order."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.book.picturing.lines import arc, rounded, shortened, wave

PLACES = st.lists(st.floats(-500, 500), min_size=1, max_size=12)


def test_every_point_of_an_arc_lies_on_its_circle() -> None:
    # Chord 24, rise 8: radius (12^2 + 8^2) / 16 = 13, its middle 5 to the right of the chord.
    line = arc(24.0, 8.0)
    assert line[0] == pytest.approx((0.0, 0.0), abs=1e-9)
    assert line[-1] == pytest.approx((0.0, 24.0), abs=1e-9)
    assert min(x for x, _y in line) == pytest.approx(-8.0)
    assert {round(math.dist(point, (5.0, 12.0)), 9) for point in line} == {13.0}


def test_an_arc_farther_out_keeps_its_middle() -> None:
    assert {round(math.dist(point, (5.0, 12.0)), 9) for point in arc(24.0, 8.0, 1.5)} == {14.5}


def test_half_a_circle_bulges_by_its_radius() -> None:
    assert min(x for x, _y in arc(10.0, 5.0)) == pytest.approx(-5.0)


@pytest.mark.parametrize("rise_mm", [0.0, -1.0])
def test_what_does_not_rise_is_straight(rise_mm: float) -> None:
    assert arc(20.0, rise_mm, 0.5) == ((-0.5, 0.0), (-0.5, 20.0))


def test_rounding_keeps_both_ends_and_stays_inside_the_corner() -> None:
    line = rounded(((0.0, 0.0), (10.0, 0.0), (10.0, 6.0), (20.0, 6.0)), 2.0)
    assert line[0] == (0.0, 0.0)
    assert line[-1] == (20.0, 6.0)
    assert (10.0, 0.0) not in line
    assert all(0.0 <= x <= 20.0 and 0.0 <= y <= 6.0 for x, y in line)


def test_short_sides_are_rounded_as_far_as_they_reach() -> None:
    line = rounded(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), 50.0)
    assert line[1] == (0.5, 0.0)
    assert line[-2] == (1.0, 0.5)


def test_repeated_points_are_no_corners() -> None:
    assert rounded(((0.0, 0.0), (0.0, 0.0), (5.0, 0.0), (5.0, 0.0)), 1.0) == ((0.0, 0.0), (5.0, 0.0))


def test_a_wave_begins_and_ends_on_its_line() -> None:
    line = wave(3.0, -5.0, 30.0, 0.8)
    assert line[0] == pytest.approx((3.0, -5.0))
    assert line[-1] == pytest.approx((3.0, 30.0))
    assert max(x for x, _y in line) == pytest.approx(3.8)
    assert min(x for x, _y in line) == pytest.approx(2.2)


def test_only_the_long_stretch_is_shortened() -> None:
    drawn = shortened((0.0, 8.0, 150.0, 153.0), 20.0)
    assert [drawn.at(place) for place in (-4.0, 0.0, 8.0, 79.0, 150.0, 153.0, 160.0)] == pytest.approx(
        [-4.0, 0.0, 8.0, 18.0, 28.0, 31.0, 38.0]
    )
    assert drawn.breaks == (18.0,)


def test_nothing_to_draw_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing"):
        shortened((), 10.0)


@given(places=PLACES, most_mm=st.floats(1, 100))
def test_places_keep_their_order_and_none_is_farther_than_the_most(places: list[float], most_mm: float) -> None:
    drawn = shortened(places, most_mm)
    at = [drawn.at(place) for place in sorted(places)]
    assert at[0] == min(places)
    assert all(0.0 <= after - before <= most_mm + 1e-5 for before, after in pairwise(at))
    assert len(drawn.breaks) == sum(after - before > most_mm for before, after in pairwise(d[0] for d in drawn.knots))
