"""The most sets of pieces that fit: from above by cheap proofs, from below by layouts, until one more is refused."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Question, Watch, never

__all__ = ["MostSets", "if_smaller", "most_sets"]

# A first look at a number of sets, and the real one: a tenth of a second, and some seconds.
_LOOK_STEPS, _STEPS = 2_000, 200_000
# Sets tried one by one upward with all steps before the search gives up where nothing is refused.
_MOST_TRIES = 40


@dataclass(frozen=True)
class MostSets:
    """How many sets fit, with their layout (None for none), and the answer for one set more where it was asked.

    `proved`: one set more is refused with proof, so there can be no more.
    """

    sets: int
    laid: Answer | None
    refused: Answer | None
    cut_short: bool = False

    @property
    def proved(self) -> bool:
        """True when one set more is refused with proof."""
        return self.refused is not None and self.refused.verdict == "does not fit"


def most_sets(question_of: Callable[[int], Question], most: int, watch: Watch = never) -> MostSets:
    """The largest number of sets up to `most` for which `question_of(sets)` has a layout.

    What is refused for some sets is refused for more: the asker's question must be so. When `most` sets fit, nothing is
    refused and so nothing proved.
    """
    search = _Counting(question_of, most, watch)
    search.run()
    refused = search.answers.get(search.laid + 1)
    return MostSets(search.laid, search.answers.get(search.laid), refused, search.cut_short)


def if_smaller(question: Question) -> Question | None:
    """The same question on its cloths smaller by their doubt; None where nothing is in doubt."""
    if not question.cloths_if_smaller:
        return None
    return replace(question, cloths=question.cloths_if_smaller, cloths_if_smaller=())


class _Counting:
    """One search: the most sets laid, the least number refused, what was answered for each number asked."""

    def __init__(self, question_of: Callable[[int], Question], most: int, watch: Watch) -> None:
        self._question_of, self._most, self._watch = question_of, most, watch
        self.answers: dict[int, Answer] = {}
        self.laid = 0
        self.refused = most + 1
        self.cut_short = False
        self._tries = 0

    def run(self) -> None:
        """Double up to what is not laid at a look, halve what is between, then ask each further set in earnest."""
        open_at = self._double()
        while open_at - self.laid > 1 and not self.cut_short:
            middle = (self.laid + open_at) // 2
            if not self._asks(middle, _LOOK_STEPS):
                open_at = middle
        while self.laid + 1 < self.refused and not self.cut_short and self._tries < _MOST_TRIES:
            if not self._asks(self.laid + 1, _STEPS):
                break

    def _double(self) -> int:
        """The least number of doubling ones that is not laid at a look."""
        sets = 1
        while sets <= self._most and self._asks(sets, _LOOK_STEPS):
            if sets == self._most:
                return self._most + 1
            sets = min(2 * sets, self._most)
        return min(sets, self._most + 1)

    def _asks(self, sets: int, steps: int) -> bool:
        """Decide a number of sets; True when they fit."""
        if self._watch_try(1.0):
            self.cut_short = True
            return False
        self._tries += 1
        question = self._question_of(sets)
        answer = first_layout(replace(question, steps=min(question.steps, steps)), self._watch_try)
        self.cut_short = self.cut_short or answer.cut_short
        self.answers[sets] = answer
        if answer.verdict in ("fits", "fits, tight"):
            self.laid = max(self.laid, sets)
            return True
        if answer.verdict == "does not fit":
            self.refused = min(self.refused, sets)
        return False

    def _watch_try(self, share_done: float) -> bool:
        return self._watch(min(max(self._tries - 1 + share_done, 0.0) / _MOST_TRIES, 1.0))
