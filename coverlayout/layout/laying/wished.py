"""Wishes around the work: preferences, musts that hang on how a print falls, pieces that may be turned copies."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Question, Watch
from coverlayout.layout.rules import Judge
from coverlayout.layout.verdicts import answer_of
from coverlayout.layout.wishes.origins import every_origin, origin_matters
from coverlayout.layout.wishes.preferring import with_most_wishes
from coverlayout.layout.wishes.turned_copies import turned_copies_possible, with_turned_copies
from coverlayout.layout.wishes.wish import fits, wishes_of, with_wishes

__all__ = ["answer_with_wishes", "needs_more_than_one_answer", "standing_question", "without_preferences"]

# Each of the questions asked on the way gets this part of the steps.
_A_DECISION = 10
Work = Callable[[Question, Watch], Answer]


def needs_more_than_one_answer(question: Question) -> bool:
    """True when a wish is no must, a must hangs on where a print falls that is not known, or copies may be turned."""
    return bool(wishes_of(question, must=False)) or origin_matters(question) or turned_copies_possible(question)


def without_preferences(question: Question) -> Question:
    """The question with its musts alone."""
    return with_wishes(question, wishes_of(question, must=True))


def answer_with_wishes(question: Question, watch: Watch, decide: Work, work: Work) -> Answer:
    """The answer of `work` with the most wishes met, told which were not; with `decide` asked on the way.

    Where a must hangs on where the print falls, the answer holds wherever it falls, or says for what share it does.
    Where `work` finds nothing and pieces may be turned copies of each other, these are tried before a no is said.
    """
    asking = _Asking(question, watch, decide)
    preferred = with_most_wishes(question, asking.decide_anywhere)
    if origin_matters(preferred.question):
        answer = every_origin(preferred.question, asking.decide, asking.watch).answer
    else:
        answer = work(replace(preferred.question, seconds=asking.seconds_left), watch)
        if not fits(answer) and turned_copies_possible(preferred.question):
            answer = _turned(preferred.question, asking)
    notes = (*answer.notes, *preferred.notes(answer.placed))
    return replace(answer, notes=notes, cut_short=answer.cut_short or asking.stopped)


def standing_question(question: Question, watch: Watch, decide: Work) -> Question | None:
    """The question that layouts are judged by: the most wishes as musts, the print where the answer's example has it.

    None where nothing fits everywhere.
    """
    asking = _Asking(question, watch, decide)
    preferred = with_most_wishes(question, asking.decide_anywhere).question
    if not origin_matters(preferred):
        return preferred
    return every_origin(preferred, asking.decide, asking.watch).example


def _turned(question: Question, asking: _Asking) -> Answer:
    """The answer with turned copies; its room is that of its layout, and smaller cloths are asked about as ever."""
    answer = asking.decide(question)
    if not fits(answer):
        return answer
    smaller = question.cloths_if_smaller
    lost = bool(smaller) and not fits(asking.decide(replace(question, cloths=smaller)))
    report = Judge(question).report(answer.placed)
    return answer_of(
        question,
        shown=(answer.placed, report),
        spare_mm=report.clearance_mm,
        spare_proved=False,
        proof=None,
        lost_if_smaller="not found" if lost else None,
    )


class _Asking:
    """Asks one small question after another, with the steps of one question for all of them together.

    When these are spent, or the clock or the watch says stop, the rest come back open.
    """

    def __init__(self, question: Question, watch: Watch, decide: Work) -> None:
        self._steps, self._left = max(question.steps // _A_DECISION, 1), question.steps
        self._ends = None if question.seconds is None else time.monotonic() + question.seconds
        self._watch, self._decide = watch, decide
        self.stopped = False

    @property
    def seconds_left(self) -> float | None:
        """What is left of the question's seconds."""
        return None if self._ends is None else max(self._ends - time.monotonic(), 0.0)

    def watch(self, share_done: float) -> bool:
        """The question's own watch and clock."""
        late = self._ends is not None and time.monotonic() >= self._ends
        self.stopped = self.stopped or late or self._watch(share_done)
        return self.stopped

    def decide(self, question: Question) -> Answer:
        """A first layout, with turned copies where there may be some, or the proof that there is none."""
        return with_turned_copies(question, self._decide_plain)

    def decide_anywhere(self, question: Question) -> Answer:
        """The same, wherever the print falls."""
        if origin_matters(question):
            return every_origin(question, self.decide, self.watch).answer
        return self.decide(question)

    def _decide_plain(self, question: Question) -> Answer:
        steps = max(min(self._steps, question.steps, self._left), 1)
        answer = self._decide(replace(question, steps=steps, seconds=None), self.watch)
        self._left -= answer.steps
        return answer
