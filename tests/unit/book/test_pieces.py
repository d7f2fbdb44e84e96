"""The value of a piece: its size is that of its cut outline."""

from samples import L_SHAPE

from coverlayout.book.pieces import Piece


def test_a_piece_is_as_large_as_its_outline() -> None:
    piece = Piece("pocket-1", "pocket", "own", L_SHAPE, (30.0, 50.0))
    assert (piece.width_mm, piece.height_mm) == (60.0, 100.0)
