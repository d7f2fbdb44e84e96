"""Whether a job can be laid wherever a print falls: one repeat covered with patches, each with a layout for all of it.

A layout holds for a patch when it holds with the pieces that move as large as all they cover while the print is
anywhere in the patch; those pieces keep their places among each other. A patch is refused when there is no layout even
with these pieces only as large as what they cover always.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field, replace

from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import LOCK_MM
from coverlayout.layout.answer import Answer
from coverlayout.layout.falling.patches import Patch, Window
from coverlayout.layout.falling.prints import Falling, grown, movers, shifted, shrunk, with_origin
from coverlayout.layout.falling.somewhere import fallen, somewhere
from coverlayout.layout.falling.sweeping import holds_in, window_of
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.layout.wishes.wish import Decide, fits

__all__ = ["Covered", "Covering", "cover"]

# A patch is not halved below this share of all places: a 64 mm repeat's patches are then 1 mm.
_SMALLEST_SHARE = 1 / 4096
# The edge of a patch is not asked about once there are layouts: what just holds there is one of the patch beside it,
# and a lock may be off by a little.
_EDGE_MM = 3 * LOCK_MM
# A question for all places of a patch is small, and gets no more steps than this.
_STEPS = 2_000
# Less of a patch than this is no place where a print could fall: dust of cutting.
_DUST_SHARE = 1e-9
# While it may hold everywhere, another layout is looked for where one holds for less of a patch than this.
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
    known_to_share: float | None = None,
) -> Covering:
    """Cover all places with layouts, largest patches first, with at most so many decisions.

    `known_to_share` None: only whether it holds everywhere is asked, and the first place that is refused ends the work;
    else it goes on until the share of places is known that well.
    """
    return _Cover(question, falling, decide, watch, decisions).run(whole, known_to_share)


class _Cover:
    """One covering under way."""

    def __init__(self, question: Question, falling: Falling, decide: Decide, watch: Watch, decisions: int) -> None:
        self._question, self._falling, self._decide, self._watch = question, falling, decide, watch
        self._decisions, self._left = decisions, decisions
        self._moving = movers(question)
        self._found = Covering()
        self._known: list[_Known] = []

    def run(self, whole: Patch, known_to_share: float | None) -> Covering:
        """Patch by patch, until all are settled, enough is known, or the decisions are used up."""
        # Largest first; equal ones from the left, then from the top.
        patches = [(-whole.share, whole.corner_mm, whole)]
        while patches:
            if self._watch(1.0 - self._left / self._decisions):
                self._found.cut_short = True
                break
            unknown = 1.0 - self._found.covered_share - self._found.refused_share
            enough = known_to_share is None and (self._found.refusal is not None or self._found.left_open > 0)
            if (
                enough
                or self._left <= 0
                or (known_to_share is not None and self._found.refusal and unknown <= known_to_share)
            ):
                break
            for part in self._settle(heapq.heappop(patches)[-1]):
                if part.share > _DUST_SHARE:
                    heapq.heappush(patches, (-part.share, part.corner_mm, part))
        self._found.left_open += len(patches)
        return self._found

    def _ask(self, question: Question) -> Answer:
        self._left -= 1
        return self._decide(question)

    def _settle(self, patch: Patch) -> tuple[Patch, ...]:
        """What of the patch is still to be settled: nothing, what lies around a layout's window, or its halves."""
        for known in self._known:
            if patch.upright and self._inside(patch, known) > _DUST_SHARE:
                return self._take(patch, known)
        here = with_origin(self._question, self._falling, patch.middle_mm)
        answer = self._ask(here)
        if fits(answer):
            return self._from_middle(patch, here, answer.placed)
        if answer.verdict == "does not fit":
            self._found.refusal = self._found.refusal or answer
            return self._elsewhere(patch, here)
        return self._halves(patch)

    def _elsewhere(self, patch: Patch, here: Question) -> tuple[Patch, ...]:
        """What is still to be settled of a patch that is refused in its middle."""
        inner = patch.window.inset(_EDGE_MM if self._known else 0.0)
        anywhere = somewhere(self._question, self._falling, inner) if patch.upright else None
        if anywhere is not None:
            # It has one piece more, and where it just fits at an edge it may take long without end.
            answer = self._ask(replace(anywhere, steps=min(anywhere.steps, _STEPS)))
            if fits(answer):
                return self._from_elsewhere(patch, *fallen(answer.placed))
            if answer.verdict == "does not fit":
                return self._lose(patch.cut(inner)[0])
        least = shrunk(here, self._moving, patch.reach_mm)
        if least is not None and self._ask(least).verdict == "does not fit":
            return self._lose(patch)
        return self._halves(patch)

    def _lose(self, patch: Patch | None) -> tuple[Patch, ...]:
        """Count a patch that is refused; nothing is left of it."""
        self._found.refused_share += 0.0 if patch is None else patch.share
        return ()

    def _halves(self, patch: Patch) -> tuple[Patch, ...]:
        """The halves of a patch, unless they are too small to go on with."""
        if patch.share < 2 * _SMALLEST_SHARE:
            self._found.left_open += 1
            return ()
        return patch.halves()

    def _from_middle(self, patch: Patch, here: Question, placed: tuple[Placed, ...]) -> tuple[Patch, ...]:
        """The patch without what a layout of its middle holds for: that one, or one made for the whole patch."""
        at = patch.middle_mm
        best = self._learnt(patch, at, placed)
        swept = grown(here, self._moving, patch.reach_mm)
        if self._inside(patch, best) < self._enough(patch):
            best = self._better(patch, best, self._learnt(patch, at, self._ask(swept).placed))
        if self._inside(patch, best) < self._enough(patch):
            best = self._better(patch, best, self._learnt(patch, at, self._around(swept, here, placed)))
        return self._without(patch, best)

    def _enough(self, patch: Patch) -> float:
        """A layout that holds for less is no great help where all places are to be covered; else every bit helps."""
        return _DUST_SHARE if self._found.refusal is not None else patch.share * _ENOUGH

    def _from_elsewhere(self, patch: Patch, at: Point, placed: tuple[Placed, ...]) -> tuple[Patch, ...]:
        """The patch, refused in its middle, without what a layout for another place in it holds for."""
        best = self._learnt(patch, at, placed)
        anew = self._ask(with_origin(self._question, self._falling, at)).placed
        return self._without(patch, self._better(patch, best, self._learnt(patch, at, anew)))

    def _without(self, patch: Patch, best: _Known | None) -> tuple[Patch, ...]:
        """The patch without what a layout holds for; halves when that is nothing."""
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

    def _learnt(self, patch: Patch, at: Point, placed: tuple[Placed, ...]) -> _Known | None:
        """A layout for one shift with its window, as the judge sees it; of a slanted patch all or nothing."""
        if not placed:
            return None
        here = with_origin(self._question, self._falling, at)
        if patch.upright:
            window = window_of(here, placed, self._moving, at)
            by_mm = window.middle_mm[0] - at[0], window.middle_mm[1] - at[1]
            moved = shifted(placed, self._moving, self._falling.cloth_id, by_mm)
            there = with_origin(self._question, self._falling, window.middle_mm)
            if holds_in(there, moved, self._moving, window.reach_mm):
                return _Known(window, window.middle_mm, moved)
        own = Window.around(at, patch.reach_mm)
        return _Known(own, at, placed) if holds_in(here, placed, self._moving, patch.reach_mm) else None

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
