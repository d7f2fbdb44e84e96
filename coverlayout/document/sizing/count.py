"""How many books come from the cloth there is, or how many sets of the maker's own pieces where there is no book."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.book.checks import MOST_COPIES
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.document.sizing.copies import copies_of, volumes_of_a_set
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.sizing.counting import MostSets, if_smaller, most_sets

__all__ = ["BooksCounted", "CountAsked", "Counted", "count_books"]

Counted = Literal["books", "sets of books", "sets of pieces"]
_ENDINGS: dict[Counted, str] = {"books": "", "sets of books": "-sets", "sets of pieces": "-pieces"}

# More pieces than this at once are no question of a bench any more.
_MOST_PIECES = 2_000
# For a look at the cloth smaller by its doubt.
_DOUBT_STEPS = 10_000


@dataclass(frozen=True)
class CountAsked:
    """How many copies of the project's book come from its cloths; `file` is what a fault calls it."""

    project: Project
    file: str = "the project"


@dataclass(frozen=True)
class BooksCounted:
    """How many fit (`books`, of what `counted` says), and the project with so many and `answer`, where they lie.

    `proved_most`: one more is refused with proof. `refused` is the answer for one more, None where it was not asked.
    """

    books: int
    counted: Counted
    proved_most: bool
    project: Project
    answer: Answer | None
    refused: Answer | None = None
    notes: tuple[Remark, ...] = ()
    cut_short: bool = False

    @property
    def said(self) -> tuple[Remark, ...]:
        """How many there are, whether that is the most and, where one more is refused with proof, why.

        >>> [remark.code for remark in BooksCounted(2, "books", True, Project(), None).said]
        ['count-many', 'count-proved']
        """
        if not self.books:
            code, most = "count-none", []
        else:
            code = "count-one" if self.books == 1 else "count-many"
            most = [Remark("count-proved" if self.proved_most else "count-open")]
        why = [self.refused.reason] if self.refused is not None and self.proved_most else []
        return (Remark.of(code + _ENDINGS[self.counted], books=self.books), *most, *why)


def count_books(asked: CountAsked, watch: Watch = never) -> BooksCounted:
    """The most books that fit, besides what is cut already. BadInput: no cloth, or nothing to count.

    Everything a book needs must come from the cloths of the project, around pieces already cut; its own pieces are laid
    once besides. Wishes hold for every copy.
    """
    project = asked.project
    if not project.cloths:
        raise BadInput("cloth-needed", file=asked.file)
    if any(book.board_ratio is not None and book.board_mm is None for book in project.books):
        raise BadInput("count-size-needed", file=asked.file)
    one = copies_of(project, 1)
    each = len(planned_pieces(one.project))
    if not each:
        raise BadInput("nothing-to-count", file=asked.file)
    most = max(min(MOST_COPIES, _MOST_PIECES // each), 1)

    def question_of(books: int) -> Question:
        return question_for(copies_of(project, books).project)

    found = most_sets(question_of, most, watch)
    many = project if found.sets == 0 else copies_of(project, found.sets).project
    notes = [Remark.of("count-wish-left-out", wish=wish) for wish in one.left_out]
    if found.sets == most:
        notes.append(Remark.of("count-most", most=most))
    notes += _in_doubt(question_of, found, watch)
    return BooksCounted(
        books=found.sets,
        counted=_counted(project),
        proved_most=found.proved,
        project=many,
        answer=found.laid if found.sets else None,
        refused=found.refused,
        notes=tuple(notes),
        cut_short=found.cut_short,
    )


def _counted(project: Project) -> Counted:
    if not project.books:
        return "sets of pieces"
    alone = len(project.books) == 1 and len(volumes_of_a_set(project.books[0])) == 1
    return "books" if alone else "sets of books"


def _in_doubt(question_of: Callable[[int], Question], found: MostSets, watch: Watch) -> list[Remark]:
    """A remark when so many are not sure to fit should the cloth come out smaller by its doubt."""
    if not found.sets or found.cut_short:
        return []
    smaller = if_smaller(question_of(found.sets))
    if smaller is None or first_layout(replace(smaller, steps=_DOUBT_STEPS), watch).placed:
        return []
    return [Remark.of("count-in-doubt", books=found.sets)]
