"""A quick verdict with its room: decided as ever, but the room only so far as a maker choosing among many looks.

For a ladder of cuts or a row of print scales: whether it fits, whether with the room wished for, and the most room
found on the way. The room is never proved to be the most; a layout chosen is laid in earnest later.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Report
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Placed, Question, Watch, never, with_room
from coverlayout.layout.rules import Judge
from coverlayout.layout.sizing.counting import if_smaller
from coverlayout.layout.sizing.stretching import most_room
from coverlayout.layout.verdicts import answer_of

__all__ = ["quick_answer"]

# Below the wish room is looked for until it is known this well; above it, until this share more was not found, or with
# many pieces the other.
_NEAR_MM, _NEAR_SHARE, _FAR_SHARE = 0.1, 0.15, 0.6
# The steps for one room tried: below the wish, where a figure decides, and above it.
_STEPS_BELOW, _STEPS_ABOVE = 400, 100
# Above the wish each try asks for this much more than there is.
_MORE = 1.6
# With more pieces than this, layouts are stretched only when they are to be told.
_FEW_PIECES = 8


def quick_answer(
    question: Question, watch: Watch = never, *, steps: int, tries: int = 12, starts: Iterable[tuple[Placed, ...]] = ()
) -> Answer:
    """The verdict on a question, its room as good as a few tries make it; `starts` are layouts that may hold as well.

    A no has its proof. At most `tries` rooms are asked for, below the wish and above it. A question without pieces
    fits.
    """
    search = _Room(question, watch, steps, tries)
    for placed in starts:
        search.offer(placed)
    if search.best is None:
        first = first_layout(replace(question, steps=steps), watch)
        if not first.placed:
            return first
        search.cut_short = first.cut_short
        search.offer(first.placed)
    if search.best is None or not question.pieces:
        return first_layout(replace(question, steps=steps), watch)
    search.widen()
    return search.answer()


class _Room:
    """One question: the roomiest layout so far."""

    def __init__(self, question: Question, watch: Watch, steps: int, tries: int) -> None:
        self.question, self.watch, self.steps, self.tries = question, watch, steps, tries
        self.judge = Judge(question)
        self.best: tuple[tuple[Placed, ...], Report] | None = None
        self.room_mm = -1.0
        self.cut_short = False

    def offer(self, placed: tuple[Placed, ...]) -> bool:
        """Take a layout that the judge passes, below the wish stretched where that is quick; True for more room."""
        better = self._take(placed)
        if self._above or len(placed) > _FEW_PIECES:
            return better
        return self._stretch(placed) or better

    @property
    def _above(self) -> bool:
        return self.room_mm >= self.question.spare_wish_mm - SAME_LENGTH_MM

    def _take(self, placed: tuple[Placed, ...]) -> bool:
        report = self.judge.report(placed)
        room_mm = math.inf if report.clearance_mm is None else report.clearance_mm
        if report.breaches or report.waiting or room_mm <= self.room_mm:
            return False
        self.best, self.room_mm = (placed, report), room_mm
        return True

    def _stretch(self, placed: tuple[Placed, ...]) -> bool:
        stretched = most_room(self.question, placed)
        return stretched is not None and stretched.amount_mm > self.room_mm and self._take(stretched.placed)

    def widen(self) -> None:
        """Look for more room: below the wish until it is met or the room well known, then beyond it in large steps."""
        assert self.best is not None, "asked only when there is a layout"
        self._reach_wish()
        if self._above:
            self._go_beyond()
        self._stretch(self.best[0])

    def _reach_wish(self) -> None:
        """Ask for the wish at once, then halve what lies between the room there is and what was not found."""
        high_mm = target_mm = self.question.spare_wish_mm
        for _ in range(self.tries):
            if self._above or self.cut_short or high_mm - self.room_mm <= _NEAR_MM:
                return
            placed = self._with(target_mm, _STEPS_BELOW)
            if placed is None or not self.offer(placed):
                high_mm = target_mm
            target_mm = (self.room_mm + high_mm) / 2

    def _go_beyond(self) -> None:
        """Ask for more and more; the layouts have what is asked for, so only the last is judged."""
        room_mm, high_mm, last = self.room_mm, math.inf, None
        share = _NEAR_SHARE if len(self.question.pieces) <= _FEW_PIECES else _FAR_SHARE
        for _ in range(self.tries):
            if self.cut_short or room_mm == math.inf or high_mm <= (1 + share) * room_mm:
                break
            target_mm = _MORE * room_mm if high_mm == math.inf else (room_mm + high_mm) / 2
            placed = self._with(max(target_mm, SAME_LENGTH_MM), _STEPS_ABOVE)
            if placed is None:
                high_mm = target_mm
            else:
                room_mm, last = target_mm, placed
        if last is not None:
            self._take(last)

    def _with(self, room_mm: float, steps: int) -> tuple[Placed, ...] | None:
        """A layout with so much room, None when none was found."""
        if self.watch(0.0):
            self.cut_short = True
            return None
        answer = first_layout(replace(with_room(self.question, room_mm), steps=steps), self.watch)
        self.cut_short = self.cut_short or answer.cut_short
        return answer.placed or None

    def answer(self) -> Answer:
        """What is known as an answer, with a look at the cloth smaller by its doubt."""
        assert self.best is not None, "asked only when there is a layout"
        spare_mm = self.best[1].clearance_mm
        return answer_of(
            self.question,
            shown=self.best,
            spare_mm=spare_mm,
            spare_proved=False,
            proof=None,
            lost_if_smaller=self._lost_if_smaller(),
            cut_short=self.cut_short,
        )

    def _lost_if_smaller(self) -> str | None:
        assert self.best is not None, "asked only when there is a layout"
        smaller = if_smaller(self.question)
        if smaller is None:
            return None
        if not Judge(smaller).report(self.best[0]).breaches:
            return None
        answer = first_layout(replace(smaller, steps=self.steps), self.watch)
        if answer.placed:
            return None
        return "proved" if answer.verdict == "does not fit" else "not found"
