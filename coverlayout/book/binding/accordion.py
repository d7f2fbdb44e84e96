"""An accordion between two boards: its covers are those of separate boards, turned in all round; it has no spine."""

from __future__ import annotations

from coverlayout.book.binding.separate_boards import boards_of_separate_boards, pieces_of_separate_boards
from coverlayout.book.book import Book, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.pieces import Piece

__all__ = ["boards_of_accordion", "pieces_of_accordion"]


def pieces_of_accordion(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `front-1`, `back-1` and, with liners of cloth, `liner-front-1`, `liner-back-1`.

    Its boards stand out over the panels by the square on all four sides. In the book frame the closed accordion is
    opened like a book whose spine is the folded paper: the front at x > 0 when it opens left, the back at x < 0, and
    between them the thickness of the panels and both boards.

    >>> book = Book("b", "Zigzag", "accordion", page_mm=(90.0, 120.0), square_mm=2.0)
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in pieces_of_accordion(book, book.volumes[0])][:2]
    [('front-1', 124.0, 154.0), ('back-1', 124.0, 154.0)]
    """
    return pieces_of_separate_boards(book, volume)


def boards_of_accordion(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """The two cover boards, which are alike."""
    return boards_of_separate_boards(book, volume)
