"""What a picture of a book is made of: shapes with a role, lines that measure, a few words; plain values in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from coverlayout.book.rules.table import Rule
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, bounds

__all__ = ["MeasureLine", "Picture", "Role", "Shape", "Side", "Words"]

Role = Literal[
    "board", "card", "cloth", "side", "corner", "section", "liner", "thread", "joint", "mitre", "lap", "label",
    "window", "hole", "hidden", "unseen", "cut", "turn-in", "fold", "lining", "break", "wave", "head", "liner edge",
]  # fmt: skip
Side = Literal["above", "below", "left", "right"]
_OTHER_SIDE: dict[Side, Side] = {"above": "above", "below": "below", "left": "right", "right": "left"}
# Names of fields that a measure without a rule of its own answers to.
_ALSO = {
    "spine": ("spine allowance", "spine width"),
    "block thickness": ("thickness",),
    "book thickness": ("thickness",),
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
    and what lies flat on another is drawn with air between. `rule` tells what is usual; None where no rule does.
    `round_mm` of the length goes on round an edge at the end: the line is bent there.
    """

    name: str
    rule: Rule | None
    start_mm: Point
    end_mm: Point
    length_mm: float
    side: Side
    round_mm: float = 0.0

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
