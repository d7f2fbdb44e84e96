"""A covered board: its cut outline with turn-ins, what stays seen, what the liner hides, and its mitres."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coverlayout.book.pieces import Mark
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = [
    "CoveredBoard",
    "least_mitre_distance_mm",
    "mitre_overlap_mm",
]


def least_mitre_distance_mm(board_thickness_mm: float) -> float:
    """The least distance from a board's corner to a 45 degree cut that leaves no gap over the edge: b / sqrt 2.

    Derived: the two turn-ins meet over the board's thickness. Common practice, no source.

    >>> round(least_mitre_distance_mm(2.0), 6)
    1.414214
    """
    return board_thickness_mm / math.sqrt(2)


def mitre_overlap_mm(distance_mm: float, board_thickness_mm: float) -> float:
    """How far the turn-ins overlap across a mitre cut at 45 degrees, `distance_mm` from the corner: 2 d - sqrt2 b.

    Below 0 the corner gapes. Derived by folding both turn-ins over the edge.

    >>> round(mitre_overlap_mm(3.0, 2.0), 6)
    3.171573
    """
    return 2 * distance_mm - math.sqrt(2) * board_thickness_mm


@dataclass(frozen=True)
class CoveredBoard:
    """A board and its turn-ins as seen from the print side, head up, in mm; left and right as they lie, not by name.

    `inset_mm` is the liner's, None without one. The piece frame's origin is the top-left of the cut outline.
    """

    board_mm: Point
    left_mm: float
    right_mm: float
    head_mm: float
    tail_mm: float
    thickness_mm: float
    inset_mm: float | None
    mitre_mm: float

    @property
    def width_mm(self) -> float:
        """Width of the cut outline."""
        return self.left_mm + self.board_mm[0] + self.right_mm

    @property
    def height_mm(self) -> float:
        """Height of the cut outline."""
        return self.head_mm + self.board_mm[1] + self.tail_mm

    @property
    def outline(self) -> Box:
        """What the knife follows: the full rectangle, since mitres are cut after gluing."""
        return Box(0.0, 0.0, self.width_mm, self.height_mm)

    @property
    def board(self) -> Box:
        """The board's face."""
        return Box(self.left_mm, self.head_mm, self.board_mm[0], self.board_mm[1])

    @property
    def seen(self) -> Box:
        """What stays visible: face, edges, and the rim of the turn-in that the liner leaves; all of it without a liner.

        >>> CoveredBoard((100.0, 200.0), 15.0, 15.0, 15.0, 15.0, 2.0, 3.0, 3.0).seen
        Box(left_mm=10.0, top_mm=10.0, width_mm=110.0, height_mm=210.0)
        """
        return self.outline if self.inset_mm is None else self._around_board(self.thickness_mm + self.inset_mm)

    @property
    def folded(self) -> Box:
        """The face and its edges: outside of it the cloth lies on the inside of the board."""
        return self._around_board(self.thickness_mm)

    def _around_board(self, by_mm: float) -> Box:
        """The face grown by `by_mm` all round, but never beyond the cut outline."""
        left, right = min(by_mm, self.left_mm), min(by_mm, self.right_mm)
        head, tail = min(by_mm, self.head_mm), min(by_mm, self.tail_mm)
        width, height = self.board_mm
        return Box(self.left_mm - left, self.head_mm - head, width + left + right, height + head + tail)

    def marks(self) -> tuple[Mark, ...]:
        """The face, the fold over the inner edge, the liner's edge (with a liner) and the mitres."""
        marks = [
            Mark("board", self.board.ring(), closed=True),
            Mark("turn-in", self.folded.ring(), closed=True),
        ]
        if self.inset_mm is not None:
            marks.append(Mark("liner", self.seen.ring(), closed=True))
        return (*marks, *(Mark("mitre", line) for line in self.mitre_lines()))

    def mitre_lines(self) -> tuple[Ring, ...]:
        """The 45 degree cuts at the four corners from edge to edge, head left first, clockwise.

        None where the two turn-ins are so small that the cut would miss the cloth.
        """
        board = self.board
        corners = (
            ((board.left_mm, board.top_mm), (-1, -1), self.left_mm, self.head_mm),
            ((board.right_mm, board.top_mm), (1, -1), self.right_mm, self.head_mm),
            ((board.right_mm, board.bottom_mm), (1, 1), self.right_mm, self.tail_mm),
            ((board.left_mm, board.bottom_mm), (-1, 1), self.left_mm, self.tail_mm),
        )
        # On the cut, the distances out from the corner sideways and endways add up to this.
        reach_mm = math.sqrt(2) * self.mitre_mm
        return tuple(
            (
                (x + sign_x * side_mm, y + sign_y * (reach_mm - side_mm)),
                (x + sign_x * (reach_mm - end_mm), y + sign_y * end_mm),
            )
            for (x, y), (sign_x, sign_y), side_mm, end_mm in corners
            if side_mm + end_mm > reach_mm + SAME_LENGTH_MM
        )
