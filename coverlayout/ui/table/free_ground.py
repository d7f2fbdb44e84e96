"""Free ground for pieces brought to a cloth without a pointer: looked for by the engine while all else stays there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from coverlayout.document.asking.narrowing import narrowed
from coverlayout.layout.question import PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.filling import fill, placed_of
from coverlayout.layout.search.outlines import fill_outlines
from coverlayout.layout.search.sheets import rectangular_job

__all__ = ["free_ground"]

# A search for one piece ends after this many steps: some hundredths of a second, before anyone waits.
_STEPS = 500


def free_ground(
    judge: Judge, pieces: Sequence[PieceAsked], resting: Sequence[Placed], cloth_id: str | None = None
) -> tuple[Placed, ...] | None:
    """Where these pieces may lie, near the top, breaking no rule beside what rests and is cut; None when none is found.

    Only on one cloth, if named. The pieces may allow fewer turns than those the judge knows by their ids.
    """
    lying: dict[str, list[tuple[PieceAsked, Placed]]] = {}
    for placed in resting:
        lying.setdefault(placed.cloth, []).append((judge.pieces[placed.piece], placed))
    cloths = tuple(
        replace(cloth, fixed=(*cloth.fixed, *lying.get(cloth.id, ())))
        for cloth in judge.question.cloths
        if cloth_id in (None, cloth.id)
    )
    question = narrowed(replace(judge.question, pieces=tuple(pieces), cloths=cloths), (piece.id for piece in pieces))
    found = _first(question, Effort(_STEPS * len(pieces)))
    rest = judge.rest(resting)
    if found is None or rest.judge(found).breaches != rest.judge(()).breaches:
        return None
    return found


def _first(question: Question, effort: Effort) -> tuple[Placed, ...] | None:
    """The first layout of the sorted orders: between upright edges, then along outlines of any kind."""
    try:
        job = rectangular_job(question)
        filled = None if job is None else fill(job, effort, orders=0)
        if job is not None and filled is not None:
            return placed_of(job, filled)
        return fill_outlines(question, effort, orders=0)
    except OutOfSteps:
        return None
