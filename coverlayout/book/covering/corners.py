"""A corner of a half binding: a triangle of cloth over one corner of a board, and the line the side is trimmed to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, clockwise, line_mark
from coverlayout.book.pieces import Mark
from coverlayout.book.turn_ins import mitre_cut
from coverlayout.geometry.frames import Point, Ring

__all__ = ["Corner"]


@dataclass(frozen=True)
class Corner:
    """A corner of the front, laid on the open book (of a book that opens left), the fore-edge at the right; in mm.

    `at_mm` is the corner of the board; `low` at the tail. `leg_mm` is how far the cloth reaches along both edges of the
    board. `side_mm` is the turn-in at the fore-edge, `end_mm` the one at head or tail. The side lies `lap_mm` over the
    slanting edge. `hidden_from_mm` is how far beyond the board's edge a liner begins to hide the turn-in, None without.
    """

    at_mm: Point
    low: bool
    leg_mm: float
    lap_mm: float
    side_mm: float
    end_mm: float
    thickness_mm: float
    mitre_mm: float
    hidden_from_mm: float | None = None

    @property
    def seen_leg_mm(self) -> float:
        """What is left of a leg once the side lies over the slanting edge: sqrt2 times the lap is gone."""
        return self.leg_mm - math.sqrt(2) * self.lap_mm

    def at(self, out_mm: float, end_mm: float) -> Point:
        """The place so far beyond the board's corner, sideways and endways; below 0 inward, over the board."""
        x, y = self.at_mm
        return x + out_mm, y + (end_mm if self.low else -end_mm)

    def beyond(self, leg_mm: float, side_mm: float, end_mm: float) -> Ring:
        """The triangle on the far side of the line across both ends of a leg, run on into the turn-ins.

        The line crosses both edges of the board `leg_mm` from its corner, whatever the two turn-ins are.

        >>> corner = Corner((100.0, 0.0), False, 30.0, 0.0, 20.0, 15.0, 2.0, 3.0)
        >>> corner.beyond(30.0, corner.side_mm, corner.end_mm)
        ((120.0, -15.0), (120.0, 50.0), (55.0, -15.0))
        """
        outer, along_end = self.at(side_mm, end_mm), self.at(-leg_mm - end_mm, end_mm)
        return clockwise((outer, along_end, self.at(side_mm, -leg_mm - side_mm)))

    def line(self, leg_mm: float, side_mm: float, end_mm: float) -> tuple[Point, Point]:
        """The slanting edge of that triangle, from the end at head or tail to the one at the fore-edge."""
        return self.at(-leg_mm - end_mm, end_mm), self.at(side_mm, -leg_mm - side_mm)

    @property
    def outline_mm(self) -> Ring:
        """What the knife follows; the mitre is a mark inside it, cut after gluing."""
        return self.beyond(self.leg_mm, self.side_mm, self.end_mm)

    def piece(self) -> FlatPiece:
        """The piece `corner-front-head` or `corner-front-tail`, anchored in the middle of what is seen on the board."""
        end = "tail" if self.low else "head"
        face = self.beyond(self.seen_leg_mm, 0.0, 0.0)
        hidden_mm = max(self.side_mm, self.end_mm) if self.hidden_from_mm is None else self.hidden_from_mm
        third_mm = -self.seen_leg_mm / 3
        return FlatPiece(
            id=f"corner-front-{end}",
            name=f"front corner at the {end}",
            kind="corner",
            outline_mm=self.outline_mm,
            anchor_mm=self.at(third_mm, third_mm),
            faces=(FlatFace("front", face),),
            marks=self._marks(),
            seen_mm=self.beyond(self.seen_leg_mm, min(self.side_mm, hidden_mm), min(self.end_mm, hidden_mm)),
        )

    def _marks(self) -> tuple[Mark, ...]:
        """The board's corner, the fold over its inner edge, the liner's edge, the mitre, the side's edge, the head."""
        leg_mm, side_mm, end_mm = self.leg_mm, self.side_mm, self.end_mm
        cut = mitre_cut(side_mm, end_mm, self.mitre_mm)
        marks = [Mark("board", self.beyond(leg_mm, 0.0, 0.0), closed=True), self._along("turn-in", self.thickness_mm)]
        if self.hidden_from_mm is not None:
            marks.append(self._along("liner", self.hidden_from_mm))
        if cut is not None:
            marks.append(line_mark("mitre", *(self.at(*point) for point in cut)))
        marks.append(line_mark("lap", *self.line(self.seen_leg_mm, side_mm, end_mm)))
        if not self.low:
            marks.append(line_mark("head", *sorted((self.at(-leg_mm, 0.0), self.at(0.0, 0.0)))))
        return tuple(marks)

    def _along(self, kind: Literal["turn-in", "liner"], beyond_mm: float) -> Mark:
        """A line along both edges of the board, so far beyond them, but not beyond the cloth."""
        side_mm, end_mm = min(beyond_mm, self.side_mm), min(beyond_mm, self.end_mm)
        leg_mm = self.leg_mm
        return line_mark(
            kind, self.at(-leg_mm - end_mm, end_mm), self.at(side_mm, end_mm), self.at(side_mm, -leg_mm - side_mm)
        )
