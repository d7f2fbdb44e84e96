"""Whether a job can be laid wherever a print falls: one repeat covered with patches, each with a layout for all of it.

A layout holds for a patch when it holds with the pieces that move as large as all they cover while the print is
anywhere in the patch; those pieces keep their places among each other. A patch is refused when there is no layout even
with these pieces only as large as what they cover always.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field, replace

from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer, Breach
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.layout.rules import Judge
from coverlayout.layout.wishes.falling import Falling, grown, movers, shifted, shrunk, with_origin
from coverlayout.layout.wishes.patches import Patch
from coverlayout.layout.wishes.wish import Decide, fits

__all__ = ["Covered", "Covering", "cover"]

# A patch is not halved below this share of all places: a 64 mm repeat's patches are then 1 mm.
_SMALLEST_SHARE = 1 / 4096
# The last layouts found are tried on a patch before a new one is looked for.
_LAYOUTS_TRIED = 6


@dataclass(frozen=True)
class Covered:
    """A patch with the layout for a print in its middle; what moves moves with the print."""

    patch: Patch
    placed: tuple[Placed, ...]


@dataclass
class Covering:
    """What is known: covered patches, the share of places surely lost, and the no of one place, where there is one."""

    covered: list[Covered] = field(default_factory=list)
    refused_share: float = 0.0
    refusal: Answer | None = None
    left_open: int = 0
    cut_short: bool = False

    @property
    def covered_share(self) -> float:
        """The share of places with a layout."""
        return sum(one.patch.share for one in self.covered)

    @property
    def everywhere(self) -> bool:
        """True when every place has its layout."""
        return not self.left_open and not self.refused_share and not self.cut_short and self.refusal is None


def cover(
    question: Question,
    falling: Falling,
    whole: Patch,
    decide: Decide,
    watch: Watch,
    *,
    decisions: int,
    known_to: float | None = None,
) -> Covering:
    """Cover all places with layouts, largest patches first, with at most so many decisions.

    `known_to` None: only whether it holds everywhere is asked, and the first place that is refused ends the work; else
    it goes on until the share of places is known that well.
    """
    return _Cover(question, falling, decide, watch, decisions).run(whole, known_to)


class _Cover:
    """One covering under way."""

    def __init__(self, question: Question, falling: Falling, decide: Decide, watch: Watch, decisions: int) -> None:
        self._question, self._falling, self._decide, self._watch = question, falling, decide, watch
        self._decisions, self._left = decisions, decisions
        self._moving = movers(question)
        self._found = Covering()

    def run(self, whole: Patch, known_to: float | None) -> Covering:
        """Patch by patch, until all are settled, enough is known, or the decisions are used up."""
        patches = deque([whole])
        while patches:
            if self._watch(1.0 - self._left / self._decisions):
                self._found.cut_short = True
                break
            unknown = 1.0 - self._found.covered_share - self._found.refused_share
            enough = known_to is None and (self._found.refusal is not None or self._found.left_open > 0)
            if enough or self._left <= 0 or (known_to is not None and self._found.refusal and unknown <= known_to):
                break
            patch = patches.popleft()
            halves = self._settle(patch)
            if halves and halves[0].share < _SMALLEST_SHARE:
                self._found.left_open += 1
            else:
                patches.extend(halves)
        self._found.left_open += len(patches)
        return self._found

    def _ask(self, question: Question) -> Answer:
        self._left -= 1
        return self._decide(question)

    def _settle(self, patch: Patch) -> tuple[Patch, ...]:
        """Nothing where one layout holds for the whole patch or the whole patch is refused, else its halves."""
        here = with_origin(self._question, self._falling, patch.middle_mm)
        swept = grown(here, self._moving, patch.reach_mm)
        holds = _Holds(here, swept, self._moving)
        for known in reversed(self._found.covered[-_LAYOUTS_TRIED:]):
            by_mm = _from(known.patch.middle_mm, patch.middle_mm)
            if self._keep(holds, patch, shifted(known.placed, self._moving, self._falling.cloth_id, by_mm)):
                return ()
        answer = self._ask(here)
        if fits(answer):
            if self._covered_from(holds, patch, here, swept, answer.placed):
                return ()
            return patch.halves(of_other=self._longer_holds(patch, here, answer.placed))
        if answer.verdict == "does not fit":
            self._found.refusal = self._found.refusal or answer
            if self._refused(here, patch):
                self._found.refused_share += patch.share
                return ()
            if patch.share < 1.0:
                return patch.halves(of_other=self._longer_refused(patch, here))
        return patch.halves()

    def _longer_holds(self, patch: Patch, here: Question, placed: tuple[Placed, ...]) -> bool | None:
        """True when it is the other side that a layout does not hold along, False when it is the one side."""
        for of_other, line in zip((True, False), patch.lines(), strict=True):
            if _Holds(here, grown(here, self._moving, line.reach_mm), self._moving).everywhere(placed):
                return of_other
        return None

    def _longer_refused(self, patch: Patch, here: Question) -> bool | None:
        """True when it is the other side along which there are layouts, False when it is the one side."""
        for of_other, line in zip((True, False), patch.lines(), strict=True):
            if self._refused(here, line):
                return of_other
        return None

    def _refused(self, here: Question, patch: Patch) -> bool:
        """True when every place of the patch is refused."""
        least = shrunk(here, self._moving, patch.reach_mm)
        return least is not None and self._ask(least).verdict == "does not fit"

    def _covered_from(
        self, holds: _Holds, patch: Patch, here: Question, swept: Question, placed: tuple[Placed, ...]
    ) -> bool:
        """The layout of the middle itself, one with the pieces grown, or the rest laid anew around those that move."""
        return (
            self._keep(holds, patch, placed)
            or self._keep(holds, patch, self._ask(swept).placed)
            or self._keep(holds, patch, self._around(swept, here, placed))
        )

    def _around(self, swept: Question, here: Question, placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
        """Everything else laid around the moving pieces where they lie; nothing when there is no such layout."""
        lies = {one.piece: one for one in placed}
        moving = [(piece, lies[piece.id]) for piece in swept.pieces if piece.id in self._moving]
        if len(moving) == len(swept.pieces):
            return ()
        cloths = tuple(
            replace(cloth, fixed=(*cloth.fixed, *(one for one in moving if one[1].cloth == cloth.id)))
            for cloth in here.cloths
        )
        rest = replace(
            here,
            pieces=tuple(piece for piece in here.pieces if piece.id not in self._moving),
            locks=(),
            links=tuple(link for link in here.links if not self._moving & set(link.pieces)),
            cloths=cloths,
        )
        found = self._ask(rest).placed
        return (*found, *(one for _, one in moving)) if found else ()

    def _keep(self, holds: _Holds, patch: Patch, placed: tuple[Placed, ...]) -> bool:
        """Take a layout for a patch when it holds there; True when it does."""
        if not placed or not holds.everywhere(placed):
            return False
        self._found.covered.append(Covered(patch, placed))
        return True


class _Holds:
    """Whether layouts hold for all of one patch, as the judge sees it."""

    def __init__(self, here: Question, swept: Question, moving: frozenset[str]) -> None:
        self._here, self._swept, self._moving = Judge(here), Judge(swept), moving

    def everywhere(self, placed: tuple[Placed, ...]) -> bool:
        """Valid with the print in the middle, and nothing in the way of what moves, itself left aside."""
        report = self._here.report(placed)
        if report.breaches or report.waiting:
            return False
        return all(self._among_moving(breach) for breach in self._swept.report(placed).breaches)

    def _among_moving(self, breach: Breach) -> bool:
        among = len(breach.pieces) == 2 and self._moving.issuperset(breach.pieces)
        return among and breach.rule in ("overlap", "gap")


def _from(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]
