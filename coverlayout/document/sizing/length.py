"""The least length to have cut off a bolt for the whole job; one length for each print that is needed."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from coverlayout.document.asking.narrowing import narrowed
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.document.sizing.bolts import Bolt, bolts_for
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Placed, Question, Watch, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.strips.least_length import least_length
from coverlayout.layout.verdicts import answer_of

__all__ = ["BoltLength", "LeastLength", "LengthAsked", "least_length_off_bolt"]


@dataclass(frozen=True)
class LengthAsked:
    """The least length of a bolt `width_mm` wide; None: as wide as the project's first cloth."""

    project: Project
    width_mm: float | None = None
    file: str = "the project"


@dataclass(frozen=True)
class BoltLength:
    """What to have cut off one bolt: the length before any change in size, in mm, None when the pieces do not fit.

    `bound_mm`: the longest length shown impossible. `project` has this bolt, of that length, as its only cloth.
    """

    print_name: str
    width_mm: float
    length_mm: float | None
    proved: bool
    bound_mm: float | None
    project: Project
    answer: Answer


@dataclass(frozen=True)
class LeastLength:
    """All bolts of the job; sums over them, None where a length or a bound is not known."""

    bolts: tuple[BoltLength, ...]
    notes: tuple[Remark, ...] = ()
    cut_short: bool = False

    @property
    def length_mm(self) -> float | None:
        """The lengths together."""
        return _sum([bolt.length_mm for bolt in self.bolts])

    @property
    def bound_mm(self) -> float | None:
        """The bounds together: less than this cannot be."""
        return _sum([bolt.bound_mm for bolt in self.bolts])

    @property
    def proved(self) -> bool:
        """True when each length is proved the least; of a no, when that is."""
        if self.length_mm is None:
            return any(bolt.length_mm is None and bolt.proved for bolt in self.bolts)
        return all(bolt.proved for bolt in self.bolts)


def least_length_off_bolt(asked: LengthAsked, watch: Watch = never) -> LeastLength:
    """The least length for every piece still to cut. BadInput: nothing to lay, or neither a width nor a cloth."""
    project = asked.project
    planned = planned_pieces(project)
    if not planned:
        raise BadInput("nothing-to-lay", file=asked.file)
    if asked.width_mm is None and not project.cloths:
        raise BadInput("length-width-needed", file=asked.file)
    bolts = bolts_for(project, planned, asked.width_mm)
    found, cut_short = [], False
    for number, bolt in enumerate(bolts):
        one, short = _one(bolt, _part(watch, number, len(bolts)))
        found.append(one)
        cut_short = cut_short or short
    return LeastLength(tuple(found), tuple(_notes(bolts)), cut_short)


def _part(watch: Watch, number: int, count: int) -> Watch:
    return lambda share: watch((number + share) / count)


def _one(bolt: Bolt, watch: Watch) -> tuple[BoltLength, bool]:
    question = replace(narrowed(question_for(bolt.project), bolt.pieces), cloths_if_smaller=())
    found = least_length(question, watch)
    cloth, length_mm = bolt.project.cloths[0], _times(found.length_mm, bolt.bought_factor)
    if length_mm is None:
        answer = first_layout(question, watch)
        refused = answer.verdict == "does not fit"
        one = BoltLength(bolt.print_name, cloth.width_mm, None, refused, None, bolt.project, answer)
        return one, found.cut_short or answer.cut_short
    made = bolt.project
    if cloth.outline_mm is None:
        made = made.with_cloth(replace(cloth, length_mm=length_mm))
    bound_mm = _times(found.bound_mm, bolt.bought_factor)
    answer = _answer(narrowed(question_for(made), bolt.pieces), found.placed)
    return BoltLength(bolt.print_name, cloth.width_mm, length_mm, found.proved, bound_mm, made, answer), found.cut_short


def _answer(question: Question, placed: tuple[Placed, ...]) -> Answer:
    """The layout as an answer, on the bolt of the length found: nothing is looked for any more."""
    report = Judge(question).report(placed)
    return answer_of(question, shown=(placed, report), spare_mm=report.clearance_mm, spare_proved=False, proof=None)


def _times(length_mm: float | None, factor: float) -> float | None:
    return None if length_mm is None else length_mm * factor


def _sum(lengths_mm: list[float | None]) -> float | None:
    known = [length_mm for length_mm in lengths_mm if length_mm is not None]
    return math.fsum(known) if len(known) == len(lengths_mm) else None


def _notes(bolts: tuple[Bolt, ...]) -> list[Remark]:
    """What is not in the length: the doubt about cloth to buy."""
    doubts = {cloth.doubt for bolt in bolts for cloth in bolt.project.cloths if cloth.doubt}
    return [Remark.of("length-in-doubt", percent=f"{max(doubts):g}")] if doubts else []
