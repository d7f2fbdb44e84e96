"""Liners changed so that they need less, turned a quarter or of paper instead of cloth; sides of paper likewise."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from coverlayout.book.book import Book, PartOfBook
from coverlayout.book.pieces import PieceKind
from coverlayout.document.checks.whole import pieces_made
from coverlayout.document.edits.books import tidied
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, planned_pieces, turns_of
from coverlayout.layout.question import Placed

__all__ = ["liners_turned", "with_liners_turned", "with_paper_liners", "with_paper_sides"]


def with_liners_turned(project: Project, book_ids: Iterable[str] | None = None) -> Project | None:
    """The project with the liners of these books (None: all) free to lie a quarter turned; covers stay as they are.

    None when no liner that is still to be cut gains by it.
    """
    wanted = {book.id for book in project.books} if book_ids is None else set(book_ids)
    liners = [piece for piece in planned_pieces(project) if piece.kind == "liner" and piece.book_id in wanted]
    upright = {piece.book_id for piece in liners if turns_of(project, piece) in ("none", "half")}
    if not upright:
        return None
    return replace(project, books=tuple(_turnable(book) if book.id in upright else book for book in project.books))


def _turnable(book: Book) -> Book:
    if book.structure != "parts":
        return replace(book, liner_turns="quarter")
    return replace(book, parts=tuple(_turnable_part(part) for part in book.parts))


def _turnable_part(part: PartOfBook) -> PartOfBook:
    liner = part.width_mm is None and part.grow_mm < 0
    return replace(part, turns="quarter") if liner and part.turns != "free" else part


def liners_turned(project: Project, placed: Iterable[Placed]) -> tuple[str, ...]:
    """The ids of the pieces that lie in a way `project` did not allow before its liners were free to turn."""
    breaches = judge_for(project).report(tuple(placed)).breaches
    turned = {breach.pieces[0] for breach in breaches if breach.rule == "turn" and len(breach.pieces) == 1}
    return tuple(piece.id for piece in planned_pieces(project) if piece.id in turned)


def with_paper_liners(project: Project) -> Project | None:
    """The project with paper for liners, none of which are then cut from cloth; None when there is nothing to change.

    A book of which a liner is cut from cloth already, or pinned on it, keeps its cloth liners: both of a pair are
    alike. Wishes on the liners go with them.
    """
    return _papered(project, "liner", lambda book: replace(book, liners="paper"))


def with_paper_sides(project: Project) -> Project | None:
    """The project with paper for the sides of quarter and half cases and the walls of slipcases; as for liners."""
    return _papered(project, "side", lambda book: replace(book, sides="paper"))


def _papered(project: Project, kind: PieceKind, with_paper: Callable[[Book], Book]) -> Project | None:
    """Every book that has pieces of that kind, none of them settled, made with paper for them."""
    settled = {fact.piece for fact in project.cut_pieces if fact.state == "cut"} | set(project.layout.pinned)

    def papered(book: Book) -> Book:
        of_cloth = {piece.id for piece in pieces_made(book) if piece.kind == kind}
        return book if book.structure == "parts" or not of_cloth or of_cloth & settled else with_paper(book)

    books = tuple(papered(book) for book in project.books)
    return None if books == project.books else tidied(project, replace(project, books=books))
