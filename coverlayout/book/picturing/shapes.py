"""What a picture of a book is made of: shapes with a role, lines that measure, a few words; plain values in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

from coverlayout.book.rules.table import Rule
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["MeasureLine", "Picture", "Role", "Shape", "Side", "Words", "arc", "rounded", "wave"]

Role = Literal[
    "board", "card", "cloth", "side", "corner", "paper", "section", "liner", "thread", "joint", "mitre", "lap", "label", "window",
    "hole", "hidden", "unseen", "cut", "turn-in", "fold", "lining", "break", "wave",
]  # fmt: skip
Side = Literal["above", "below", "left", "right"]
_OTHER_SIDE: dict[Side, Side] = {"above": "above", "below": "below", "left": "right", "right": "left"}
_ARC_PARTS = 24
# Names of fields that a measure without a rule of its own answers to.
_ALSO = {
    "spine": ("spine allowance", "spine width"),
    "block thickness": ("thickness",),
    "rise": ("spine rise",),
    "spine on board": ("half share",),
}


@dataclass(frozen=True)
class Shape:
    """A line, or an area when `closed`, y down. `role` says what it is of, `name` which one."""

    points_mm: Ring
    closed: bool
    role: Role
    name: str = ""


@dataclass(frozen=True)
class MeasureLine:
    """A measure of the book between two places of the picture; it is drawn clear of the shapes on its `side`.

    `length_mm` is the figure itself. The places may lie closer or farther apart than that: a page is drawn shortened,
    and what lies flat on another is drawn with air between. `rule` tells what is usual and why; None where no rule does.
    """

    name: str
    rule: Rule | None
    start_mm: Point
    end_mm: Point
    length_mm: float
    side: Side

    def is_called(self, name: str) -> bool:
        """True for its own name, that of its rule, or that of a field it is worked out from."""
        by_rule = self.rule is not None and name == self.rule.name
        return bool(name) and (name == self.name or by_rule or name in _ALSO.get(self.name, ()))

    @property
    def unusual(self) -> bool:
        """True for a figure worth a second look; never a fault."""
        return self.rule is not None and self.rule.unusual(self.length_mm)


@dataclass(frozen=True)
class Words:
    """A word about the place it is centred on, for as long as it is no wider than `room_mm` there."""

    text: str
    at_mm: Point
    room_mm: float


@dataclass(frozen=True)
class Picture:
    """A drawn book, painted in the order of its shapes. `title` says what is seen and from where.

    The measures are told in order of weight: where there is no room for all, the last ones stay away.
    """

    title: str
    shapes: tuple[Shape, ...]
    measures: tuple[MeasureLine, ...] = ()
    words: tuple[Words, ...] = ()

    @cached_property
    def box(self) -> Box:
        """The box around every shape and every end of a measure. ValueError for a picture of nothing.

        >>> Picture("", (Shape(((1.0, 2.0), (4.0, 3.0)), False, "cloth"),)).box
        Box(left_mm=1.0, top_mm=2.0, width_mm=3.0, height_mm=1.0)
        """
        ends = [end for measure in self.measures for end in (measure.start_mm, measure.end_mm)]
        return bounds([*(point for shape in self.shapes for point in shape.points_mm), *ends])

    @property
    def roles(self) -> frozenset[Role]:
        """Every role there is something of."""
        return frozenset(shape.role for shape in self.shapes)

    def measured(self, name: str) -> MeasureLine | None:
        """The first measure of that name, or that follows the rule of that name; None: this picture has none."""
        return next((each for each in self.measures if each.is_called(name)), None)

    def mirrored(self) -> Picture:
        """The same with left and right changed: a book that opens to the other side.

        >>> Picture("", (Shape(((1.0, 2.0), (4.0, 3.0)), False, "cloth"),)).mirrored().shapes[0].points_mm
        ((-1.0, 2.0), (-4.0, 3.0))
        """

        def over(point: Point) -> Point:
            return -point[0], point[1]

        return replace(
            self,
            shapes=tuple(replace(each, points_mm=tuple(map(over, each.points_mm))) for each in self.shapes),
            measures=tuple(
                replace(each, start_mm=over(each.start_mm), end_mm=over(each.end_mm), side=_OTHER_SIDE[each.side])
                for each in self.measures
            ),
            words=tuple(replace(each, at_mm=over(each.at_mm)) for each in self.words),
        )


def rounded(points: Ring, radius_mm: float) -> Ring:
    """A line with its corners rounded; a corner between short sides is rounded as far as they reach.

    Each corner is a curve of second degree that leaves and meets the sides `radius_mm` before and behind it.

    >>> line = rounded(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)), 2.0)
    >>> line[0], line[1], line[-2], line[-1]
    ((0.0, 0.0), (8.0, 0.0), (10.0, 2.0), (10.0, 10.0))
    """
    plain = [points[0], *(to for at, to in pairwise(points) if math.dist(at, to) > SNAP_MM)]
    made = [plain[0]]
    for before, corner, behind in zip(plain, plain[1:], plain[2:], strict=False):
        start = _towards(corner, before, min(radius_mm, math.dist(corner, before) / 2))
        end = _towards(corner, behind, min(radius_mm, math.dist(corner, behind) / 2))
        made += [_on_curve(start, corner, end, part / 6) for part in range(7)]
    return (*made, plain[-1])


def _towards(at: Point, to: Point, by_mm: float) -> Point:
    part = by_mm / math.dist(at, to)
    return at[0] + (to[0] - at[0]) * part, at[1] + (to[1] - at[1]) * part


def _on_curve(start: Point, pull: Point, end: Point, part: float) -> Point:
    first, both, last = (1 - part) ** 2, 2 * part * (1 - part), part**2
    return (
        first * start[0] + both * pull[0] + last * end[0],
        first * start[1] + both * pull[1] + last * end[1],
    )


def arc(height_mm: float, rise_mm: float, out_mm: float = 0.0) -> Ring:
    """The arc from (0, 0) to (0, height) that stands out `rise_mm` to the left, `out_mm` farther out all along.

    A straight line, moved out, when nothing rises. Circle through the chord's ends and the height of the round.

    >>> [(round(x) + 0, round(y) + 0) for x, y in arc(20.0, 10.0)[::12]]
    [(0, 0), (-10, 10), (0, 20)]
    """
    if rise_mm <= 0:
        return (-out_mm, 0.0), (-out_mm, height_mm)
    radius_mm = (height_mm**2 / 4 + rise_mm**2) / (2 * rise_mm)
    middle = (radius_mm - rise_mm, height_mm / 2)
    half = 2 * math.atan2(2 * rise_mm, height_mm)
    turns = (half - 2 * half * part / _ARC_PARTS for part in range(_ARC_PARTS + 1))
    reach_mm = radius_mm + out_mm
    return tuple((middle[0] - reach_mm * math.cos(at), middle[1] - reach_mm * math.sin(at)) for at in turns)


def wave(x_mm: float, top_mm: float, bottom_mm: float, swing_mm: float) -> Ring:
    """A wavy line from top to bottom, about as many waves as it is long: where something is drawn shortened."""
    count = max(round((bottom_mm - top_mm) / (7 * swing_mm)), 1)
    parts = 12 * count
    return tuple(
        (
            x_mm + swing_mm * math.sin(2 * math.pi * count * part / parts),
            top_mm + (bottom_mm - top_mm) * part / parts,
        )
        for part in range(parts + 1)
    )
