"""Where cloth, boards and laps of a quarter or half case lie on the open book."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Book
from coverlayout.book.covering.corners import Corner
from coverlayout.book.covering.laid_flat import line_mark
from coverlayout.book.measures import Measures
from coverlayout.book.pieces import Mark
from coverlayout.geometry.shapes import Box

__all__ = ["PartlyCovered"]


@dataclass(frozen=True)
class PartlyCovered:
    """Where cloth, boards and laps lie on the open book; from the middle of the spine out, in mm."""

    book: Book
    figures: Measures

    @property
    def gap_edge_mm(self) -> float:
        """The board's spine edge."""
        return self.figures.gap_mm / 2

    @property
    def strip_edge_mm(self) -> float:
        """Where the cloth of the spine ends on the board."""
        return self.gap_edge_mm + self.figures.spine_on_board_mm

    @property
    def side_edge_mm(self) -> float:
        """Where the side begins, lying over that cloth by the lap."""
        return self.strip_edge_mm - self.figures.lap_mm

    @property
    def fore_edge_mm(self) -> float:
        """The board's fore-edge."""
        return self.gap_edge_mm + self.figures.board_mm[0]

    @property
    def height_mm(self) -> float:
        """The board's height."""
        return self.figures.board_mm[1]

    @property
    def hidden_from_mm(self) -> float | None:
        """How far beyond the board's edge the liner begins to hide the turn-in; None without liners."""
        if self.book.liners == "none":
            return None
        return self.figures.board_thickness_mm + self.book.liner_inset_mm

    def seen_beyond_mm(self, turn_in_mm: float) -> float:
        """What stays seen of a turn-in that a liner lies over."""
        return turn_in_mm if self.hidden_from_mm is None else min(turn_in_mm, self.hidden_from_mm)

    def box(self, left_mm: float, right_mm: float, head_mm: float = 0.0, tail_mm: float = 0.0) -> Box:
        """From `left_mm` to `right_mm`, and so far beyond the boards at head and tail."""
        return Box(left_mm, -head_mm, right_mm - left_mm, head_mm + self.height_mm + tail_mm)

    def across(
        self, kind: Literal["turn-in", "liner"], left_mm: float, right_mm: float, by_mm: float
    ) -> tuple[Mark, ...]:
        """A line so far beyond the boards' head, and one beyond their tail, but not beyond the cloth."""
        turn_ins = self.book.turn_ins
        levels = -min(by_mm, turn_ins.head_mm), self.height_mm + min(by_mm, turn_ins.tail_mm)
        return tuple(line_mark(kind, (left_mm, y), (right_mm, y)) for y in levels)

    @property
    def corners(self) -> tuple[Corner, ...]:
        """The corners of the front at head and tail; none in a quarter case."""
        if self.book.structure != "half-case":
            return ()
        turn_ins, figures = self.book.turn_ins, self.figures
        head, tail = (
            Corner(
                at_mm=(self.fore_edge_mm, at_mm),
                low=low,
                leg_mm=figures.corner_leg_mm,
                lap_mm=figures.lap_mm,
                side_mm=turn_ins.fore_edge_mm,
                end_mm=turn_in_mm,
                thickness_mm=figures.board_thickness_mm,
                mitre_mm=figures.mitre_mm,
                hidden_from_mm=self.hidden_from_mm,
            )
            for at_mm, low, turn_in_mm in ((0.0, False, turn_ins.head_mm), (self.height_mm, True, turn_ins.tail_mm))
        )
        return head, tail
