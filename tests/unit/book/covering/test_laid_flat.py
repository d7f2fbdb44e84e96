"""Pieces stated on the open book, in their own frames: exact maps, both openings, an outline without symmetry."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Source, Volume
from coverlayout.book.covering.laid_flat import (
    FlatFace,
    FlatPiece,
    clockwise,
    closed_mark,
    from_flat,
    line_mark,
    on_back,
)
from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Box, area_mm2, bounds

VOLUME = Volume(3)
# An L: 40 wide at the head, 25 at the tail, from x = 10 outward.
ELL = ((10.0, -5.0), (50.0, -5.0), (50.0, 20.0), (35.0, 20.0), (35.0, 60.0), (10.0, 60.0))
FLAT = FlatPiece(
    id="side-front",
    name="front side",
    kind="side",
    outline_mm=ELL,
    anchor_mm=(20.0, 12.0),
    faces=(FlatFace("front", Box(10.0, 0.0, 25.0, 50.0).ring()), FlatFace("head", ELL, shift(100.0, 7.0))),
    marks=(closed_mark("board", Box(10.0, 0.0, 25.0, 50.0)), line_mark("spine edge", (10.0, 0.0), (10.0, 50.0))),
    board=Box(10.0, 0.0, 25.0, 50.0),
    seen_mm=ELL,
    turns="half",
    source=Source("print-1"),
)


def test_a_book_that_opens_left_takes_the_piece_as_it_lies() -> None:
    piece = from_flat(Book("b", "Ledger"), VOLUME, FLAT)
    assert (piece.id, piece.name, piece.kind, piece.book_id, piece.volume) == (
        "side-front-3", "front side", "side", "b", 3,
    )  # fmt: skip
    assert (piece.turns, piece.source) == ("half", Source("print-1"))
    assert piece.outline_mm == ((0, 0), (40, 0), (40, 25), (25, 25), (25, 65), (0, 65))
    assert piece.anchor_mm == (10.0, 17.0)
    assert piece.board == Box(0.0, 5.0, 25.0, 50.0)
    assert [mark.points_mm[0] for mark in piece.marks] == [(0.0, 5.0), (0.0, 5.0)]
    assert piece.faces[0].piece_to_book.at((0.0, 0.0)) == (10.0, -5.0)
    assert piece.faces[1].piece_to_book.at((0.0, 0.0)) == (110.0, 2.0)


def test_a_book_that_opens_right_takes_its_mirror_image_and_never_a_mirrored_print() -> None:
    piece = from_flat(Book("b", "Ledger", opens="right"), VOLUME, FLAT)
    # x from -50 to -10 now: what was 40 from the left is 40 from the right.
    assert set(piece.outline_mm) == {(40, 0), (0, 0), (0, 25), (15, 25), (15, 65), (40, 65)}
    assert piece.seen_mm == piece.outline_mm
    assert piece.anchor_mm == (30.0, 17.0)
    assert piece.board == Box(15.0, 5.0, 25.0, 50.0)
    assert piece.marks[0].points_mm == Box(15.0, 5.0, 25.0, 50.0).ring()
    assert piece.marks[1].points_mm == ((40.0, 5.0), (40.0, 55.0))
    for face in piece.faces:
        assert face.piece_to_book.determinant == 1.0
    assert piece.faces[0].piece_to_book.at(piece.anchor_mm) == (-20.0, 12.0)
    assert piece.faces[1].piece_to_book.at(piece.anchor_mm) == (-120.0, 19.0)


@pytest.mark.parametrize("opens", ["left", "right"])
def test_every_outline_runs_clockwise(opens: str) -> None:
    piece = from_flat(Book("b", "Ledger", opens=opens), VOLUME, FLAT)  # type: ignore[arg-type]  # one of its two words
    for ring in (piece.outline_mm, *(face.outline_mm for face in piece.faces)):
        assert clockwise(ring) == ring
        assert area_mm2(ring) > 0


def test_the_back_is_the_mirror_image_with_its_own_names() -> None:
    back = on_back(FLAT)
    assert (back.id, back.name, [face.name for face in back.faces]) == ("side-back", "back side", ["back", "head"])
    assert bounds(back.outline_mm) == Box(-50.0, -5.0, 40.0, 65.0)
    assert back.anchor_mm == (-20.0, 12.0)


def test_what_is_not_told_stays_untold() -> None:
    plain = FlatPiece("a", "a", "cover", ELL, (0.0, 0.0), ())
    for opens in ("left", "right"):
        piece = from_flat(Book("b", "Ledger", opens=opens), VOLUME, plain)  # type: ignore[arg-type]  # as above
        assert (piece.board, piece.seen_mm, piece.marks, piece.faces) == (None, None, (), ())


@pytest.mark.parametrize("opens", ["left", "right"])
def test_a_piece_inside_is_told_as_seen_through_from_outside(opens: str) -> None:
    """Its print side looks the other way, so that its map into the book mirrors."""
    book = Book("b", "Ledger", opens=opens)  # type: ignore[arg-type]  # one of its two words
    outside = from_flat(book, VOLUME, FLAT)
    inside = from_flat(book, VOLUME, replace(FLAT, inside=True))
    assert inside.faces[0].piece_to_book.determinant == -1.0
    x, y = outside.anchor_mm
    assert inside.anchor_mm == (40 - x, y)
    for one, other in zip(outside.faces, inside.faces, strict=True):
        assert one.piece_to_book.at((x, y)) == other.piece_to_book.at((40 - x, y))
    assert clockwise(inside.outline_mm) == inside.outline_mm
    first = {one.piece_to_book.at(point) for one in outside.faces[:1] for point in one.outline_mm}
    second = {other.piece_to_book.at(point) for other in inside.faces[:1] for point in other.outline_mm}
    assert first == second
