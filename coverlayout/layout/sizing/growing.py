"""The largest size at which everything still fits: layouts push it up, proofs pull its bound down, until they meet.

Each layout found is stretched at once to the largest size its order allows, so that the size is exact and few layouts
have to be looked for. What is refused at one size is refused at every larger one: the asker's question must be so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.question import Placed, Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.layout.search.sheets import rectangular_job
from coverlayout.layout.sizing.stretching import Stretched, largest_alike

__all__ = ["NEAR_MM", "LargestSize", "largest_size"]

# A size is known when the least refused is no farther than this above the largest laid.
NEAR_MM = 0.1
# A no must hold a little looser than the rules, so nothing nearer than this above the true size can be refused.
_STEP_MM = 0.05
# Steps for one size: a quick round first, and where that leaves the size open an earnest one.
_STEPS_A_SIZE = (10_000, 200_000)
# The same for the proofs alone.
_STEPS_A_PROOF = 20_000
# Sizes tried at most; halving from a metre to the step takes fifteen.
_MOST_TRIES = 60
# Sizes asked again with all steps where the bound is still open.
_BOUND_TRIES = 2


@dataclass(frozen=True)
class LargestSize:
    """The largest size laid, with its layout (None: none is known), and the least size shown impossible (or None)."""

    size_mm: float | None
    answer: Answer
    bound_mm: float | None
    cut_short: bool = False

    @property
    def proved(self) -> bool:
        """True when no size larger by more than NEAR_MM can be had; a proved no when there is no size at all."""
        if self.size_mm is None:
            return self.answer.verdict == "does not fit"
        return self.bound_mm is not None and self.bound_mm - self.size_mm <= NEAR_MM


def largest_size(
    question_at: Callable[[float], Question],
    start_mm: float,
    *,
    least_mm: float,
    most_mm: float,
    watch: Watch = never,
) -> LargestSize:
    """The largest size between `least_mm` and `most_mm` at which all pieces of `question_at(size)` fit.

    Looks around `start_mm` first. Not even the least size may fit: then `size_mm` is None and `answer` says why.
    """
    search = _Growing(question_at, least_mm, most_mm, watch)
    search.run(start_mm)
    return search.found()


class _Growing:
    """One search: the largest size laid, the least refused, the least not found, all in mm."""

    def __init__(self, question_at: Callable[[float], Question], least_mm: float, most_mm: float, watch: Watch) -> None:
        self.question_at, self.least_mm, self.most_mm, self._watch = question_at, least_mm, most_mm, watch
        self.size_mm: float | None = None
        self.answer: Answer | None = None
        self.no: Answer | None = None
        self.bound_mm: float | None = None
        self.open_mm = most_mm
        self._steps = _STEPS_A_SIZE[0]
        self.tries = 0
        self.cut_short = False

    def run(self, start_mm: float) -> None:
        """Quickly first; where that leaves the size open, once more in earnest from what is known."""
        for self._steps in _STEPS_A_SIZE:
            self._look_around(start_mm if self.size_mm is None else self.size_mm + _STEP_MM)
            if self.cut_short or self._known() or (self.size_mm is None and self._refused_all()):
                return
            self._bound_by_slices()
        self._lower_bound()

    def _refused_all(self) -> bool:
        return self.bound_mm is not None and self.bound_mm <= self.least_mm

    def _look_around(self, start_mm: float) -> None:
        """Up from the start until something is not had, down until something fits, then halve what is between."""
        self.open_mm = self.most_mm if self.bound_mm is None else self.bound_mm
        size_mm = min(max(start_mm, self.least_mm), self.most_mm)
        while self._asks(size_mm) and self.size_mm is not None and self.size_mm < self.open_mm - _STEP_MM:
            if self.open_mm < self.most_mm:
                break
            size_mm = min(self.size_mm * 1.5, self.most_mm)
        while self.size_mm is None and self._more() and self.open_mm > self.least_mm:
            size_mm = max(self.open_mm / 1.5, self.least_mm)
            self._asks(size_mm)
        while self.size_mm is not None and self._more() and self.open_mm - self.size_mm > 2 * _STEP_MM:
            self._asks((self.size_mm + self.open_mm) / 2)
        while self.size_mm is not None and self._more() and not self._known():
            size_mm = min(self.size_mm + _STEP_MM, self.most_mm)
            if size_mm >= self.open_mm or not self._asks(size_mm):
                break

    def _bound_by_slices(self) -> None:
        """Halve the way from the largest laid to the least refused by proofs alone, which take milliseconds a size."""
        low_mm, high_mm = self.size_mm, self.bound_mm
        while low_mm is not None and high_mm is not None and high_mm - low_mm > _STEP_MM and not self.cut_short:
            middle_mm = (low_mm + high_mm) / 2
            if self._is_refuted(middle_mm):
                self.bound_mm = high_mm = middle_mm
            else:
                low_mm = middle_mm

    def _is_refuted(self, size_mm: float) -> bool:
        question = self.question_at(size_mm)
        effort = Effort(_STEPS_A_PROOF, None, self._watch_try)
        try:
            if refuted(question, look=effort.look) is not None:
                return True
            return too_long_in_slices(rectangular_job(question) or relaxed(question), effort) is not None
        except OutOfSteps:
            return False
        except CutShort:
            self.cut_short = True
            return False

    def _lower_bound(self) -> None:
        """Halve the way from what was not found to what is refused."""
        low_mm = 0.0
        for _ in range(_BOUND_TRIES):
            if self.size_mm is None or self.bound_mm is None or self._known() or not self._more():
                return
            low_mm = max(low_mm, self.size_mm, min(self.open_mm, self.bound_mm))
            middle_mm = (low_mm + self.bound_mm) / 2
            if self.bound_mm - low_mm <= _STEP_MM or self._asks(middle_mm):
                return
            low_mm = max(low_mm, middle_mm if self.bound_mm > middle_mm else 0.0)

    def _known(self) -> bool:
        if self.size_mm is None:
            return False
        refused = self.bound_mm is not None and self.bound_mm - self.size_mm <= NEAR_MM
        return refused or self.size_mm >= self.most_mm - _STEP_MM

    def _more(self) -> bool:
        return self.tries < _MOST_TRIES and not self.cut_short

    def _asks(self, size_mm: float) -> bool:
        """Decide one size; True when it fits. The first is always asked, so that there is something to tell."""
        if self.tries and self._watch_try(1.0):
            self.cut_short = True
            return False
        self.tries += 1
        question = self.question_at(size_mm)
        question = replace(question, steps=min(question.steps, self._steps))
        answer = first_layout(question, self._watch_try)
        self.cut_short = self.cut_short or answer.cut_short
        if answer.verdict in ("fits", "fits, tight"):
            self._laid(size_mm, answer)
            return True
        if answer.verdict == "does not fit" and (self.bound_mm is None or size_mm < self.bound_mm):
            self.bound_mm = size_mm
        self.open_mm = min(self.open_mm, size_mm)
        self.no = answer
        return False

    def _watch_try(self, share_done: float) -> bool:
        return self._watch(min((self.tries - 1 + share_done) / _MOST_TRIES, 1.0))

    def _laid(self, size_mm: float, answer: Answer) -> None:
        stretched = largest_alike(self.question_at, size_mm, answer.placed, self.most_mm)
        if stretched is None:
            stretched = self._grown(size_mm, answer.placed)
        if stretched.amount_mm > size_mm and self._holds(stretched.amount_mm, stretched.placed):
            answer, size_mm = replace(answer, placed=stretched.placed), stretched.amount_mm
        if self.size_mm is None or size_mm > self.size_mm:
            self.size_mm, self.answer = size_mm, answer
        if self.open_mm <= self.size_mm:
            # What was not found with so many steps is there all the same.
            self.open_mm = self.most_mm if self.bound_mm is None else max(self.bound_mm, self.size_mm)

    def _grown(self, size_mm: float, placed: tuple[Placed, ...]) -> Stretched:
        """Pieces grown where they lie until the judge finds something wrong, less what the judge lets pass."""
        low_mm, high_mm = size_mm, self.open_mm
        while high_mm - low_mm > SAME_LENGTH_MM:
            middle_mm = (low_mm + high_mm) / 2
            if self._holds(middle_mm, placed):
                low_mm = middle_mm
            else:
                high_mm = middle_mm
        return Stretched(low_mm - 2 * SAME_LENGTH_MM, placed)

    def _holds(self, size_mm: float, placed: tuple[Placed, ...]) -> bool:
        report = Judge(self.question_at(size_mm)).report(placed)
        return not report.breaches and not report.waiting

    def found(self) -> LargestSize:
        """What is known at the end."""
        if self.size_mm is None or self.answer is None:
            assert self.no is not None, "something was asked"
            return LargestSize(None, self.no, self.bound_mm, self.cut_short)
        return LargestSize(self.size_mm, self.answer, self.bound_mm, self.cut_short)
