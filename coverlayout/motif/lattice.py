"""Repeat vectors as a lattice: the cell's area, the same lattice under another basis, the place in the repeat."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Lattice"]


@dataclass(frozen=True)
class Lattice:
    """All points i a + k b for whole i, k; with `b_mm` None the print repeats along `a_mm` only (plain stripes).

    >>> half_drop = Lattice((120.0, 40.0), (0.0, 80.0))
    >>> half_drop.cell_area_mm2
    9600.0
    """

    a_mm: Point
    b_mm: Point | None = None

    def checked(self, *, where: str) -> Lattice:
        """This lattice, when its vectors are finite, long enough and independent; BadInput naming `where` otherwise."""
        vectors = [self.a_mm] if self.b_mm is None else [self.a_mm, self.b_mm]
        if not all(math.isfinite(number) for vector in vectors for number in vector):
            raise BadInput("repeat-not-finite", where=where)
        if min(math.hypot(*vector) for vector in vectors) <= SAME_LENGTH_MM:
            raise BadInput("repeat-too-small", where=where)
        # Of two vectors that point the same way, whole multiples taken off each other leave next to nothing.
        if self.b_mm is not None and math.hypot(*self.reduced().a_mm) <= SAME_LENGTH_MM:
            raise BadInput("repeat-one-direction", where=where)
        return self

    @property
    def cell_area_mm2(self) -> float:
        """Area of one repeat, |det(a, b)|; infinite for stripes, which have no cell.

        Source: the cell of a plane lattice, standard crystallography.
        """
        if self.b_mm is None:
            return math.inf
        return abs(self.a_mm[0] * self.b_mm[1] - self.a_mm[1] * self.b_mm[0])

    def mapped(self, by: Affine) -> Lattice:
        """The lattice seen in another frame: its vectors turned and stretched."""
        return Lattice(by.vector(self.a_mm), None if self.b_mm is None else by.vector(self.b_mm))

    def reduced(self) -> Lattice:
        """The same lattice with its two shortest vectors (Lagrange's reduction), shortest first."""
        if self.b_mm is None:
            return self
        a, b = sorted((self.a_mm, self.b_mm), key=lambda v: math.hypot(*v))
        while True:
            length2 = a[0] * a[0] + a[1] * a[1]
            steps = round((a[0] * b[0] + a[1] * b[1]) / length2) if length2 else 0
            b = (b[0] - steps * a[0], b[1] - steps * a[1])
            if b[0] * b[0] + b[1] * b[1] >= length2 * (1 - 1e-12):
                return Lattice(a, b)
            a, b = b, a

    def coordinates(self, vector: Point) -> Point:
        """A vector as (i, k) with vector = i a + k b; for stripes k counts nothing and is 0.

        >>> Lattice((120.0, 40.0), (0.0, 80.0)).coordinates((60.0, 60.0))
        (0.5, 0.5)
        """
        x, y = vector
        ax, ay = self.a_mm
        if self.b_mm is None:
            return (x * ax + y * ay) / (ax * ax + ay * ay), 0.0
        bx, by = self.b_mm
        det = ax * by - ay * bx
        return (x * by - y * bx) / det, (ax * y - ay * x) / det

    def spans_around(self, start: Point, box: Box) -> tuple[range, range]:
        """The whole numbers i and k between which every `start` + i a + k b lies that is in a box; not all of them are.

        Of stripes only i counts.

        >>> Lattice((120.0, 40.0), (0.0, 80.0)).spans_around((0.0, 0.0), Box(10.0, 0.0, 100.0, 60.0))
        (range(0, 2), range(-1, 2))
        """
        corners = [self.coordinates((x - start[0], y - start[1])) for x, y in box.ring()]
        across, along = (range(math.floor(min(n)), math.ceil(max(n)) + 1) for n in zip(*corners, strict=True))
        return across, along

    def point(self, across: float, along: float) -> Point:
        """The vector across a + along b (whole numbers give lattice points)."""
        bx, by = self.b_mm or (0.0, 0.0)
        return across * self.a_mm[0] + along * bx, across * self.a_mm[1] + along * by

    def place_in_repeat(self, vector: Point) -> Point:
        """The vector brought into the first cell: what is left after whole repeats are taken off, in mm.

        For stripes only the way across them counts: the answer lies on their one vector.

        >>> Lattice((50.0, 0.0), (0.0, 60.0)).place_in_repeat((120.0, -10.0))
        (20.0, 50.0)
        """
        i, k = self.coordinates(vector)
        if self.b_mm is None:
            return self.point(i - math.floor(i), 0.0)
        whole = self.point(math.floor(i), math.floor(k))
        return vector[0] - whole[0], vector[1] - whole[1]

    def off_mm(self, vector: Point) -> float:
        """Distance of a vector from the nearest lattice point; for stripes, across them.

        >>> Lattice((50.0, 0.0), (0.0, 60.0)).off_mm((99.0, 61.0)) == math.hypot(1, 1)
        True
        """
        lattice = self.reduced()
        i, k = lattice.coordinates(vector)
        if lattice.b_mm is None:
            return abs(i - round(i)) * math.hypot(*lattice.a_mm)
        near = [lattice.point(m, n) for m in _around(i) for n in _around(k)]
        return min(math.hypot(vector[0] - x, vector[1] - y) for x, y in near)

    @property
    def farthest_off_mm(self) -> float:
        """The most that any place can be off the lattice; for stripes, half of their step.

        Source: the circumradius of the lattice's acute triangle, plane geometry.

        >>> Lattice((60.0, 0.0), (0.0, 80.0)).farthest_off_mm
        50.0
        """
        lattice = self.reduced()
        (ax, ay), b = lattice.a_mm, lattice.b_mm
        if b is None:
            return math.hypot(ax, ay) / 2
        bx, by = b if ax * b[0] + ay * b[1] >= 0 else (-b[0], -b[1])
        return math.hypot(ax, ay) * math.hypot(bx, by) * math.hypot(ax - bx, ay - by) / (2 * lattice.cell_area_mm2)

    def same_as(self, other: Lattice, within_mm: float = SAME_LENGTH_MM) -> bool:
        """True when both make the same points: half-drop W x H is half-brick 2W x H/2."""
        if (self.b_mm is None) != (other.b_mm is None):
            return False
        ours = [v for v in (self.a_mm, self.b_mm) if v is not None]
        theirs = [v for v in (other.a_mm, other.b_mm) if v is not None]
        return all(other.off_mm(v) <= within_mm for v in ours) and all(self.off_mm(v) <= within_mm for v in theirs)


def _around(number: float) -> range:
    return range(math.floor(number) - 1, math.floor(number) + 3)
