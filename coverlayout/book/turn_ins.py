"""Cloth turned in over boards: which edges, the cut outline, what stays seen, what the liner hides, the mitres."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Structure, TurnIns
from coverlayout.book.pieces import Mark
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = [
    "CoveredBoard",
    "Edge",
    "least_mitre_distance_mm",
    "mitre_cut",
    "mitre_overlap_mm",
    "turn_in_mm",
    "turned_edges",
]

Edge = Literal["head", "tail", "spine", "fore-edge"]
# Each board of these has its own cloth, so that it is turned in at the spine too; elsewhere the cloth runs on there.
_COVERED_ONE_BY_ONE = ("separate-boards", "side-sewn", "accordion")


def turned_edges(structure: Structure) -> tuple[Edge, ...]:
    """The edges at which the cloth of a cover is turned in.

    A slipcase is turned in at its mouth, by the figure of the fore-edge; the head's is how far its wrap laps onto the
    walls.

    >>> turned_edges("accordion"), turned_edges("flat-case")
    (('head', 'tail', 'spine', 'fore-edge'), ('head', 'tail', 'fore-edge'))
    """
    if structure == "slipcase":
        return "head", "fore-edge"
    return ("head", "tail", "spine", "fore-edge") if structure in _COVERED_ONE_BY_ONE else ("head", "tail", "fore-edge")


def turn_in_mm(turn_ins: TurnIns, edge: Edge) -> float:
    """The turn-in at one edge, in mm.

    >>> turn_in_mm(TurnIns(fore_edge_mm=20.0), "fore-edge")
    20.0
    """
    return {
        "head": turn_ins.head_mm,
        "tail": turn_ins.tail_mm,
        "spine": turn_ins.spine_mm,
        "fore-edge": turn_ins.fore_edge_mm,
    }[edge]


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


def mitre_cut(side_mm: float, end_mm: float, distance_mm: float) -> tuple[Point, Point] | None:
    """The 45 degree cut off a corner from edge to edge, as (out sideways, out endways) from the board's corner, in mm.

    `side_mm` and `end_mm` are the two turn-ins. None where they are so small that the cut would miss the cloth. On the
    cut, the distances out sideways and endways add up to sqrt2 times its distance from the corner.

    >>> mitre_cut(15.0, 10.0, math.sqrt(2))
    ((15.0, -13.0), (-8.0, 10.0))
    """
    reach_mm = math.sqrt(2) * distance_mm
    if side_mm + end_mm <= reach_mm + SAME_LENGTH_MM:
        return None
    return (side_mm, reach_mm - side_mm), (reach_mm - end_mm, end_mm)


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
        cuts = ((corner, signs, mitre_cut(side, end, self.mitre_mm)) for corner, signs, side, end in corners)
        return tuple(
            tuple((x + sign_x * out_mm, y + sign_y * end_mm) for out_mm, end_mm in cut)
            for (x, y), (sign_x, sign_y), cut in cuts
            if cut is not None
        )
