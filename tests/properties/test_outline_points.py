"""Outlines changed point by point stay outlines; what is cut in two is whole again when put together."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import split

from coverlayout.cloth.outlines import cut_in_two, insert_point, move_point, remove_point
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, area_mm2, checked_line, checked_ring

coordinates = st.floats(-400.0, 400.0, allow_nan=False).map(lambda number: round(number, 2))
spots = st.tuples(coordinates, coordinates)


@st.composite
def stars(draw: st.DrawFn) -> Ring:
    """Outlines around a middle, each point at its own angle: never crossing, seldom convex, never symmetric."""
    count = draw(st.integers(4, 9))
    reach = [draw(st.floats(20.0, 200.0)) for _ in range(count)]
    x, y = draw(spots)
    return tuple(
        (x + far * math.cos(2 * math.pi * k / count), y + far * math.sin(2 * math.pi * k / count))
        for k, far in enumerate(reach)
    )


def can_be(ring: Ring) -> bool:
    try:
        return checked_ring(ring, where="outline") == ring
    except BadInput:
        return False


@given(stars(), st.data(), spots)
def test_a_moved_point_gives_an_outline_or_a_refusal_and_back_gives_the_first(
    ring: Ring, data: st.DataObject, to: Point
) -> None:
    at = data.draw(st.integers(0, len(ring) - 1))
    wanted = Polygon((*ring[:at], to, *ring[at + 1 :]))
    if not wanted.is_valid or wanted.area < 1e-3:
        with pytest.raises(BadInput, match=r"crosses itself|enclose some area"):
            move_point(ring, at, to, closed=True, where="outline")
        return
    moved = move_point(ring, at, to, closed=True, where="outline")
    assert Polygon(moved).is_valid
    assume(len(moved) == len(ring))
    assert move_point(moved, at, ring[at], closed=True, where="outline") == ring


@given(stars(), st.data())
def test_a_point_on_an_edge_comes_and_goes_and_leaves_the_outline_as_it_was(ring: Ring, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(ring) - 1))
    (x0, y0), (x1, y1) = ring[at], ring[(at + 1) % len(ring)]
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    more = insert_point(ring, at, middle, closed=True, where="outline")
    assert len(more) == len(ring) + 1
    assert math.isclose(area_mm2(more), area_mm2(ring), rel_tol=1e-9)
    assert remove_point(more, at + 1, closed=True, where="outline") == ring


@given(stars(), st.data())
def test_a_removed_point_leaves_an_outline_or_a_refusal(ring: Ring, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(ring) - 1))
    try:
        less = remove_point(ring, at, closed=True, where="outline")
    except BadInput:
        assert not can_be((*ring[:at], *ring[at + 1 :]))
        return
    assert can_be(less)
    assert set(less) < set(ring)


@given(st.lists(spots, min_size=2, max_size=7))
def test_a_line_is_refused_exactly_when_it_is_not_simple(points: list[Point]) -> None:
    assume(all(math.dist(a, b) > 0.02 for a, b in pairwise(points)))
    drawn = LineString(points)
    if drawn.is_simple and not drawn.is_ring:
        assert checked_line(points, where="crease") == tuple(points)
        return
    with pytest.raises(BadInput, match="crosses or meets itself"):
        checked_line(points, where="crease")


@given(stars(), spots, spots)
def test_two_parts_make_the_whole_as_a_reference_splits_it(ring: Ring, start: Point, end: Point) -> None:
    assume(math.dist(start, end) > 1.0)
    ux, uy = (end[0] - start[0]) / math.dist(start, end), (end[1] - start[1]) / math.dist(start, end)
    through = LineString([(start[0] - 5e3 * ux, start[1] - 5e3 * uy), (start[0] + 5e3 * ux, start[1] + 5e3 * uy)])
    reference = sorted(part.area for part in split(Polygon(ring), through).geoms)
    # A part as thin as the tolerance may count or not.
    assume(all(area > 0.5 for area in reference))
    if len(reference) != 2:
        with pytest.raises(BadInput, match="into two parts"):
            cut_in_two(ring, start, end, where="zone")
        return
    first, second = cut_in_two(ring, start, end, where="zone")
    ours = sorted((area_mm2(first), area_mm2(second)))
    assert all(math.isclose(mine, theirs, abs_tol=0.01) for mine, theirs in zip(ours, reference, strict=True))
    assert Region.of(first).meet(Region.of(second)).area_mm2 < 0.01
