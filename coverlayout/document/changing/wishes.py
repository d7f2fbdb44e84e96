"""Wishes dropped one by one, each with how near it can then still be held."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.document.edits.wishes import remove_wish
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.questions import question_for
from coverlayout.geometry.tolerance import LOCK_MM
from coverlayout.layout.answer import Answer
from coverlayout.layout.wishes.closest import closest_mm
from coverlayout.layout.wishes.wish import Decide, wishes_of

__all__ = ["missed_by_mm", "without_one_wish"]


def without_one_wish(project: Project) -> Iterator[tuple[LockWish | LinkWish, Project]]:
    """Each wish that must hold, with the project that does without it; in the project's order, locks before links.

    What one sentence of the maker asks of several books or volumes is one wish, and goes as a whole.

    >>> asked, hoped = LockWish("wish-1", "front-1", (0.0, 0.0)), LockWish("wish-2", "back-1", (9.0, 4.0), must=False)
    >>> [(wish.id, len(rest.locks)) for wish, rest in without_one_wish(Project(locks=(asked, hoped)))]
    [('wish-1', 1)]
    """
    said: set[str] = set()
    for wish in project.wishes:
        if not wish.must or wish.sentence in said:
            continue
        rest = project
        for other in project.wishes:
            if other is wish or (wish.sentence and other.must and other.sentence == wish.sentence):
                rest = remove_wish(other.id).change(rest)
        if wish.sentence:
            said.add(wish.sentence)
        yield wish, rest


def missed_by_mm(project: Project, rest: Project, answer: Answer, decide: Decide) -> float:
    """How far off at the closest the wish that `rest` does without can be held, everything else as asked; mm on cloth.

    `answer` is a layout of `rest`, `decide` says whether a question can be laid. 0 where that cannot be measured: no
    print lies there.
    """
    asked, question = (question_for(one, staying=one.layout.pinned) for one in (project, rest))
    kept = wishes_of(question, must=True)
    laid = {piece.id for piece in question.pieces}
    placed = tuple(placed for placed in answer.placed if placed.piece in laid)
    dropped = (wish for wish in wishes_of(asked, must=True) if wish not in kept)
    missed_mm = max((closest_mm(question, wish, decide, placed) for wish in dropped), default=0.0)
    return missed_mm if missed_mm > LOCK_MM else 0.0
