"""Anchors that hold locks and links, by arithmetic on a sheared repeat; places of a repeat within a room."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import piece

from coverlayout.geometry.frames import shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.repeats import anchors_in_repeat, held_anchors
from coverlayout.motif.lattice import Lattice

SHEARED = Lattice((40.0, 10.0), (-8.0, 30.0))
GROUND = Ground("g", Region.of(rectangle(300, 300)), "p", 0.0, SHEARED, shift(3.0, 8.0))
FRONT = piece("front", 60, 80, anchor=(20.0, 30.0))
BACK = piece("back", 60, 80, anchor=(10.0, 10.0))


def test_a_lock_is_held_by_one_anchor_turned_with_the_piece() -> None:
    question = Question((FRONT,), (), locks=(Lock("front", (25.0, 32.0), (11.0, 7.0)),))
    # The locked point lies 5, 2 from the anchor; the place 11 + 3, 7 + 8 on the cloth.
    assert held_anchors(question, FRONT, GROUND, 0.0, {}) == [(9.0, 13.0)]
    # A quarter clockwise it lies -2, 5 from it.
    assert held_anchors(question, FRONT, GROUND, 90.0, {}) == [(16.0, 10.0)]
    assert held_anchors(question, BACK, GROUND, 0.0, {}) == []


def test_a_wish_is_no_must() -> None:
    lock, link = (
        Lock("front", (0.0, 0.0), (0.0, 0.0), must=False),
        Link(("front", "back"), ((0.0, 0.0),) * 2, ((0.0, 0.0),), must=False),
    )
    question = Question((FRONT, BACK), (), locks=(lock,), links=(link,))
    assert held_anchors(question, FRONT, GROUND, 0.0, {"back": (Placed("back", "c", 0.0, 0.0), GROUND)}) == []


@pytest.mark.parametrize(
    "ground",
    [replace(GROUND, origin_known=False), replace(GROUND, lattice_mm=None), replace(GROUND, print_to_cloth=None)],
)
def test_a_lock_holds_nowhere_for_sure_where_the_print_is_not_known(ground: Ground) -> None:
    question = Question((FRONT,), (), locks=(Lock("front", (0.0, 0.0), (0.0, 0.0)),))
    assert held_anchors(question, FRONT, ground, 0.0, {}) is None


def test_a_link_runs_on_from_the_piece_that_lies() -> None:
    link = Link(("front", "back"), ((20.0, 40.0), (10.0, 15.0)), ((13.0, 1.0),))
    question = Question((FRONT, BACK), (), links=(link,))
    lies = {"front": (Placed("front", "c", 100.0, 90.0, 180.0), GROUND)}
    # Turned half: front's point at 100, 80; 13, 1 further at 87, 79; back's point 0, 5 from its anchor turned.
    assert held_anchors(question, BACK, GROUND, 180.0, lies) == [(87.0, 84.0)]
    assert held_anchors(question, BACK, GROUND, 0.0, lies) is None
    assert held_anchors(question, BACK, replace(GROUND, id="h"), 180.0, lies) is None
    assert held_anchors(question, BACK, GROUND, 180.0, {}) == []
    # And back from the second to the first.
    back = {"back": (Placed("back", "c", 87.0, 84.0, 180.0), GROUND)}
    assert held_anchors(question, FRONT, GROUND, 180.0, back) == [(100.0, 90.0)]


def test_a_link_needs_a_repeat() -> None:
    link = Link(("front", "back"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    plain = replace(GROUND, lattice_mm=None)
    lies = {"front": (Placed("front", "c", 100.0, 90.0), plain)}
    assert held_anchors(Question((FRONT, BACK), (), links=(link,)), BACK, plain, 0.0, lies) is None


def test_the_places_of_a_repeat_in_a_room() -> None:
    room = Region.of(rectangle(85, 45, 10, 10))
    found = sorted(anchors_in_repeat(GROUND, [(0.0, 0.0)], room))
    expected = sorted(
        (40.0 * i - 8.0 * k, 10.0 * i + 30.0 * k)
        for i in range(-5, 6)
        for k in range(-5, 6)
        if 10 <= 40 * i - 8 * k <= 95 and 10 <= 10 * i + 30 * k <= 55
    )
    assert found == expected
    assert len(expected) > 2
    assert list(anchors_in_repeat(GROUND, [(0.0, 0.0), (0.5, 0.0)], room)) == []
    assert sorted(anchors_in_repeat(GROUND, [(0.0, 0.0), (32.0, 40.0)], room)) == expected


def test_stripes_are_free_along_themselves() -> None:
    frame = turn(90.0)
    striped = replace(GROUND, lattice_mm=Lattice((0.0, 40.0)), print_to_cloth=frame)
    room = Region.of(rectangle(50, 100, 10, 10))
    found = set(anchors_in_repeat(striped, [(3.0, 7.0)], room))
    # Lines at 7 + 40 k: 47 and 87 lie in the room from 10 to 110; its corners are brought to the nearest of them.
    assert found == {(10.0, 47.0), (60.0, 47.0), (10.0, 87.0), (60.0, 87.0)}
