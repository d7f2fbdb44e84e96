"""The largest empty rectangles of shapes small enough to be worked out by hand."""

from __future__ import annotations

import math

import pytest
from samples import CROOKED, L_SHAPE

from coverlayout.geometry.empty_rectangles import EmptyRectangle, empty_rectangles, maximal_rectangles
from coverlayout.geometry.frames import Ring, turn
from coverlayout.geometry.shapes import Region, rectangle


def sizes(found: tuple[EmptyRectangle, ...]) -> list[tuple[float, float]]:
    return [(round(one.width_mm, 2), round(one.height_mm, 2)) for one in found]


def cloth_with(*pieces: Ring, width_mm: float = 460.0, length_mm: float = 330.0) -> Region:
    return Region.of(rectangle(width_mm, length_mm)).minus(Region.union(Region.of(piece) for piece in pieces))


def test_two_covers_and_two_liners_leave_a_strip_below_and_one_at_the_side() -> None:
    """Covers 144.3 x 182.4 at 20, 18 and 176, 18; liners 108.3 x 146.4 at 340, 18 and 340, 170."""
    region = cloth_with(
        rectangle(144.3, 182.4, 20.0, 18.0),
        rectangle(144.3, 182.4, 176.0, 18.0),
        rectangle(108.3, 146.4, 340.0, 18.0),
        rectangle(108.3, 146.4, 340.0, 170.0),
    )
    found = empty_rectangles(region)
    # Below the covers: from the left edge to the liners, 340 wide, from 18 + 182.4 down to 330.
    assert sizes(found)[0] == (340.0, 129.6)
    assert found[0].middle_mm == pytest.approx((170.0, 265.2))
    # The strip above everything is the next, 460 x 18 or 8280; then left of the front cover 20 x 182.4 or 3648.
    # Right of the liners 460 - 448.3 = 11.7 are left, from 18 down to 330: 11.7 x 312 or 3650.4.
    assert sizes(found)[1:4] == [(460.0, 18.0), (11.7, 312.0), (20.0, 182.4)]
    # Between the back cover, which ends at 320.3, and the liners at 340.
    assert sizes(found)[4] == (19.7, 182.4)
    assert [one.area_mm2 for one in found] == sorted((one.area_mm2 for one in found), reverse=True)


def test_an_l_leaves_its_stem_and_what_its_foot_has_beside_it() -> None:
    """Stem 20 x 100 is 2000, foot 60 x 25 is 1500; with the stem taken the foot keeps 40 x 25."""
    region = Region.of(L_SHAPE)
    assert sizes(empty_rectangles(region)) == [(20.0, 100.0), (40.0, 25.0)]
    assert sizes(maximal_rectangles(region)) == [(20.0, 100.0), (60.0, 25.0)]


def test_a_hole_leaves_a_frame_of_four_that_may_overlap_or_not() -> None:
    region = Region.of(rectangle(200.0, 150.0), [rectangle(50.0, 40.0, 60.0, 30.0)])
    # To the right of the hole 90 x 150, below it 200 x 80, above it 200 x 30, left of it 60 x 150.
    assert sizes(maximal_rectangles(region)) == [(200.0, 80.0), (90.0, 150.0), (60.0, 150.0), (200.0, 30.0)]
    # Disjoint: 200 x 80 first, then of what is left 90 x 70 right of the hole, 60 x 70 left of it, 50 x 30 above it.
    assert sizes(empty_rectangles(region)) == [(200.0, 80.0), (90.0, 70.0), (60.0, 70.0), (50.0, 30.0)]


def test_nothing_narrower_than_asked_for_and_no_more_than_asked_for() -> None:
    region = Region.of(rectangle(200.0, 150.0), [rectangle(50.0, 40.0, 60.0, 30.0)])
    assert sizes(empty_rectangles(region, least_mm=55.0)) == [(200.0, 80.0), (90.0, 70.0), (60.0, 70.0)]
    assert sizes(empty_rectangles(region, most=1)) == [(200.0, 80.0)]
    assert empty_rectangles(region, least_mm=151.0) == ()
    assert maximal_rectangles(region, least_mm=151.0) == ()


@pytest.mark.parametrize("region", [Region.nothing(), Region.of(rectangle(300.0, 9.0))])
def test_no_ground_no_rectangle(region: Region) -> None:
    assert empty_rectangles(region) == ()
    assert maximal_rectangles(region) == ()


def test_two_parts_of_ground_are_never_bridged() -> None:
    apart = Region.union([Region.of(rectangle(50.0, 40.0)), Region.of(rectangle(30.0, 40.0, 51.0))])
    assert sizes(empty_rectangles(apart)) == [(50.0, 40.0), (30.0, 40.0)]


def test_between_slanted_edges_a_right_triangle_holds_half_its_ground() -> None:
    """Legs of 100 and 60 hold 50 x 30: half of each, as plane geometry has it."""
    triangle = Region.of(((0.0, 0.0), (100.0, 0.0), (0.0, 60.0)))
    (first, *_rest) = empty_rectangles(triangle)
    assert (first.width_mm, first.height_mm) == (pytest.approx(50.0, abs=0.05), pytest.approx(30.0, abs=0.05))
    assert first.area_mm2 <= 1500.0 + 1e-6


def test_a_swatch_cut_crooked_holds_a_square() -> None:
    """A square of side s turned by 7 degrees holds an upright square of s / (cos 7 + sin 7)."""
    side_mm = 304.8 / (math.cos(math.radians(7)) + math.sin(math.radians(7)))
    first = empty_rectangles(Region.of(CROOKED))[0]
    assert (first.width_mm, first.height_mm) == (pytest.approx(side_mm, abs=0.05), pytest.approx(side_mm, abs=0.05))
    assert first.middle_mm == pytest.approx((175.0, 180.0), abs=0.05)


def test_along_a_crooked_print_the_whole_swatch_counts() -> None:
    first = empty_rectangles(Region.of(CROOKED), turn_deg=7.0)
    assert sizes(first) == [(304.8, 304.8)]
    assert first[0].turn_deg == 7.0
    for corner, expected in zip(first[0].ring(), CROOKED, strict=True):
        assert corner == pytest.approx(expected, abs=1e-4)


def test_a_turned_cloth_with_a_piece_off_the_middle_is_measured_in_its_own_direction() -> None:
    """On a cloth of 200 x 120 turned by 30 degrees a piece of 80 x 120 at its left leaves 120 x 120 at its right."""
    turned = turn(30.0)
    region = Region.of(turned.ring(rectangle(200.0, 120.0))).minus(Region.of(turned.ring(rectangle(80.0, 120.0))))
    (found,) = empty_rectangles(region, turn_deg=30.0)
    assert sizes((found,)) == [(120.0, 120.0)]
    assert found.middle_mm == pytest.approx(turned.at((140.0, 60.0)), abs=1e-4)
    assert found.at((0.0, 0.0)) == pytest.approx(turned.at((80.0, 0.0)), abs=1e-4)


@pytest.mark.parametrize(
    ("other", "shared_mm2"),
    [
        # In the direction of both the second is 6 on and 3 to the side: 20 - 6 by 10 - 3.
        (EmptyRectangle(turn(30.0).at((6.0, 3.0)), 20.0, 10.0, 30.0), 98.0),
        # Within the first, whole.
        (EmptyRectangle(turn(30.0).at((1.0, -2.0)), 4.0, 3.0, 30.0), 12.0),
        (EmptyRectangle(turn(30.0).at((21.0, 0.0)), 20.0, 10.0, 30.0), 0.0),
        (EmptyRectangle((0.0, 0.0), 20.0, 10.0, 0.0), 0.0),
    ],
)
def test_ground_shared_by_two_that_are_turned_alike(other: EmptyRectangle, shared_mm2: float) -> None:
    assert EmptyRectangle((0.0, 0.0), 20.0, 10.0, 30.0).shared_mm2(other) == pytest.approx(shared_mm2)
