"""The cheapest way to buy a job when several cuts may be bought together: two fat quarters or half a yard.

Cheaper cuts together are tried in the order of their cost, and only those not told already by cuts refused before; the
first from which the job can be had is the cheapest.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from coverlayout.geometry.shapes import area_mm2
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.buying.within import within_together
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import ClothAsked, CutAsked, Question, Watch
from coverlayout.layout.sizing.rooms import quick_answer
from coverlayout.layout.wishes.origins import origin_matters

__all__ = ["MOST_CUTS", "Bundle", "cheapest_bundle"]

# So many cuts are bought together at most.
MOST_CUTS = 4
# Steps for one try, the most tries, and steps for the one found.
_STEPS, _MOST_TRIES, _STEPS_FOUND = 300, 40, 2_000
# A try that is refused at once counts for so much of one, and one of pieces held to the repeat for so many.
_AT_ONCE, _HELD = 0.1, 40.0
_QUICK_PROOFS = ("area", "fits nowhere", "side by side")
# Lists of cuts looked at; with dozens of cuts of one width there are too many to look at all.
_MOST_LISTS = 50_000


@dataclass(frozen=True)
class Bundle:
    """Cuts bought together for one job: their names (one twice for two of it), price where all are known, and area.

    `proved`: whatever is cheaper was refused with proof. `question` is the job on these cuts, `answer` its layout.
    """

    cuts: tuple[str, ...]
    price: float | None
    area_mm2: float
    verdict: Verdict
    proved: bool
    question: Question
    answer: Answer

    @property
    def counted(self) -> tuple[tuple[str, int], ...]:
        """Each cut once, with how many of it."""
        return tuple(Counter(self.cuts).items())


def cheapest_bundle(
    cuts: Sequence[CutAsked], known: Mapping[str, Answer], watch: Watch, *, most: int = MOST_CUTS
) -> Bundle | None:
    """The cheapest of all single `cuts` and of up to `most` cuts together; None when none is known to be enough.

    `known` holds the answer for each single cut. The cost is the price where all have one, else the area. Cuts of
    different widths of cloth are not put together: a print comes on one. Of equal cost the fewest cuts count. Only
    single cuts are looked at where the job needs a cut of each of several prints, lies on cloth that is there, or must
    hold wherever the print falls.
    """
    return _Shopping(cuts, known, watch, most).run()


class _Shopping:
    """One search through lists of cuts, each list ascending."""

    def __init__(self, cuts: Sequence[CutAsked], known: Mapping[str, Answer], watch: Watch, most: int) -> None:
        self._cuts, self._known, self._watch, self._most = cuts, known, watch, most
        self._by_price = all(cut.price is not None for cut in cuts)
        self._need_mm2 = math.fsum(area_mm2(piece.outline_mm) for piece in cuts[0].question.pieces) if cuts else 0.0
        self._refused: list[tuple[ClothAsked, ...]] = []
        self._open = False

    def run(self) -> Bundle | None:
        """Lists of cuts from the cheapest on, until one is enough."""
        single = self._best_single()
        tries = 0.0
        for chosen in sorted(self._lists(single), key=self._rank):
            if tries >= _MOST_TRIES or self._watch(tries / _MOST_TRIES):
                self._open = True
                break
            question = together(chosen)
            if any(within_together(question.cloths, refused) for refused in self._refused):
                continue
            answer = first_layout(replace(question, steps=_STEPS), self._watch)
            at_once = answer.proof is not None and answer.proof.name in _QUICK_PROOFS
            tries += _AT_ONCE if at_once else _HELD if question.locks or question.links else 1.0
            if answer.placed:
                found = quick_answer(question, self._watch, steps=_STEPS_FOUND, starts=(answer.placed,))
                return self._bundle(chosen, question, found)
            if answer.verdict == "does not fit":
                self._refused.append(question.cloths)
            else:
                self._open = True
        return None if single is None else self._bundle((single,), single.question, self._known[single.name])

    def _best_single(self) -> CutAsked | None:
        holding = [cut for cut in self._cuts if self._known[cut.name].placed]
        return min(holding, key=lambda cut: self._rank((cut,)), default=None)

    def _is_proved(self, chosen: tuple[CutAsked, ...]) -> bool:
        """True when nothing cheaper, several cuts or a single one, was left open."""
        cheaper = (cut for cut in self._cuts if self._cost((cut,)) < self._cost(chosen) - EXACT_MM)
        return not self._open and all(self._known[cut.name].verdict != "not found" for cut in cheaper)

    def _lists(self, single: CutAsked | None) -> Iterator[tuple[CutAsked, ...]]:
        """Every list of two cuts or more that costs less than the best single one and has area enough."""
        limit = math.inf if single is None else self._cost((single,)) - EXACT_MM
        if not all(_is_plain(cut.question) for cut in self._cuts):
            return
        looked_at = 0
        for of in dict.fromkeys(cut.of for cut in self._cuts):
            group = [cut for cut in self._cuts if cut.of in ("", of) and (of or not cut.of)]
            for count in range(2, self._most + 1):
                for chosen in combinations_with_replacement(group, count):
                    looked_at += 1
                    if looked_at > _MOST_LISTS:
                        self._open = True
                        return
                    if self._is_worth(chosen, of, limit):
                        yield chosen

    def _is_worth(self, chosen: tuple[CutAsked, ...], of: str, limit: float) -> bool:
        """Cheaper, large enough, not looked at in another group, and not more than one cut of it is enough for."""
        mixed = not of or any(cut.of for cut in chosen)
        enough = any(self._known[cut.name].placed for cut in chosen)
        area = math.fsum(cut.width_mm * cut.length_mm for cut in chosen)
        return mixed and not enough and self._need_mm2 <= area + EXACT_MM and self._cost(chosen) < limit

    def _cost(self, chosen: tuple[CutAsked, ...]) -> float:
        if self._by_price:
            return math.fsum(cut.price or 0.0 for cut in chosen)
        return math.fsum(cut.width_mm * cut.length_mm for cut in chosen)

    def _rank(self, chosen: tuple[CutAsked, ...]) -> tuple[float, int, float]:
        return self._cost(chosen), len(chosen), math.fsum(cut.width_mm * cut.length_mm for cut in chosen)

    def _bundle(self, chosen: tuple[CutAsked, ...], question: Question, answer: Answer) -> Bundle:
        prices = [cut.price for cut in chosen]
        return Bundle(
            cuts=tuple(cut.name for cut in chosen),
            price=math.fsum(price or 0.0 for price in prices) if None not in prices else None,
            area_mm2=math.fsum(cut.width_mm * cut.length_mm for cut in chosen),
            verdict=answer.verdict,
            proved=self._is_proved(chosen),
            question=question,
            answer=answer,
        )


def together(chosen: Sequence[CutAsked]) -> Question:
    """The job on all these cuts, each a cloth of its own."""
    named = [_named(cut.question.cloths[0], number) for number, cut in enumerate(chosen, 1)]
    smaller = [
        _named(cut.question.cloths_if_smaller[0], number)
        for number, cut in enumerate(chosen, 1)
        if cut.question.cloths_if_smaller
    ]
    return replace(chosen[0].question, cloths=tuple(named), cloths_if_smaller=tuple(smaller))


def _named(cloth: ClothAsked, number: int) -> ClothAsked:
    grounds = tuple(replace(ground, id=f"{ground.id}-{number}") for ground in cloth.grounds)
    return replace(cloth, id=f"{cloth.id}-{number}", grounds=grounds)


def _is_plain(question: Question) -> bool:
    """True for a job on one cut alone whose pieces may come from any cloth, wherever its print falls."""
    anywhere = not any(piece.cloth_ids or piece.ground_ids for piece in question.pieces)
    alone = len(question.cloths) == 1 and not question.cloths[0].fixed
    return alone and anywhere and not origin_matters(question)
