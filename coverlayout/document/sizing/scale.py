"""At what scale of the print the wishes can be met: scales worth ordering, each tried, the best first."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from coverlayout.cloth.cuts import Cut
from coverlayout.document.asking.grounds import prints_lying
from coverlayout.document.project import Project
from coverlayout.document.questions import ladder_for, planned_pieces, question_for
from coverlayout.document.sizing.print_scales import SCALES_PERCENT, at_scale
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.ladder import climb
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.sizing.rooms import quick_answer
from coverlayout.layout.wishes.wish import as_must, wishes_of, with_wishes

__all__ = ["ScaleAsked", "ScaleTried", "ScalesTried", "print_scales"]

# Steps for one scale, and rooms asked for at it: fifty of them must not take long.
_STEPS, _TRIES = 1_500, 4
# So many of the best scales are laid in earnest, with so many steps, and the least cut is looked for where all prices
# are known.
_BEST, _STEPS_CLOSELY = 3, 8_000
# Rooms that a maker reads alike are alike: they are shown to half a millimetre, downward.
_READ_MM = 0.5
# Share of the work that is trying the scales; the rest is prices.
_TRYING = 0.8


@dataclass(frozen=True)
class ScaleAsked:
    """The scales to try for a project's prints, in percent; `cuts` is the ladder to price the best of them by."""

    project: Project
    scales_percent: tuple[float, ...] = SCALES_PERCENT
    cuts: tuple[Cut, ...] | None = None
    file: str = "the project"


@dataclass(frozen=True)
class ScaleTried:
    """One scale: the verdict with every must met, the most room found, how many wishes hold in its layout.

    `least_cut` and `price` are what would have to be bought at this scale, where prices are known and it is one of the
    best; else None.
    """

    scale_percent: float
    verdict: Verdict
    spare_mm: float | None
    wishes_met: int
    answer: Answer
    least_cut: str | None = None
    price: float | None = None


@dataclass(frozen=True)
class ScalesTried:
    """All scales, the best first; `best_percent` None when nothing fits at any; `wishes` there are in all."""

    tried: tuple[ScaleTried, ...]
    best_percent: float | None
    wishes: int
    notes: tuple[Remark, ...] = ()
    cut_short: bool = False


def print_scales(asked: ScaleAsked, watch: Watch = never) -> ScalesTried:
    """Every scale tried. Best are those that fit and meet most wishes, then have most room, then lie nearest 100 %.

    All prints are scaled alike; cloth counts as printed to order, so that where a print begins is known. BadInput: no
    cloth, nothing to lay, no print on any cloth. When `watch` stops it, scales not reached are `not found`.
    """
    project = asked.project
    if not project.cloths:
        raise BadInput("cloth-needed", file=asked.file)
    if not planned_pieces(project):
        raise BadInput("nothing-to-lay", file=asked.file)
    if not any(laid is not None for cloth in project.cloths for laid in prints_lying(cloth)):
        raise BadInput("scale-nothing", file=asked.file)
    row = _Row(asked, watch)
    tried = sorted((row.tried(percent) for percent in asked.scales_percent), key=_worse)
    fitting = [one for one in tried if one.answer.placed]
    if fitting:
        tried[:_BEST] = sorted((row.priced(row.looked_at_closely(one)) for one in tried[:_BEST]), key=_worse)
        fitting = [one for one in tried if one.answer.placed]
    return ScalesTried(
        tuple(tried),
        fitting[0].scale_percent if fitting else None,
        len(project.wishes),
        tuple(_notes(project)),
        row.stopped,
    )


def _worse(one: ScaleTried) -> tuple[object, ...]:
    """Sorts the better first."""
    known = ("fits", "fits, tight", "not found", "does not fit").index(one.verdict)
    room = 0 if one.spare_mm is None else math.floor((one.spare_mm + SAME_LENGTH_MM) / _READ_MM)
    return max(known, 1), -one.wishes_met, -room, abs(one.scale_percent - 100.0), one.scale_percent


def _notes(project: Project) -> Iterable[Remark]:
    if not project.wishes:
        yield Remark.of("scale-no-wish")
    laid = [laid for cloth in project.cloths for laid in prints_lying(cloth) if laid is not None]
    if any(not one.origin_known for one in laid):
        yield Remark.of("scale-to-order")


class _Row:
    """The scales one after another; what does not depend on the scale is asked once."""

    def __init__(self, asked: ScaleAsked, watch: Watch) -> None:
        self._asked, self._watch = asked, watch
        self._done, self._share = 0, 0.0
        self._known: Answer | None = None
        self.stopped = False

    def tried(self, percent: float) -> ScaleTried:
        """One scale, decided and with its room."""
        self._share = _TRYING * self._done / len(self._asked.scales_percent)
        self._done += 1
        question = question_for(at_scale(self._asked.project, percent))
        if self._look(0.0):
            reason = Remark.of("lay-not-found-yet")
            return ScaleTried(percent, "not found", None, 0, Answer("not found", False, reason, cut_short=True))
        answer = self._known or self._with_all_wishes(question)
        if not question.locks and not question.links:
            self._known = answer
        return ScaleTried(percent, answer.verdict, answer.spare_mm, _wishes_met(question, answer), answer)

    def _with_all_wishes(self, question: Question) -> Answer:
        """A quick answer that meets the wishes that are no musts as well, where they can all be met."""
        preferred = wishes_of(question, must=False)
        if preferred:
            all_musts = with_wishes(question, (*wishes_of(question, must=True), *map(as_must, preferred)))
            answer = quick_answer(all_musts, self._look, steps=_STEPS, tries=_TRIES)
            if answer.placed:
                return answer
        return quick_answer(question, self._look, steps=_STEPS, tries=_TRIES)

    def looked_at_closely(self, one: ScaleTried) -> ScaleTried:
        """The scale laid in earnest, for its most room; as it is where that finds no more."""
        if not one.answer.placed or self._look(0.0):
            return one
        question = question_for(at_scale(self._asked.project, one.scale_percent), steps=_STEPS_CLOSELY)
        answer = lay(question, self._look)
        met = _wishes_met(question, answer)
        if not answer.placed or (met, answer.spare_mm or 0.0) < (one.wishes_met, one.spare_mm or 0.0):
            return one
        return replace(one, verdict=answer.verdict, spare_mm=answer.spare_mm, wishes_met=met, answer=answer)

    def priced(self, one: ScaleTried) -> ScaleTried:
        """The scale with the least cut there is for it, where prices are known."""
        self._share = _TRYING
        project = at_scale(self._asked.project, one.scale_percent)
        ladder = ladder_for(project, self._asked.cuts)
        if self._look(0.0) or not one.answer.placed or not ladder or any(cut.price is None for cut in ladder):
            return one
        rungs = climb(ladder, self._look, together=False)
        least = next((rung for rung in rungs.rungs if rung.name == rungs.least), None)
        return one if least is None else replace(one, least_cut=least.name, price=least.price)

    def _look(self, _share_done: float) -> bool:
        self.stopped = self.stopped or self._watch(self._share)
        return self.stopped


def _wishes_met(question: Question, answer: Answer) -> int:
    """How many of the locks and links hold in the layout, must or not."""
    if not answer.placed:
        return 0
    met = 0
    for lock in question.locks:
        alone = replace(question, locks=(replace(lock, must=True),), links=())
        met += not Judge(alone).report(answer.placed).breaches
    for link in question.links:
        alone = replace(question, locks=(), links=(replace(link, must=True),))
        met += not Judge(alone).report(answer.placed).breaches
    return met
