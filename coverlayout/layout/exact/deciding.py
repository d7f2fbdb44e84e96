"""Whether a job of few pieces can be laid with some room: a layout that the judge passes, or the proof of a no."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.branching.beams import first_found
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.branching.search import layouts
from coverlayout.layout.exact.apart import Bends, Needs, apart_of
from coverlayout.layout.exact.corners import bends_at
from coverlayout.layout.exact.job import ExactJob, exact_job
from coverlayout.layout.exact.steps import Step, steps_of
from coverlayout.layout.exact.tables import Tables, tables_of
from coverlayout.layout.exact.widening import widened
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.search.effort import Effort

__all__ = ["MOST_PIECES", "Decided", "Exact"]

# Above this the search is not begun: there are too many ways.
MOST_PIECES = 14
# Chords at corners are cut this often until what is found is true, or nothing is found.
_CUTS = 24
# A room found is the one asked for when this near (mm).
_NEAR_MM = 1e-5


@dataclass(frozen=True)
class Decided:
    """What the search says: a layout with its room, a proved no, or neither ("open")."""

    says: Literal["yes", "no", "open"]
    placed: tuple[Placed, ...] = ()
    room_mm: float = -math.inf


class Exact:
    """A question made ready for the search, which may then be asked for any room."""

    def __init__(self, job: ExactJob, passes: Callable[[tuple[Placed, ...]], bool]) -> None:
        self._job, self._passes = job, passes
        self._steps: tuple[Step, ...]
        self._steps, _ = steps_of(job)

    @classmethod
    def of(cls, question: Question, passes: Callable[[tuple[Placed, ...]], bool]) -> Exact | None:
        """None when the question is too large. `passes`: the judge, asked before a layout is answered."""
        job = exact_job(question, MOST_PIECES)
        return None if job is None else cls(job, passes)

    def decide(self, effort: Effort, room_mm: float = 0.0) -> Decided:
        """A layout with at least `room_mm`, or a no; OutOfSteps or CutShort from the effort.

        A no for room 0 holds when everything is NO_LOOSER_MM looser and locks are off by what they may be.
        """
        slack_mm = NO_LOOSER_MM if room_mm <= 0.0 else 0.0
        needs = Needs.of(self._job.question.gap_mm, room_mm, slack_mm)
        bends: Bends = () if max(self._job.question.gap_mm, room_mm) > 0.0 else None
        for _ in range(_CUTS):
            tables = self._tables(effort, needs, bends, slack_mm)
            layout = first_found(tables, effort)
            if layout is None:
                return Decided("no" if self._job.exact else "open")
            found = self._made_true(tables, layout, room_mm)
            if found is None and not bends:
                found = self._without_slack(effort, room_mm)
            if found is not None:
                return found
            more = set(bends_at(self._job, layout, needs)) - set(bends or ())
            if bends is None or not more:
                break
            bends = tuple(sorted((*bends, *more)))
        return Decided("open")

    def every(self, effort: Effort, room_mm: float) -> Iterator[tuple[Placed, ...]]:
        """Layouts of many kinds with at least `room_mm` along some line, each as far left and up as its kind allows.

        The judge has not seen them. OutOfSteps or CutShort from the effort.
        """
        needs = Needs.of(self._job.question.gap_mm, room_mm)
        return map(self._placed, layouts(self._tables(effort, needs, None, 0.0), effort))

    def _tables(self, effort: Effort, needs: Needs, bends: Bends, slack_mm: float) -> Tables:
        apart = apart_of(self._job, bends, effort.look)
        return tables_of(self._job, apart, self._steps, needs, slack_mm, look=effort.look)

    def _without_slack(self, effort: Effort, room_mm: float) -> Decided | None:
        """A layout that keeps all needs along some line, without any slack."""
        tables = self._tables(effort, Needs.of(self._job.question.gap_mm, room_mm), None, 0.0)
        layout = first_found(tables, effort)
        return None if layout is None else self._made_true(tables, layout, room_mm)

    def _made_true(self, tables: Tables, layout: Layout, room_mm: float) -> Decided | None:
        """The layout with all the room it can have, when that is what was asked for and the judge passes it."""
        wide = widened(tables, layout, self._job.question.gap_mm, _most_room(self._job))
        if wide is None or wide[0] < room_mm - _NEAR_MM - (NO_LOOSER_MM if room_mm <= 0.0 else 0.0):
            return None
        placed = self._placed(wide[1])
        return Decided("yes", placed, wide[0]) if self._passes(placed) else None

    def _placed(self, layout: Layout) -> tuple[Placed, ...]:
        pieces = zip(self._job.question.pieces, self._job.seats, layout.seats, layout.places, strict=True)
        return tuple(
            seats[seat].placed(piece.id, (float(place[0]), float(place[1]))) for piece, seats, seat, place in pieces
        )


def _most_room(job: ExactJob) -> float:
    """More than any layout can have: what the roomiest seat leaves of its ground."""
    sides = ((seat.low_mm, seat.high_mm) for seats in job.seats for seat in seats)
    return max(max(high[0] - low[0], high[1] - low[1]) for low, high in sides)
