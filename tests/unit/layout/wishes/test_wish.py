"""One wish: taken out, made a must, moved on the cloth, and how far a layout misses it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import answered, printed_cloth, strip_piece, striped

from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.wishes.wish import (
    as_must,
    fits,
    grounds_for,
    missed_mm,
    moved,
    pieces_of,
    wishes_of,
    with_wishes,
)
from coverlayout.motif.lattice import Lattice

LOCK = Lock("a", (0.0, 0.0), (4.0, 0.0), must=False)
LINK = Link(("a", "b"), ((0.0, 0.0), (1.0, 0.0)), ((3.0, 0.0),))
QUESTION = Question((strip_piece("a", 30), strip_piece("b", 20)), (striped(100, 10),), locks=(LOCK,), links=(LINK,))


def test_wishes_come_locks_first_and_by_kind() -> None:
    assert wishes_of(QUESTION, must=True) == (LINK,)
    assert wishes_of(QUESTION, must=False) == (LOCK,)
    only = with_wishes(QUESTION, [as_must(LOCK)])
    assert (only.links, only.locks) == ((), (replace(LOCK, must=True),))
    assert (pieces_of(LOCK), pieces_of(LINK)) == (("a",), ("a", "b"))


def test_only_a_layout_is_a_yes() -> None:
    assert fits(answered(()))
    assert fits(replace(answered(()), verdict="fits, tight"))
    assert not fits(answered(None))
    assert not fits(replace(answered(None), verdict="not found"))


def test_grounds_are_those_of_the_pieces_print_cloth_and_zone() -> None:
    assert [name for name, _ in grounds_for(QUESTION, "a")] == ["c"]
    assert grounds_for(QUESTION, "gone") == []
    for other in ({"print_id": "birds"}, {"cloth_ids": ("d",)}, {"ground_ids": ("zone",)}):
        elsewhere = replace(QUESTION.pieces[0], **other)
        assert grounds_for(replace(QUESTION, pieces=(elsewhere,)), "a") == []


def test_a_lock_is_moved_on_the_cloth_whatever_way_the_print_lies() -> None:
    # The print lies a quarter turned and twice as large: 6 mm to the right on the cloth are 3 mm up in the print.
    cloth = printed_cloth(200, 200, Lattice((40.0, 0.0), (0.0, 40.0)))
    double = turn(90.0).then(replace(turn(0.0), xx=2.0, yy=2.0))
    turned = replace(cloth, grounds=(replace(cloth.grounds[0], print_to_cloth=double),))
    question = Question((PieceAsked("a", rectangle(9, 9), (0.0, 0.0)),), (turned,))
    wish = moved(question, LOCK, (6.0, 0.0))
    assert isinstance(wish, Lock)
    assert wish.place_mm == pytest.approx((4.0, -3.0))
    assert moved(replace(question, pieces=()), LOCK, (6.0, 0.0)) is LOCK
    link = moved(question, LINK, (6.0, 1.0))
    assert isinstance(link, Link)
    assert link.differences_mm == ((9.0, 1.0),)


def test_a_layout_misses_a_wish_by_what_the_judge_measures() -> None:
    placed = (Placed("a", "c", 11.0, 0.0), Placed("b", "c", 65.0, 0.0))
    # Stripes every 10 mm: a is at 11 and should be at 4 and tens, so 3 off; b's point is at 66 where 14 is wished: 2.
    assert missed_mm(QUESTION, LOCK, placed) == pytest.approx(3.0)
    assert missed_mm(QUESTION, LINK, placed) == pytest.approx(2.0)
    assert missed_mm(QUESTION, LINK, (placed[0], replace(placed[1], x_mm=63.0))) == 0.0
