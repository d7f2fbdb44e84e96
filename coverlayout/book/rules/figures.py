"""A figure of a book as the maker gave it, else by the rule; and what boards are larger, or stay back, by figures."""

from __future__ import annotations

from coverlayout.book.book import Book
from coverlayout.book.rules.belonging import CASES, belongs, rule_of, spine_piece_of
from coverlayout.geometry.frames import Point

__all__ = ["board_from_mm", "board_over_page_mm", "figure_mm", "from_spine_mm", "joint_mm", "tail_square_mm"]


def figure_mm(book: Book, field: str, of_mm: float = 0.0) -> float:
    """The maker's figure, else the rule's, of a rule that multiplies so many times `of_mm`; 0 where it does not belong.

    KeyError: a field that follows no rule (a fault of the program).

    >>> case = Book("b", "Ledger", "flat-case", square_mm=4.0)
    >>> figure_mm(case, "square_mm"), figure_mm(case, "joint_mm"), figure_mm(case, "hinge_mm")
    (4.0, 10.0, 0.0)
    """
    if not belongs(field, book.structure):
        return 0.0
    given_mm: float | None = getattr(book, field)
    return rule_of(book, field).figure(of_mm) if given_mm is None else given_mm


def tail_square_mm(book: Book) -> float:
    """The square at the tail: as the head's, where it is not given."""
    return figure_mm(book, "square_mm") if book.tail_square_mm is None else book.tail_square_mm


def joint_mm(book: Book) -> float:
    """The joint of a case or a side-sewn cover, in mm."""
    return figure_mm(book, "joint_mm", book.board_thickness_mm)


def from_spine_mm(book: Book) -> float:
    """What a board stays back from the spine on the opened cover: by its joint, round an open spine by its setback."""
    return joint_mm(book) if book.structure in CASES else figure_mm(book, "board_setback_mm")


def board_from_mm(book: Book) -> float:
    """From the back of the closed block to the board's spine edge; the board of an accordion stands out there.

    The cloth of a joint goes round the edge of a spine piece of board first. A wall of a slipcase of five boards stands
    out over the closed side, one that is scored is folded there.
    """
    if book.structure == "slipcase":
        return -book.board_thickness_mm if book.slipcase_of == "five boards" else 0.0
    if book.structure == "accordion":
        return -figure_mm(book, "square_mm")
    around_mm = book.board_thickness_mm if spine_piece_of(book) == "board" else 0.0
    return max(from_spine_mm(book) - around_mm, 0.0)


def board_over_page_mm(book: Book) -> Point:
    """How much wider and higher than its page a board is made (below 0: smaller), in mm.

    A slipcase: room behind the book and at both ends, and the edges of the boards between its walls; the walls of one
    scored board have all their room in the height.

    >>> board_over_page_mm(Book("b", "Ledger", "flat-case"))
    (-3.5, 6.0)
    """
    if book.structure == "slipcase":
        room_mm = figure_mm(book, "slipcase_clearance_mm")
        if book.slipcase_of == "one scored board":
            return 0.0, room_mm
        room_mm += book.board_thickness_mm
        return room_mm, 2 * room_mm
    square_mm = figure_mm(book, "square_mm")
    at_fore_edge = {"accordion": 2 * square_mm}.get(book.structure, 0.0 if book.structure in CASES else square_mm)
    return at_fore_edge - figure_mm(book, "board_setback_mm"), square_mm + tail_square_mm(book)
