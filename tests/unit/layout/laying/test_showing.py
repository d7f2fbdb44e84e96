"""Which layout is shown: the roomiest where room is short, else tidy, and with few pieces turned."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, core, faults, piece
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.layout.laying.deciding import decide
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.laying.room import make_room
from coverlayout.layout.laying.showing import many_layouts, set_upright, tidy_up
from coverlayout.layout.question import Lock, Placed, Question
from coverlayout.layout.ranking.tidy import untidiness
from coverlayout.layout.ranking.upright import turned
from coverlayout.layout.search.effort import Effort
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
LABELS = Question(tuple(piece(f"label-{k}", 40, 20) for k in range(4)), (cloth(150, 110),), spare_wish_mm=5.0)


def roomy(question: Question) -> Desk:
    desk = Desk(question, Effort(question.steps))
    decide(desk)
    make_room(desk)
    return desk


def shown(desk: Desk) -> tuple[Placed, ...]:
    assert desk.shown is not None
    return desk.shown[0]


def test_a_tidier_layout_gives_a_millimetre_of_room_away_and_no_more() -> None:
    desk = roomy(LABELS)
    roomiest, before = desk.room_mm(), untidiness(desk.judge, shown(desk))
    tidy_up(desk)
    assert untidiness(desk.judge, shown(desk)) <= before
    assert roomiest - 1.0 - 0.01 <= clearance_of(LABELS, shown(desk))
    assert faults(LABELS, shown(desk)) == []
    assert desk.room_mm() >= roomiest
    # Four labels in two rows: two cut lines each way at most, besides those of the room.
    xs, ys = ({round(placed.x_mm, 1) for placed in shown(desk)}, {round(placed.y_mm, 1) for placed in shown(desk)})
    assert len(xs) * len(ys) == 4


def test_where_room_is_short_the_roomiest_stays() -> None:
    desk = roomy(core(304.8))
    before = desk.shown
    tidy_up(desk)
    assert desk.shown is before
    # Exactly the wish is not short of it.
    enough = roomy(replace(core(304.8), spare_wish_mm=4.7))
    tidy_up(enough)
    assert clearance_of(core(304.8), shown(enough)) >= 4.7 - 0.01


def test_a_desk_without_a_layout_has_nothing_to_tidy() -> None:
    desk = Desk(core(150.0), Effort(1000))
    tidy_up(desk)
    assert desk.shown is None


@pytest.mark.parametrize(
    "question",
    [
        LABELS,
        Question(
            (piece("a", 30, 20), piece("b", 30, 25)),
            (printed_cloth(150, 110, Lattice((20.0, 0.0), (0.0, 20.0))),),
            locks=(Lock("a", ZERO, ZERO),),
        ),
        Question((piece("ell", 0, 0, outline=L_SHAPE), piece("b", 30, 40)), (cloth(150, 110),)),
    ],
    ids=["plain", "held", "bent"],
)
def test_many_layouts_have_the_room_asked_for(question: Question) -> None:
    desk = Desk(question, Effort(20_000))
    found = []
    for placed in many_layouts(desk, 4.0):
        found.append(placed)
        if len(found) == 40:
            break
    assert len(set(found)) >= 2
    passed = [placed for placed in found if desk.passes(placed)]
    assert len(passed) >= 2
    assert all((desk.judge.report(placed).clearance_mm or 0.0) >= 4.0 - 0.01 for placed in passed)


def test_many_pieces_have_layouts_from_orders_alone() -> None:
    question = Question(book_pieces(4), (cloth(1000, 900),))
    desk = Desk(question, Effort(200_000))
    assert desk.exact is None
    assert len(list(many_layouts(desk, 0.0, orders=3))) >= 1


def test_pieces_are_set_upright_where_the_room_allows_it() -> None:
    pieces = piece("a", 60, 20, ANY), piece("b", 60, 20, ANY)
    desk = Desk(Question(pieces, (cloth(100, 100),)), Effort(200_000))
    assert desk.offer((Placed("a", "c", 20.0, 50.0, 90.0), Placed("b", "c", 60.0, 50.0, 270.0)))
    assert turned(desk.judge, shown(desk)) == (2, 0)
    set_upright(desk)
    assert turned(desk.judge, shown(desk)) == (0, 0)
    assert faults(desk.question, shown(desk)) == []
    assert clearance_of(desk.question, shown(desk)) >= 6.0 - 0.01


def test_a_turn_that_is_needed_stays() -> None:
    pieces = piece("a", 60, 20, ANY), piece("b", 60, 20, ANY)
    desk = roomy(Question(pieces, (cloth(50, 72),), spare_wish_mm=2.0))
    set_upright(desk)
    assert turned(desk.judge, shown(desk)) == (2, 0)


def test_upright_pieces_keep_what_room_there_is_below_the_wish() -> None:
    # Turned there would be 10 mm of room; upright only one: that is given for nothing.
    pieces = (piece("a", 60, 20, ANY),)
    desk = roomy(Question(pieces, (cloth(62, 90),), spare_wish_mm=6.0))
    assert desk.room_mm() == pytest.approx(15.0, abs=0.01)
    set_upright(desk)
    assert clearance_of(desk.question, shown(desk)) >= 6.0 - 0.01
    assert turned(desk.judge, shown(desk)) == (1, 0)
