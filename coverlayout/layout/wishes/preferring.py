"""Wishes marked if possible: as many as can hold together with everything that must, the others told.

Which ones: the fewest are dropped; of as many, those that ask least (a lock asks one thing, a link one for each
further piece); of those, the ones wished last. With more than eight, one after another in their order, each kept when
it can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from coverlayout.errors import Remark
from coverlayout.layout.question import Lock, Placed, Question
from coverlayout.layout.wishes.closest import closest_mm
from coverlayout.layout.wishes.wish import Decide, Wish, as_must, fits, missed_mm, pieces_of, wishes_of, with_wishes

__all__ = ["Preferred", "Unmet", "with_most_wishes"]

_MOST_IN_EVERY_WAY = 8


@dataclass(frozen=True)
class Unmet:
    """A wish marked if possible that could not be met, and how far off it can be held at the closest found (mm)."""

    wish: Wish
    miss_mm: float

    def remark(self, here_mm: float | None = None) -> Remark:
        """One sentence for the notes of an answer; `here_mm`: by how much its layout misses the wish."""
        code = "wish-unmet-lock" if isinstance(self.wish, Lock) else "wish-unmet-link"
        here_mm = self.miss_mm if here_mm is None else here_mm
        return Remark.of(
            code, pieces=", ".join(pieces_of(self.wish)), miss_mm=min(self.miss_mm, here_mm), here_mm=here_mm
        )


@dataclass(frozen=True)
class Preferred:
    """The question to answer: kept wishes are musts in it, the others are out.

    `notes` tell of each wish that could not be met; there are none when even without all of them nothing fits.
    """

    question: Question
    unmet: tuple[Unmet, ...] = ()

    def notes(self, placed: tuple[Placed, ...] = ()) -> tuple[Remark, ...]:
        """What to tell with an answer that lays the pieces like this."""
        return tuple(
            unmet.remark(missed_mm(self.question, unmet.wish, placed) if placed else None) for unmet in self.unmet
        )


def with_most_wishes(question: Question, decide: Decide) -> Preferred:
    """The question with the most of its wishes marked if possible made musts, and the others taken out.

    `decide` is asked for a layout again and again; where it finds none, proved or not, the wishes asked for are taken
    as not to be had together. A question without such wishes comes back as it is.
    """
    wishes = wishes_of(question, must=False)
    if not wishes:
        return Preferred(question)
    choosing = _Choosing(question, wishes, decide)
    if choosing.hold(wishes):
        return Preferred(choosing.question_with(wishes))
    if not choosing.hold(()):
        return Preferred(choosing.question_with(()))
    kept = choosing.most() if len(wishes) <= _MOST_IN_EVERY_WAY else choosing.one_after_another()
    final = choosing.question_with(kept)
    placed = decide(final).placed
    unmet = (wish for wish in wishes if not any(wish is one for one in kept))
    return Preferred(final, tuple(Unmet(wish, closest_mm(final, wish, decide, placed)) for wish in unmet))


class _Choosing:
    """What is known of which wishes hold together; each choice is decided once."""

    def __init__(self, question: Question, wishes: tuple[Wish, ...], decide: Decide) -> None:
        self._question, self._wishes, self._decide = question, wishes, decide
        self._musts = wishes_of(question, must=True)
        # Choices that do not hold: whatever contains one of them does not either.
        self._refused: list[frozenset[int]] = []

    def question_with(self, kept: tuple[Wish, ...]) -> Question:
        """The question with these as musts beside those that are musts anyway."""
        return with_wishes(self._question, (*self._musts, *(as_must(wish) for wish in kept)))

    def hold(self, kept: tuple[Wish, ...]) -> bool:
        """Whether everything fits with these."""
        return fits(self._decide(self.question_with(kept)))

    def most(self) -> tuple[Wish, ...]:
        """The best choice of all, all of them and none already tried."""
        for number in range(len(self._wishes)):
            self._holds(frozenset((number,)))
        for dropped in self._choices():
            kept = frozenset(range(len(self._wishes))) - dropped
            if self._holds(kept):
                return self._those(kept)
            # What does not hold together mostly is two that quarrel: then a lot of choices need not be tried.
            if not any(not self._holds(frozenset(pair)) for pair in combinations(sorted(kept), 2)):
                self._refused.append(kept)
        return ()

    def one_after_another(self) -> tuple[Wish, ...]:
        """Each wish in its order, kept when it holds together with those kept before."""
        kept: frozenset[int] = frozenset()
        for number in range(len(self._wishes)):
            if self._holds(kept | {number}):
                kept |= {number}
        return self._those(kept)

    def _choices(self) -> Iterator[frozenset[int]]:
        """What to drop, best first: few, then what asks least, then what was wished last. All is no choice."""
        numbers = range(len(self._wishes))
        for count in range(1, len(self._wishes)):
            sets = combinations(numbers, count)
            yield from map(
                frozenset, sorted(sets, key=lambda one: (sum(map(self._asks, one)), [-n for n in one[::-1]]))
            )

    def _asks(self, number: int) -> int:
        return max(len(pieces_of(self._wishes[number])) - 1, 1)

    def _holds(self, kept: frozenset[int]) -> bool:
        if any(refused <= kept for refused in self._refused):
            return False
        if self.hold(self._those(kept)):
            return True
        self._refused.append(kept)
        return False

    def _those(self, kept: frozenset[int]) -> tuple[Wish, ...]:
        return tuple(wish for number, wish in enumerate(self._wishes) if number in kept)
