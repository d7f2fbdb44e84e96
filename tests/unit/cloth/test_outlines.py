"""Outlines and lines changed point by point: shapes without symmetry, places worked out by hand."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from samples import L_SHAPE

from coverlayout.cloth.outlines import checked_points, cut_in_two, insert_point, move_point, remove_point
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring, shift, turn
from coverlayout.geometry.shapes import area_mm2, bounds

KITE: Ring = ((0.0, 0.0), (30.0, 5.0), (40.0, 40.0), (3.0, 22.0))
CREASE: Ring = ((0.0, 10.0), (50.0, 12.0), (90.0, 40.0))


def code_of(act: Callable[[], object]) -> str:
    with pytest.raises(BadInput) as caught:
        act()
    assert "stain" in str(caught.value)
    return caught.value.code


def test_a_point_moves_and_the_others_stay() -> None:
    assert move_point(KITE, 2, (44.0, 31.0), closed=True, where="stain") == (*KITE[:2], (44.0, 31.0), KITE[3])
    assert move_point(CREASE, 0, (4.0, -1.0), closed=False, where="stain") == ((4.0, -1.0), *CREASE[1:])


def test_a_point_comes_in_between_two_and_behind_the_last() -> None:
    assert insert_point(KITE, 1, (36.0, 20.0), closed=True, where="stain") == (*KITE[:2], (36.0, 20.0), *KITE[2:])
    assert insert_point(KITE, 3, (-2.0, 9.0), closed=True, where="stain") == (*KITE, (-2.0, 9.0))
    assert insert_point(CREASE, 2, (99.0, 70.0), closed=False, where="stain")[-1] == (99.0, 70.0)


def test_a_point_goes() -> None:
    assert remove_point(KITE, 0, closed=True, where="stain") == KITE[1:]
    assert remove_point(CREASE, 1, closed=False, where="stain") == (CREASE[0], CREASE[2])


@pytest.mark.parametrize(
    ("act", "code"),
    [
        # The corner at 3, 22 carried across the opposite edge: a bow tie.
        (lambda: move_point(KITE, 3, (60.0, 10.0), closed=True, where="stain"), "outline-crosses"),
        (lambda: insert_point(KITE, 0, (10.0, 60.0), closed=True, where="stain"), "outline-crosses"),
        (lambda: move_point(KITE[:3], 1, (20.0, 20.0), closed=True, where="stain"), "outline-no-area"),
        (lambda: move_point(KITE, 1, (float("nan"), 0.0), closed=True, where="stain"), "outline-not-finite"),
        (lambda: remove_point(KITE[:3], 0, closed=True, where="stain"), "points-too-few"),
        (lambda: remove_point(CREASE[:2], 0, closed=False, where="stain"), "points-too-few"),
        (lambda: insert_point(CREASE, 2, (20.0, 0.0), closed=False, where="stain"), "line-crosses"),
        (lambda: move_point(CREASE, 2, CREASE[0], closed=False, where="stain"), "line-crosses"),
        (lambda: move_point(CREASE[:2], 1, (0.0, 10.0), closed=False, where="stain"), "line-no-length"),
        (lambda: move_point(CREASE, 1, (float("inf"), 0.0), closed=False, where="stain"), "outline-not-finite"),
    ],
)
def test_what_cannot_be_is_refused(act: Callable[[], object], code: str) -> None:
    assert code_of(act) == code


def test_taking_out_the_inner_corner_of_an_l_closes_its_notch() -> None:
    """Without (20, 75) the L (3500 mm2 inside) gains the triangle (20,0) (20,75) (60,75): 40 x 75 / 2."""
    filled = remove_point(L_SHAPE, 2, closed=True, where="stain")
    assert area_mm2(filled) - area_mm2(L_SHAPE) == pytest.approx(1500.0)


def test_points_given_twice_count_once() -> None:
    assert checked_points((CREASE[0], *CREASE), closed=False, where="stain") == CREASE
    assert checked_points((*KITE, KITE[0]), closed=True, where="stain") == KITE


def test_an_l_is_cut_along_a_crooked_line() -> None:
    """Through (0, 10) and (20, 30), drawn upward: to the left of the way lie the corner (0, 0) and (0, 10)."""
    first, second = cut_in_two(L_SHAPE, (0.0, 10.0), (20.0, 30.0), where="stain")
    # Down the slope to the right: its left is the upper right side, 20 x (10 + 30) / 2 = 400 of the stem.
    assert area_mm2(first) == pytest.approx(400.0)
    assert area_mm2(second) == pytest.approx(area_mm2(L_SHAPE) - 400.0)
    assert bounds(first).ring() == ((0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0))
    swapped = cut_in_two(L_SHAPE, (20.0, 30.0), (0.0, 10.0), where="stain")
    assert [area_mm2(part) for part in swapped] == pytest.approx([area_mm2(second), 400.0])


def test_the_cut_turns_with_what_is_cut() -> None:
    by = turn(33.0).then(shift(-70.0, 210.0))
    straight = cut_in_two(L_SHAPE, (0.0, 10.0), (20.0, 30.0), where="stain")
    turned = cut_in_two(by.ring(L_SHAPE), by.at((0.0, 10.0)), by.at((20.0, 30.0)), where="stain")
    assert [area_mm2(part) for part in turned] == pytest.approx([area_mm2(part) for part in straight])


@pytest.mark.parametrize(
    ("start", "end", "code"),
    [
        ((5.0, 5.0), (5.0, 5.005), "line-no-length"),
        ((5.0, 5.0), (5.0, math.nan), "line-no-length"),
        ((5.0, 5.0), (5.0, math.inf), "line-no-length"),
        ((70.0, 0.0), (70.0, 100.0), "line-cuts-not-in-two"),
        # Along the left edge: nothing on one side.
        ((0.0, 0.0), (0.0, 100.0), "line-cuts-not-in-two"),
        # Across the stem's top and past the foot's end: three parts.
        ((0.0, 20.0), (60.0, 90.0), "line-cuts-not-in-two"),
    ],
)
def test_a_line_that_leaves_no_two_parts_is_refused(
    start: tuple[float, float], end: tuple[float, float], code: str
) -> None:
    assert code_of(lambda: cut_in_two(L_SHAPE, start, end, where="stain")) == code
