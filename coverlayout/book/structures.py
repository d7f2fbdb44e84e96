"""From a book to its pieces and boards: the checks, and for each structure how a volume of it is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from coverlayout.book.binding.accordion import boards_of_accordion, pieces_of_accordion
from coverlayout.book.binding.full_cloth import boards_of_case, pieces_of_full_cloth
from coverlayout.book.binding.limp import pieces_of_limp
from coverlayout.book.binding.quarter import pieces_of_quarter
from coverlayout.book.binding.separate_boards import boards_of_separate_boards, pieces_of_separate_boards
from coverlayout.book.binding.side_sewn import boards_of_side_sewn, pieces_of_side_sewn
from coverlayout.book.binding.slipcase import boards_of_slipcase, pieces_of_slipcase
from coverlayout.book.book import Book, Structure, Volume
from coverlayout.book.checks import check_book
from coverlayout.book.lining.label import label_pieces, with_label_marks
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.parts import pieces_of_parts
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.remarks import notes
from coverlayout.book.rules.volumes import by_volume
from coverlayout.errors import BadInput

__all__ = ["BUILT_STRUCTURES", "boards", "notes", "pieces"]


@dataclass(frozen=True)
class _Binding:
    """How one volume of a structure is made: its pieces of cloth, and its boards (None: it has none, or tells none)."""

    pieces: Callable[[Book, Volume], tuple[Piece, ...]]
    boards: Callable[[Book, Volume], tuple[BoardPiece, ...]] | None = None


_BINDINGS: dict[Structure, _Binding] = {
    "separate-boards": _Binding(pieces_of_separate_boards, boards_of_separate_boards),
    "exposed-spine-wrap": _Binding(pieces_of_full_cloth, boards_of_case),
    "flat-case": _Binding(pieces_of_full_cloth, boards_of_case),
    "rounded-case": _Binding(pieces_of_full_cloth, boards_of_case),
    "quarter-case": _Binding(pieces_of_quarter, boards_of_case),
    "half-case": _Binding(pieces_of_quarter, boards_of_case),
    "limp-wrap": _Binding(pieces_of_limp),
    "side-sewn": _Binding(pieces_of_side_sewn, boards_of_side_sewn),
    "accordion": _Binding(pieces_of_accordion, boards_of_accordion),
    "slipcase": _Binding(pieces_of_slipcase, boards_of_slipcase),
    "parts": _Binding(pieces_of_parts),
}
BUILT_STRUCTURES = tuple(_BINDINGS)


@lru_cache(maxsize=256)
def pieces(book: Book) -> tuple[Piece, ...]:
    """Every piece of cloth of every volume. BadInput: a figure that cannot be used, or a structure not made here yet.

    >>> [piece.id for piece in pieces(Book("b", "Ledger", page_mm=(114.3, 152.4), liners="paper"))]
    ['front-1', 'back-1']
    """
    binding = _binding(book)
    check_book(book)
    if book.structure == "parts":
        return tuple(piece for volume in book.volumes for piece in binding.pieces(book, volume))

    def of_volume(each: Book, volume: Volume) -> tuple[Piece, ...]:
        return tuple(_of_volume(binding, each, volume))

    return tuple(_numbered(piece, volume.number) for volume, made in by_volume(book, of_volume) for piece in made)


def _of_volume(binding: _Binding, book: Book, volume: Volume) -> Iterator[Piece]:
    """The pieces of one volume, a window or recess marked on them, and its label; those that match know each other."""
    made = binding.pieces(book, volume)
    for piece in made:
        alike = tuple(other.id for other in made if other.kind == piece.kind and other.id != piece.id)
        yield with_label_marks(book, volume, replace(piece, matches=alike))
    yield from label_pieces(book, volume)


def _numbered(piece: Piece, number: int) -> Piece:
    """The same piece of another volume that is as thick."""
    if piece.volume == number:
        return piece
    before, after = f"-{piece.volume}", f"-{number}"
    return replace(
        piece,
        id=piece.id.removesuffix(before) + after,
        matches=tuple(other.removesuffix(before) + after for other in piece.matches),
        volume=number,
    )


def boards(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """The boards (and strips of card) of one volume; none for a plain list of parts. BadInput as for the pieces.

    >>> ledger = Book("b", "Ledger", page_mm=(114.3, 152.4))
    >>> [(board.name, board.width_mm, board.height_mm, board.count) for board in boards(ledger, ledger.volumes[0])]
    [('cover board', 114.3, 152.4, 2)]
    """
    binding = _binding(book)
    check_book(book)
    return binding.boards(book, volume) if binding.boards else ()


def _binding(book: Book) -> _Binding:
    if book.structure not in _BINDINGS:
        raise BadInput("structure-not-built", structure=book.structure, built=", ".join(BUILT_STRUCTURES))
    return _BINDINGS[book.structure]
