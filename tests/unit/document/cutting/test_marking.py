"""The facts: pieces cut and pieces spoiled."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, TurnIns
from coverlayout.book.structures import pieces
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled, unmark
from coverlayout.document.edits.books import change_book, remove_book
from coverlayout.document.edits.placements import place
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))
FRONT = next(piece for piece in pieces(BOOK) if piece.id == "front-1")
AT = Placed("front-1", "cloth-1", 90.0, 120.0)
BACK_AT = Placed("back-1", "cloth-1", 260.0, 120.0, 90.0)
OTHER = Layout("layout-2", "Other", (replace(AT, x_mm=80.0), BACK_AT), ("front-1", "back-1"))
POCKET = OwnPiece("own-1", "pocket", 40.0, 30.0)
START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 400.0, 400.0),),
    books=(BOOK,),
    own_pieces=(POCKET,),
    layouts=(Layout("layout-1", "Layout 1"), OTHER),
)
LAID = place((AT, BACK_AT)).change(START)
CUT = mark_cut(("front-1",)).change(LAID)


def test_a_cut_piece_is_a_fact_of_all_layouts() -> None:
    fact = CUT.fact_of("front-1")
    assert fact is not None
    assert (fact.outline_mm, fact.seen_mm, fact.anchor_mm) == (FRONT.outline_mm, FRONT.seen_mm, FRONT.anchor_mm)
    assert (fact.place, fact.state, fact.name) == (AT, "cut", FRONT.name)
    assert fact.board is not None
    # 15 mm of turn-in all round a board as large as the page, 4.5 x 6 in (common practice, no source).
    assert fact.board.ring()[0] == pytest.approx((15.0, 15.0))
    assert (fact.board.width_mm, fact.board.height_mm) == pytest.approx((114.3, 152.4))
    assert all(layout.place_of("front-1") is None for layout in CUT.layouts)
    assert CUT.layouts[1] == replace(OTHER, placements=(BACK_AT,), pinned=("back-1",))


def test_several_pieces_are_marked_in_one_step_or_none_is() -> None:
    both = mark_cut(("front-1", "back-1")).change(LAID)
    assert [fact.place for fact in both.cut_pieces] == [AT, BACK_AT]
    assert both.layout.placements == ()
    for pieces_asked in (("front-1", "liner-front-1"), ("front-1", "front-9")):
        with pytest.raises(BadInput):
            mark_cut(pieces_asked).change(LAID)


def test_a_piece_is_cut_once_and_only_where_it_lies() -> None:
    with pytest.raises(BadInput, match=r"^front cover is cut already and stays where it was cut$"):
        mark_cut(("front-1",), "front cover").change(CUT)
    for mark in (mark_cut, mark_spoiled):
        with pytest.raises(BadInput, match="pocket does not lie on the cloth yet"):
            mark(("pocket-1",)).change(LAID)
        with pytest.raises(BadInput, match="front-9"):
            mark(("front-9",)).change(LAID)


def test_no_cloth_is_cut_twice() -> None:
    """The front cover reaches from x = 17.85 to 162.15; a pocket of 40 whose middle is at 180 begins at 160."""
    over = place((Placed("pocket-1", "cloth-1", 180.0, 120.0),)).change(CUT)
    with pytest.raises(BadInput, match=r"^front-1 lies 2\.15 mm over pocket-1, and no cloth is cut twice"):
        mark_cut(("pocket-1",)).change(over)
    beside = place((Placed("pocket-1", "cloth-1", 182.15, 120.0),)).change(CUT)
    assert mark_cut(("pocket-1",)).change(beside).fact_of("pocket-1") is not None
    together = place((Placed("pocket-1", "cloth-1", 180.0, 120.0),)).change(LAID)
    with pytest.raises(BadInput, match="no cloth is cut twice"):
        mark_cut(("front-1", "pocket-1")).change(together)
    # Alone it may be marked, although it lies over one that is still planned.
    assert mark_cut(("pocket-1",)).change(together).fact_of("pocket-1") is not None


def test_what_breaks_a_rule_may_be_cut_all_the_same() -> None:
    outside = place((replace(AT, x_mm=10.0),)).change(LAID)
    assert judge_for(outside).report(placed_now(outside)).verdict == "not valid"
    assert mark_cut(("front-1",)).change(outside).fact_of("front-1") is not None


def test_a_fact_keeps_the_outline_it_was_cut_with() -> None:
    wider = change_book("book-1", turn_ins=TurnIns.all_round(20.0)).change(CUT)
    fact = wider.fact_of("front-1")
    assert fact is not None
    assert fact.outline_mm == FRONT.outline_mm


def test_a_spoiled_piece_leaves_a_hole_and_is_planned_again() -> None:
    spoiled = mark_spoiled(("front-1",)).change(LAID)
    assert [(fact.state, fact.place) for fact in spoiled.cut_pieces] == [("spoiled", AT)]
    assert spoiled.fact_of("front-1") is None
    assert "front-1" in [piece.id for piece in planned_pieces(spoiled)]
    assert spoiled.layout.placements == (BACK_AT,)
    assert spoiled.layouts[1] is OTHER
    again = mark_spoiled(("front-1",)).change(place((replace(AT, y_mm=310.0),)).change(spoiled))
    assert [fact.place.y_mm for fact in again.cut_pieces] == [120.0, 310.0]


def test_a_piece_named_twice_is_spoiled_once() -> None:
    assert len(mark_spoiled(("front-1", "front-1")).change(LAID).cut_pieces) == 1


def test_a_cut_piece_may_turn_out_spoiled_where_it_was_cut() -> None:
    spoiled = mark_spoiled(("front-1", "back-1")).change(CUT)
    assert [(fact.piece, fact.state, fact.place) for fact in spoiled.cut_pieces] == [
        ("front-1", "spoiled", AT),
        ("back-1", "spoiled", BACK_AT),
    ]
    assert spoiled.layout.placements == ()


def test_a_mark_made_by_mistake_is_taken_back() -> None:
    back = unmark(CUT.cut_pieces).change(CUT)
    assert (back.cut_pieces, back.layout.place_of("front-1")) == ((), AT)
    both = mark_cut(("front-1", "back-1")).change(LAID)
    assert set(unmark(both.cut_pieces).change(both).layout.placements) == {AT, BACK_AT}
    spoiled = mark_spoiled(("front-1",)).change(LAID)
    assert unmark(spoiled.cut_pieces).change(spoiled).layout.placements == (BACK_AT,)
    with pytest.raises(BadInput):
        unmark(CUT.cut_pieces).change(LAID)
    without = remove_book("book-1").change(CUT)
    assert len(without.cut_pieces) == 1
    assert unmark(CUT.cut_pieces).change(without).cut_pieces == ()


@pytest.mark.parametrize(
    ("edit", "name"),
    [
        (mark_cut(("front-1",), "front cover"), "Mark front cover as cut"),
        (mark_cut(("front-1", "back-1"), "front cover"), "Mark 2 pieces as cut"),
        (mark_spoiled(("front-1",)), "Mark front-1 as spoiled"),
        (mark_spoiled(("front-1", "back-1")), "Mark 2 pieces as spoiled"),
        (unmark(CUT.cut_pieces), f"Take back the mark on {FRONT.name}"),
        (unmark(CUT.cut_pieces * 2), "Take back the mark on 2 pieces"),
    ],
)
def test_each_mark_has_a_name_for_the_undo_menu(edit: object, name: str) -> None:
    assert edit.name.text() == name  # type: ignore[attr-defined]  # all are edits
