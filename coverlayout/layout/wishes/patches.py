"""All the places where a print may fall, whole repeats aside, as patches that can be halved."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.geometry.frames import Point
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.motif.lattice import Lattice

__all__ = ["Patch", "every_place"]

# Straight repeats are looked for among so many times the two shortest vectors.
_MOST_TIMES = 12


@dataclass(frozen=True)
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

    def lines(self) -> tuple[Patch, Patch]:
        """The two lines through the middle, along one side and along the other."""
        (x, y), (ax, ay), (bx, by) = self.corner_mm, self.side_mm, self.other_side_mm
        return Patch((x + bx / 2, y + by / 2), (ax, ay)), Patch((x + ax / 2, y + ay / 2), (0.0, 0.0), (bx, by))

    def halves(self, *, of_other: bool | None = None) -> tuple[Patch, Patch]:
        """Two patches side by side that are this one together: one side is halved, or the other, or the longer one.

        >>> [half.corner_mm for half in Patch((0.0, 0.0), (60.0, 0.0), (0.0, 40.0)).halves()]
        [(0.0, 0.0), (30.0, 0.0)]
        """
        a, b = self.side_mm, self.other_side_mm
        if of_other is None:
            of_other = a[0] ** 2 + a[1] ** 2 < b[0] ** 2 + b[1] ** 2
        if of_other:
            a, b = b, a
        half, share = (a[0] / 2, a[1] / 2), self.share / 2
        beyond = self.corner_mm[0] + half[0], self.corner_mm[1] + half[1]
        return Patch(self.corner_mm, half, b, share), Patch(beyond, half, b, share)


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
