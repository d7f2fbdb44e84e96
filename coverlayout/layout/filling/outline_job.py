"""A question about outlines of any shape made ready for filling: kinds of piece, their stands, and what stays."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from coverlayout.geometry.convex import hull
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import area_mm2, bounds, ring_sides
from coverlayout.layout.filling.contact import Barrier
from coverlayout.layout.filling.fields import Field, Obstacles, Stand, first_field, obstacles_of, stand_of
from coverlayout.layout.filling.rims import Cells
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.repeats import Holds, lying_for_good
from coverlayout.layout.search.sheets import allowed_on, like

__all__ = ["Kind", "OutlineJob", "turns_of"]

# A piece of any angle is tried in steps of this, and with one of its longest edges along one of the ground's.
_STEP_DEG = 15.0
_LONGEST_EDGES = 4
# What making a stand, and a barrier between two, costs in steps.
_STAND_STEPS, _BARRIER_STEPS = 15, 2

_Lies = Mapping[str, tuple[Placed, Ground]]


@dataclass(frozen=True, eq=False)
class Kind:
    """Pieces that can change places without any difference: their numbers in the question, and their stands.

    `first` are the fields of the stands on empty cloth, None for those that fit nowhere.
    """

    pieces: tuple[int, ...]
    area_mm2: float
    width_mm: float
    height_mm: float
    stands: tuple[Stand, ...]
    first: tuple[Field | None, ...]


class OutlineJob:
    """The kinds of a question at one room, and the barriers between their stands, worked out when first asked for."""

    def __init__(self, question: Question, effort: Effort, room_mm: float = 0.0, *, angles: int = 8) -> None:
        """Make every stand and its empty field ready; `angles`: how many are tried for a piece of any angle.

        `room_mm` is kept from the edges and between pieces. OutOfSteps when the effort is spent before.
        """
        self.question, self.holds, self.angles = question, Holds(question), angles
        self.lying = lying_for_good(question)
        self.apart_mm = max(question.gap_mm, room_mm)
        self._effort, self._room_mm = effort, room_mm
        self._barriers: dict[tuple[int, int], Barrier] = {}
        self._grounds = [(cloth, ground) for cloth in question.cloths for ground in cloth.grounds]
        self._obstacles: dict[int, Obstacles] = {}
        self.cells: dict[int, Cells] = {}
        for cloth, ground in self._grounds:
            effort.spend(_STAND_STEPS)
            self._obstacles[id(ground)] = stays = obstacles_of(cloth, ground)
            cells = Cells(ground.usable)
            self.cells[id(ground)] = cells.with_parts((*stays.flaws, *stays.neighbours), np.zeros(2))
        alike: dict[object, list[int]] = {}
        for k, piece in enumerate(question.pieces):
            held = piece.id if self.holds.holds(piece.id) else ""
            alike.setdefault((like(piece), held), []).append(k)
        self.kinds = [self._kind(tuple(numbers)) for numbers in alike.values()]

    def _kind(self, numbers: tuple[int, ...]) -> Kind:
        piece = self.question.pieces[numbers[0]]
        stands: list[Stand] = []
        fields: list[Field | None] = []
        for cloth, ground in self._grounds:
            if not allowed_on(piece, cloth, ground):
                continue
            for stand in self._stands(piece, cloth, ground):
                field = first_field(stand, self._obstacles[id(ground)], self._room_mm, self.apart_mm)
                stands.append(stand)
                fields.append(None if field is None else self.held_field(piece, stand, field, self.lying))
        box = bounds(piece.outline_mm)
        area = area_mm2(piece.outline_mm)
        return Kind(numbers, area, box.width_mm, box.height_mm, tuple(stands), tuple(fields))

    def _stands(self, piece: PieceAsked, cloth: ClothAsked, ground: Ground) -> list[Stand]:
        """The stands on a ground; of turns that make no difference to a free piece only the first."""
        kept: dict[object, Stand] = {}
        for turn_deg in turns_of(piece, ground):
            if piece.turns_deg is None and len(kept) == self.angles:
                break
            self._effort.spend(_STAND_STEPS)
            stand = stand_of(piece, cloth, ground, turn_deg, self.cells[id(ground)].cell_mm)
            if stand is not None:
                kept.setdefault(turn_deg if self.holds.holds(piece.id) else stand.shape_key, stand)
        return list(kept.values())

    def held_field(self, piece: PieceAsked, stand: Stand, field: Field, lies: _Lies) -> Field | None:
        """The field with only the places where the repeat allows the piece, as things lie; None where it never does."""
        if not self.holds.holds(piece.id):
            return field
        anchors = self.holds.anchors(piece, stand.ground, stand.turn_deg, lies)
        if anchors is None:
            return None
        if not anchors:
            return field
        assert stand.ground.lattice_mm is not None, "an anchor is only held where there is a repeat"
        return field.held_at(stand.ground.lattice_mm, anchors[0])

    def partners(self, piece_number: int) -> tuple[int, ...]:
        """The kinds of the pieces that a piece is linked with."""
        linked = {
            other for link in self.holds.links.get(self.question.pieces[piece_number].id, ()) for other in link.pieces
        }
        return tuple(
            k for k, kind in enumerate(self.kinds) if linked and self.question.pieces[kind.pieces[0]].id in linked
        )

    def barrier(self, standing: Stand, moving: Stand) -> Barrier:
        """The barrier between two stands."""
        key = id(standing), id(moving)
        if key not in self._barriers:
            self._effort.spend(_BARRIER_STEPS)
            self._barriers[key] = standing.barrier(moving, self.apart_mm)
        return self._barriers[key]


def turns_of(piece: PieceAsked, ground: Ground) -> tuple[float, ...]:
    """The turns to try on a ground, clockwise in the cloth frame, each once.

    For a piece of any angle the most promising first: quarter turns from the ground's up, one of its longest edges
    along one of the ground's, then along a diagonal of the ground's box, then even steps.

    >>> from coverlayout.geometry.shapes import Region
    >>> ring = ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0))
    >>> turns_of(PieceAsked("a", ring, (0.0, 0.0), (90.0, 270.0)), Ground("g", Region.of(ring), up_deg=300.0))
    (30.0, 210.0)
    """
    if piece.turns_deg is not None:
        return tuple(dict.fromkeys((ground.up_deg + turn_deg) % 360.0 for turn_deg in piece.turns_deg))
    turns = [ground.up_deg + quarter for quarter in (0.0, 90.0, 180.0, 270.0)]
    own = _directions(piece.outline_mm)
    box = ground.usable.bounds
    diagonal = math.degrees(math.atan2(box.height_mm, box.width_mm))
    for deg in (*_directions(hull(ground.usable)), diagonal, -diagonal):
        turns += [deg - own_deg + half for own_deg in own for half in (0.0, 180.0)]
    turns += [ground.up_deg + _STEP_DEG * k for k in range(int(360.0 / _STEP_DEG))]
    return tuple(dict.fromkeys(round(turn_deg % 360.0, 6) % 360.0 for turn_deg in turns))


def _directions(ring: Ring) -> list[float]:
    """The directions of the longest edges, in degrees up to a half turn, longest first, each once."""
    edges = [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in ring_sides(ring)]
    edges.sort(key=lambda edge: -round(math.hypot(*edge), 6))
    found = dict.fromkeys(round(math.degrees(math.atan2(along, across)) % 180.0, 9) for across, along in edges)
    return list(found)[:_LONGEST_EDGES]
