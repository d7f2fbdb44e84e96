"""Liners on the inside of the boards: how large, and where they lie on the book."""

from __future__ import annotations

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Cover, Face, Piece, onto_book, other_side, signs, spine_side
from coverlayout.book.rules.belonging import CASES
from coverlayout.geometry.frames import Point, cloth_to_back
from coverlayout.geometry.shapes import Box

__all__ = ["liner_size_mm", "liners_of", "spine_inset_mm"]


def spine_inset_mm(book: Book) -> float:
    """How far a liner stays back from the board's spine edge: as elsewhere; in a case it runs flush to the joint."""
    return 0.0 if book.structure in CASES else book.liner_inset_mm


def liner_size_mm(book: Book, board_mm: Point) -> Point:
    """Width and height of a liner on a board of that size, in mm.

    >>> liner_size_mm(Book("b", "Ledger", "flat-case"), (100.0, 150.0))
    (97.0, 144.0)
    """
    width, height = board_mm
    return width - book.liner_inset_mm - spine_inset_mm(book), height - 2 * book.liner_inset_mm


def liners_of(book: Book, volume: Volume, *, from_middle_mm: float) -> tuple[Piece, ...]:
    """The pieces of cloth `liner-front-N` and `liner-back-N`; none where the liners are of paper or there are none.

    `from_middle_mm` lies between the middle of the spine and each board's spine edge, the book laid open flat.

    >>> ledger = Book("b", "Ledger", page_mm=(114.3, 152.4))
    >>> [piece.id for piece in liners_of(ledger, ledger.volumes[0], from_middle_mm=2.0)]
    ['liner-front-1', 'liner-back-1']
    """
    if book.liners != "cloth":
        return ()
    return _liner(book, volume, "front", from_middle_mm), _liner(book, volume, "back", from_middle_mm)


def _liner(book: Book, volume: Volume, cover: Cover, from_middle_mm: float) -> Piece:
    """The liner inside a cover; as it is seen from its print side, the spine lies on the other hand."""
    board_width, board_height = measures(book, volume).board_mm
    box = Box(0.0, 0.0, *liner_size_mm(book, (board_width, board_height)))
    outer_spine = spine_side(book, cover)
    # As if seen through the board from outside: the board around the liner, each edge as far away as it is.
    left_mm = spine_inset_mm(book) if outer_spine == "left" else book.liner_inset_mm
    board = Box(-left_mm, -book.liner_inset_mm, board_width, board_height)
    outside = onto_book(board, outer_spine, from_middle_mm)
    return Piece(
        id=f"liner-{cover}-{volume.number}",
        name=f"{cover} liner",
        kind="liner",
        outline_mm=box.ring(),
        anchor_mm=box.middle,
        turns=book.liner_turns,
        marks=signs(box, other_side(outer_spine)),
        faces=(Face(f"inside {cover}", box.ring(), cloth_to_back(box.width_mm).then(outside)),),
        source=book.liner_source,
        book_id=book.id,
        volume=volume.number,
    )
