"""A template to look through: a hole the size of a board, carried over the table like the piece itself. No widgets."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from coverlayout.book.pieces import Piece
from coverlayout.cloth.base_line import base_line_now
from coverlayout.exporting.measuring.by_line import FromLine, from_line
from coverlayout.geometry.frames import Point, Ring, lean_deg
from coverlayout.geometry.shapes import Box, bounds, rectangle
from coverlayout.layout.question import Placed
from coverlayout.ui.table.bench import WAITING, Bench, Lying

__all__ = ["Template", "template_of", "template_piece", "template_sized"]

# No piece has this id: ids of pieces end in a number.
_NO_PIECE = "template"
_QUARTERS = (0.0, 90.0, 180.0, 270.0)
_OUTSIDE = ("cover", "side", "spine piece")


@dataclass(frozen=True)
class Template:
    """Where the hole is: `placed` says where the piece would lie. `is_piece` False: a mere size, never laid."""

    lying: Lying
    placed: Placed
    is_piece: bool

    def on(self, bench: Bench) -> Bench:
        """The bench with the template's piece on it."""
        return bench if self.is_piece else replace(bench, lying=(*bench.lying, self.lying))

    @property
    def hole_mm(self) -> Ring:
        """The hole in the piece frame: the board's face, or all of a piece without one."""
        piece = self.lying.piece
        return piece.board.ring() if piece.board else piece.outline_mm

    def seen(self, bench: Bench) -> Ring:
        """The hole on the table."""
        return self.on(bench).to_table(self.placed).ring(self.hole_mm)

    def middle(self, bench: Bench) -> Point:
        """The place on the table that the hand holds: the anchor."""
        return bench.sheet(self.placed.cloth).to_table.at((self.placed.x_mm, self.placed.y_mm))

    def moved_to(self, bench: Bench, at_mm: Point) -> Template:
        """Carried so that its middle lies at a place on the table; it takes the turn the piece would take there."""
        x, y = self.middle(bench)
        return replace(self, placed=self.on(bench).moved(self.placed, (at_mm[0] - x, at_mm[1] - y)))

    def turned(self, bench: Bench, *, clockwise: bool) -> Template | None:
        """In the next turn the piece allows, clockwise on the print side; None when it allows no other."""
        placed = self.on(bench).turned(self.placed, clockwise=clockwise)
        return None if placed is None else replace(self, placed=placed)

    def from_edges(self, bench: Bench) -> Point | None:
        """How far the hole is from the left and from the top of its cloth, as seen; None beside the cloths."""
        if self.placed.cloth == WAITING:
            return None
        hole, cloth = bounds(self.seen(bench)), bench.sheet(self.placed.cloth).box
        return hole.left_mm - cloth.left_mm, hole.top_mm - cloth.top_mm

    def from_line(self, bench: Bench) -> FromLine | None:
        """Where the hole's corners lie by its cloth's base line, as seen; None where the edges are measured from."""
        sheet = bench.sheet(self.placed.cloth)
        line = base_line_now(sheet.cloth) if sheet.cloth else None
        if line is None or not (sheet.cloth and sheet.cloth.base_line and sheet.cloth.base_line.measured_from):
            return None
        start, end = sheet.to_table.ring(line)
        return from_line(self.seen(bench), self._seen_deg(bench), (start, end))

    def size_mm(self, bench: Bench) -> Point:
        """Width and height of the hole: as it lies, its own, head up, where it lies askew or the base line counts."""
        own = lean_deg(self.placed.turn_deg) != 0.0 or self.from_line(bench) is not None
        box = bounds(self.hole_mm if own else self.seen(bench))
        return box.width_mm, box.height_mm

    def _seen_deg(self, bench: Bench) -> float:
        """Which way the hole's upper edge runs, as seen; quarter turns do not matter to where it lies."""
        across = self.on(bench).to_table(self.placed).vector((1.0, 0.0))
        return math.degrees(math.atan2(across[1], across[0]))


def template_piece(bench: Bench, chosen: tuple[str, ...]) -> str | None:
    """The piece to look for a place for: the last one chosen, else the first that is seen outside, else none."""
    if chosen:
        return chosen[-1]
    return next((lying.piece.id for lying in bench.lying if lying.piece.kind in _OUTSIDE), None)


def template_of(bench: Bench, piece_id: str, at_mm: Point) -> Template | None:
    """The template of a piece, where it lies; of one that waits, at a place on the table. None: no such piece."""
    lying = bench.find(piece_id)
    if lying is None:
        return None
    template = Template(lying, lying.placed, is_piece=True)
    return template.moved_to(bench, _on_cloth(bench, at_mm)) if lying.placed.cloth == WAITING else template


def template_sized(bench: Bench, width_mm: float, height_mm: float, at_mm: Point) -> Template:
    """A template of that size, at a place on the table, turned by quarters at will."""
    ring = rectangle(width_mm, height_mm)
    piece = Piece(_NO_PIECE, "", "own", ring, (width_mm / 2, height_mm / 2))
    placed = Placed(_NO_PIECE, WAITING, 0.0, 0.0)
    template = Template(Lying(piece, placed, "", _QUARTERS), placed, is_piece=False)
    return template.moved_to(bench, _on_cloth(bench, at_mm))


def _on_cloth(bench: Bench, at_mm: Point) -> Point:
    """The place when it is on a cloth, else the middle of the first one; the place itself on a bare table."""
    boxes = [sheet.box for sheet in bench.sheets]
    if not boxes or any(_is_in(box, at_mm) for box in boxes):
        return at_mm
    return boxes[0].middle


def _is_in(box: Box, at_mm: Point) -> bool:
    return box.left_mm <= at_mm[0] <= box.right_mm and box.top_mm <= at_mm[1] <= box.bottom_mm
