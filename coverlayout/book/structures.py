"""From a book to its pieces: the checks, the way its structure makes boards and pieces, and what is worth saying."""

from __future__ import annotations

from functools import lru_cache

from coverlayout.book.book import Book
from coverlayout.book.checks import check_book
from coverlayout.book.parts import pieces_of_parts
from coverlayout.book.pieces import Piece
from coverlayout.book.separate_boards import pieces_of_book
from coverlayout.errors import BadInput, Remark

__all__ = ["BUILT_STRUCTURES", "notes", "pieces"]

_PIECES_OF = {"separate-boards": pieces_of_book, "parts": pieces_of_parts}
BUILT_STRUCTURES = tuple(_PIECES_OF)

# How far a liner must reach onto the turn-in to hold its raw edge down (common practice, no source).
_COVERS_RAW_EDGE_MM = 3.0


@lru_cache(maxsize=256)
def pieces(book: Book) -> tuple[Piece, ...]:
    """Every piece of cloth of every volume. BadInput: a figure that cannot be used, or a structure not made here yet.

    >>> [piece.id for piece in pieces(Book("b", "Ledger", page_mm=(114.3, 152.4), liners="paper"))]
    ['front-1', 'back-1']
    """
    if book.structure not in _PIECES_OF:
        raise BadInput("structure-not-built", structure=book.structure, built=", ".join(BUILT_STRUCTURES))
    check_book(book)
    return _PIECES_OF[book.structure](book)


def notes(book: Book) -> tuple[Remark, ...]:
    """Warnings that refuse nothing: a liner that leaves raw edges bare, a turn-in that does not reach the inside."""
    if book.structure == "parts":
        return ()
    turn_ins = book.turn_ins
    least = min(turn_ins.head_mm, turn_ins.tail_mm, turn_ins.spine_mm, turn_ins.fore_edge_mm)
    if least <= book.board_thickness_mm:
        return (Remark.of("turn-in-short", book=book.name, turn_in_mm=least, thickness_mm=book.board_thickness_mm),)
    most = least - book.board_thickness_mm - _COVERS_RAW_EDGE_MM
    if book.liners != "none" and book.liner_inset_mm > most:
        return (Remark.of("liner-inset-wide", book=book.name, inset_mm=book.liner_inset_mm, most_mm=max(most, 0.0)),)
    return ()
