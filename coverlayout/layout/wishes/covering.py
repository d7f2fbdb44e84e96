"""Whether a job can be laid wherever a print falls: one repeat covered with patches, each with a layout for all of it.

A layout holds for a patch when it holds with the pieces that move as large as all they cover while the print is
anywhere in the patch; those pieces keep their places among each other. A patch is refused when there is no layout even
with these pieces only as large as what they cover always.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field, replace

from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.layout.wishes.falling import Falling, grown, movers, shifted, shrunk, with_origin
from coverlayout.layout.wishes.patches import Patch, Window
from coverlayout.layout.wishes.sweeping import holds_in, window_of
from coverlayout.layout.wishes.wish import Decide, fits

__all__ = ["Covered", "Covering", "cover"]

# A patch is not halved below this share of all places: a 64 mm repeat's patches are then 1 mm.
_SMALLEST_SHARE = 1 / 4096
# Of a patch larger than this it is asked which way its places differ before it is halved.
_LARGE_SHARE = 1 / 64
# Less of a patch than this is no place where a print could fall: dust of cutting.
_DUST_SHARE = 1e-9
# A layout that holds for less of a patch than this share is no great help: another one is looked for.
_ENOUGH = 0.5


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


@dataclass(frozen=True)
class _Known:
    """A layout for one shift of the print, and the shifts it holds for with what moves moved along."""

    window: Window
    shift_mm: Point
    placed: tuple[Placed, ...]


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
        self._known: list[_Known] = []
        # The side that was halved last: the places that are refused mostly lie across one way.
        self._of_other = False

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
            patches.extend(part for part in self._settle(patches.popleft()) if part.share > _DUST_SHARE)
        self._found.left_open += len(patches)
        return self._found

    def _ask(self, question: Question) -> Answer:
        self._left -= 1
        return self._decide(question)

    def _settle(self, patch: Patch) -> tuple[Patch, ...]:
        """What of the patch is still to be settled: nothing, what lies around a layout's window, or its halves."""
        for known in self._known:
            if patch.cut(known.window)[0] is not None:
                return self._take(patch, known)
        here = with_origin(self._question, self._falling, patch.middle_mm)
        if self._found.refusal is not None and self._refused(here, patch):
            return ()
        answer = self._ask(here)
        if fits(answer):
            return self._from_layout(patch, here, answer.placed)
        if answer.verdict == "does not fit":
            if self._found.refusal is None:
                self._found.refusal = answer
                if self._refused(here, patch):
                    return ()
            if patch.share > _LARGE_SHARE:
                return self._halves(patch, of_other=self._longer_refused(patch, here))
        return self._halves(patch)

    def _halves(self, patch: Patch, *, of_other: bool | None = None) -> tuple[Patch, ...]:
        """The halves of a patch, unless they are too small to go on with."""
        if patch.share < 2 * _SMALLEST_SHARE:
            self._found.left_open += 1
            return ()
        return patch.halves(of_other=of_other)

    def _from_layout(self, patch: Patch, here: Question, placed: tuple[Placed, ...]) -> tuple[Patch, ...]:
        """The patch without what a layout of its middle holds for: that one, or one made for the whole patch."""
        best = self._learnt(patch, here, placed)
        swept = grown(here, self._moving, patch.reach_mm)
        if self._inside(patch, best) < patch.share * _ENOUGH:
            best = self._better(patch, best, self._learnt(patch, here, self._ask(swept).placed))
        if self._inside(patch, best) < patch.share * _ENOUGH:
            best = self._better(patch, best, self._learnt(patch, here, self._around(swept, here, placed)))
        if best is None or self._inside(patch, best) <= _DUST_SHARE:
            return self._halves(patch)
        self._known.append(best)
        return self._take(patch, best)

    def _better(self, patch: Patch, one: _Known | None, other: _Known | None) -> _Known | None:
        return other if self._inside(patch, other) > self._inside(patch, one) else one

    def _inside(self, patch: Patch, known: _Known | None) -> float:
        """The share of places of the patch that a layout holds for."""
        if known is None:
            return 0.0
        if not patch.upright:
            return patch.share
        inside = patch.cut(known.window)[0]
        return 0.0 if inside is None else inside.share

    def _learnt(self, patch: Patch, here: Question, placed: tuple[Placed, ...]) -> _Known | None:
        """The layout with its window, as the judge sees it; of a slanted patch all or nothing."""
        if not placed:
            return None
        at = patch.middle_mm
        if patch.upright:
            window = window_of(here, placed, self._moving, at)
            by_mm = window.middle_mm[0] - at[0], window.middle_mm[1] - at[1]
            moved = shifted(placed, self._moving, self._falling.cloth_id, by_mm)
            there = with_origin(self._question, self._falling, window.middle_mm)
            if holds_in(there, moved, self._moving, window.reach_mm):
                return _Known(window, window.middle_mm, moved)
        reach = patch.reach_mm
        own = Window((at[0] - reach[0], at[1] - reach[1]), (at[0] + reach[0], at[1] + reach[1]))
        return _Known(own, at, placed) if holds_in(here, placed, self._moving, reach) else None

    def _take(self, patch: Patch, known: _Known) -> tuple[Patch, ...]:
        """Keep the layout for what of the patch it holds for; the rest of the patch."""
        inside, rest = patch.cut(known.window) if patch.upright else (patch, ())
        if inside is not None:
            by_mm = inside.middle_mm[0] - known.shift_mm[0], inside.middle_mm[1] - known.shift_mm[1]
            placed = shifted(known.placed, self._moving, self._falling.cloth_id, by_mm)
            self._found.covered.append(Covered(inside, placed))
        return rest

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

    def _longer_refused(self, patch: Patch, here: Question) -> bool | None:
        """True when it is the other side along which there are layouts, False when it is the one side."""
        for of_other in (self._of_other, not self._of_other):
            if self._lost(here, patch.lines()[0 if of_other else 1]):
                self._of_other = of_other
                return of_other
        return None

    def _refused(self, here: Question, patch: Patch) -> bool:
        """True when every place of the patch is refused; its share is then counted."""
        lost = self._lost(here, patch)
        self._found.refused_share += patch.share if lost else 0.0
        return lost

    def _lost(self, here: Question, patch: Patch) -> bool:
        """True when there is no layout even with what moves only as large as what it covers always."""
        least = shrunk(here, self._moving, patch.reach_mm)
        return least is not None and self._ask(least).verdict == "does not fit"
