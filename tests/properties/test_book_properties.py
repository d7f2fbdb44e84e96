"""What holds for any book of separate boards: front and back are mirror twins, and turn-ins move no motif."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.geometry.shapes import area_mm2

EDGE = st.floats(0.0, 30.0)
BOOKS = st.builds(
    Book,
    id=st.just("b"),
    name=st.just("Book"),
    board_mm=st.tuples(st.floats(60.0, 300.0), st.floats(60.0, 300.0)),
    turn_ins=st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE),
    liner_inset_mm=st.floats(0.0, 20.0),
    opens=st.sampled_from(["left", "right"]),
    volumes=st.just((Volume(1, 14.0),)),
)


def flipped(piece: Piece) -> dict[str, list[tuple[float, float]]]:
    """Every mark with x counted from the right edge, points in rising order."""
    return {
        f"{mark.kind} {k}": sorted((round(piece.width_mm - x, 6), round(y, 6)) for x, y in mark.points_mm)
        for k, mark in enumerate(sorted(piece.marks, key=lambda mark: (mark.kind, min(y for _, y in mark.points_mm))))
        if mark.kind != "mitre"
    }


def as_drawn(piece: Piece) -> dict[str, list[tuple[float, float]]]:
    return {
        f"{mark.kind} {k}": sorted((round(x, 6), round(y, 6)) for x, y in mark.points_mm)
        for k, mark in enumerate(sorted(piece.marks, key=lambda mark: (mark.kind, min(y for _, y in mark.points_mm))))
        if mark.kind != "mitre"
    }


@given(BOOKS)
def test_the_back_is_the_front_in_the_mirror(book: Book) -> None:
    front, back, liner_front, liner_back = pieces(book)
    for one, other in ((front, back), (liner_front, liner_back)):
        flip, drawn = flipped(one), as_drawn(other)
        assert flip.keys() == drawn.keys()
        for name in flip:
            for ours, theirs in zip(flip[name], drawn[name], strict=True):
                assert ours == pytest.approx(theirs, abs=1e-5)


@given(BOOKS)
def test_opening_to_the_other_side_swaps_front_and_back(book: Book) -> None:
    other = replace(book, opens="right" if book.opens == "left" else "left")
    front, back, *_ = pieces(book)
    other_front, other_back, *_ = pieces(other)
    assert (front.marks, front.anchor_mm) == (other_back.marks, other_back.anchor_mm)
    assert (back.marks, back.anchor_mm) == (other_front.marks, other_front.anchor_mm)


@given(BOOKS, st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE))
def test_turn_ins_move_nothing_on_the_face(book: Book, turn_ins: TurnIns) -> None:
    for before, after in zip(pieces(book), pieces(replace(book, turn_ins=turn_ins)), strict=True):
        (face, changed) = (before.faces[0], after.faces[0])
        old = [face.piece_to_book.at(point) for point in (*face.outline_mm, before.anchor_mm)]
        new = [changed.piece_to_book.at(point) for point in (*changed.outline_mm, after.anchor_mm)]
        for (x, y), (x2, y2) in zip(old, new, strict=True):
            assert (x, y) == pytest.approx((x2, y2), abs=1e-9)


@given(BOOKS)
def test_what_is_seen_lies_between_the_face_and_the_cut(book: Book) -> None:
    for piece in pieces(book):
        if piece.board is not None and piece.seen_mm is not None:
            face = piece.board.width_mm * piece.board.height_mm
            assert face - 1e-6 <= area_mm2(piece.seen_mm) <= area_mm2(piece.outline_mm) + 1e-6
            assert all(-1e-9 <= x <= piece.width_mm + 1e-9 for x, _ in piece.seen_mm)
