"""Whatever lies on a cloth, what is told as left is empty, disjoint, and largest first; and rows of pieces go in."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from coverlayout.geometry.empty_rectangles import SLANT_MM, EmptyRectangle, empty_rectangles, maximal_rectangles
from coverlayout.geometry.frames import Ring, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

LENGTHS = st.floats(5.0, 90.0)
PLACES = st.floats(-20.0, 280.0)
CLOTH: Ring = ((0.0, 4.0), (300.0, 0.0), (290.0, 210.0), (6.0, 200.0))


@st.composite
def pieces(draw: st.DrawFn) -> Ring:
    turned = turn(draw(st.sampled_from((0.0, 0.0, 2.0, 30.0))))
    return turned.ring(rectangle(draw(LENGTHS), draw(LENGTHS), draw(PLACES), draw(PLACES)))


def free(cloth: Ring, lying: list[Ring]) -> Region:
    return Region.of(cloth).minus(Region.union(Region.of(ring) for ring in lying))


def region_of(found: EmptyRectangle) -> Region:
    return Region.of(found.ring())


@given(st.lists(pieces(), max_size=6), st.sampled_from((0.0, 3.0, -40.0)), st.booleans())
def test_what_is_told_as_left_is_empty_and_no_ground_is_told_twice(
    lying: list[Ring], turn_deg: float, straight: bool
) -> None:
    region = free(rectangle(300.0, 200.0) if straight else CLOTH, lying)
    found = empty_rectangles(region, turn_deg=turn_deg, least_mm=12.0)
    for one in found:
        assert one.turn_deg == turn_deg
        assert min(one.width_mm, one.height_mm) >= 12.0 - 1e-6
        assert region.inset(-SAME_LENGTH_MM).covers(region_of(one))
    for one, other in combinations(found, 2):
        assert region_of(one).meet(region_of(other)).area_mm2 < 1e-3
        # Between slanted edges the larger may be told second, by less than the bound.
        rim_mm2 = 2 * SLANT_MM * (other.width_mm + other.height_mm)
        assert one.area_mm2 >= other.area_mm2 - rim_mm2


@given(st.lists(st.tuples(LENGTHS, LENGTHS, PLACES, PLACES), max_size=6))
def test_moved_and_mirrored_ground_leaves_the_same(sizes: list[tuple[float, float, float, float]]) -> None:
    """Seen from the back everything lies at 300 - x: the same sizes are left, in the same order."""
    lying = [rectangle(*size) for size in sizes]
    mirrored = [rectangle(w, h, 300.0 - x - w, y) for w, h, x, y in sizes]
    front = empty_rectangles(free(rectangle(300.0, 200.0), lying))
    back = empty_rectangles(free(rectangle(300.0, 200.0), mirrored))
    if front:
        assert abs(front[0].area_mm2 - back[0].area_mm2) < 1e-3
    assert bool(front) == bool(back)


@given(st.lists(st.tuples(LENGTHS, LENGTHS, PLACES, PLACES), max_size=6))
def test_of_upright_ground_none_of_the_maximal_lies_in_another_and_the_first_is_the_largest(
    sizes: list[tuple[float, float, float, float]],
) -> None:
    region = free(rectangle(300.0, 200.0), [rectangle(*size) for size in sizes])
    found = maximal_rectangles(region)
    first = empty_rectangles(region, most=1)
    assert [one.area_mm2 for one in found[:1]] == [one.area_mm2 for one in first]
    for one, other in combinations(found, 2):
        assert one.shared_mm2(other) < min(one.area_mm2, other.area_mm2) - 1e-9
