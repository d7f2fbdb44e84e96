"""Pieces that need no structure: parts of a book given as a plain list, and the maker's own pieces."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Volume
from coverlayout.book.pieces import Face, Mark, Piece, PieceKind
from coverlayout.geometry.frames import Point, Ring, shift
from coverlayout.geometry.shapes import Box, bounds, middle, rectangle
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["pieces_of_own", "pieces_of_parts"]


def pieces_of_parts(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The listed parts of a volume, with ids `NAME-BOOK-K`: each the board and `grow_mm` more on all sides.

    No pieces while only the board's proportion is known. A fixed width takes the place of the board's.

    >>> part = PartOfBook("cover", 2, 15.0, "none")
    >>> book = Book("b", "Set", "parts", board_mm=(100.0, 150.0), parts=(part,))
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in pieces_of_parts(book, book.volumes[0])]
    [('cover-1-1', 130.0, 180.0), ('cover-1-2', 130.0, 180.0)]
    """
    if book.board_mm is None:
        return ()
    return tuple(
        _part(book, part, book.board_mm, volume.number, k) for part in book.parts for k in range(1, part.count + 1)
    )


def _part(book: Book, part: PartOfBook, board_mm: Point, volume: int, k: int) -> Piece:
    width_mm = part.width_mm if part.width_mm is not None else board_mm[0] + 2 * part.grow_mm
    outline = rectangle(width_mm, board_mm[1] + 2 * part.grow_mm)
    covers = part.width_mm is None and part.grow_mm >= 0
    board = Box(part.grow_mm, part.grow_mm, *board_mm) if covers else None
    kind: PieceKind = "spine piece" if part.width_mm is not None else "cover" if covers else "liner"
    return Piece(
        id=f"{part.name}-{volume}-{k}",
        name=part.name,
        kind=kind,
        outline_mm=outline,
        anchor_mm=middle(outline),
        turns=part.turns,
        board=board,
        marks=(_head(outline),),
        faces=(Face(part.name, board.ring()),) if board else (),
        source=book.liner_source if kind == "liner" else book.cover_source,
        book_id=book.id,
        volume=volume,
    )


def _head(outline: Ring) -> Mark:
    """The topmost edge of an outline in its piece frame; a point, given twice, where a corner stands up alone."""
    top_mm = min(y for _, y in outline)
    top = [x for x, y in outline if y <= top_mm + SNAP_MM]
    return Mark("head", ((min(top), top_mm), (max(top), top_mm)))


def pieces_of_own(own: OwnPiece) -> tuple[Piece, ...]:
    """The maker's own pieces with ids `NAME-K` or the ids given; the outline is moved to start at 0, 0.

    The anchor is the reference point, else the middle of the bounding box.

    >>> label = OwnPiece("own-1", "label", outline_mm=((5.0, 5.0), (25.0, 5.0), (5.0, 15.0)), reference_mm=(7.0, 6.0))
    >>> [(piece.id, piece.outline_mm, piece.anchor_mm) for piece in pieces_of_own(label)]
    [('label-1', ((0.0, 0.0), (20.0, 0.0), (0.0, 10.0)), (2.0, 1.0))]
    """
    drawn: Ring = own.outline_mm or rectangle(own.width_mm, own.height_mm)
    box = bounds(drawn)
    home = shift(-box.left_mm, -box.top_mm)
    piece = Piece(
        id="",
        name=own.name,
        kind="own",
        outline_mm=home.ring(drawn),
        anchor_mm=home.at(own.reference_mm or box.middle),
        turns=own.turns,
        seen_mm=home.ring(own.seen_mm) if own.seen_mm else None,
        marks=(_head(home.ring(drawn)),),
        source=own.source,
    )
    return tuple(replace(piece, id=piece_id) for piece_id in own.piece_ids)
