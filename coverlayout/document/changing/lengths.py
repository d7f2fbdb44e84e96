"""Lengths made smaller on a grid of 0.05 mm: the gap, the turn-ins, the boards of a book.

A point that a wish names stays where it was on the board, and what runs on around a book still does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from coverlayout.book.book import Book, PartOfBook
from coverlayout.book.measures import board_size_mm, without_paper
from coverlayout.book.pieces import Piece
from coverlayout.book.turn_ins import Edge, turn_in_mm, turned_edges
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.sizing.boards import place_on_book
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM

__all__ = [
    "LEAST_TURN_IN_MM",
    "Sides",
    "boards_to_shrink",
    "edges_turned",
    "grid_mm",
    "grid_steps",
    "most_turn_in_mm",
    "with_gap",
    "with_smaller_boards",
    "with_turn_ins",
]

Sides = Literal["all round", "head and tail", "spine and fore-edge"]

# Turn-ins below this are hard to fold and to glue; 15 mm is usual (common practice, no source).
LEAST_TURN_IN_MM = 10.0
# Twenty to the millimetre: finer than any ruler or knife, and 14.85 is one of them.
_STEPS_A_MM = 20
_FIELDS: dict[Edge, str] = {
    "head": "head_mm",
    "tail": "tail_mm",
    "spine": "spine_mm",
    "fore-edge": "fore_edge_mm",
}


def grid_mm(steps: int) -> float:
    """So many steps of 0.05 mm.

    >>> grid_mm(297)
    14.85
    """
    return steps / _STEPS_A_MM


def grid_steps(length_mm: float) -> int:
    """The steps of 0.05 mm that reach this length at least, so that one less is below it.

    >>> grid_steps(15.0), grid_steps(14.86)
    (300, 298)
    """
    return math.ceil((length_mm - EXACT_MM) * _STEPS_A_MM)


def with_gap(project: Project, gap_mm: float) -> Project:
    """The project with another gap between its pieces."""
    return replace(project, rules=replace(project.rules, gap_mm=gap_mm))


def most_turn_in_mm(project: Project, sides: Sides) -> float:
    """The largest turn-in of any book on these sides; 0 where no piece is turned in there."""
    found = (turn_in for book in project.books for turn_in in _turn_ins_mm(book, sides))
    return max(found, default=0.0)


def _turn_ins_mm(book: Book, sides: Sides) -> tuple[float, ...]:
    """The turn-ins of a book at its turned edges on these sides; what a listed part is larger lies on all of them."""
    if book.structure == "parts":
        grown = tuple(part.grow_mm for part in book.parts if part.grow_mm > 0)
        return grown if sides == "all round" else ()
    edges = turned_edges(book.structure)
    return tuple(turn_in_mm(book.turn_ins, edge) for edge in edges if sides == "all round" or edge in sides)


def edges_turned(project: Project) -> frozenset[Edge]:
    """The edges at which any book's cloth is turned in; all four of a book given as a list of parts."""
    books = (book.structure for book in project.books)
    return frozenset(edge for each in books for edge in (_FIELDS if each == "parts" else turned_edges(each)))


def with_turn_ins(project: Project, sides: Sides, most_mm: float) -> Project:
    """The project in which no book's turn-in on these sides is larger than this; smaller ones stay as they are."""
    books = tuple(_with_turn_ins(book, sides, most_mm) for book in project.books)
    return _wishes_kept(project, replace(project, books=books))


def _with_turn_ins(book: Book, sides: Sides, most_mm: float) -> Book:
    if book.structure == "parts":
        capped = (_grown_less(part, most_mm) for part in book.parts)
        return replace(book, parts=tuple(capped)) if sides == "all round" else book
    capped_mm = {
        _FIELDS[edge]: min(turn_in_mm(book.turn_ins, edge), most_mm)
        for edge in turned_edges(book.structure)
        if sides == "all round" or edge in sides
    }
    return replace(book, turn_ins=replace(book.turn_ins, **capped_mm))


def _grown_less(part: PartOfBook, most_mm: float) -> PartOfBook:
    return replace(part, grow_mm=min(part.grow_mm, most_mm))


def boards_to_shrink(project: Project) -> tuple[tuple[str, Point], ...]:
    """The books that could still be made smaller, each with the size of its board; largest height first.

    A book of which a piece was cut has its size, and so has the finished book that a slipcase is made for.
    """
    cut = {fact.piece for fact in project.cut_pieces if fact.state == "cut"}
    made = {piece.book_id for piece in planned_pieces(project)}
    begun = {piece.book_id for piece in planned_pieces(replace(project, cut_pieces=())) if piece.id in cut}
    free = (book for book in project.books if book.structure != "slipcase" and book.id in made - begun)
    found = ((book.id, board_size_mm(book)) for book in free)
    return tuple(sorted(found, key=lambda one: -one[1][1]))


def with_smaller_boards(project: Project, height_mm: float) -> Project:
    """The project in which the highest board that may still shrink is this high, and every other as much in proportion.

    Widths and the other heights are rounded down to the grid. Page or block shrink by as much as the board; of paper
    that much more is trimmed off at the fore-edge and the tail.
    """
    boards = boards_to_shrink(project)
    factor = height_mm / boards[0][1][1]
    shrunk = project
    for book_id, board_mm in boards:
        less = tuple(side - _down_to_grid_mm(side * factor) for side in board_mm)
        shrunk = shrunk.with_book(_less(project.book(book_id), *less))
    return _wishes_kept(project, shrunk)


def _down_to_grid_mm(length_mm: float) -> float:
    return grid_mm(math.floor((length_mm + EXACT_MM) * _STEPS_A_MM))


def _less(book: Book, width_mm: float, height_mm: float) -> Book:
    """The book with so much less in width and height, by whichever size it was given, and its paper trimmed to it."""

    def less(full_width_mm: float, full_height_mm: float) -> Point:
        # Without the dust that subtracting leaves, a million times below any tolerance.
        return round(full_width_mm - width_mm, 9), round(full_height_mm - height_mm, 9)

    trimmed = _trimmed(book, width_mm, height_mm)
    if trimmed.board_mm is not None:
        return replace(trimmed, board_mm=less(*trimmed.board_mm))
    if trimmed.page_mm is not None:
        return replace(trimmed, page_mm=less(*trimmed.page_mm))
    if trimmed.block_mm is not None:
        return replace(trimmed, block_mm=(*less(*trimmed.block_mm[:2]), trimmed.block_mm[2]))
    return trimmed


def _trimmed(book: Book, width_mm: float, height_mm: float) -> Book:
    """The book with so much more trimmed off its folded sections: width at the fore-edge, height at the tail.

    The fore-edge of an accordion is its folds, which cannot be trimmed: its pages count, and the paper no longer does.
    """
    if book.paper is None:
        return book
    if book.structure == "accordion":
        return without_paper(book)
    paper = replace(
        book.paper,
        trim_fore_edge_mm=round(book.paper.trim_fore_edge_mm + width_mm, 9),
        trim_tail_mm=round(book.paper.trim_tail_mm + height_mm, 9),
    )
    return replace(book, paper=paper)


def _wishes_kept(old: Project, new: Project) -> Project:
    """`new` with its wishes told for pieces of another size: from their anchors, by the new distances on the book.

    Where the new pieces cannot be made at all the wishes stay as they are: whoever asks for the pieces hears why.
    """
    if not old.wishes:
        return new
    try:
        before, after = ({piece.id: piece for piece in planned_pieces(project)} for project in (old, new))
    except BadInput:
        return new
    return replace(
        new,
        locks=tuple(_lock_kept(lock, before, after) for lock in new.locks),
        links=tuple(_link_kept(link, before, after) for link in new.links),
    )


def _lock_kept(lock: LockWish, before: dict[str, Piece], after: dict[str, Piece]) -> LockWish:
    if lock.point_mm is None or lock.piece not in before:
        return lock
    (old_x, old_y), (new_x, new_y) = before[lock.piece].anchor_mm, after[lock.piece].anchor_mm
    x, y = lock.point_mm
    return replace(lock, point_mm=(x + new_x - old_x, y + new_y - old_y))


def _link_kept(link: LinkWish, before: dict[str, Piece], after: dict[str, Piece]) -> LinkWish:
    if not link.differences_mm or not before.keys() >= set(link.pieces):
        return link
    olds, news = (tuple(_apart_mm(link, made)) for made in (before, after))
    differences = tuple(
        new if old is not None and new is not None and math.dist(old, given) <= SAME_LENGTH_MM else given
        for given, old, new in zip(link.differences_mm, olds, news, strict=False)
    )
    return replace(link, differences_mm=differences)


def _apart_mm(link: LinkWish, pieces: dict[str, Piece]) -> Iterator[Point | None]:
    """How far each further piece's anchor lies from the first's on the open book; None where they share no book."""
    first = pieces[link.pieces[0]]
    for other in (pieces[name] for name in link.pieces[1:]):
        if not first.faces or not other.faces or (first.book_id, first.volume) != (other.book_id, other.volume):
            yield None
        else:
            (x, y), (other_x, other_y) = (place_on_book(one) for one in (first, other))
            yield other_x - x, other_y - y
