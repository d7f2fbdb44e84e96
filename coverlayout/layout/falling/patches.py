"""All the places where a print may fall, whole repeats aside, as patches that can be halved."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.motif.lattice import Lattice

__all__ = ["Patch", "Window", "every_place"]

# Straight repeats are looked for among so many times the two shortest vectors.
_MOST_TIMES = 12


@dataclass(frozen=True)
class Window:
    """An upright rectangle of shifts, mm on the cloth, edges included."""

    low_mm: Point
    high_mm: Point

    @classmethod
    def around(cls, at_mm: Point, reach_mm: Point) -> Window:
        """The shifts up to `reach_mm` either way from one."""
        (x, y), (across, along) = at_mm, reach_mm
        return cls((x - across, y - along), (x + across, y + along))

    def inset(self, by_mm: float) -> Window:
        """The window without its edge; across or along nothing but the middle is left where that is all."""
        across, along = (max(reach - by_mm, 0.0) for reach in self.reach_mm)
        return Window.around(self.middle_mm, (across, along))

    @property
    def middle_mm(self) -> Point:
        """The shift in the middle."""
        return (self.low_mm[0] + self.high_mm[0]) / 2, (self.low_mm[1] + self.high_mm[1]) / 2

    @property
    def reach_mm(self) -> Point:
        """How far across and along its edges are from the middle."""
        return (self.high_mm[0] - self.low_mm[0]) / 2, (self.high_mm[1] - self.low_mm[1]) / 2


@dataclass(frozen=True, order=True)
class Patch:
    """Shifts of a print's origin, in mm on the cloth: `corner_mm` and up to two sides from there.

    `share` is the part of all places that the patch holds.
    """

    corner_mm: Point
    side_mm: Point
    other_side_mm: Point = (0.0, 0.0)
    share: float = 1.0

    @property
    def middle_mm(self) -> Point:
        """The shift in the middle."""
        (x, y), (ax, ay), (bx, by) = self.corner_mm, self.side_mm, self.other_side_mm
        return x + (ax + bx) / 2, y + (ay + by) / 2

    @property
    def reach_mm(self) -> Point:
        """How far across and along any shift of the patch is from the middle, at most."""
        (ax, ay), (bx, by) = self.side_mm, self.other_side_mm
        return (abs(ax) + abs(bx)) / 2, (abs(ay) + abs(by)) / 2

    def at(self, across: float, along: float) -> Point:
        """The shift at so much of one side and of the other (0 to 1)."""
        (x, y), (ax, ay), (bx, by) = self.corner_mm, self.side_mm, self.other_side_mm
        return x + across * ax + along * bx, y + across * ay + along * by

    @property
    def upright(self) -> bool:
        """True when its sides are straight across and along, so that it has a window of its own."""
        return self.side_mm[0] >= 0.0 == self.side_mm[1] and self.other_side_mm[1] >= 0.0 == self.other_side_mm[0]

    @property
    def window(self) -> Window:
        """The shifts of an upright patch."""
        return Window(self.corner_mm, self.at(1.0, 1.0))

    def cut(self, by: Window) -> tuple[Patch | None, tuple[Patch, ...]]:
        """What of an upright patch lies in a window (None when nothing does), and the patches around that.

        >>> inside, around = Patch((0.0, 0.0), (60.0, 0.0), (0.0, 40.0)).cut(Window((20.0, 0.0), (90.0, 40.0)))
        >>> inside.corner_mm, inside.share, [one.side_mm for one in around]
        ((20.0, 0.0), 0.6666666666666666, [(20.0, 0.0)])
        """
        (left, top), (right, bottom) = self.corner_mm, self.at(1.0, 1.0)
        low = max(left, by.low_mm[0]), max(top, by.low_mm[1])
        high = min(right, by.high_mm[0]), min(bottom, by.high_mm[1])
        if not self.upright or low[0] > high[0] or low[1] > high[1]:
            return None, (self,)
        inside = self._part(*low, *high)
        if not inside.share:
            return None, (self,)
        beside = (self._part(left, top, low[0], bottom), self._part(high[0], top, right, bottom))
        across = (self._part(low[0], top, high[0], low[1]), self._part(low[0], high[1], high[0], bottom))
        # A line has nothing on the sides it has not.
        around = (*(beside if right > left else ()), *(across if bottom > top else ()))
        return inside, tuple(one for one in around if one.share)

    def _part(self, left: float, top: float, right: float, bottom: float) -> Patch:
        """The upright part between these; a side that has no length counts nothing."""
        share = self.share
        for length, whole in ((right - left, self.side_mm[0]), (bottom - top, self.other_side_mm[1])):
            share *= length / whole if whole else 1.0
        return Patch((left, top), (right - left, 0.0), (0.0, bottom - top), share)

    def halves(self) -> tuple[Patch, Patch]:
        """Two patches side by side that are this one together, cut across the longer side.

        >>> [half.corner_mm for half in Patch((0.0, 0.0), (60.0, 0.0), (0.0, 40.0)).halves()]
        [(0.0, 0.0), (30.0, 0.0)]
        """
        a, b = self.side_mm, self.other_side_mm
        across = a[0] ** 2 + a[1] ** 2 >= b[0] ** 2 + b[1] ** 2
        x, y = half = (a[0] / 2, a[1] / 2) if across else (b[0] / 2, b[1] / 2)
        sides = (half, b) if across else (a, half)
        beyond = self.corner_mm[0] + x, self.corner_mm[1] + y
        return Patch(self.corner_mm, *sides, self.share / 2), Patch(beyond, *sides, self.share / 2)


def every_place(lattice: Lattice) -> Patch:
    """One patch of all places where a print of this repeat may fall, each once; stripes fall only across themselves.

    An upright rectangle where the repeat has a straight vector, which half-drop, brick and straight repeats all have.

    >>> every_place(Lattice((64.0, 48.0), (0.0, 96.0)))
    Patch(corner_mm=(0.0, 0.0), side_mm=(64.0, 0.0), other_side_mm=(0.0, 96.0), share=1.0)
    """
    if lattice.b_mm is None:
        return Patch((0.0, 0.0), lattice.a_mm)
    short = lattice.reduced()
    times = range(-_MOST_TIMES, _MOST_TIMES + 1)
    vectors = [short.point(i, k) for i in times for k in times if (i, k) != (0, 0)]
    along = min((abs(y) for x, y in vectors if abs(x) < EXACT_MM), default=None)
    if along is not None:
        return Patch((0.0, 0.0), (lattice.cell_area_mm2 / along, 0.0), (0.0, along))
    across = min((abs(x) for x, y in vectors if abs(y) < EXACT_MM), default=None)
    if across is not None:
        return Patch((0.0, 0.0), (across, 0.0), (0.0, lattice.cell_area_mm2 / across))
    assert short.b_mm is not None, "stripes were answered above"
    return Patch((0.0, 0.0), short.a_mm, short.b_mm)
