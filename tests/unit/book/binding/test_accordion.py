"""An accordion's covers: boards that stand out on all sides, turned in all round, front and back beside each other."""

from dataclasses import replace

import pytest

from coverlayout.book.binding.accordion import boards_of_accordion, pieces_of_accordion
from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.pieces import Piece
from coverlayout.geometry.shapes import Box, bounds

BOOK = Book(
    "b",
    "Zigzag",
    "accordion",
    page_mm=(90.0, 120.0),
    square_mm=2.0,
    tail_square_mm=5.0,
    turn_ins=TurnIns(head_mm=12.0, tail_mm=17.0, spine_mm=9.0, fore_edge_mm=20.0),
    volumes=(Volume(1, 6.0),),
)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_accordion(book, book.volumes[0])}


def test_boards_stand_out_at_the_folds_too() -> None:
    """W + 2 s wide; head and tail by their own squares."""
    assert boards_of_accordion(BOOK, BOOK.volumes[0]) == (BoardPiece("cover board", 94.0, 127.0, 2.0, count=2),)


def test_covers_are_turned_in_all_round_and_lined() -> None:
    pieces = made(BOOK)
    sizes = {name: (piece.width_mm, piece.height_mm) for name, piece in pieces.items()}
    assert sizes == {
        "front-1": (94 + 29, 127 + 29),
        "back-1": (94 + 29, 127 + 29),
        "liner-front-1": (88, 121),
        "liner-back-1": (88, 121),
    }
    assert list(made(replace(BOOK, liners="none"))) == ["front-1", "back-1"]


@pytest.mark.parametrize(("opens", "front", "back"), [("left", 5.0, -99.0), ("right", -99.0, 5.0)])
def test_front_and_back_lie_beside_the_panels(opens: str, front: float, back: float) -> None:
    """Half of 6 mm of panels and a board of 2 mm from the middle."""
    pieces = made(replace(BOOK, opens=opens))  # type: ignore[arg-type]  # one of its two words
    for name, left in (("front", front), ("back", back)):
        (face,) = pieces[f"{name}-1"].faces
        assert bounds(face.piece_to_book.ring(face.outline_mm)) == Box(left, 0.0, 94.0, 127.0)
        inside = pieces[f"liner-{name}-1"].faces[0]
        assert bounds(inside.piece_to_book.ring(inside.outline_mm)) == Box(left + 3, 3.0, 88.0, 121.0)
