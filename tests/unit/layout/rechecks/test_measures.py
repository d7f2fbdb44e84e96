"""Plain measures: turns, boxes in whole units, repeats in a box and the distance from them, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, cloth, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Question
from coverlayout.layout.rechecks.measures import (
    Bounds,
    fills_its_box,
    homes,
    lattice_points,
    poses_on,
    rounded_bounds,
    turned,
    upright_deg,
)

L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))


def test_points_turn_clockwise() -> None:
    assert turned([(3.0, 1.0)], 90.0) == [(-1.0, 3.0)]
    assert turned([(3.0, 1.0)], -90.0) == [(1.0, -3.0)]
    assert turned([(3.0, 1.0)], 540.0) == [(-3.0, -1.0)]
    x, y = turned([(10.0, 0.0)], 30.0)[0]
    assert (x, y) == (pytest.approx(10 * math.sqrt(3) / 2), pytest.approx(5.0))


def test_boxes_give_way_on_every_side() -> None:
    ring = rectangle(40.0, 20.0, 3.0, 5.0)
    # Six thousandths a side: two pieces may overlap by 0.012 mm, and lie that much outside.
    assert rounded_bounds(ring, inward=True) == Bounds(3006, 5006, 42994, 24994)
    assert rounded_bounds(ring, inward=False) == Bounds(2994, 4994, 43006, 25006)
    assert rounded_bounds(rectangle(0.0004, 0.0004), inward=True) == Bounds(6, 6, -6, -6)


def test_homes_follow_print_cloth_and_zone() -> None:
    cloths = (cloth(10, 10, name="c1", print_id="A"), cloth(10, 10, name="c2", print_id="B"))
    free = piece("a", 5, 5)
    asked = Question((free,), cloths)

    def found(one: object) -> list[str]:
        return [ground.id for *_, ground in homes(asked, one)]  # type: ignore[arg-type]  # a piece in other words

    assert found(free) == ["c1-all", "c2-all"]
    assert found(replace(free, print_id="B")) == ["c2-all"]
    assert found(replace(free, cloth_ids=("c1",))) == ["c1-all"]
    assert found(replace(free, ground_ids=("c2-all",))) == ["c2-all"]
    assert found(replace(free, cloth_ids=("c1",), print_id="B")) == []


def test_the_lean_of_all_prints() -> None:
    pieces = (piece("a", 5, 5),)
    assert upright_deg(Question(pieces, (cloth(10, 10), cloth(10, 10, name="d", up_deg=270.0)))) == 0.0
    assert upright_deg(Question(pieces, (cloth(10, 10, up_deg=92.0),))) == 2.0
    assert upright_deg(Question(pieces, (cloth(10, 10), cloth(10, 10, name="d", up_deg=3.0)))) is None
    assert upright_deg(Question(pieces, ())) == 0.0


def test_poses_from_the_origin_of_the_frame() -> None:
    asked = Question((piece("a", 40, 20, (0.0, 90.0), seen=rectangle(30, 10, 2, 3)),), (cloth(100, 100, up_deg=2.0),))
    upright, quarter = poses_on(asked, asked.pieces[0], 2.0)
    assert upright.box == Bounds(6, 6, 39994, 19994)
    assert upright.seen == Bounds(2006, 3006, 31994, 12994)
    assert quarter.box == Bounds(-19994, 6, -6, 39994)
    assert quarter.seen == Bounds(-12994, 2006, -3006, 31994)
    # In another frame, or of another outline, one corner speaks for the piece.
    assert poses_on(asked, asked.pieces[0], 0.0)[0].box == Bounds(12, 12, -12, -12)
    ell = piece("l", 0, 0, ANY, outline=L_SHAPE)
    assert poses_on(Question((ell,), (cloth(100, 100),)), ell, 0.0)[1].box == Bounds(12, 12, -12, -12)
    assert fills_its_box(rectangle(3.0, 4.0))
    assert not fills_its_box(L_SHAPE)


def test_repeats_in_a_box() -> None:
    a, b = (50.0, 10.0), (0.0, 40.0)
    assert sorted(lattice_points(a, b, (5.0, 5.0), (0.0, 0.0, 60.0, 60.0))) == [(5, 5), (5, 45), (55, 15), (55, 55)]
    assert list(lattice_points(a, b, (5.0, 5.0), (6.0, 6.0, 20.0, 20.0))) == []
    # The same points from a basis that is not short.
    long = (50.0, 10.0), (100.0, 60.0)
    assert sorted(lattice_points(*long, (5.0, 5.0), (0.0, 0.0, 60.0, 60.0))) == [(5, 5), (5, 45), (55, 15), (55, 55)]
