"""Least length and largest leftover: worked out by hand, and the wished room kept."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from laying import ANY, cloth, faults, piece, polygon_of
from stripping import TILES

from coverlayout.layout.lay import lay
from coverlayout.layout.laying.deciding import decide
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.laying.objectives import show_largest_left, show_shortest
from coverlayout.layout.laying.room import make_room
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.ranking.tidy import boxes_by_sheet, largest_left_mm2
from coverlayout.layout.search.effort import CutShort, Effort

# Four labels of 40 x 30 on a cloth of 100: two beside each other, two rows.
FOUR = Question(tuple(piece(f"p{k}", 40, 30) for k in range(4)), (cloth(100, 300),), spare_wish_mm=5.0)


def desk_of(question: Question) -> Desk:
    desk = Desk(question, Effort(question.steps))
    decide(desk)
    make_room(desk)
    return desk


def length_of(question: Question, placed: tuple[Placed, ...]) -> float:
    asked = {one.id: one for one in question.pieces}
    return max(float(polygon_of(asked[one.piece], one).bounds[3]) for one in placed)


def left_of(desk: Desk) -> float:
    assert desk.shown is not None
    return sum(largest_left_mm2(*one) for one in boxes_by_sheet(desk.judge, desk.shown[0]).items())


@pytest.mark.parametrize(("wish_mm", "length_mm"), [(0.0, 60.0), (5.0, 70.0), (6.0, 72.0)])
def test_the_least_length_keeps_the_wished_room(wish_mm: float, length_mm: float) -> None:
    # Two rows of 30 with the wish above and between them; across, 80 and three times the wish must be 100 at most.
    question = replace(FOUR, spare_wish_mm=wish_mm)
    desk = desk_of(question)
    show_shortest(desk)
    assert desk.shown is not None
    assert length_of(question, desk.shown[0]) == pytest.approx(length_mm, abs=0.3)
    assert (desk.shown[1].clearance_mm or 0.0) >= wish_mm - 0.01
    assert faults(question, desk.shown[0]) == []


def test_the_room_that_was_found_stays_the_answer() -> None:
    desk = desk_of(FOUR)
    room_mm = desk.room_mm()
    show_shortest(desk)
    assert desk.room_mm() >= room_mm


def test_where_the_wish_cannot_be_had_all_the_room_there_is_is_kept() -> None:
    question = replace(FOUR, cloths=(cloth(100, 75),), spare_wish_mm=9.0)
    desk = desk_of(question)
    assert desk.room_mm() == pytest.approx(5.0, abs=0.01)
    show_shortest(desk)
    assert desk.shown is not None
    assert (desk.shown[1].clearance_mm or 0.0) >= 5.0 - 0.02


def test_a_least_length_is_asked_for_one_cloth_only() -> None:
    question = replace(FOUR, cloths=(cloth(100, 300), cloth(100, 300, name="d")))
    desk = desk_of(question)
    before = desk.shown
    show_shortest(desk)
    assert desk.shown is before


def test_the_clock_ends_it_with_what_there_is() -> None:
    question = Question(tuple(piece(f"p{k}", *size) for k, size in enumerate(TILES)), (cloth(305, 700),))
    desk = Desk(question, Effort(question.steps))
    decide(desk)
    before = desk.shown
    desk.effort = Effort(question.steps, watch=lambda share: True)
    time.sleep(0.01)
    with pytest.raises(CutShort):
        show_shortest(desk)
    assert desk.shown == before


def test_the_largest_piece_left_over_is_a_strip_across_the_cloth() -> None:
    # With the labels in two rows on top, 5 mm above and between them, 100 x (300 - 70) is left whole.
    desk = desk_of(FOUR)
    show_largest_left(desk)
    assert left_of(desk) == pytest.approx(100 * 230, abs=1.0)
    assert desk.shown is not None
    assert (desk.shown[1].clearance_mm or 0.0) >= 5.0 - 0.01
    assert faults(FOUR, desk.shown[0]) == []


def test_a_layout_with_less_left_is_not_shown() -> None:
    desk = desk_of(FOUR)
    show_largest_left(desk)
    most = left_of(desk)
    before = desk.shown
    show_largest_left(desk)
    assert desk.shown == before
    assert left_of(desk) == most
    starved = desk_of(FOUR)
    starved.effort = Effort(1)
    kept = starved.shown
    show_largest_left(starved)
    assert starved.shown == kept


@pytest.mark.parametrize("objective", ["least length", "largest leftover"])
def test_the_whole_answer_follows_the_objective(objective: str) -> None:
    question = replace(FOUR, objective=objective, pieces=(*FOUR.pieces, piece("q", 20, 90, ANY)))
    answer = lay(question)
    assert answer.verdict == "fits"
    assert (answer.clearance_mm or 0.0) >= 5.0 - 0.01
    # Two rows, and the strip lying under them: 5 + 30 + 5 + 30 + 5 + 20.
    assert length_of(question, answer.placed) == pytest.approx(95.0, abs=0.3)
