"""The room of a piece's anchor as points of contact, kept up to date while other pieces are put down.

A *stand* is one way a piece may lie on one ground: its turn there and its convex parts around the anchor. Its *field*
holds what is in the way and the places where it would touch two things at once, or where its repeat allows it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.convex import convex_parts, hull
from coverlayout.geometry.frames import Point, Ring, shift, turn
from coverlayout.geometry.shapes import Box, Region
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.filling.contact import DEPTH_MM, Barrier, Floats, Groups, crossings, oriented, sum_of
from coverlayout.layout.filling.rims import rim_of
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked
from coverlayout.layout.search.repeats import Points, points_in_box
from coverlayout.motif.lattice import Lattice

__all__ = ["Field", "Obstacles", "Stand", "first_field", "obstacles_of", "stand_of"]

# So many barriers are looked at together.
_TOGETHER = 8
# Of stripes so fine that a ground has more of them only the first count.
_MOST_STRIPES = 2_000


@dataclass(frozen=True, eq=False)
class Stand:
    """A piece's turn on a ground: its convex parts, those that stay seen, and its rim, as rings around its anchor.

    `low` and `high` are the corners of the box around it; `shape_key` is equal for turns that make no difference to
    what is in the way, wherever the anchor comes to lie.
    """

    cloth: ClothAsked
    ground: Ground
    turn_deg: float
    parts: tuple[Points, ...]
    seen: tuple[Points, ...]
    rim: Points
    low: Floats
    high: Floats
    shape_key: tuple[tuple[tuple[int, int], ...], ...]

    def barrier(self, moving: Stand, apart_mm: float) -> Barrier:
        """Where a moving piece would overlap this one, or come nearer than `apart_mm`, counted from this anchor."""
        return Barrier.of([sum_of(one, other, apart_mm) for one in self.parts for other in moving.parts])


def stand_of(
    piece: PieceAsked, cloth: ClothAsked, ground: Ground, turn_deg: float, cell_mm: float = 1.0
) -> Stand | None:
    """A piece turned by `turn_deg` (clockwise in the cloth frame) on a ground whose cells are so large.

    None for an outline without area.
    """
    to_anchor = shift(-piece.anchor_mm[0], -piece.anchor_mm[1]).then(turn(turn_deg))
    outline = to_anchor.ring(piece.outline_mm)
    parts = _parts(outline)
    if not parts:
        return None
    seen_outline = outline if piece.seen_mm is None else to_anchor.ring(piece.seen_mm)
    seen = parts if piece.seen_mm is None else _parts(seen_outline)
    points = np.concatenate(parts)
    low = points.min(axis=0)
    key = tuple(tuple(sorted(_whole(ring, low))) for ring in (outline, seen_outline))
    return Stand(cloth, ground, turn_deg, parts, seen, rim_of(outline, cell_mm), low, points.max(axis=0), key)


def _whole(ring: Ring, low: Floats) -> list[tuple[int, int]]:
    """The corners counted from the box's, in whole DEPTH_MM."""
    corners = np.round((np.asarray(ring) - low) / DEPTH_MM).astype(np.int64)
    return [(x, y) for x, y in corners.tolist()]


def _parts(ring: Ring) -> tuple[Points, ...]:
    return tuple(oriented(part) for part in convex_parts(Region.of(ring)))


@dataclass(frozen=True, eq=False)
class Obstacles:
    """What stays in the way on a ground, as convex parts: beyond its edge within its hull, flaws, and neighbours."""

    hull: Points
    beyond: tuple[Points, ...]
    flaws: tuple[Points, ...]
    seen_only: tuple[Points, ...]
    neighbours: tuple[Points, ...]


def obstacles_of(cloth: ClothAsked, ground: Ground) -> Obstacles:
    """The obstacles of a ground; its hull is empty when nothing of it is usable."""
    outer = hull(ground.usable)
    beyond = Region.of(outer).minus(ground.usable) if outer else Region.nothing()
    flaws = [k.region for k in cloth.keep_outs if not k.spoiled and not k.seen_only]
    holes = [k.region for k in cloth.keep_outs if k.spoiled]
    fixed = [Region.of(outline_on_cloth(piece, placed)) for piece, placed in cloth.fixed]
    return Obstacles(
        oriented(outer) if outer else np.empty((0, 2)),
        _all_parts([beyond]),
        _all_parts(flaws),
        _all_parts([k.region for k in cloth.keep_outs if k.seen_only]),
        _all_parts([*holes, *fixed]),
    )


def _all_parts(regions: list[Region]) -> tuple[Points, ...]:
    return tuple(oriented(part) for region in regions for part in convex_parts(region))


@dataclass(frozen=True, eq=False)
class Field:
    """The places of one stand: half-planes it must keep within, groups of those it must keep out of, and edges.

    `held`: only the places that its repeat allows count. On `stripes` (tails and heads of the lines that its repeat
    allows) their contacts with edges do.
    """

    within: tuple[Floats, Floats]
    barred: Groups
    tails: Points
    heads: Points
    places: Points
    reach: tuple[Floats, Floats]
    held: bool = False
    stripes: tuple[Points, Points] | None = None

    def behind(self, standing: Sequence[tuple[Barrier, Points]]) -> Field:
        """The field once barriers stand at their places: some places are gone, others come where shapes touch."""
        field = self
        for k in range(0, len(standing), _TOGETHER):
            field = field._behind_few(standing[k : k + _TOGETHER])
        return field

    def _behind_few(self, standing: Sequence[tuple[Barrier, Points]]) -> Field:
        more = Groups.joined([barrier.groups.moved(at) for barrier, at in standing])
        barred = Groups.joined([self.barred, more])
        kept = self.places[more.clear(self.places)]
        if self.held and self.stripes is None:
            return replace(self, barred=barred, places=kept)
        tails = np.concatenate([barrier.tails + at for barrier, at in standing])
        heads = np.concatenate([barrier.heads + at for barrier, at in standing])
        near = _meeting(tails, heads, *self.reach)
        tails, heads = tails[near], heads[near]
        every_tail, every_head = np.concatenate([self.tails, tails]), np.concatenate([self.heads, heads])
        if self.stripes is not None:
            fresh = crossings(tails, heads, *self.stripes)
        elif len(tails):
            ends = np.concatenate([tails, heads])
            near = _meeting(every_tail, every_head, ends.min(axis=0), ends.max(axis=0))
            corners = [barrier.corners + at for barrier, at in standing]
            fresh = np.concatenate([*corners, crossings(tails, heads, every_tail[near], every_head[near])])
        else:
            fresh = np.empty((0, 2))
        fresh = fresh[self._is_within(fresh)]
        fresh = fresh[barred.clear(fresh)]
        places = _distinct(np.concatenate([kept, fresh]))
        return replace(self, barred=barred, tails=every_tail, heads=every_head, places=places)

    def _is_within(self, points: Points) -> npt.NDArray[np.bool_]:
        normals, offsets = self.within
        return np.asarray((points @ normals.T <= offsets + DEPTH_MM).all(axis=1), dtype=np.bool_)

    def held_at(self, lattice: Lattice, anchor: Point) -> Field:
        """The field with only the places left that are a held anchor, whole repeats aside."""
        low, high = self.reach
        box = Box(float(low[0]), float(low[1]), float(high[0] - low[0]), float(high[1] - low[1]))
        if lattice.b_mm is not None:
            places = points_in_box(lattice, anchor, box)
            places = places[self._is_within(places)]
            return replace(self, places=places[self.barred.clear(places)], held=True)
        stripes = _stripes(lattice.a_mm, anchor, box)
        places = crossings(self.tails, self.heads, *stripes)
        places = places[self._is_within(places)]
        places = _distinct(places[self.barred.clear(places)])
        return replace(self, places=places, held=True, stripes=stripes)


def first_field(stand: Stand, obstacles: Obstacles, room_mm: float, apart_mm: float) -> Field | None:
    """The field of a stand among what stays in the way, `room_mm` from the edge; None where it fits nowhere."""
    edges = np.roll(obstacles.hull, -1, axis=0) - obstacles.hull
    length = np.hypot(edges[:, 0], edges[:, 1])
    if not len(length):
        return None
    normals = np.stack([edges[:, 1], -edges[:, 0]], axis=1) / length[:, None]
    points = np.concatenate(stand.parts)
    offsets = (normals * obstacles.hull).sum(axis=1) - (points @ normals.T).max(axis=0) - room_mm
    tails, heads = _inner_edges(normals, offsets)
    if not len(tails):
        return None
    ends = np.concatenate([tails, heads])
    field = Field(
        (normals, offsets), Groups.none(), tails, heads, _distinct(ends), (ends.min(axis=0), ends.max(axis=0))
    )
    standing: list[tuple[Barrier, Points]] = []
    for parts, moving, by_mm in (
        (obstacles.beyond, stand.parts, room_mm),
        (obstacles.flaws, stand.parts, 0.0),
        (obstacles.seen_only, stand.seen, 0.0),
        (obstacles.neighbours, stand.parts, apart_mm),
    ):
        for part in parts:
            standing.append((Barrier.of([sum_of(part, own, by_mm) for own in moving]), np.zeros(2)))
    return field.behind(standing) if standing else field


def _meeting(tails: Points, heads: Points, low: Floats, high: Floats) -> npt.NDArray[np.bool_]:
    """Which edges have boxes that meet a box."""
    above = np.maximum(tails, heads) >= low - DEPTH_MM
    return np.asarray((above & (np.minimum(tails, heads) <= high + DEPTH_MM)).all(axis=1), dtype=np.bool_)


def _inner_edges(normals: Floats, offsets: Floats) -> tuple[Points, Points]:
    """The edges of what lies within all half-planes; an area without width, where a shape just fits, has edges too."""
    start = normals * offsets[:, None]
    along = np.stack([-normals[:, 1], normals[:, 0]], axis=1)
    slope = along @ normals.T
    left = offsets - start @ normals.T
    level = np.abs(slope) <= EXACT_MM
    shut = (level & (left < -DEPTH_MM / 2)).any(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        met = left / slope
    last = np.where(~level & (slope > 0), met, np.inf).min(axis=1)
    first = np.where(~level & (slope < 0), met, -np.inf).max(axis=1)
    open_edges = ~shut & (first <= last + DEPTH_MM / 2) & np.isfinite(first) & np.isfinite(last)
    first, last, start, along = (part[open_edges] for part in (first, last, start, along))
    middle = (first + last) / 2
    first, last = np.minimum(first, middle), np.maximum(last, middle)
    return start + first[:, None] * along, start + last[:, None] * along


def _stripes(step: Point, anchor: Point, box: Box) -> tuple[Points, Points]:
    """Tails and heads of the lines across a box on which an anchor is held."""
    lattice = Lattice(step)
    ahead = [lattice.coordinates((x - anchor[0], y - anchor[1]))[0] for x, y in box.ring()]
    numbers = np.arange(math.floor(min(ahead)), math.ceil(max(ahead)) + 1)[:_MOST_STRIPES]
    length = math.hypot(*step)
    along = np.array([-step[1], step[0]]) / length * (box.width_mm + box.height_mm + length)
    middle = np.array(box.middle)
    across = np.array(step) / length
    base = middle - across * float(np.dot(middle - np.array(anchor), across))
    foot = base + numbers[:, None] * np.array(step)
    return foot - along, foot + along


def _distinct(points: Points) -> Points:
    """The points without those that are the same within DEPTH_MM, in a fixed order."""
    if len(points) < 2:
        return points
    keys = np.round(points / DEPTH_MM).astype(np.int64)
    _, kept = np.unique(keys[:, 1] * (1 << 31) + keys[:, 0], return_index=True)
    return points[kept]
