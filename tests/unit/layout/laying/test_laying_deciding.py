"""Whether anything can be laid: which way answers, the cheapest first, and what happens when steps run out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import book_pieces, cloth, core, faults, flaw, piece
from samples import L_SHAPE
from stripping import TILES
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.exact.deciding import Decided, Exact
from coverlayout.layout.laying import deciding
from coverlayout.layout.laying.deciding import decide, filled, filled_with, stripped
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.question import Link, Lock, Question
from coverlayout.layout.search.effort import CutShort, Effort
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
# 60 x 40 round a middle: only a pinwheel, which no row finds.
RING = (piece("top", 60, 40), piece("right", 40, 60), piece("bottom", 60, 40), piece("left", 40, 60))


def decided(question: Question) -> Desk:
    desk = Desk(question, Effort(question.steps, question.seconds))
    decide(desk)
    if desk.roomiest is not None:
        assert faults(question, desk.roomiest[0]) == []
    return desk


def proof_of(question: Question) -> str | None:
    desk = decided(question)
    assert (desk.roomiest is None) or (desk.proof is None)
    return None if desk.proof is None else desk.proof.name


def test_nothing_to_lay_lies() -> None:
    desk = decided(Question((), (cloth(100, 100),)))
    assert desk.roomiest is not None
    assert desk.roomiest[0] == ()


def test_cheap_proofs_come_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Exact, "decide", lambda *_: pytest.fail("not needed"))
    assert proof_of(Question((piece("a", 120, 30),), (cloth(100, 100),))) == "fits nowhere"
    assert (
        proof_of(Question((piece("a", 60, 60), piece("b", 60, 60), piece("c", 60, 60)), (cloth(100, 100),))) == "area"
    )
    assert proof_of(Question(book_pieces(3), (cloth(558.8, 457.2),))) == "slice bound"


def test_what_no_bound_refuses_is_searched_to_its_end() -> None:
    # A pinwheel round a hole of 20 x 20 in the middle, where a stain of 2 x 2 is in the way of what would fill it.
    spot = flaw(rectangle(2, 2, 49, 49))
    question = Question(RING, (cloth(100, 100, keep_outs=(spot,)),))
    assert proof_of(question) is None
    desk = decided(replace(question, pieces=(*RING, piece("middle", 18, 18))))
    assert desk.proof is not None
    assert (desk.proof.name, desk.proof.figures) == ("exhaustive", (("pieces", 5.0),))


def test_a_first_layout_is_found_without_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Exact, "decide", lambda *_: pytest.fail("not needed"))
    assert decided(core(400.0)).roomiest is not None
    assert decided(Question(book_pieces(2), (cloth(700.0, 500.0),))).roomiest is not None


def test_more_pieces_are_laid_in_rows_first(monkeypatch: pytest.MonkeyPatch) -> None:
    # Eleven that tile 100 x 110, one row of 10 high under a grid of 5 x 2.
    pieces = (*(piece(f"p{k}", 20, 50) for k in range(10)), piece("row", 100, 10))
    question = Question(pieces, (cloth(100, 110),))
    monkeypatch.setattr(deciding, "filled", lambda *_, **__: None)
    monkeypatch.setattr(Exact, "decide", lambda *_: pytest.fail("not needed"))
    desk = decided(question)
    assert desk.roomiest is not None


def test_with_steps_for_nothing_the_question_stays_open() -> None:
    desk = decided(replace(Question((*RING, piece("middle", 21, 18)), (cloth(100, 100),)), steps=12))
    assert desk.is_open


def test_the_watch_stops_it() -> None:
    question = Question(tuple(piece(f"p{k}", *size) for k, size in enumerate(TILES)), (cloth(305, 380),))
    with pytest.raises(CutShort):
        decide(Desk(question, Effort(question.steps, watch=lambda share: True)))


def test_an_open_search_leaves_it_to_more_orders(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def none(desk: Desk, room_mm: float = 0.0, *, orders: int, outlines: int | None) -> None:
        asked.append(orders)

    monkeypatch.setattr(deciding, "filled", none)
    monkeypatch.setattr(Exact, "decide", lambda *_: Decided("open"))
    desk = decided(Question((*RING, piece("middle", 20, 20)), (cloth(100, 100),)))
    assert desk.is_open
    assert len(asked) == 2
    assert asked[0] < asked[1]


def test_where_a_must_hangs_on_how_the_print_falls_no_orders_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    monkeypatch.setattr(deciding, "filled", lambda *_, orders, outlines: asked.append(orders))
    on = printed_cloth(200, 100, Lattice((50.0, 0.0), (0.0, 40.0)), known=False)
    question = Question((piece("a", 30, 20),), (on,), locks=(Lock("a", ZERO, ZERO),))
    assert decided(question).is_open
    assert len(asked) == 1


PAIR = piece("a", 40, 30), piece("b", 30, 40)
FINE = printed_cloth(120, 90, Lattice((20.0, 0.0), (0.0, 20.0)))
CLIPPED = cloth(90, 60, keep_outs=(flaw(((0.0, 0.0), (9.0, 0.0), (0.0, 9.0))),))


@pytest.mark.parametrize(
    "question",
    [
        Question(PAIR, (cloth(90, 60),)),
        Question(PAIR, (FINE,), locks=(Lock("a", ZERO, ZERO),)),
        Question((piece("ell", 0, 0, outline=L_SHAPE), PAIR[1]), (cloth(70, 110),)),
        Question(PAIR, (CLIPPED,)),
    ],
    ids=["plain", "held", "bent", "slanted flaw"],
)
def test_orders_of_filling_serve_every_kind_of_job(question: Question) -> None:
    desk = Desk(question, Effort(question.steps))
    placed = filled(desk, orders=12, outlines=4)
    assert placed is not None
    assert faults(question, placed) == []
    assert desk.passes(placed)


def test_filling_keeps_the_room_it_is_asked_for() -> None:
    desk = Desk(Question((piece("a", 40, 30), piece("b", 30, 30)), (cloth(100, 60),)), Effort(100_000))
    placed = filled_with(desk, 10.0)
    assert placed is not None
    assert (desk.judge.report(placed).clearance_mm or 0.0) >= 10.0 - 1e-6
    assert filled_with(desk, 10.1) is None


def test_outlines_are_only_laid_when_asked_for() -> None:
    desk = Desk(Question((piece("ell", 0, 0, outline=L_SHAPE),), (cloth(70, 110),)), Effort(100_000))
    assert filled(desk, orders=12, outlines=None) is None
    assert filled(desk, orders=12, outlines=0) is not None


def test_rows_need_rectangles_that_come_from_one_sheet() -> None:
    def rows(question: Question) -> object:
        return stripped(Desk(question, Effort(100_000)))

    pair = Question((piece("a", 40, 30), piece("b", 30, 30)), (cloth(70, 30),))
    assert rows(pair) is not None
    assert rows(replace(pair, pieces=(piece("ell", 0, 0, outline=L_SHAPE),))) is None
    # Two cloths that both may be cut are not one sheet; they are when the pieces are bound to one.
    two = replace(pair, cloths=(cloth(70, 30), cloth(80, 40, name="d")))
    assert rows(two) is None
    assert rows(replace(two, pieces=tuple(replace(asked, cloth_ids=("c",)) for asked in pair.pieces))) is not None


def test_linked_pieces_are_found_or_refused() -> None:
    on = printed_cloth(103, 20, Lattice((50.0, 0.0), (0.0, 40.0)))
    link = Link(("a", "b"), (ZERO, ZERO), ((13.0, 0.0),))
    question = Question((piece("a", 40, 20), piece("b", 40, 20)), (on,), links=(link,))
    assert decided(question).roomiest is not None
    assert (
        proof_of(replace(question, cloths=(printed_cloth(102.5, 20, Lattice((50.0, 0.0), (0.0, 40.0))),))) is not None
    )
