"""What is known of one question while it is worked on: layouts the judge passed, proofs, and the effort left."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from functools import cached_property

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Proof, Report
from coverlayout.layout.exact.deciding import Exact
from coverlayout.layout.filling.held_job import HeldJob, held_job
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job
from coverlayout.layout.verdicts import answer_of
from coverlayout.layout.wishes.turned_copies import turned_copies_possible

__all__ = ["Desk", "nobody"]

Layout = tuple[Placed, ...]


def nobody(answer: Answer) -> None:
    """Tells nobody of an answer found on the way."""
    del answer


class Desk:
    """One question on the desk. `roomiest` and `shown` are layouts with the judge's report, None while unknown."""

    def __init__(self, question: Question, effort: Effort, found: Callable[[Answer], None] = nobody) -> None:
        self.question, self.effort, self._found = question, effort, found
        self.judge = Judge(question)
        self.roomiest: tuple[Layout, Report] | None = None
        self.shown: tuple[Layout, Report] | None = None
        self.proof: Proof | None = None
        self.spare_proved = False
        # Until the smaller cloths have been tried, a layout on them is not known: so an answer cut short says.
        self.lost_if_smaller: str | None = "not found" if question.pieces and question.cloths_if_smaller else None

    @cached_property
    def job(self) -> RectangularJob | None:
        """The question as upright rectangles without wishes, None where it is more than that."""
        return rectangular_job(self.question, self.effort.look)

    @cached_property
    def held(self) -> HeldJob | None:
        """The question as upright rectangles of which some are held to a repeat, None where it is more than that."""
        return held_job(self.question, self.effort.look)

    @cached_property
    def exact(self) -> Exact | None:
        """The search for all ways, None where there are too many pieces."""
        return Exact.of(self.question, self.passes)

    @cached_property
    def all_ways(self) -> bool:
        """True when linked pieces must be turned the same, as all searches take it: else no search is for all ways."""
        return not turned_copies_possible(self.question)

    @property
    def is_open(self) -> bool:
        """True while neither a layout nor a proof is known."""
        return self.roomiest is None and self.proof is None

    def part(self, share: float) -> AbstractContextManager[Effort]:
        """Spend at most this share of the question's steps inside."""
        return self.effort.part(int(self.question.steps * share))

    def passes(self, placed: Layout) -> bool:
        """True when the judge finds nothing wrong."""
        report = self.judge.report(placed, self.effort.look)
        return not report.breaches and not report.waiting

    def room_mm(self) -> float:
        """The room of the roomiest layout; without pieces there is any room."""
        assert self.roomiest is not None, "asked only when there is a layout"
        clearance_mm = self.roomiest[1].clearance_mm
        return self.question.spare_wish_mm if clearance_mm is None else clearance_mm

    def offer(self, placed: Layout | None) -> bool:
        """Take a layout when there is one and the judge passes it; True when it does."""
        if placed is None:
            return False
        report = self.judge.report(placed, self.effort.look)
        if report.breaches or report.waiting:
            return False
        clearance_mm = report.clearance_mm or 0.0
        if self.roomiest is None or clearance_mm > (self.roomiest[1].clearance_mm or 0.0):
            self.roomiest = self.shown = (placed, report)
            self._found(self.answer(cut_short=False))
        return True

    def show(self, placed: Layout, room_mm: float) -> bool:
        """Show a layout that the judge passes and that has `room_mm`; True when it does. More room is room found."""
        report = self.judge.report(placed, self.effort.look)
        if report.breaches or report.waiting or (report.clearance_mm or 0.0) < room_mm - SAME_LENGTH_MM:
            return False
        if not self.spare_proved and (report.clearance_mm or 0.0) > self.room_mm():
            self.roomiest = placed, report
        self.shown = placed, report
        return True

    def answer(self, cut_short: bool) -> Answer:
        """What is known now as an answer."""
        answer = answer_of(
            self.question,
            shown=self.shown,
            spare_mm=None if self.roomiest is None else self.roomiest[1].clearance_mm,
            spare_proved=self.spare_proved,
            proof=self.proof,
            lost_if_smaller=self.lost_if_smaller,
            cut_short=cut_short,
        )
        return replace(answer, steps=self.effort.spent)
