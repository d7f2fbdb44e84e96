"""The ladder of cuts: each with its verdict, least first, the least to buy, and the cheapest cuts together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.buying.bundles import Bundle, cheapest_bundle
from coverlayout.layout.buying.within import lies_within
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.proofs.bounds import quarrel
from coverlayout.layout.question import CutAsked, Question, Watch, never
from coverlayout.layout.sizing.rooms import quick_answer
from coverlayout.layout.wishes.origins import origin_matters

__all__ = ["Bundle", "Ladder", "Rung", "climb"]

# A first look at every rung, and what one that stays open may take after that: a ladder has sixty of them.
_LOOK_STEPS, _STEPS_A_RUNG = 400, 4_000
# The same where a job must hold wherever the print falls, which is many questions in one.
_STEPS_ANYWHERE = 20_000
# Rooms asked for at one rung; fewer where pieces are held to the repeat, since each takes longer there.
_TRIES, _TRIES_HELD = 12, 5
# For a rung that is laid in earnest.
_STEPS_CLOSELY = 8_000
# Shares of the work, for the progress told: the looks, the rungs, the cuts together.
_LOOKS, _RUNGS = 0.2, 0.8
_OPEN = Answer("not found", False, Remark.of("lay-not-found-yet"))


@dataclass(frozen=True)
class Rung:
    """A cut with its verdict; `spare_mm` and `answer` as in Answer. The room is the most found at a look, unproved."""

    name: str
    width_mm: float
    length_mm: float
    price: float | None
    verdict: Verdict
    proved: bool
    spare_mm: float | None
    answer: Answer


@dataclass(frozen=True)
class Ladder:
    """All rungs, least first; the names of the first that fits at all and of the first that fits with room, or None.

    `cheapest` is the cheapest way to buy the job when several cuts may be bought together, None when none is known.
    """

    rungs: tuple[Rung, ...]
    least: str | None
    least_with_room: str | None
    cheapest: Bundle | None = None


def climb(cuts: Iterable[CutAsked], watch: Watch = never, *, together: bool = True) -> Ladder:
    """Every cut with its verdict, least first: by price where all are known, else by area; then the cheapest together.

    Cuts that lie within each other, one way up alike, tell of each other: what the larger cannot hold the smaller
    cannot, and what the smaller holds the larger does. When `watch` stops the climb, the cuts not reached are
    `not found` and their answers `cut_short`. `together` False leaves out the cuts bought together.
    """
    ranked = _least_first(tuple(cuts))
    climbing = _Climb(ranked, watch)
    climbing.run()
    for verdicts in (("fits", "fits, tight"), ("fits",)):
        first = next((n for n in range(len(ranked)) if climbing.answer(n).verdict in verdicts), None)
        if first is not None and not climbing.stopped:
            climbing.look_closely(first)
    rungs = tuple(_rung(cut, climbing.answer(number)) for number, cut in enumerate(ranked))
    holding = [rung.name for rung in rungs if rung.verdict in ("fits", "fits, tight")]
    roomy = [rung.name for rung in rungs if rung.verdict == "fits"]
    cheapest = None
    # Wishes that quarrel do so on any cuts.
    if together and not climbing.stopped and any(quarrel(cut.question) is None for cut in ranked):
        known = {cut.name: climbing.answer(number) for number, cut in enumerate(ranked)}
        cheapest = cheapest_bundle(ranked, known, lambda share: watch(_RUNGS + (1 - _RUNGS) * share))
    return Ladder(rungs, next(iter(holding), None), next(iter(roomy), None), cheapest)


def _least_first(cuts: tuple[CutAsked, ...]) -> list[CutAsked]:
    by_price = all(cut.price is not None for cut in cuts)
    return sorted(cuts, key=lambda cut: (cut.price or 0.0 if by_price else 0.0, cut.width_mm * cut.length_mm))


def _rung(cut: CutAsked, answer: Answer) -> Rung:
    figures = cut.name, cut.width_mm, cut.length_mm, cut.price
    return Rung(*figures, answer.verdict, answer.proved, answer.spare_mm, answer)


def _of_one_job(questions: list[Question]) -> list[Question]:
    """The questions with the very same tuple where they ask for equal pieces, so that thousands are compared once."""
    first = questions[0].pieces if questions else ()
    return [replace(question, pieces=first) if question.pieces == first else question for question in questions]


def _from_the_middle(numbers: list[int]) -> list[int]:
    """The middle one, then the middles of both halves, and so on: each tells of the most others.

    >>> _from_the_middle([0, 1, 2, 3, 4])
    [2, 1, 4, 0, 3]
    """
    ordered: list[int] = []
    parts = [numbers] if numbers else []
    while parts:
        ordered += [part[len(part) // 2] for part in parts]
        halves = [half for part in parts for half in (part[: len(part) // 2], part[len(part) // 2 + 1 :])]
        parts = [half for half in halves if half]
    return ordered


class _Climb:
    """One climb: what is known of each rung, by its number from the least on."""

    def __init__(self, ranked: list[CutAsked], watch: Watch) -> None:
        self._questions = _of_one_job([cut.question for cut in ranked])
        self._ranked, self._watch = ranked, watch
        self._looks: dict[int, Answer] = {}
        self._answers: dict[int, Answer] = {}
        self._within = {
            number: [other for other in range(len(ranked)) if other != number and self._is_within(number, other)]
            for number in range(len(ranked))
        }
        self._share = 0.0
        self.stopped = False

    def _is_within(self, small: int, large: int) -> bool:
        return lies_within(self._questions[small], self._questions[large])

    def run(self) -> None:
        """A look at those of which no other tells, more for what stays open, then room, the smallest first."""
        smallest_first = sorted(range(len(self._ranked)), key=self._area_mm2)
        for done, number in enumerate(_from_the_middle(smallest_first)):
            if self._stop(_LOOKS * done / len(smallest_first)):
                return
            if not self._is_told(number):
                self._looks[number] = self._decide(number, _LOOK_STEPS)
        for done, number in enumerate(smallest_first):
            if self._stop(_LOOKS + (_RUNGS - _LOOKS) * done / len(smallest_first)):
                return
            if self._looks.get(number, _OPEN).verdict == "not found" and not self._is_told(number):
                self._looks[number] = self._decide(number, _STEPS_A_RUNG)
            self._answers[number] = self._with_room(number)

    def _decide(self, number: int, steps: int) -> Answer:
        question = self._questions[number]
        if origin_matters(question):
            steps = _STEPS_ANYWHERE
        return first_layout(replace(question, steps=min(question.steps, steps)), self._watch_part)

    def _is_told(self, number: int) -> bool:
        """True when another cut says already what this one can do."""
        return self._refusing(number) is not None or any(
            number in self._within[smaller] and answer.placed for smaller, answer in self._looks.items()
        )

    def _refusing(self, number: int) -> int | None:
        """A cut that has this one inside and is refused."""
        refused = (other for other in self._within[number] if self._looks.get(other, _OPEN).verdict == "does not fit")
        return next(refused, None)

    def _with_room(self, number: int) -> Answer:
        """The answer of a rung: its room where it fits, else its own no or the no of a cut that has it inside."""
        own = self._looks.get(number)
        question = self._questions[number]
        smaller = self._from_smaller(number)
        if own is None or own.verdict == "not found":
            refusing = self._refusing(number)
            if refusing is not None:
                reason = Remark.of("lay-no-larger", name=self._ranked[refusing].name)
                return replace(self._looks[refusing], reason=reason, question_number=question.number)
        if origin_matters(question):
            # Wherever the print falls: its layout is one example, and what the smaller cut holds this one does.
            best = next((each for each in (own, smaller) if each is not None and each.placed), own or _OPEN)
            return replace(best, question_number=question.number)
        starts = [each.placed for each in (smaller, own) if each is not None and each.placed]
        if not starts:
            return own or _OPEN
        tries = _TRIES_HELD if question.locks or question.links else _TRIES
        return quick_answer(question, self._watch_part, steps=_LOOK_STEPS, tries=tries, starts=starts)

    def _from_smaller(self, number: int) -> Answer | None:
        """The answer with most room of the cuts that lie within this one."""
        smaller = (answer for other, answer in self._answers.items() if number in self._within[other] and answer.placed)
        return max(smaller, key=lambda answer: answer.spare_mm or 0.0, default=None)

    def look_closely(self, number: int) -> None:
        """Lay a rung in earnest, where the maker looks first: its most room, and a tidy layout."""
        quick = self._answers[number]
        question = self._questions[number]
        answer = lay(replace(question, steps=min(question.steps, _STEPS_CLOSELY)), self._watch_part)
        if answer.placed and (answer.spare_mm or 0.0) >= (quick.spare_mm or 0.0) - SAME_LENGTH_MM:
            self._answers[number] = answer

    def answer(self, number: int) -> Answer:
        """What is known of a rung; one not reached is open."""
        if number in self._answers:
            return self._answers[number]
        return replace(_OPEN, cut_short=True, question_number=self._questions[number].number)

    def _area_mm2(self, number: int) -> float:
        return self._ranked[number].width_mm * self._ranked[number].length_mm

    def _stop(self, share_done: float) -> bool:
        self._share = max(self._share, share_done)
        self.stopped = self.stopped or self._watch(self._share)
        return self.stopped

    def _watch_part(self, _share_done: float) -> bool:
        return self._stop(self._share)
