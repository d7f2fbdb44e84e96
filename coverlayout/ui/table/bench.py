"""The bench: cloths side by side on the table, pieces on them, the others waiting beside. Pure values, no widgets.

Every cloth is a sheet with its own frame; so is the ground where pieces wait (its id is empty). A sheet knows its map
to the table, mirrored while the back is looked at: nothing else on the canvas knows of the back.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import Cloth
from coverlayout.geometry.frames import Affine, Point, Ring, piece_to_cloth
from coverlayout.geometry.shapes import Box, bounds, ring_sides
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.question import Ground, Placed

__all__ = ["WAITING", "Bench", "Lying", "Sheet"]

WAITING = ""
"""The sheet id of pieces that wait beside the cloth."""

State = Literal["planned", "cut"]


@dataclass(frozen=True)
class Sheet:
    """A cloth on the table (or the waiting ground, without a cloth): its size and its map from the cloth frame."""

    id: str
    name: str
    size_mm: Point
    to_table: Affine
    cloth: Cloth | None = None
    grounds: tuple[Ground, ...] = ()

    @cached_property
    def from_table(self) -> Affine:
        """Table frame to the cloth frame."""
        return self.to_table.inverse()

    @cached_property
    def box(self) -> Box:
        """Where it lies on the table."""
        return bounds(self.to_table.ring(Box(0.0, 0.0, *self.size_mm).ring()))

    def ground_at(self, at_mm: Point) -> Ground | None:
        """The ground under a place in the cloth frame; the first one where none holds it, None on a bare sheet."""
        if len(self.grounds) < 2:
            return self.grounds[0] if self.grounds else None
        return next((ground for ground in self.grounds if ground.usable.contains(at_mm)), self.grounds[0])

    def up_deg(self, at_mm: Point) -> float:
        """The turn of the print's up under a place, 0 where there is none."""
        ground = self.ground_at(at_mm)
        return ground.up_deg if ground else 0.0


@dataclass(frozen=True)
class Lying:
    """A piece and where it lies now; `turns_deg` are those it allows, counted from the print's up, None for any.

    `pinned`: it stays there until it is let go.
    """

    piece: Piece
    placed: Placed
    label: str
    turns_deg: tuple[float, ...] | None = (0.0,)
    state: State = "planned"
    pinned: bool = False

    @property
    def moves(self) -> bool:
        """True when a hand may move it: it is neither cut nor pinned."""
        return self.state == "planned" and not self.pinned


@dataclass(frozen=True)
class Bench:
    """Everything on the table. Later pieces lie on top of earlier ones, unless raised (see `stacked`)."""

    sheets: tuple[Sheet, ...]
    waiting: Sheet
    lying: tuple[Lying, ...] = ()

    @cached_property
    def _sheet_by_id(self) -> dict[str, Sheet]:
        return {sheet.id: sheet for sheet in (*self.sheets, self.waiting)}

    @cached_property
    def _lying_by_id(self) -> dict[str, Lying]:
        return {lying.piece.id: lying for lying in self.lying}

    @cached_property
    def box(self) -> Box:
        """The smallest box around all cloths and all that waits; a box without size when the table is empty."""
        boxes = [sheet.box for sheet in self.sheets]
        if any(lying.placed.cloth == WAITING for lying in self.lying):
            boxes.append(self.waiting.box)
        return bounds([corner for box in boxes for corner in box.ring()]) if boxes else Box(0.0, 0.0, 0.0, 0.0)

    def sheet(self, sheet_id: str) -> Sheet:
        """The sheet of that id; the waiting ground for a cloth that is not there."""
        return self._sheet_by_id.get(sheet_id, self.waiting)

    def find(self, piece_id: str) -> Lying | None:
        """The piece of that id and where it lies."""
        return self._lying_by_id.get(piece_id)

    def to_table(self, placed: Placed) -> Affine:
        """Piece frame to table frame for a piece that lies there. KeyError for a piece that is not on the table."""
        anchor_mm = self._lying_by_id[placed.piece].piece.anchor_mm
        on_sheet = piece_to_cloth(anchor_mm, (placed.x_mm, placed.y_mm), placed.turn_deg)
        return on_sheet.then(self.sheet(placed.cloth).to_table)

    def outline(self, placed: Placed) -> Ring:
        """The cut outline on the table of a piece that lies there."""
        return self.to_table(placed).ring(self._lying_by_id[placed.piece].piece.outline_mm)

    @cached_property
    def outlines(self) -> dict[str, tuple[Ring, Box]]:
        """Outline and box on the table of every piece where it now lies."""
        found = {lying.piece.id: self.outline(lying.placed) for lying in self.lying}
        return {piece_id: (ring, bounds(ring)) for piece_id, ring in found.items()}

    def stacked(self, raised: Sequence[str] = ()) -> tuple[Lying, ...]:
        """The pieces from the lowest to the topmost: as they come, then those that were raised, the last on top."""
        height = {piece_id: number for number, piece_id in enumerate(raised, 1)}
        return tuple(sorted(self.lying, key=lambda lying: height.get(lying.piece.id, 0)))

    def piece_at(self, at_mm: Point, raised: Sequence[str] = ()) -> Lying | None:
        """The topmost piece under a place on the table, as they are stacked."""
        for lying in reversed(self.stacked(raised)):
            ring, box = self.outlines[lying.piece.id]
            if _in_box(box, at_mm) and _inside(ring, at_mm):
                return lying
        return None

    def pieces_in(self, box: Box) -> tuple[str, ...]:
        """The pieces that lie wholly in a box on the table."""
        return tuple(
            piece_id
            for piece_id, (_, each) in self.outlines.items()
            if box.left_mm <= each.left_mm
            and box.top_mm <= each.top_mm
            and each.right_mm <= box.right_mm
            and each.bottom_mm <= box.bottom_mm
        )

    def on(self, sheet_id: str) -> tuple[Lying, ...]:
        """The pieces on a sheet."""
        return tuple(lying for lying in self.lying if lying.placed.cloth == sheet_id)

    def laid_at(self, lying: Lying, sheet: Sheet, corner_mm: Point) -> Placed:
        """A piece on a cloth in the first turn it allows, the top-left of its box at `corner_mm` of the cloth frame."""
        first = lying.turns_deg[0] if lying.turns_deg else 0.0
        turned = Placed(lying.piece.id, sheet.id, 0.0, 0.0, _full_turn(sheet.up_deg(corner_mm) + first))
        on_sheet = piece_to_cloth(lying.piece.anchor_mm, (0.0, 0.0), turned.turn_deg).ring(lying.piece.outline_mm)
        box = bounds(on_sheet)
        return replace(turned, x_mm=corner_mm[0] - box.left_mm, y_mm=corner_mm[1] - box.top_mm)

    def name(self, piece_id: str) -> str:
        """The piece's label as it stands within a sentence."""
        label = self._lying_by_id[piece_id].label
        return label[:1].lower() + label[1:]

    def sheet_at(self, at_mm: Point) -> Sheet:
        """The cloth under a place on the table, else the waiting ground."""
        return next((sheet for sheet in self.sheets if _in_box(sheet.box, at_mm)), self.waiting)

    def moved(self, placed: Placed, by_mm: Point) -> Placed:
        """Where a piece lies after it is carried `by_mm` over the table: on the cloth under its middle, else it waits.

        Coming to ground with another up, it turns along; coming from waiting it takes the first turn it allows.
        """
        ring = self.outline(placed)
        x, y = bounds(ring).middle
        to = self.sheet_at((x + by_mm[0], y + by_mm[1]))
        source = self.sheet(placed.cloth)
        anchor = source.to_table.at((placed.x_mm, placed.y_mm))
        at = to.from_table.at((anchor[0] + by_mm[0], anchor[1] + by_mm[1]))
        return replace(placed, cloth=to.id, x_mm=at[0], y_mm=at[1], turn_deg=self._turn_after(placed, source, to, at))

    def _turn_after(self, placed: Placed, source: Sheet, to: Sheet, at: Point) -> float:
        if to.id == WAITING:
            return placed.turn_deg
        if source.id == WAITING:
            turns = self._lying_by_id[placed.piece].turns_deg
            first = turns[0] if turns else 0.0
            return _full_turn(to.up_deg(at) + first)
        return _full_turn(placed.turn_deg + to.up_deg(at) - source.up_deg((placed.x_mm, placed.y_mm)))

    def turned(self, placed: Placed, *, clockwise: bool = True) -> Placed | None:
        """The piece in the next turn it allows (a quarter on when it allows any); None when it allows no other."""
        turns = self._lying_by_id[placed.piece].turns_deg
        now = _full_turn(placed.turn_deg - self.sheet(placed.cloth).up_deg((placed.x_mm, placed.y_mm)))
        step = _turn_step(now, (now, now + 90.0, now + 180.0, now + 270.0) if turns is None else turns, clockwise)
        return None if step is None else replace(placed, turn_deg=_full_turn(placed.turn_deg + step))


def _full_turn(turn_deg: float) -> float:
    """The same turn from 0 up to 360, float dust at the seam taken off."""
    within = turn_deg % 360.0
    return 0.0 if 360.0 - within < SAME_TURN_DEG else within


def _turn_step(now_deg: float, turns_deg: Iterable[float], clockwise: bool) -> float | None:
    """The smallest turn in that direction that leads to an allowed one, in degrees; None when there is no other."""
    steps = [_full_turn((each - now_deg) if clockwise else (now_deg - each)) for each in turns_deg]
    ahead = [step for step in steps if step > SAME_TURN_DEG]
    if not ahead:
        return None
    return min(ahead) if clockwise else -min(ahead)


def _in_box(box: Box, at: Point) -> bool:
    return box.left_mm <= at[0] <= box.right_mm and box.top_mm <= at[1] <= box.bottom_mm


def _inside(ring: Ring, at: Point) -> bool:
    """Even-odd rule: a ray to the right crosses the outline an odd number of times."""
    x, y = at
    inside = False
    for (x0, y0), (x1, y1) in ring_sides(ring):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside
