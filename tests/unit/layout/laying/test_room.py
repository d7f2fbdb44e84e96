"""The most room of a job: proved to the hair where all ways are searched, else found by asking for more."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, core, faults, piece

from coverlayout.layout.exact.deciding import Decided, Exact
from coverlayout.layout.laying.deciding import decide
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.laying.room import STEP_MM, make_room
from coverlayout.layout.question import Question, with_room
from coverlayout.layout.search.effort import CutShort, Effort


def roomy(question: Question, steps: int | None = None) -> Desk:
    """After the work, with so many steps for the room alone."""
    desk = Desk(question, Effort(question.steps))
    decide(desk)
    if steps is not None:
        desk.effort = Effort(steps)
    make_room(desk)
    assert desk.roomiest is not None
    assert faults(question, desk.roomiest[0]) == []
    return desk


@pytest.mark.parametrize(
    ("question", "room_mm"),
    [
        # Beside a liner of 146.4 a board of 144.3: three rooms.
        (core(304.8), (304.8 - 146.4 - 144.3) / 3),
        (Question((piece("a", 40, 30),), (cloth(100, 60),)), 15.0),
        # Corner to corner with r to the edges: (30 - 2 r)^2 + (40 - 2 r)^2 = r^2. Then 3 across and 4 along: 5.
        (Question((piece("a", 40, 30), piece("b", 30, 20)), (cloth(100, 90),)), (280 - math.sqrt(8400)) / 14),
        (Question((piece("a", 40, 40), piece("b", 40, 40)), (cloth(93, 94),)), 5.0),
        (Question((piece("a", 40, 20, ANY), piece("b", 40, 20, ANY)), (cloth(52, 52),)), 4.0),
    ],
)
def test_the_most_room_is_proved_and_a_hair_more_is_refused(question: Question, room_mm: float) -> None:
    desk = roomy(question)
    assert desk.room_mm() == pytest.approx(room_mm, abs=STEP_MM)
    assert desk.spare_proved
    assert desk.roomiest is not None
    assert clearance_of(question, desk.roomiest[0]) == pytest.approx(desk.room_mm(), abs=1e-4)
    assert desk.exact is not None
    assert desk.exact.decide(Effort(10**6), desk.room_mm() + STEP_MM).says == "no"
    # As a job of its own, with the room as gap and taken off the edge, a hundredth more is no job any more.
    more = Desk(with_room(question, desk.room_mm() + 0.03), Effort(10**6))
    decide(more)
    assert more.proof is not None


def test_at_any_angle_nothing_is_proved() -> None:
    desk = roomy(Question((piece("a", 40, 20, None),), (cloth(60, 60),)))
    assert desk.room_mm() >= 10.0 - 1e-6
    assert not desk.spare_proved


def test_many_pieces_have_the_room_that_was_found() -> None:
    question = Question(book_pieces(4), (cloth(900, 600),))
    desk = roomy(question)
    assert desk.exact is None
    assert not desk.spare_proved
    # Eight boards of 144.3 x 182.4 and eight liners: two rows of boards and liners between leave 6 mm and more.
    assert desk.room_mm() >= 6.0


def test_between_few_and_too_many_both_ways_are_gone() -> None:
    pieces = tuple(piece(f"p{k}", 40, 30) for k in range(9))
    desk = roomy(Question(pieces, (cloth(140, 110),), steps=40_000))
    # Three rows of three: four rooms on 20 both ways.
    assert desk.room_mm() == pytest.approx(5.0, abs=0.26)


def test_without_steps_the_room_is_that_of_the_first_layout() -> None:
    question = replace(core(304.8), steps=100_000)
    desk = Desk(question, Effort(question.steps))
    decide(desk)
    known = desk.room_mm()
    desk.effort = Effort(1)
    make_room(desk)
    assert desk.room_mm() == known
    assert not desk.spare_proved


def test_an_open_search_proves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Exact, "decide", lambda *_: Decided("open"))
    desk = roomy(core(400.0))
    assert not desk.spare_proved


def test_a_yes_with_no_more_room_ends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk(core(400.0), Effort(200_000))
    decide(desk)
    assert desk.roomiest is not None
    same = desk.roomiest[0]
    monkeypatch.setattr(Exact, "decide", lambda *_: Decided("yes", same))
    make_room(desk)
    assert not desk.spare_proved


def test_the_clock_stops_it() -> None:
    desk = Desk(Question(book_pieces(6), (cloth(1371.6, 700),)), Effort(10**9))
    decide(desk)
    desk.effort = Effort(10**9, seconds=0.0)
    with pytest.raises(CutShort):
        make_room(desk)
