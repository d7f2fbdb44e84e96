"""Pieces of one book that are to match, and whether they lie, or may come to lie, on different prints."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.book.book import Book
from coverlayout.book.pieces import Piece, PieceKind
from coverlayout.document.asking.grounds import prints_for, prints_lying
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.layout.placing import Laid

__all__ = ["apart_on_prints", "parts_apart"]

# Kinds that one choice of the print counts for, and what they are called together.
_TOGETHER: dict[frozenset[PieceKind], str] = {
    frozenset(("cover",)): "covers",
    frozenset(("spine piece", "corner")): "spine and corners",
    frozenset(("side",)): "sides",
    frozenset(("liner",)): "liners",
}


def apart_on_prints(project: Project) -> tuple[Remark, ...]:
    """What of each book lies on several prints, or what of it still waits may come from several, though it is to match.

    Each volume is looked at by itself. Pieces of one kind match, and the corners of a half case match its spine; one
    remark for each book. Nothing is said while a book cannot be made.
    """
    if len(project.prints) < 2:
        return ()
    try:
        planned, lying = planned_pieces(project), _prints_lying(project)
    except CoverlayoutError:
        return ()
    return tuple(remark for book in project.books for remark in _of_book(project, book, planned, lying))


def parts_apart(project: Project) -> str:
    """What lies on several prints though it is to match, such as `sides`; of all books, empty when nothing does."""
    found = (remark for remark in apart_on_prints(project) if remark.code == "matching-lies-apart")
    # Several books may say the same.
    return ", ".join(dict.fromkeys(str(dict(remark.figures)["parts"]) for remark in found))


def _of_book(
    project: Project, book: Book, planned: tuple[Piece, ...], lying: dict[str, str | None]
) -> Iterator[Remark]:
    apart: dict[str, list[str]] = {"matching-lies-apart": [], "matching-may-part": []}
    for kinds, words in _TOGETHER.items():
        by_volume: dict[int | None, list[Piece]] = {}
        for piece in planned:
            if piece.book_id == book.id and piece.kind in kinds:
                by_volume.setdefault(piece.volume, []).append(piece)
        codes = {_code(project, pieces, lying) for pieces in by_volume.values() if len(pieces) > 1}
        for code, parts in apart.items():
            if code in codes:
                parts.append(words)
                break
    for code, parts in apart.items():
        if parts:
            yield Remark.of(code, book=book.name, parts=", ".join(parts))


def _code(project: Project, pieces: list[Piece], lying: dict[str, str | None]) -> str:
    """What is to be said of pieces that match each other, empty for nothing."""
    on = {lying[piece.id] for piece in pieces if piece.id in lying}
    if len(on) > 1:
        return "matching-lies-apart"
    waiting = {piece.source for piece in pieces if piece.id not in lying}
    prints = {found for source in waiting for found in prints_for(project, source)}
    return "matching-may-part" if len(prints) > 1 else ""


def _prints_lying(project: Project) -> dict[str, str | None]:
    """The print under each piece that lies on a cloth, None on plain cloth."""
    whole = {cloth.id: prints_lying(cloth)[0] for cloth in project.cloths if not cloth.zones}
    found: dict[str, str | None] = {}
    for placed in placed_now(project):
        # Only zones need a look at where the piece lies.
        if placed.cloth in whole:
            laid = whole[placed.cloth]
            found[placed.piece] = None if laid is None else laid.print_id
            continue
        within = judge_for(project).laid(placed, ())
        if isinstance(within, Laid) and within.nearest_ground is not None:
            found[placed.piece] = within.nearest_ground.ground.print_id
    return found
