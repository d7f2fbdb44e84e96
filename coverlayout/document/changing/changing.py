"""What would make a job fit: the least single changes, each tried with the engine, ranked by how little they intrude.

The ranking, and why (common practice, no source):

1. Turn the liners a quarter: nobody sees it on the closed book, and no size changes.
2. A smaller gap: the book stays as it is, only the cutting wants more care.
3. Smaller turn-ins all round: the outside stays as it is; one width to mark at the bench.
4. Smaller turn-ins on two sides: the same with two widths to mark; the pair that shrinks less comes first.
5. Liners from paper: what one sees when the book is open is another material.
6. Sides from paper: what one sees of the closed book is.
7. A wish dropped: the print does not lie as the maker wants it; the one that can be held nearest comes first.
8. A smaller book: paper may have been cut for it already.
9. More cloth: money, and a week or two of waiting.

Covers never turn and a piece that is cut or pinned stays. A length is the largest on a grid of 0.05 mm that fits.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from functools import partial
from typing import Literal

from coverlayout.cloth.cuts import Cut
from coverlayout.document.changing.change import ChangeKind, FittingChange
from coverlayout.document.changing.cuts import kept_cloths, on_cuts
from coverlayout.document.changing.lengths import (
    LEAST_TURN_IN_MM,
    Sides,
    boards_to_shrink,
    edges_turned,
    grid_mm,
    grid_steps,
    most_turn_in_mm,
    with_gap,
    with_smaller_boards,
    with_turn_ins,
)
from coverlayout.document.changing.liners import (
    liners_turned,
    with_liners_turned,
    with_paper_liners,
    with_paper_sides,
)
from coverlayout.document.changing.saying import (
    gap_said,
    liners_said,
    paper_said,
    purchase_said,
    smaller_book_said,
    turn_ins_said,
    wish_said,
)
from coverlayout.document.changing.trying import Ended, Trying
from coverlayout.document.changing.wishes import missed_by_mm, without_one_wish
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.layout.question import Watch, never

__all__ = ["what_would_fit"]

_Found = Callable[[tuple[FittingChange, ...]], object]
# A book is not made smaller than this share of its height: it would be another book.
_LEAST_OF_HEIGHT = 0.5
_TWO_SIDES: tuple[Sides, ...] = ("head and tail", "spine and fore-edge")


def what_would_fit(
    project: Project,
    watch: Watch = never,
    *,
    seconds: float | None = None,
    cuts: Iterable[Cut] | None = None,
    found: _Found | None = None,
) -> tuple[FittingChange, ...]:
    """Every single change with which all pieces fit, the least intrusive first; empty when they fit as it is.

    Each has a layout that the judge has passed. `cuts` None: the ladder in use. `found` hears of the changes so far
    with each new one. The same project gives the same changes unless `seconds` or the watch end the search: then those
    found till then are all. BadInput as `question_for` says.
    """
    trying = Trying(watch, seconds)
    offered: list[FittingChange] = []
    families: tuple[Callable[[Project, Trying], Iterator[FittingChange]], ...] = (
        _liners_turned,
        _smaller_gap,
        _smaller_turn_ins,
        _two_turn_ins,
        _paper_liners,
        _paper_sides,
        _wish_dropped,
        _smaller_book,
        partial(_next_cut, cuts=cuts),
    )
    if not planned_pieces(project):
        return ()
    with suppress(Ended):
        if trying.fits(project):
            return ()
        for number, family in enumerate(families, start=1):
            trying.share_done = number / (len(families) + 1)
            for change in family(project, trying):
                offered.append(change)
                if found is not None:
                    found(tuple(offered))
    return tuple(offered)


def _liners_turned(project: Project, trying: Trying) -> Iterator[FittingChange]:
    """Only the liners of those books turn that need it, and of those as few as the layout with most room needs."""
    turnable = with_liners_turned(project)
    answer = None if turnable is None else trying.answer(turnable)
    if turnable is None or answer is None:
        return
    if not (turned := liners_turned(project, answer.placed)):
        return
    liners = [piece for piece in planned_pieces(project) if piece.kind == "liner"]
    needed = {piece.book_id for piece in liners if piece.id in turned and piece.book_id is not None}
    fewer = with_liners_turned(project, needed)
    if fewer is not None and fewer != turnable and (told := trying.answer(fewer)) is not None:
        turnable, answer, turned = fewer, told, liners_turned(project, told.placed)
    yield FittingChange("turn liners", liners_said(answer, turned, len(liners)), None, turnable, answer)


def _smaller_gap(project: Project, trying: Trying) -> Iterator[FittingChange]:
    def made(steps: int) -> Project:
        return with_gap(project, grid_mm(steps))

    steps = trying.largest(made, 0, grid_steps(project.rules.gap_mm))
    answer = None if steps is None else trying.answer(made(steps))
    if steps is not None and answer is not None:
        gap_mm = grid_mm(steps)
        yield FittingChange("gap", gap_said(answer, gap_mm), gap_mm, made(steps), answer)


def _smaller_turn_ins(project: Project, trying: Trying) -> Iterator[FittingChange]:
    found = _turn_ins_on("all round", project, trying)
    if found is not None:
        yield found


def _two_turn_ins(project: Project, trying: Trying) -> Iterator[FittingChange]:
    pairs = [_turn_ins_on(sides, project, trying) for sides in _TWO_SIDES]
    yield from sorted((one for one in pairs if one is not None), key=lambda one: -(one.amount_mm or 0.0))


def _turn_ins_on(sides: Sides, project: Project, trying: Trying) -> FittingChange | None:
    def made(steps: int) -> Project:
        return with_turn_ins(project, sides, grid_mm(steps))

    below = grid_steps(most_turn_in_mm(project, sides))
    steps = trying.largest(made, grid_steps(LEAST_TURN_IN_MM), below)
    answer = None if steps is None else trying.answer(made(steps))
    if steps is None or answer is None:
        return None
    said = turn_ins_said(answer, sides, grid_mm(steps), edges_turned(project))
    kind: ChangeKind = "turn-in" if sides == "all round" else "two turn-ins"
    return FittingChange(kind, said, grid_mm(steps), made(steps), answer)


def _paper_liners(project: Project, trying: Trying) -> Iterator[FittingChange]:
    yield from _of_paper("paper liners", with_paper_liners(project), trying)


def _paper_sides(project: Project, trying: Trying) -> Iterator[FittingChange]:
    yield from _of_paper("paper sides", with_paper_sides(project), trying)


def _of_paper(
    kind: Literal["paper liners", "paper sides"], papered: Project | None, trying: Trying
) -> Iterator[FittingChange]:
    answer = None if papered is None else trying.answer(papered)
    if papered is not None and answer is not None:
        yield FittingChange(kind, paper_said(answer, kind), None, papered, answer)


def _wish_dropped(project: Project, trying: Trying) -> Iterator[FittingChange]:
    dropped = []
    for wish, rest in without_one_wish(project):
        answer = trying.answer(rest)
        if answer is not None:
            missed_mm = missed_by_mm(project, rest, answer, trying.decide)
            said = wish_said(answer, wish, missed_mm)
            dropped.append(FittingChange("drop a wish", said, missed_mm or None, rest, answer))
    yield from sorted(dropped, key=lambda one: (round(one.amount_mm or 0.0, 1), -(one.answer.spare_mm or 0.0)))


def _smaller_book(project: Project, trying: Trying) -> Iterator[FittingChange]:
    boards = boards_to_shrink(project)
    if not boards:
        return
    height_mm = boards[0][1][1]

    def made(steps: int) -> Project:
        return with_smaller_boards(project, grid_mm(steps))

    steps = trying.largest(made, grid_steps(_LEAST_OF_HEIGHT * height_mm), grid_steps(height_mm))
    answer = None if steps is None else trying.answer(made(steps))
    if steps is not None and answer is not None:
        (book_id, board_mm), *_ = boards_to_shrink(made(steps))
        less_mm = round(height_mm - grid_mm(steps), 9)
        limp = project.book(book_id).structure == "limp-wrap"
        said = smaller_book_said(answer, less_mm, board_mm, len(boards), limp=limp)
        yield FittingChange("smaller book", said, less_mm, made(steps), answer)


def _next_cut(project: Project, trying: Trying, cuts: Iterable[Cut] | None = None) -> Iterator[FittingChange]:
    beside = bool(kept_cloths(project))
    for purchase, on_it in on_cuts(project, cuts):
        answer = trying.answer(on_it)
        if answer is not None:
            said = purchase_said(answer, purchase, project.preferences.currency, beside=beside)
            yield FittingChange("next cut", said, None, on_it, answer)
            return
