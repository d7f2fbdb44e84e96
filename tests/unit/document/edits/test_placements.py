"""Where pieces lie in the layout being worked on, and pieces that are pinned there."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.books import change_book, remove_book
from coverlayout.document.edits.placements import (
    accept,
    move_by,
    pin,
    place,
    take_off,
    turn_piece,
    unpin,
)
from coverlayout.document.project import Layout, Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import piece_to_cloth
from coverlayout.layout.question import Placed

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))
AT = Placed("front-1", "cloth-1", 90.0, 120.0)
BACK_AT = Placed("back-1", "cloth-1", 230.0, 120.0, 90.0)
OTHER = Layout("layout-2", "Other", (replace(AT, x_mm=80.0), BACK_AT))
START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 400.0, 400.0),), books=(BOOK,), layouts=(Layout("layout-1", "Layout 1"), OTHER)
)
LAID = place((AT, BACK_AT)).change(START)


def test_pieces_are_laid_in_the_present_layout_only() -> None:
    assert LAID.layout.placements == (AT, BACK_AT)
    assert LAID.layouts[1] is OTHER


def test_a_moved_piece_keeps_its_rank_and_what_the_file_said_of_its_place() -> None:
    kept = (("pinned", "true"),)
    start = place((replace(AT, unknown=kept), BACK_AT)).change(START)
    moved = place((replace(AT, x_mm=95.0),)).change(start)
    assert moved.layout.placements == (replace(AT, x_mm=95.0, unknown=kept), BACK_AT)


def test_pieces_move_together_by_a_length() -> None:
    moved = move_by(("front-1", "back-1", "liner-front-1"), -5.0, 2.5).change(LAID)
    assert [(one.x_mm, one.y_mm) for one in moved.layout.placements] == [(85.0, 122.5), (225.0, 122.5)]


@pytest.mark.parametrize(("turn_deg", "kept_deg"), [(450.0, 90.0), (-90.0, 270.0), (360.0, 0.0), (-1e-20, 0.0)])
def test_a_turn_is_kept_within_one_round(turn_deg: float, kept_deg: float) -> None:
    turned = turn_piece("front-1", turn_deg).change(LAID).layout.place_of("front-1")
    assert turned == replace(AT, turn_deg=kept_deg)


def test_what_waits_cannot_be_turned() -> None:
    with pytest.raises(BadInput, match="liner-front-1 does not lie on the cloth yet"):
        turn_piece("liner-front-1", 90.0).change(LAID)


def test_a_piece_is_taken_off() -> None:
    assert take_off(("front-1",)).change(LAID).layout.placements == (BACK_AT,)
    assert take_off(("liner-front-1",)).change(LAID) == LAID


def test_an_answer_is_taken_over_but_for_what_is_cut() -> None:
    cut = mark_cut(("front-1",)).change(LAID)
    answer = (replace(AT, x_mm=1.0), replace(BACK_AT, x_mm=200.0), Placed("liner-front-1", "cloth-1", 60.0, 300.0))
    assert accept(answer).change(cut).layout.placements == answer[1:]
    assert accept(iter(answer)).change(START).layout.placements == answer


def test_an_answer_that_comes_late_lays_only_what_is_still_planned() -> None:
    assert accept((AT, replace(AT, piece="front-2"))).change(START).layout.placements == (AT,)


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        (replace(AT, cloth="cloth-9"), "id-unknown"),
        (replace(AT, piece="front-9"), "id-unknown"),
        (replace(AT, x_mm=math.nan), "figure-not-finite"),
        (replace(AT, y_mm=1e9), "figure-absurd"),
        (replace(AT, turn_deg=math.nan), "figure-not-finite"),
        (replace(AT, turn_deg=math.inf), "figure-not-finite"),
    ],
)
def test_a_place_that_cannot_be_is_refused(wrong: Placed, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        place((wrong,)).change(START)
    assert caught.value.code == code


def test_a_cut_piece_is_not_laid_anew() -> None:
    cut = mark_cut(("front-1",)).change(LAID)
    with pytest.raises(BadInput, match="front-1 is cut already and stays where it was cut"):
        place((AT,)).change(cut)


def test_a_pinned_piece_stays_where_it_lies() -> None:
    pinned = pin(("front-1",)).change(LAID)
    assert pinned.layout.pinned == ("front-1",)
    assert pinned.layouts[1] is OTHER
    refused = (
        place((replace(AT, x_mm=1.0),), "front cover"),
        move_by(("front-1",), 1.0, 0.0, "front cover"),
        turn_piece("front-1", 90.0, "front cover"),
        take_off(("front-1",), "front cover"),
    )
    for edit in refused:
        with pytest.raises(BadInput, match=r"^front cover is pinned where it lies; let it go first$"):
            edit.change(pinned)


def test_of_several_pieces_the_pinned_ones_stay() -> None:
    pinned = pin(("front-1",)).change(LAID)
    both = ("front-1", "back-1")
    assert move_by(both, 5.0, 0.0).change(pinned).layout.placements == (AT, replace(BACK_AT, x_mm=235.0))
    moved = tuple(replace(one, y_mm=one.y_mm + 3.0) for one in (AT, BACK_AT))
    assert place(moved).change(pinned).layout.placements == (AT, moved[1])
    assert accept(moved).change(pinned).layout.placements == (AT, moved[1])
    assert accept(moved[:1]).change(pinned) == pinned
    off = take_off(both).change(pinned)
    assert (off.layout.placements, off.layout.pinned) == ((AT,), ("front-1",))
    all_pinned = pin(both).change(pinned)
    with pytest.raises(BadInput, match="front-1 is pinned"):
        move_by(both, 5.0, 0.0, "not said of several").change(all_pinned)


def test_a_piece_is_pinned_once_and_let_go() -> None:
    twice = pin(("back-1", "front-1", "back-1")).change(pin(("back-1",)).change(LAID))
    assert twice.layout.pinned == ("back-1", "front-1")
    assert unpin(("back-1", "liner-front-1")).change(twice).layout.pinned == ("front-1",)
    with pytest.raises(BadInput, match="front liner does not lie on the cloth yet"):
        pin(("liner-front-1",), "front liner").change(LAID)


def test_a_pin_goes_with_its_piece() -> None:
    pinned = pin(("front-1", "back-1")).change(LAID)
    assert mark_cut(("front-1",)).change(pinned).layout.pinned == ("back-1",)
    assert remove_book("book-1").change(pinned).layout.pinned == ()


def test_a_changed_turn_in_moves_no_motif() -> None:
    """The board's centre lies at the anchor; the board's corner on the cloth is where it was, turned or not.

    4.5 x 6 in: the board is 114.3 x 152.4 mm, so its corner lies 57.15 and 76.2 mm from the anchor; at a turn of 90
    degrees a corner up and left of the anchor comes to lie up and right.
    """
    wider = change_book("book-1", turn_ins=TurnIns(12.0, 20.0, 18.0, 25.0)).change(LAID)
    assert wider.layout is LAID.layout
    for book in (LAID.books[0], wider.books[0]):
        by_id = {piece.id: piece for piece in pieces(book)}
        assert corner(by_id["front-1"], AT) == pytest.approx((90.0 - 57.15, 120.0 - 76.2))
        assert corner(by_id["back-1"], BACK_AT) == pytest.approx((230.0 + 76.2, 120.0 - 57.15))


def corner(piece: Piece, placed: Placed) -> tuple[float, float]:
    assert piece.board is not None
    to_cloth = piece_to_cloth(piece.anchor_mm, (placed.x_mm, placed.y_mm), placed.turn_deg)
    return to_cloth.at((piece.board.left_mm, piece.board.top_mm))


@pytest.mark.parametrize(
    ("edit", "name"),
    [
        (place((AT,), "front cover"), "Move front cover"),
        (place((AT,)), "Move front-1"),
        (place((AT, BACK_AT)), "Move 2 pieces"),
        (move_by(("front-1",), 1.0, 0.0), "Move front-1"),
        (turn_piece("front-1", 90.0, "front cover"), "Turn front cover"),
        (take_off(("front-1",)), "Take front-1 off the cloth"),
        (take_off(("front-1", "back-1")), "Take 2 pieces off the cloth"),
        (accept(()), "Lay the pieces as found"),
        (place((AT, BACK_AT), named=Remark.of("edit-turn", piece="both")), "Turn both"),
        (pin(("front-1",), "front cover"), "Pin front cover"),
        (pin(("front-1", "back-1")), "Pin 2 pieces"),
        (unpin(("front-1",)), "Let front-1 go"),
        (unpin(("front-1", "back-1")), "Let 2 pieces go"),
    ],
)
def test_each_edit_has_a_name_for_the_undo_menu(edit: object, name: str) -> None:
    assert edit.name.text() == name  # type: ignore[attr-defined]  # all are edits
