"""The largest book of a shape that the cloth gives: as many copies as there are, all else of the job as it is."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from coverlayout.book.book import Book
from coverlayout.book.checks import check_book
from coverlayout.document.project import Project
from coverlayout.document.questions import question_for
from coverlayout.document.sizing.boards import Growth, Keep, growth_of, with_board
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.sizing.counting import if_smaller
from coverlayout.layout.sizing.growing import LargestSize, largest_size

__all__ = ["LargestAsked", "LargestBoard", "largest_board"]

# The board is told to the thousandth of a millimetre, rounded down.
_PARTS_OF_MM = 1_000
# Halvings until the least board that can be made is known to a thousandth of a millimetre.
_HALVINGS = 24


@dataclass(frozen=True)
class LargestAsked:
    """The largest board for one book of the project; `book` names it (its name or id) where there are several."""

    project: Project
    keep: Keep = "shape"
    book: str | None = None
    file: str = "the project"


@dataclass(frozen=True)
class LargestBoard:
    """The board, its sides rounded down to 0.001 mm, with the project made on it and the layout.

    None for board and a no as `answer` when not even the smallest board fits. `bound_mm`: the least size shown
    impossible, of the board's width, or of its height where the width is kept; None when nothing was refused.
    """

    board_mm: Point | None
    proved: bool
    bound_mm: float | None
    project: Project
    answer: Answer
    notes: tuple[Remark, ...] = ()
    cut_short: bool = False


def largest_board(asked: LargestAsked, watch: Watch = never) -> LargestBoard:
    """The largest board on which everything of the project still fits, exact to 0.1 mm and mostly far better.

    Turn-ins, insets and fixed widths stay as they are; own pieces, other books and pieces already cut as well.
    BadInput: no cloth, no book, several books and none named, a structure that is not made yet.
    """
    project, book = asked.project, _book(asked)
    if not project.cloths:
        raise BadInput("cloth-needed", file=asked.file)
    growth = growth_of(book, asked.keep)
    most_mm = _most_mm(project)
    least_mm = _least_mm(project, growth, most_mm)
    monotone = not any(link.must and link.differences_mm for link in project.links)

    def question_at(size_mm: float) -> Question:
        return question_for(with_board(project, book.id, growth.board_at(size_mm)))

    start_mm = growth.start_mm if book.board_ratio is None else _start_mm(project)
    found = largest_size(question_at, start_mm, least_mm=least_mm, most_mm=most_mm, watch=watch)
    made = _made(project, growth, found)
    notes = [] if monotone else [Remark.of("largest-run-on", book=book.name)]
    return LargestBoard(
        board_mm=None if made is None else made[0],
        proved=found.proved and monotone,
        bound_mm=found.bound_mm if monotone else None,
        project=project if made is None else made[1],
        answer=found.answer,
        notes=(*notes, *_in_doubt(question_at, found, growth, least_mm, watch)),
        cut_short=found.cut_short,
    )


def _book(asked: LargestAsked) -> Book:
    books = asked.project.books
    if not books:
        raise BadInput("largest-book-needed", file=asked.file)
    if asked.book is None and len(books) > 1:
        raise BadInput("largest-which-book", file=asked.file, books=", ".join(book.name for book in books))
    wanted = None if asked.book is None else asked.book.strip().casefold()
    for book in books:
        if wanted in (None, book.name.casefold(), book.id.casefold()):
            return book
    raise BadInput("largest-book-unknown", found=str(asked.book)[:40], books=", ".join(book.name for book in books))


def _most_mm(project: Project) -> float:
    """A size no board can have: the longest line on any cloth."""
    boxes = [bounds(cloth.outline_now_mm()) for cloth in project.cloths]
    return max(math.hypot(box.width_mm, box.height_mm) for box in boxes) + 1.0


def _start_mm(project: Project) -> float:
    """A first guess where only the proportion of the board is known: a third of the longest cloth."""
    return _most_mm(project) / 3


def _least_mm(project: Project, growth: Growth, most_mm: float) -> float:
    """The least size of which every piece can be made, found by halving; BadInput when there is none up to the most."""

    def can_be(size_mm: float) -> bool:
        try:
            check_book(with_board(project, growth.book_id, growth.board_at(size_mm)).book(growth.book_id))
        except BadInput:
            return False
        return True

    low_mm, high_mm = 0.0, most_mm
    if not can_be(high_mm):
        check_book(with_board(project, growth.book_id, growth.board_at(high_mm)).book(growth.book_id))
    for _ in range(_HALVINGS):
        middle_mm = (low_mm + high_mm) / 2
        low_mm, high_mm = (low_mm, middle_mm) if can_be(middle_mm) else (middle_mm, high_mm)
    return high_mm


def _made(project: Project, growth: Growth, found: LargestSize) -> tuple[Point, Project] | None:
    """The board rounded down and the project on it, where the layout holds as well; None when nothing was found."""
    if found.size_mm is None:
        return None
    width_mm, height_mm = growth.board_at(found.size_mm)
    board_mm = (_down(width_mm), _down(height_mm))
    kept = growth.board_mm
    if growth.keep == "height":
        board_mm = board_mm[0], kept[1]
    elif growth.keep == "width":
        board_mm = kept[0], board_mm[1]
    made = with_board(project, growth.book_id, board_mm)
    report = Judge(question_for(made)).report(found.answer.placed)
    assert not report.breaches, "pieces grow about their anchors, so smaller ones lie within larger ones"
    return board_mm, made


def _down(length_mm: float) -> float:
    return math.floor(length_mm * _PARTS_OF_MM + 1e-6) / _PARTS_OF_MM


def _in_doubt(
    question_at: Callable[[float], Question], found: LargestSize, growth: Growth, least_mm: float, watch: Watch
) -> tuple[Remark, ...]:
    """What is left of it should the cloth come out smaller by its doubt."""
    if found.size_mm is None or found.cut_short or if_smaller(question_at(found.size_mm)) is None:
        return ()

    def smaller_at(size_mm: float) -> Question:
        smaller = if_smaller(question_at(size_mm))
        assert smaller is not None, "the doubt is about the cloth, whatever the size"
        return smaller

    sure = largest_size(smaller_at, found.size_mm * 0.98, least_mm=least_mm, most_mm=found.size_mm, watch=watch)
    if sure.size_mm is None:
        return (Remark.of("largest-in-doubt-none"),)
    width_mm, height_mm = growth.board_at(sure.size_mm)
    return (Remark.of("largest-in-doubt", board_width_mm=width_mm, board_height_mm=height_mm),)
