"""The pieces of one strip in whole numbers: kinds of equal pieces, the ways they may lie, and the room there is.

Exact fits are what a layout without waste is made of, so lengths are whole numbers of a unit that all of them share.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coverlayout.layout.search.filling import Filled, Seat
from coverlayout.layout.search.sheets import Pose, RectangularJob

__all__ = ["Floats", "Kinds", "Numbers", "Spot", "kinds_of"]

Numbers = NDArray[np.int64]
Floats = NDArray[np.float64]

# The unit lengths are rounded to, as decimals of a mm, the finest that keeps areas below the limit of whole numbers.
_FINEST_DIGITS, _COARSEST_DIGITS = 5, 0
_LARGEST_AREA = 2**61
# A length is a whole number of units when it is as near as this, in units.
_WHOLE = 1e-3
# Where lengths are no whole numbers, the strip is larger by a unit for each piece, but not by more than this.
_MOST_SLACK = 300


@dataclass(frozen=True)
class Spot:
    """Where a piece was put: its way of lying, and the top left of its box in units from the strip's."""

    way: int
    left: int
    top: int


@dataclass(frozen=True, eq=False)
class Kinds:
    """Kinds of equal pieces, and their ways of lying one after another, the smallest width first.

    `width`, `height` and `kind` by way, `count` by kind; `strip_width` and `strip_length` are the room, `area` is what
    all pieces cover. Pieces and strip are `apart_mm` larger, which must stay between two pieces, so that touching is
    enough; `room_mm` is what stays at the edges. `lengthwise`: the strip is filled from its left end, so that width
    and height are swapped.
    """

    width: Numbers
    height: Numbers
    kind: Numbers
    count: Numbers
    strip_width: int
    strip_length: int
    area: int
    unit_mm: float
    apart_mm: float
    room_mm: float
    lengthwise: bool
    items: tuple[tuple[int, ...], ...]

    @property
    def pieces(self) -> int:
        """How many pieces there are."""
        return int(self.count.sum())

    def filled(self, job: RectangularJob, sheet: int, spots: Sequence[Spot]) -> Filled:
        """The seats of all items when pieces lie in these spots; each as near to the start as its real sizes allow."""
        box = job.sheets[sheet].box
        ways = np.array([spot.way for spot in spots])
        places = np.array([(spot.left, spot.top) for spot in spots]).T
        sizes = np.array([self.width[ways], self.height[ways]])
        if self.lengthwise:
            places, sizes = places[::-1], sizes[::-1]
        waiting = [list(items) for items in self.items]
        items = [waiting[int(self.kind[way])].pop(0) for way in ways]
        poses = [
            _nearest(job.items[item].poses[sheet], *(float(side) * self.unit_mm - self.apart_mm for side in size))
            for item, size in zip(items, sizes.T, strict=True)
        ]
        real = np.array([(pose.width_mm, pose.height_mm) for pose in poses]).T + self.apart_mm
        lefts, tops = (_followed(*axis) + self.room_mm for axis in zip(places, sizes, real, strict=True))
        seats = {
            item: Seat(sheet, pose, box.left_mm + float(left_mm), box.top_mm + float(top_mm))
            for item, pose, left_mm, top_mm in zip(items, poses, lefts, tops, strict=True)
        }
        return tuple(seats[k] for k in range(len(job.items)))


def _followed(place: Numbers, size: Numbers, real_mm: Floats) -> Floats:
    """Places in mm along one axis: each piece follows on the farthest of those that lie before it in units."""
    place_mm = np.zeros(len(place))
    for k in np.argsort(place, kind="stable"):
        place_mm[k] = np.max(place_mm + real_mm, initial=0.0, where=place + size <= place[k])
    return place_mm


def _nearest(poses: tuple[Pose, ...], width_mm: float, height_mm: float) -> Pose:
    """The pose of this size; the first, when several have it."""
    return min(poses, key=lambda pose: round(abs(pose.width_mm - width_mm) + abs(pose.height_mm - height_mm), 4))


def kinds_of(job: RectangularJob, sheet: int, room_mm: float, *, lengthwise: bool) -> Kinds | None:
    """The job's items as kinds on one sheet, or None when an item may not lie there, or nothing is as large as it."""
    if not job.items or not all(item.poses[sheet] for item in job.items):
        return None
    apart_mm = max(job.gap_mm, room_mm)
    box = job.sheets[sheet].box
    strip = (box.width_mm - 2 * room_mm + apart_mm, box.height_mm - 2 * room_mm + apart_mm)
    sizes = [[(p.width_mm + apart_mm, p.height_mm + apart_mm) for p in item.poses[sheet]] for item in job.items]
    # More length than all pieces need one below the other is never used.
    enough = [sum(max(size[axis] for size in ways) for ways in sizes) for axis in (0, 1)]
    strip = (min(strip[0], enough[0]), min(strip[1], enough[1]))
    if min(strip) <= 0 or any(side <= 0 for ways in sizes for size in ways for side in size):
        return None
    units = _Units([*strip, *(side for ways in sizes for size in ways for side in size)], strip[0] * strip[1])
    # What rounding up takes from a row of pieces that just fits is far below any tolerance.
    slack = 0 if units.is_exact else min(len(sizes), _MOST_SLACK)
    first = 1 if lengthwise else 0
    groups: dict[tuple[tuple[int, int], ...], list[int]] = {}
    for number, ways in enumerate(sizes):
        whole = sorted({(units.whole(way[first]), units.whole(way[1 - first])) for way in ways})
        groups.setdefault(tuple(whole), []).append(number)
    table = sorted((w, h, kind) for kind, whole in enumerate(groups) for w, h in whole)
    width, height, kind = np.array(table, dtype=np.int64).T
    return Kinds(
        width=width,
        height=height,
        kind=kind,
        count=np.array([len(group) for group in groups.values()], dtype=np.int64),
        strip_width=units.whole(strip[first]) + slack,
        strip_length=units.whole(strip[1 - first]) + slack,
        area=sum(whole[0][0] * whole[0][1] * len(group) for whole, group in groups.items()),
        unit_mm=units.unit_mm,
        apart_mm=apart_mm,
        room_mm=room_mm,
        lengthwise=lengthwise,
        items=tuple(tuple(group) for group in groups.values()),
    )


class _Units:
    """A unit in which all given lengths are whole numbers, or nearly."""

    def __init__(self, lengths_mm: list[float], area_mm2: float) -> None:
        digits = _FINEST_DIGITS
        while digits > _COARSEST_DIGITS and area_mm2 * 100.0**digits > _LARGEST_AREA:
            digits -= 1
        self._fine = int(10**digits)
        whole = [round(length * self._fine) for length in lengths_mm]
        self.is_exact = all(abs(n - length * self._fine) < _WHOLE for n, length in zip(whole, lengths_mm, strict=True))
        self._shared = math.gcd(*whole) if self.is_exact else 1
        self.unit_mm = self._shared / self._fine

    def whole(self, length_mm: float) -> int:
        """A length in units, rounded up where it is no whole number of them: pieces never get smaller."""
        return math.ceil(length_mm * self._fine - _WHOLE) // self._shared
