"""How much of each cloth every book has: by the area of the pieces that lie on it or were cut from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.cloth.usable import outline_region
from coverlayout.document.checks.whole import pieces_made
from coverlayout.document.project import Project
from coverlayout.document.questions import placed_now, planned_pieces
from coverlayout.geometry.shapes import area_mm2

__all__ = ["ClothShare", "cloth_shares"]


@dataclass(frozen=True)
class ClothShare:
    """What one book has of one cloth: shares from 0 to 1 of the cloth's area, and of the area of all pieces on it.

    `book_id` None: own pieces, and what was cut for books that are there no more. `cloth_id` None: pieces that wait,
    whose cloth is not known yet; then both shares are 0.
    """

    book_id: str | None
    cloth_id: str | None
    pieces: int
    of_cloth_share: float = 0.0
    of_pieces_share: float = 0.0


def cloth_shares(project: Project) -> tuple[ClothShare, ...]:
    """A row for each book and each cloth that some of its pieces lie on or were cut from, spoiled ones too.

    BadInput as for the pieces of the books.
    """
    areas: dict[tuple[str | None, str], list[float]] = {}
    for book_id, cloth_id, piece_mm2 in _on_cloths(project):
        areas.setdefault((book_id, cloth_id), []).append(piece_mm2)
    rows = []
    for (book_id, cloth_id), found in areas.items():
        whole = outline_region(project.cloth(cloth_id)).area_mm2
        together = sum(sum(these) for (_, there), these in areas.items() if there == cloth_id)
        rows.append(ClothShare(book_id, cloth_id, len(found), sum(found) / whole, sum(found) / together))
    return (*rows, *_waiting(project))


def _on_cloths(project: Project) -> Iterator[tuple[str | None, str, float]]:
    """Book, cloth and area of every piece that lies somewhere or was cut."""
    books = {piece.id: book.id for book in project.books for piece in pieces_made(book)}
    outlines = {piece.id: piece.outline_mm for piece in planned_pieces(project)}
    for placed in placed_now(project):
        yield books.get(placed.piece), placed.cloth, area_mm2(outlines[placed.piece])
    for fact in project.cut_pieces:
        yield books.get(fact.piece), fact.place.cloth, area_mm2(fact.outline_mm)


def _waiting(project: Project) -> Iterator[ClothShare]:
    lying = {placed.piece for placed in placed_now(project)}
    counts: dict[str | None, int] = {}
    for piece in planned_pieces(project):
        if piece.id not in lying:
            counts[piece.book_id] = counts.get(piece.book_id, 0) + 1
    yield from (ClothShare(book_id, None, count) for book_id, count in counts.items())
