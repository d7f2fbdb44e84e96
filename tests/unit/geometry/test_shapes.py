"""Rings and regions: areas, boxes, what is refused, cutting away, insetting, parts."""

from __future__ import annotations

import math

import pytest
from samples import BOARD, CROOKED, EMPTY, FLAW, L_SHAPE, MITRED_COVER, SLIVER, SWATCH

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import shift, turn
from coverlayout.geometry.shapes import (
    Box,
    Region,
    area_mm2,
    bounds,
    checked_line,
    checked_ring,
    is_rectangle,
    middle,
    rectangle,
)


def test_areas_as_worked_out_by_hand() -> None:
    assert area_mm2(BOARD) == pytest.approx(114.3 * 152.4)
    assert area_mm2(L_SHAPE) == 20 * 75 + 60 * 25
    assert area_mm2(L_SHAPE[::-1]) == area_mm2(L_SHAPE), "whichever way the outline runs"
    assert area_mm2(MITRED_COVER) == pytest.approx(144.3 * 182.4 - 4 * 12 * 12 / 2)
    assert area_mm2(EMPTY) == 0.0
    assert area_mm2(((0.0, 0.0), (5.0, 5.0))) == 0.0


def test_the_box_around_a_crooked_swatch() -> None:
    side = 304.8 * (math.cos(math.radians(7)) + math.sin(math.radians(7)))
    box = bounds(CROOKED)
    assert (box.width_mm, box.height_mm) == pytest.approx((side, side))
    assert middle(CROOKED) == pytest.approx((175.0, 180.0))


def test_a_box_knows_its_far_sides() -> None:
    box = Box(3.0, 4.0, 10.0, 20.0)
    assert (box.right_mm, box.bottom_mm, box.middle) == (13.0, 24.0, (8.0, 14.0))
    assert box.ring() == ((3.0, 4.0), (13.0, 4.0), (13.0, 24.0), (3.0, 24.0))


def test_no_points_have_no_box() -> None:
    with pytest.raises(ValueError):
        bounds(EMPTY)


def test_only_upright_rectangles_are_rectangles() -> None:
    assert is_rectangle(BOARD)
    assert is_rectangle(SLIVER)
    assert is_rectangle(turn(90).ring(BOARD))
    assert not is_rectangle(turn(1).ring(BOARD))
    assert not is_rectangle(L_SHAPE)
    assert not is_rectangle(MITRED_COVER)
    assert not is_rectangle(FLAW)


def test_a_checked_outline_loses_its_repeated_points() -> None:
    assert checked_ring([(0, 0), (0, 0), (5, 0), (5, 5), (0, 0)], where="--outline") == ((0, 0), (5, 0), (5, 5))


@pytest.mark.parametrize(
    ("points", "code"),
    [
        ([], "outline-no-area"),
        ([(0, 0), (5, 5)], "outline-no-area"),
        ([(0, 0), (5, 5), (10, 10)], "outline-no-area"),
        ([(0, 0), (5, 0), (math.nan, 5)], "outline-not-finite"),
        ([(0, 0), (5, 0), (math.inf, 5)], "outline-not-finite"),
        ([(0, 0), (10, 10), (10, 0), (0, 11)], "outline-crosses"),
    ],
)
def test_an_outline_that_encloses_nothing_or_crosses_itself_is_refused(
    points: list[tuple[float, float]], code: str
) -> None:
    with pytest.raises(BadInput) as fault:
        checked_ring(points, where="--outline")
    assert fault.value.code == code
    assert str(fault.value).startswith("--outline")


def test_a_flaw_is_cut_away_with_its_area() -> None:
    ground = Region.of(SWATCH).minus(Region.of(FLAW))
    assert ground.area_mm2 == pytest.approx(304.8**2 - area_mm2(FLAW))
    ((outer, holes),) = ground.parts()
    assert len(outer) == 4
    assert {tuple(round(n, 6) for n in point) for point in holes[0]} == set(FLAW)


def test_cutting_apart_gives_two_parts() -> None:
    left_and_right = Region.of(SWATCH).minus(Region.of(rectangle(10.0, 400.0, 100.0, -50.0)))
    assert len(left_and_right.parts()) == 2
    assert left_and_right.bounds == Box(0.0, 0.0, 304.8, 304.8)
    assert Region.of(BOARD, [rectangle(10.0, 10.0, 20.0, 20.0)]).area_mm2 == pytest.approx(114.3 * 152.4 - 100)


def test_nothing_stays_nothing() -> None:
    nothing = Region.nothing()
    assert nothing.is_empty
    assert nothing.bounds == Box(0.0, 0.0, 0.0, 0.0)
    assert nothing.parts() == ()
    assert Region.of(BOARD).meet(nothing).is_empty
    assert Region.of(BOARD).inset(60.0).is_empty
    assert Region.union([]).is_empty


def test_a_line_that_two_share_is_no_area() -> None:
    assert Region.of(rectangle(10.0, 10.0)).meet(Region.of(rectangle(10.0, 10.0, 10.0, 0.0))).is_empty


def test_touching_corners_with_an_overlap_elsewhere_keeps_only_area() -> None:
    two = Region.union([Region.of(rectangle(10.0, 10.0)), Region.of(rectangle(10.0, 10.0, 20.0, 20.0))])
    both = two.meet(
        Region.union([Region.of(rectangle(10.0, 10.0, 10.0, 0.0)), Region.of(rectangle(5.0, 5.0, 20.0, 20.0))])
    )
    assert both.area_mm2 == pytest.approx(25.0)


@pytest.mark.parametrize("dust_mm", [0.0, 5e-324, -5e-324, -1e-12])
def test_an_inset_by_float_dust_changes_nothing(dust_mm: float) -> None:
    # The smallest number there is makes the buffer divide by nothing.
    sliver = Region.of(((18.436, 17.0), (20.436, 5.667), (16.436, 0.0)))
    assert sliver.inset(dust_mm) == sliver
    assert sliver.inset(dust_mm, "round") == sliver


def test_insets_keep_their_corners_and_can_grow() -> None:
    assert Region.of(SWATCH).inset(3.0).bounds == Box(3.0, 3.0, 298.8, 298.8)
    grown = Region.of(rectangle(10.0, 10.0)).inset(-2.0)
    assert grown.area_mm2 == pytest.approx(14.0 * 14.0)


def test_a_crease_is_a_strip_of_its_width() -> None:
    crease = Region.strip([(0.0, 10.0), (100.0, 10.0)], 4.0)
    assert crease.bounds == Box(0.0, 8.0, 100.0, 4.0)


def test_what_lies_within_touches_or_overlaps() -> None:
    cloth, board = Region.of(SWATCH), Region.of(BOARD)
    assert cloth.covers(board)
    assert not board.covers(cloth)
    beside = board.mapped(shift(114.3, 0.0))
    assert not board.overlaps(beside)
    assert board.overlaps(board.mapped(shift(114.0, 0.0)))
    assert board.distance_mm(board.mapped(shift(114.3 + 3.0, 152.4 + 4.0))) == pytest.approx(5.0)
    assert board.contains((114.3, 0.0))
    assert not board.contains((114.4, 0.0))


def test_a_bow_tie_of_two_equal_halves_crosses_itself() -> None:
    with pytest.raises(BadInput) as caught:
        checked_ring(((0.0, 0.0), (80.0, 90.0), (80.0, 0.0), (0.0, 90.0)), where="stain")
    assert caught.value.code == "outline-crosses"


def test_a_line_leads_somewhere_in_one_way() -> None:
    crease = ((0.0, 10.0), (50.0, 12.0), (90.0, 40.0))
    assert checked_line((crease[0], *crease), where="crease") == crease
    for points, code in (
        (((5.0, 5.0), (5.0, 5.004)), "line-no-length"),
        ((), "line-no-length"),
        (((0.0, 0.0), (float("nan"), 1.0)), "outline-not-finite"),
        ((*crease, (20.0, 0.0)), "line-crosses"),
        ((*crease, crease[0]), "line-crosses"),
    ):
        with pytest.raises(BadInput) as caught:
            checked_line(points, where="crease")
        assert caught.value.code == code


def test_the_loops_of_a_crossing_outline_are_its_region() -> None:
    bow_tie = Region.of(((0.0, 0.0), (50.0, 50.0), (50.0, 0.0), (0.0, 50.0)))
    assert bow_tie.area_mm2 == pytest.approx(2 * 25 * 50 / 2)
    assert len(bow_tie.parts()) == 2
