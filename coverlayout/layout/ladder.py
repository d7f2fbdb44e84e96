"""The ladder of cuts: each with its verdict, least first, and the least to buy."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.errors import Remark
from coverlayout.geometry.shapes import is_rectangle
from coverlayout.geometry.tolerance import EXACT_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.lay import lay
from coverlayout.layout.question import ClothAsked, CutAsked, Question, Watch, never

__all__ = ["Ladder", "Rung", "climb"]

# One rung may take this many steps at most: a ladder has fifty of them.
_STEPS_A_RUNG = 8_000


@dataclass(frozen=True)
class Rung:
    """A cut with its verdict; `spare_mm` and `answer` as in Answer."""

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
    """All rungs, least first; the names of the first that fits at all and of the first that fits with room, or None."""

    rungs: tuple[Rung, ...]
    least: str | None
    least_with_room: str | None


def climb(cuts: Iterable[CutAsked], watch: Watch = never) -> Ladder:
    """Every cut with its verdict, least first: by price where all are known, else by area.

    A cut that lies within another, one way up like the other, cannot hold what the other cannot: that is used only as
    the proof it is. When `watch` stops the climb, the cuts not reached are `not found` and their answers `cut_short`.
    """
    ranked = _least_first(tuple(cuts))
    answers: dict[int, Answer] = {}
    stopped = False

    def watch_rung(share_done: float) -> bool:
        nonlocal stopped
        stopped = stopped or watch((len(answers) + share_done) / len(ranked))
        return stopped

    for number, cut in enumerate(ranked):
        if stopped or watch_rung(0.0):
            break
        asked = replace(cut.question, steps=min(cut.question.steps, _STEPS_A_RUNG))
        answers[number] = lay(asked, watch_rung)
    for number, cut in enumerate(ranked):
        answers.setdefault(number, _not_reached(cut.question))
    rungs = tuple(_rung(cut, _told_by_others(ranked, answers, number)) for number, cut in enumerate(ranked))
    holding = [rung.name for rung in rungs if rung.verdict in ("fits", "fits, tight")]
    roomy = [rung.name for rung in rungs if rung.verdict == "fits"]
    return Ladder(rungs, next(iter(holding), None), next(iter(roomy), None))


def _least_first(cuts: tuple[CutAsked, ...]) -> list[CutAsked]:
    by_price = all(cut.price is not None for cut in cuts)
    return sorted(cuts, key=lambda cut: (cut.price or 0.0 if by_price else 0.0, cut.width_mm * cut.length_mm))


def _not_reached(question: Question) -> Answer:
    reason = Remark.of("lay-not-found-yet")
    return Answer("not found", False, reason, cut_short=True, question_number=question.number)


def _rung(cut: CutAsked, answer: Answer) -> Rung:
    figures = cut.name, cut.width_mm, cut.length_mm, cut.price
    return Rung(*figures, answer.verdict, answer.proved, answer.spare_mm, answer)


def _told_by_others(ranked: list[CutAsked], answers: dict[int, Answer], number: int) -> Answer:
    """The rung's own answer, or where that is open the no of a cut that has it inside."""
    own = answers[number]
    if own.verdict != "not found":
        return own
    for other, answer in answers.items():
        if answer.verdict == "does not fit" and _lies_within(ranked[number].question, ranked[other].question):
            reason = Remark.of("lay-no-larger", name=ranked[other].name)
            return replace(answer, reason=reason, question_number=own.question_number)
    return own


def _lies_within(small: Question, large: Question) -> bool:
    """True when any layout of the small question is one of the large: the same job on cloths that lie within."""
    locked = any(lock.must for lock in large.locks) or any(link.must for link in large.links)
    if locked or small.pieces != large.pieces or small.gap_mm < large.gap_mm:
        return False
    same_many = len(small.cloths) == len(large.cloths)
    return same_many and all(map(_cloth_within, small.cloths, large.cloths))


def _cloth_within(small: ClothAsked, large: ClothAsked) -> bool:
    if small == large:
        return True
    if small.id != large.id or len(small.grounds) != 1 or len(large.grounds) != 1:
        return False
    inner, outer = small.grounds[0], large.grounds[0]
    alike = inner.id == outer.id and inner.print_id == outer.print_id
    return (
        alike
        and abs(inner.up_deg - outer.up_deg) <= SAME_TURN_DEG
        and not (large.keep_outs or large.fixed)
        and _is_plain(large)
        and inner.usable.bounds.width_mm <= outer.usable.bounds.width_mm + EXACT_MM
        and inner.usable.bounds.height_mm <= outer.usable.bounds.height_mm + EXACT_MM
    )


def _is_plain(cloth: ClothAsked) -> bool:
    """True when the cloth's one ground is an upright rectangle."""
    parts = cloth.grounds[0].usable.parts()
    return len(parts) == 1 and not parts[0][1] and is_rectangle(parts[0][0])
