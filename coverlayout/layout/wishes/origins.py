"""A must that depends on where the print falls on cloth still to be had: fits wherever it falls, or for what share.

Where it fits not everywhere: how much longer a piece makes it sure.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Region, bounds, is_rectangle, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Verdict
from coverlayout.layout.falling.covering import Covered, Covering, cover
from coverlayout.layout.falling.patches import Patch, every_place
from coverlayout.layout.falling.prints import Falling, falling_prints, tied_to_what_lies, with_origin
from coverlayout.layout.proofs.bounds import quarrel, refuted
from coverlayout.layout.question import ClothAsked, Ground, Question, Watch, never, with_room
from coverlayout.layout.rules import Judge
from coverlayout.layout.verdicts import answer_of
from coverlayout.layout.wishes.wish import Decide, fits, grounds_for

__all__ = ["OriginsAnswer", "decided_everywhere", "every_origin", "origin_matters"]

# Decisions for the share of places, and for each of the yes-or-no questions after it.
_DECISIONS, _DECISIONS_AGAIN = 100, 80
# The share of places is told when it is known this well.
_SHARE_KNOWN = 0.05
# The room that can be had wherever the print falls is found in so many steps of halving, the longer piece to 1 mm.
_ROOM_HALVINGS = 3
_LONGER_MM = 1.0

_OPEN = Answer("not found", False, Remark.of("lay-not-found"))


@dataclass(frozen=True)
class OriginsAnswer:
    """The answer for every place where the print may fall.

    At least `least_share` and at most `most_share` of all places (0 to 1) have a layout; `layouts` are those found,
    each for a patch of places. `longer_mm`: so much more length makes it sure, None when that is not known or no length
    up to one repeat does. `example` is the question for the place that the answer's layout is for, None without one.
    """

    answer: Answer
    least_share: float
    most_share: float
    layouts: tuple[Covered, ...] = ()
    longer_mm: float | None = None
    example: Question | None = None

    @property
    def everywhere(self) -> bool:
        """True when it is proved to fit wherever the print falls."""
        return self.least_share >= 1.0


def origin_matters(question: Question) -> bool:
    """True when whether a must holds depends on where a print falls that is not known."""
    return bool(falling_prints(question))


def every_origin(question: Question, decide: Decide, watch: Watch = never) -> OriginsAnswer:
    """Whether the pieces can be laid wherever the prints of unknown origin fall, whole repeats aside.

    `decide` is asked about prints that are known to lie somewhere, a few hundred times at most. Where more than one
    cloth has such a print, the musts are met on one of them; a share then counts the best one and is no upper bound.
    A layout that needs no print of unknown origin is an answer for every place.
    """
    # What cannot be without any wish cannot be wherever the print falls.
    proof = quarrel(question) or refuted(replace(question, locks=(), links=()))
    if proof is not None:
        answer = answer_of(question, shown=None, spare_mm=None, spare_proved=False, proof=proof)
        return OriginsAnswer(answer, 0.0, 0.0)
    prints = falling_prints(question)
    if not prints or not question.pieces or not _only_there(question, prints):
        plain = decide(replace(question, cloths_if_smaller=()))
        if fits(plain) or not prints:
            share = 1.0 if fits(plain) else 0.0
            return OriginsAnswer(replace(plain, question_number=question.number), share, share)
    return _Everywhere(question, decide, watch).answer(prints)


def decided_everywhere(question: Question, decide: Decide, watch: Watch = never, *, decisions: int = 80) -> Answer:
    """Only whether the pieces can be laid wherever the prints fall: without share, room or longer piece.

    A yes carries the layout for one place, as that of `every_origin`; a no the proof for a place where it cannot be.
    """
    refusal = quarrel(question)
    prints = () if tied_to_what_lies(question) or refusal is not None else falling_prints(question)
    last = (
        _OPEN if refusal is None else answer_of(question, shown=None, spare_mm=None, spare_proved=False, proof=refusal)
    )
    for falling in prints:
        covering = cover(question, falling, _whole(question, falling), decide, watch, decisions=decisions)
        if covering.everywhere and covering.covered:
            return replace(_OPEN, verdict="fits", proved=True, placed=covering.covered[0].placed)
        if covering.refusal is not None and len(prints) == 1:
            last = covering.refusal
    return last


def _only_there(question: Question, prints: tuple[Falling, ...]) -> bool:
    """True when some lock can only be met where its place is not known, so that no other layout need be looked for."""
    locked = [grounds_for(question, lock.piece) for lock in question.locks if lock.must]
    return any(grounds and all(any(one.holds(*ground) for one in prints) for ground in grounds) for grounds in locked)


class _Everywhere:
    """One question under way."""

    def __init__(self, question: Question, decide: Decide, watch: Watch) -> None:
        self._question, self._decide, self._watch = question, decide, watch

    def answer(self, prints: tuple[Falling, ...]) -> OriginsAnswer:
        """The best of the prints: one that does everywhere, else the one that does most."""
        found: list[tuple[Falling, Covering]] = []
        for falling in () if tied_to_what_lies(self._question) else prints:
            covering = self._cover(self._question, falling, decisions=_DECISIONS, known_to_share=_SHARE_KNOWN)
            found.append((falling, covering))
            if covering.everywhere:
                return self._sure(falling, covering)
        if not found:
            return OriginsAnswer(self._answer("not found", Remark.of("lay-not-found")), 0.0, 1.0)
        falling, best = max(found, key=lambda pair: pair[1].covered_share)
        return self._partly(falling, best, several=len(prints) > 1)

    def _cover(
        self,
        question: Question,
        falling: Falling,
        *,
        decisions: int = _DECISIONS_AGAIN,
        known_to_share: float | None = None,
    ) -> Covering:
        whole = _whole(question, falling)
        return cover(
            question, falling, whole, self._decide, self._watch, decisions=decisions, known_to_share=known_to_share
        )

    def _sure(self, falling: Falling, covering: Covering) -> OriginsAnswer:
        """Everywhere: with as much room as can be shown everywhere, and on the smaller cloths if need be."""
        room_mm, roomiest = self._room(falling, covering)
        smaller = self._question.cloths_if_smaller
        lost = bool(smaller) and not self._cover(replace(self._question, cloths=smaller), falling).everywhere
        example = with_origin(self._question, falling, roomiest.covered[0].patch.middle_mm)
        report = Judge(example).report(roomiest.covered[0].placed)
        wish_mm = self._question.spare_wish_mm
        tight = room_mm < wish_mm - SAME_LENGTH_MM
        code = "origin-tight" if tight else "origin-tight-doubt" if lost else "origin-fits"
        x_mm, y_mm = _origin_of(example, falling)
        answer = replace(
            self._answer(
                "fits, tight" if tight or lost else "fits", Remark.of(code, spare_mm=room_mm, wish_mm=wish_mm)
            ),
            proved=True,
            notes=(
                *((Remark.of("lay-smaller-not-found"),) if lost else ()),
                Remark.of("origin-example", x_mm=x_mm, y_mm=y_mm),
            ),
            placed=roomiest.covered[0].placed,
            used_percent=report.used_percent,
            clearance_mm=report.clearance_mm,
            spare_mm=room_mm,
        )
        return OriginsAnswer(answer, 1.0, 1.0, tuple(roomiest.covered), example=example)

    def _room(self, falling: Falling, covering: Covering) -> tuple[float, Covering]:
        """The most room shown to be had wherever the print falls, up to the wish, and the layouts with it."""
        low_mm, high_mm, best = 0.0, self._question.spare_wish_mm, covering
        room_mm = high_mm
        for _ in range(_ROOM_HALVINGS + 1):
            if room_mm <= SAME_LENGTH_MM:
                break
            roomy = self._cover(with_room(self._question, room_mm), falling)
            if roomy.everywhere:
                low_mm, best = room_mm, roomy
            else:
                high_mm = room_mm
            room_mm = (low_mm + high_mm) / 2
            if low_mm >= high_mm:
                break
        return low_mm, best

    def _partly(self, falling: Falling, covering: Covering, *, several: bool) -> OriginsAnswer:
        """Not everywhere, or not known: the share, and the longer piece."""
        least, most = covering.covered_share, 1.0 if several else 1.0 - covering.refused_share
        refusal = covering.refusal
        never_so = most <= 0.0
        longer_mm = None if several or covering.cut_short else self._longer(falling)
        percent = {"least": f"{math.floor(100 * least)}", "most": f"{math.ceil(100 * most)}"}
        reason = Remark.of("origin-never") if never_so else Remark.of("origin-share", **percent)
        refused = refusal is not None and not several
        answer = replace(
            self._answer("does not fit" if refused else "not found", reason),
            proved=refused,
            proof=refusal.proof if refused and refusal is not None else None,
            notes=() if longer_mm is None else (Remark.of("origin-longer", longer_mm=longer_mm),),
            cut_short=covering.cut_short,
        )
        return OriginsAnswer(answer, least, most, tuple(covering.covered), longer_mm)

    def _longer(self, falling: Falling) -> float | None:
        """The least length more, in whole millimetres up to one repeat, that makes it fit wherever the print falls."""
        repeat_mm = 2 * _whole(self._question, falling).reach_mm[1]

        def sure(longer_mm: float) -> bool:
            longer = _lengthened(self._question, falling, longer_mm)
            return longer is not None and self._cover(longer, falling).everywhere

        return _least(sure, math.ceil(repeat_mm / _LONGER_MM))

    def _answer(self, verdict: Verdict, reason: Remark) -> Answer:
        return Answer(verdict, False, reason, question_number=self._question.number)


def _least(sure: Callable[[float], bool], most: int) -> float | None:
    """The least number of steps, 1 to `most`, that is enough, as a length; None when not even `most` are."""
    if most < 1 or not sure(most * _LONGER_MM):
        return None
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if sure(middle * _LONGER_MM) else (middle, high)
    return high * _LONGER_MM


def _whole(question: Question, falling: Falling) -> Patch:
    """All places of a print: its lattice is the same on all its grounds."""
    lattices = (ground.lattice_mm for cloth in question.cloths for ground in _its(falling, cloth))
    return next((every_place(lattice) for lattice in lattices if lattice is not None), Patch((0.0, 0.0), (0.0, 0.0)))


def _its(falling: Falling, cloth: ClothAsked) -> list[Ground]:
    return [ground for ground in cloth.grounds if falling.holds(cloth.id, ground)]


def _origin_of(example: Question, falling: Falling) -> Point:
    """Where the print's origin lies in the example, brought into the cloth's first repeat."""
    cloth = next(cloth for cloth in example.cloths if cloth.id == falling.cloth_id)
    ground = next(ground for ground in cloth.grounds if ground.print_to_cloth and ground.lattice_mm)
    assert ground.print_to_cloth is not None, "chosen for its print"
    assert ground.lattice_mm is not None, "chosen for its repeat"
    return ground.lattice_mm.place_in_repeat((ground.print_to_cloth.dx, ground.print_to_cloth.dy))


def _lengthened(question: Question, falling: Falling, longer_mm: float) -> Question | None:
    """The question with the print's cloth longer by so much; None for a cloth that is no rectangle."""
    cloth = next(cloth for cloth in question.cloths if cloth.id == falling.cloth_id)
    grounds: list[Ground] = []
    for ground in cloth.grounds:
        parts = ground.usable.parts()
        if len(cloth.grounds) > 1 or len(parts) != 1 or parts[0][1] or not is_rectangle(parts[0][0]):
            return None
        box = ground.usable.bounds
        longer = rectangle(box.width_mm, box.height_mm + longer_mm, box.left_mm, box.top_mm)
        grounds.append(replace(ground, usable=Region.of(longer)))
    box = bounds(cloth.outline_mm)
    outline = rectangle(box.width_mm, box.height_mm + longer_mm, box.left_mm, box.top_mm)
    longer_cloth = replace(cloth, outline_mm=outline, grounds=tuple(grounds))
    return replace(
        question, cloths=tuple(longer_cloth if one is cloth else one for one in question.cloths), cloths_if_smaller=()
    )
