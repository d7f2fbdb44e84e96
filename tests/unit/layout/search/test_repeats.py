"""Anchors that hold locks and links, by arithmetic on a sheared repeat; places of a repeat within a room."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import piece

from coverlayout.geometry.frames import shift, turn
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.repeats import Holds, Points, lying_for_good, points_in_box
from coverlayout.motif.lattice import Lattice

SHEARED = Lattice((40.0, 10.0), (-8.0, 30.0))
GROUND = Ground("g", Region.of(rectangle(300, 300)), "p", 0.0, SHEARED, shift(3.0, 8.0))
FRONT = piece("front", 60, 80, anchor=(20.0, 30.0))
BACK = piece("back", 60, 80, anchor=(10.0, 10.0))


def test_a_lock_is_held_by_one_anchor_turned_with_the_piece() -> None:
    question = Question((FRONT,), (), locks=(Lock("front", (25.0, 32.0), (11.0, 7.0)),))
    # The locked point lies 5, 2 from the anchor; the place 11 + 3, 7 + 8 on the cloth.
    assert Holds(question).anchors(FRONT, GROUND, 0.0, {}) == [(9.0, 13.0)]
    # A quarter clockwise it lies -2, 5 from it.
    assert Holds(question).anchors(FRONT, GROUND, 90.0, {}) == [(16.0, 10.0)]
    assert Holds(question).anchors(BACK, GROUND, 0.0, {}) == []


def test_a_wish_is_no_must() -> None:
    lock, link = (
        Lock("front", (0.0, 0.0), (0.0, 0.0), must=False),
        Link(("front", "back"), ((0.0, 0.0),) * 2, ((0.0, 0.0),), must=False),
    )
    question = Question((FRONT, BACK), (), locks=(lock,), links=(link,))
    assert Holds(question).anchors(FRONT, GROUND, 0.0, {"back": (Placed("back", "c", 0.0, 0.0), GROUND)}) == []


@pytest.mark.parametrize(
    "ground",
    [replace(GROUND, origin_known=False), replace(GROUND, lattice_mm=None), replace(GROUND, print_to_cloth=None)],
)
def test_a_lock_holds_nowhere_for_sure_where_the_print_is_not_known(ground: Ground) -> None:
    question = Question((FRONT,), (), locks=(Lock("front", (0.0, 0.0), (0.0, 0.0)),))
    assert Holds(question).anchors(FRONT, ground, 0.0, {}) is None


def test_a_link_runs_on_from_the_piece_that_lies() -> None:
    link = Link(("front", "back"), ((20.0, 40.0), (10.0, 15.0)), ((13.0, 1.0),))
    question = Question((FRONT, BACK), (), links=(link,))
    lies = {"front": (Placed("front", "c", 100.0, 90.0, 180.0), GROUND)}
    # Turned half: front's point at 100, 80; 13, 1 further at 87, 79; back's point 0, 5 from its anchor turned.
    assert Holds(question).anchors(BACK, GROUND, 180.0, lies) == [(87.0, 84.0)]
    assert Holds(question).anchors(BACK, GROUND, 0.0, lies) is None
    assert Holds(question).anchors(BACK, replace(GROUND, id="h", print_id="q"), 180.0, lies) is None
    assert Holds(question).anchors(BACK, GROUND, 180.0, {}) == []
    # And back from the second to the first.
    back = {"back": (Placed("back", "c", 87.0, 84.0, 180.0), GROUND)}
    assert Holds(question).anchors(FRONT, GROUND, 180.0, back) == [(100.0, 90.0)]


def test_a_link_needs_a_repeat() -> None:
    link = Link(("front", "back"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    plain = replace(GROUND, lattice_mm=None)
    lies = {"front": (Placed("front", "c", 100.0, 90.0), plain)}
    assert Holds(Question((FRONT, BACK), (), links=(link,))).anchors(BACK, plain, 0.0, lies) is None


def test_a_link_holds_on_another_ground_of_the_same_print_by_the_place_in_the_print() -> None:
    link = Link(("front", "back"), ((20.0, 30.0), (10.0, 10.0)), ((13.0, 1.0),))
    question = Question((FRONT, BACK), (), links=(link,))
    lies = {"front": (Placed("front", "c", 100.0, 90.0, 0.0), GROUND)}
    frame = turn(90.0).then(shift(50.0, 60.0))
    crooked = replace(GROUND, id="h", up_deg=90.0, print_to_cloth=frame, lattice_mm=SHEARED.mapped(frame))
    # In the print the back's place is 113 - 3, 91 - 8; a quarter clockwise and shifted it is 50 - 83, 60 + 110.
    assert Holds(question).anchors(BACK, crooked, 90.0, lies) == [pytest.approx((-33.0, 170.0))]
    assert Holds(question).anchors(BACK, crooked, 0.0, lies) is None
    assert Holds(question).anchors(BACK, replace(crooked, origin_known=False), 90.0, lies) is None


def test_a_link_may_be_turned_where_the_print_looks_alike() -> None:
    link = Link(("front", "back"), ((20.0, 30.0), (10.0, 10.0)), ((13.0, 1.0),))
    question = Question((FRONT, BACK), (), links=(link,))
    alike = replace(GROUND, alike_deg=(180.0,), alike_about_mm=(5.0, 6.0))
    lies = {"front": (Placed("front", "c", 100.0, 90.0, 0.0), alike)}
    # In the print 110, 83; half turned about 5, 6 it is -100, -71; on the cloth 3, 8 further.
    assert Holds(question).anchors(BACK, alike, 180.0, lies) == [pytest.approx((-97.0, -63.0))]
    assert Holds(question).anchors(BACK, alike, 90.0, lies) is None


def test_locks_that_never_agree_hold_nowhere() -> None:
    locks = Lock("front", (0.0, 0.0), (1.0, 1.0)), Lock("front", (40.0, 10.0), (1.0, 1.0))
    assert len(Holds(Question((FRONT,), (), locks=locks)).anchors(FRONT, GROUND, 0.0, {}) or []) == 2
    locks = locks[0], Lock("front", (40.5, 10.0), (1.0, 1.0))
    assert Holds(Question((FRONT,), (), locks=locks)).anchors(FRONT, GROUND, 0.0, {}) is None


def test_linked_pieces_that_are_cut_lie_for_good() -> None:
    link = Link(("front", "back"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    cut = BACK, Placed("back", "c", 100.0, 100.0)
    on = ClothAsked("c", "c", rectangle(300, 300), (GROUND,), fixed=(cut, (replace(BACK, id="other"), cut[1])))
    assert lying_for_good(Question((FRONT,), (on,), links=(link,))) == {"back": (cut[1], GROUND)}
    assert lying_for_good(Question((FRONT,), (on,))) == {}


def points(found: Points) -> list[tuple[float, float]]:
    return sorted((x, y) for x, y in found.tolist())


def test_the_places_of_a_repeat_in_a_box() -> None:
    expected = sorted(
        (40.0 * i - 8.0 * k, 10.0 * i + 30.0 * k)
        for i in range(-5, 6)
        for k in range(-5, 6)
        if 10 <= 40 * i - 8 * k <= 95 and 10 <= 10 * i + 30 * k <= 55
    )
    assert points(points_in_box(SHEARED, (0.0, 0.0), Box(10, 10, 85, 45))) == expected
    assert len(expected) > 2
    # Of a box without width the places on its line are found, and none beside it.
    assert points(points_in_box(SHEARED, (0.0, 0.0), Box(40, 0, 0, 45))) == [(40.0, 10.0)]


def test_of_a_very_fine_repeat_the_places_near_corners_are_found() -> None:
    found = points(points_in_box(Lattice((2.0, 0.0), (0.0, 3.0)), (0.5, 0.5), Box(10, 10, 85, 45), most=10))
    assert (10.5, 12.5) in found
    assert (94.5, 54.5) in found
    assert all(10 <= x <= 95 and 10 <= y <= 55 and (x - 0.5) % 2 == 0 and (y - 0.5) % 3 == 0 for x, y in found)


def test_stripes_are_free_along_themselves() -> None:
    found = points(points_in_box(Lattice((0.0, 40.0)), (3.0, 7.0), Box(10, 10, 50, 100)))
    # Lines at 7 + 40 k: 47 and 87 lie in the box from 10 to 110; its corners are brought to the nearest of them.
    assert found == [(10.0, 47.0)] * 2 + [(10.0, 87.0)] * 2 + [(60.0, 47.0)] * 2 + [(60.0, 87.0)] * 2


def test_slanted_stripes_are_met_along_the_sides_of_a_box() -> None:
    found = points(points_in_box(Lattice((30.0, 40.0)), (0.0, 0.0), Box(0, 0, 45, 45)))
    assert all(abs((0.6 * x + 0.8 * y) / 50.0 - round((0.6 * x + 0.8 * y) / 50.0)) < 1e-9 for x, y in found)
    # The line 0.6 x + 0.8 y = 50 meets the right side at 28.75 and the lower one at 23.33.
    assert any(point == pytest.approx((45.0, 28.75)) for point in found)
    assert any(point == pytest.approx((70.0 / 3, 45.0)) for point in found)
