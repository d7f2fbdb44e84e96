"""What is known of one question: layouts taken only when the judge passes them, and the answer at any time."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import book_pieces, cloth, piece
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.layout.answer import Answer, Proof
from coverlayout.layout.laying.desk import Desk, nobody
from coverlayout.layout.question import Lock, Placed, Question
from coverlayout.layout.search.effort import Effort
from coverlayout.motif.lattice import Lattice

PAIR = Question((piece("a", 40, 30), piece("b", 30, 20)), (cloth(100, 60),))
# Corner to corner with 5 mm to the edges, and more in the middle; anchors are the middles.
SNUG = Placed("a", "c", 25.0, 20.0), Placed("b", "c", 80.0, 15.0)
ROOMY = Placed("a", "c", 30.0, 25.0), Placed("b", "c", 75.0, 25.0)
WRONG = Placed("a", "c", 25.0, 20.0), Placed("b", "c", 40.0, 20.0)


def desk_of(question: Question = PAIR, heard: list[Answer] | None = None) -> Desk:
    return Desk(question, Effort(question.steps), nobody if heard is None else heard.append)


def test_a_new_desk_is_open() -> None:
    desk = desk_of()
    assert desk.is_open
    assert desk.answer(cut_short=False).verdict == "not found"
    assert not desk.answer(cut_short=False).cut_short
    assert desk.answer(cut_short=True).cut_short
    desk.proof = Proof("area", (("need_mm2", 1.0), ("have_mm2", 0.0)))
    assert not desk.is_open


def test_only_what_the_judge_passes_is_taken() -> None:
    desk = desk_of()
    assert not desk.offer(None)
    assert not desk.offer(WRONG)
    # A piece that still waits is a layout half done.
    assert not desk.offer(SNUG[:1])
    assert desk.is_open
    assert desk.passes(SNUG)
    assert not desk.passes(WRONG)
    assert not desk.passes(SNUG[:1])
    assert desk.offer(SNUG)
    assert not desk.is_open
    assert desk.room_mm() == pytest.approx(5.0)


def test_each_roomier_layout_is_told_and_shown_and_others_are_not() -> None:
    heard: list[Answer] = []
    desk = desk_of(heard=heard)
    assert desk.offer(SNUG)
    # Between them 45 - 35, to the left edge 10, below 60 - 40.
    assert desk.offer(ROOMY)
    assert desk.room_mm() == pytest.approx(10.0)
    assert desk.offer(SNUG)
    assert [answer.placed for answer in heard] == [SNUG, ROOMY]
    assert [answer.spare_mm for answer in heard] == pytest.approx([5.0, 10.0])
    assert desk.shown is not None
    assert desk.shown[0] == ROOMY


def test_a_layout_is_shown_when_it_has_the_room_asked_for() -> None:
    desk = desk_of()
    desk.offer(ROOMY)
    assert not desk.show(SNUG, 6.0)
    assert not desk.show(WRONG, 0.0)
    assert not desk.show(ROOMY[:1], 0.0)
    assert desk.show(SNUG, 5.005)
    answer = desk.answer(cut_short=False)
    assert answer.placed == SNUG
    assert answer.clearance_mm == pytest.approx(5.0)
    assert answer.spare_mm == pytest.approx(10.0)


def test_room_shown_is_room_found_unless_the_most_is_proved() -> None:
    desk = desk_of()
    desk.offer(SNUG)
    assert desk.show(ROOMY, 0.0)
    assert desk.room_mm() == pytest.approx(10.0)
    proved = desk_of()
    proved.offer(SNUG)
    proved.spare_proved = True
    assert proved.show(ROOMY, 0.0)
    assert proved.room_mm() == pytest.approx(5.0)


def test_without_pieces_there_is_any_room() -> None:
    desk = desk_of(Question((), (cloth(100, 60),), cloths_if_smaller=(cloth(99, 59),)))
    assert desk.lost_if_smaller is None
    assert desk.offer(())
    assert desk.room_mm() == 6.0


def test_until_smaller_cloths_were_tried_a_layout_on_them_is_not_known() -> None:
    assert desk_of().lost_if_smaller is None
    assert desk_of(replace(PAIR, cloths_if_smaller=(cloth(99, 59),))).lost_if_smaller == "not found"


def test_a_question_is_seen_as_what_it_is() -> None:
    plain = desk_of()
    assert plain.job is not None
    assert plain.exact is not None
    on = printed_cloth(100, 60, Lattice((50.0, 0.0), (0.0, 40.0)))
    locked = desk_of(replace(PAIR, cloths=(on,), locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),)))
    assert locked.job is None
    assert locked.held is not None
    assert locked.exact is not None
    bent = desk_of(replace(PAIR, pieces=(piece("ell", 0, 0, outline=L_SHAPE),)))
    assert bent.held is None
    many = desk_of(Question(book_pieces(4), (cloth(1000, 1000),)))
    assert many.exact is None
    assert many.job is not None


def test_a_part_takes_its_share_of_the_steps() -> None:
    desk = desk_of(replace(PAIR, steps=1000))
    with desk.part(0.25) as effort:
        assert effort.left == 250
        effort.spend(300)
        raise AssertionError("the part had no more")
    assert desk.effort.left == 700
