"""How much of a piece's rim would touch something: the cells of a ground that are taken, and points around a piece."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.convex import convex_parts
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region
from coverlayout.layout.filling.contact import Floats, oriented
from coverlayout.layout.search.repeats import Points

__all__ = ["Cells", "rim_of"]

# So many cells along the longer side of a ground, and so many of them around it.
_CELLS = 256
_AROUND = 4
# So many points tell how much of a rim touches, this share of a cell outside of it.
_RIM_POINTS = 48
_OUTSIDE = 1.2


class Cells:
    """The cells of one ground: taken where something lies, or where it is no ground."""

    def __init__(self, usable: Region) -> None:
        """Start with all ground free."""
        box = usable.bounds
        self.cell_mm = max(box.width_mm, box.height_mm, 1.0) / _CELLS
        self._low = np.array([box.left_mm, box.top_mm]) - _AROUND * self.cell_mm
        columns = int(box.width_mm / self.cell_mm) + 2 * _AROUND + 1
        rows = int(box.height_mm / self.cell_mm) + 2 * _AROUND + 1
        self._x = self._low[0] + (np.arange(columns) + 0.5) * self.cell_mm
        self._y = self._low[1] + (np.arange(rows) + 0.5) * self.cell_mm
        self._taken: npt.NDArray[np.bool_] = np.ones((rows, columns), dtype=np.bool_)
        for part in convex_parts(usable):
            self._mark(oriented(part), taken=False)

    def with_parts(self, parts: tuple[Points, ...], at: Points) -> Cells:
        """The cells once convex parts, counted from an anchor, lie there too."""
        other = object.__new__(Cells)
        other.cell_mm, other._low, other._x, other._y = self.cell_mm, self._low, self._x, self._y
        other._taken = self._taken.copy()
        for part in parts:
            other._mark(part + at, taken=True)
        return other

    def touching(self, rim: Points, places: Points) -> Floats:
        """For every place of an anchor the share of its rim's points that lie on taken cells."""
        cells = np.floor((places[:, None, :] + rim - self._low) / self.cell_mm).astype(np.intp)
        rows, columns = self._taken.shape
        share: Floats = self._taken[cells[..., 1].clip(0, rows - 1), cells[..., 0].clip(0, columns - 1)].mean(axis=1)
        return share

    def _mark(self, ring: Points, *, taken: bool) -> None:
        first = np.maximum(np.floor((ring.min(axis=0) - self._low) / self.cell_mm).astype(np.intp), 0)
        last = np.maximum(np.ceil((ring.max(axis=0) - self._low) / self.cell_mm).astype(np.intp), 0)
        x, y = self._x[first[0] : last[0]], self._y[first[1] : last[1], None]
        inside = np.ones((len(y), len(x)), dtype=np.bool_)
        edges = np.roll(ring, -1, axis=0) - ring
        for (left, top), (across, along) in zip(ring.tolist(), edges.tolist(), strict=True):
            inside &= across * (y - top) - along * (x - left) >= 0
        self._taken[first[1] : last[1], first[0] : last[0]][inside] = taken


def rim_of(ring: Ring, cell_mm: float) -> Points:
    """Points at even distances along an outline, a little outside of it.

    >>> bool((rim_of(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)), 1.0)[:12, 1] == -1.2).all())
    True
    """
    points = oriented(ring)
    edges = np.roll(points, -1, axis=0) - points
    length = np.hypot(edges[:, 0], edges[:, 1])
    ends = np.cumsum(length)
    along = (np.arange(_RIM_POINTS) + 0.5) * ends[-1] / _RIM_POINTS
    edge = np.minimum(np.searchsorted(ends, along), len(ends) - 1)
    direction = edges[edge] / length[edge, None]
    outward = np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    rim: Points = points[edge] + (along - ends[edge] + length[edge])[:, None] * direction + _OUTSIDE * cell_mm * outward
    return rim
