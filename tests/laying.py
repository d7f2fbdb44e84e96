"""Questions to the layout for tests, and a check of a layout that shares no code with the program's own rules."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from shapely import affinity
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, PieceAsked, Placed, Question

ANY = (0.0, 90.0, 180.0, 270.0)
INCH = 25.4
# Two lengths are equal within this, as the program promises.
WITHIN_MM = 0.01


def piece(
    name: str,
    width_mm: float,
    height_mm: float,
    turns_deg: tuple[float, ...] | None = (0.0,),
    *,
    outline: Ring | None = None,
    anchor: Point | None = None,
    print_id: str | None = None,
    seen: Ring | None = None,
) -> PieceAsked:
    ring = outline or rectangle(width_mm, height_mm)
    return PieceAsked(name, ring, anchor or bounds(ring).middle, turns_deg, print_id, seen_mm=seen)


def cloth(
    width_mm: float,
    length_mm: float,
    *,
    name: str = "c",
    keep_outs: Sequence[KeepOut] = (),
    fixed: Sequence[tuple[PieceAsked, Placed]] = (),
    up_deg: float = 0.0,
    outline: Ring | None = None,
    edge_mm: float = 0.0,
    print_id: str | None = None,
) -> ClothAsked:
    ring = outline or rectangle(width_mm, length_mm)
    ground = Ground(f"{name}-all", Region.of(ring).inset(edge_mm), print_id, up_deg)
    return ClothAsked(name, name, ring, (ground,), tuple(keep_outs), tuple(fixed))


def flaw(ring: Ring, name: str = "stain", *, seen_only: bool = False, spoiled: bool = False) -> KeepOut:
    return KeepOut(name, name, Region.of(ring), seen_only, spoiled)


def book_pieces(books: int = 1, liner_turns: tuple[float, ...] = ANY) -> tuple[PieceAsked, ...]:
    """Pages of 4.5 x 6 in, 15 mm turn-in, liners inset 3 mm (common practice, no source)."""
    pieces: list[PieceAsked] = []
    for number in range(1, books + 1):
        pieces += [piece(f"{name}-{number}", 144.3, 182.4) for name in ("front", "back")]
        pieces += [piece(f"liner-{name}-{number}", 108.3, 146.4, liner_turns) for name in ("front", "back")]
    return tuple(pieces)


def core(side_mm: float, liner_turns: tuple[float, ...] = ANY) -> Question:
    """One such book on a square of cloth."""
    return Question(book_pieces(1, liner_turns), (cloth(side_mm, side_mm),))


def polygon_of(asked: PieceAsked, placed: Placed) -> Polygon:
    """The cut outline on the cloth by shapely alone: shifted by the anchor, turned clockwise with y down, shifted."""
    start = affinity.translate(Polygon(asked.outline_mm), -asked.anchor_mm[0], -asked.anchor_mm[1])
    turned = affinity.rotate(start, placed.turn_deg, origin=(0, 0))
    return affinity.translate(turned, placed.x_mm, placed.y_mm)


def faults(question: Question, placed: Iterable[Placed]) -> list[str]:
    """What is wrong with a layout, in words; empty when it is right. Locks and links are not looked at."""
    lies = {one.piece: one for one in placed}
    found = [f"{asked.id} is missing" for asked in question.pieces if asked.id not in lies]
    shapes = {asked.id: polygon_of(asked, lies[asked.id]) for asked in question.pieces if asked.id in lies}
    cloths = {one.id: one for one in question.cloths}
    for asked in question.pieces:
        if asked.id in shapes:
            found += _alone(asked, shapes[asked.id], lies[asked.id], cloths[lies[asked.id].cloth])
    names = sorted(shapes)
    for k, name in enumerate(names):
        on = cloths[lies[name].cloth]
        others = [(other, shapes[other]) for other in names[k + 1 :] if lies[other].cloth == on.id]
        others += [(fixed.id, polygon_of(fixed, there)) for fixed, there in on.fixed]
        others += [(hole.id, hole.region.shape) for hole in on.keep_outs if hole.spoiled]
        for other, shape in others:
            if _shrunk(shapes[name]).intersects(shape) and _shrunk(shapes[name]).intersection(shape).area > 0:
                found.append(f"{name} overlaps {other}")
            elif shapes[name].distance(shape) < question.gap_mm - WITHIN_MM:
                found.append(f"{name} too near {other}")
    return found


def _alone(asked: PieceAsked, shape: Polygon, placed: Placed, on: ClothAsked) -> list[str]:
    found = []
    grounds = [
        ground
        for ground in on.grounds
        if asked.print_id in (None, ground.print_id) and ground.usable.shape.buffer(WITHIN_MM).covers(shape)
    ]
    if not grounds:
        return [f"{asked.id} is off its ground"]
    if asked.turns_deg is not None and not any(
        abs((placed.turn_deg - ground.up_deg - turn + 180.0) % 360.0 - 180.0) < 1e-6
        for ground in grounds
        for turn in asked.turns_deg
    ):
        found.append(f"{asked.id} is turned wrongly")
    for keep_out in on.keep_outs:
        ring = asked.seen_mm if keep_out.seen_only and asked.seen_mm else asked.outline_mm
        part = polygon_of(PieceAsked(asked.id, ring, asked.anchor_mm), placed)
        if _shrunk(part).intersects(keep_out.region.shape):
            found.append(f"{asked.id} lies on {keep_out.name}")
    return found


def _shrunk(shape: Polygon) -> Polygon:
    return shape.buffer(-WITHIN_MM, join_style="mitre")


def clearance_of(question: Question, placed: Iterable[Placed]) -> float:
    """Least distance between two pieces or a piece and the usable edge of its cloth's only ground, by shapely."""
    asked = {one.id: one for one in question.pieces}
    cloths = {one.id: one for one in question.cloths}
    lies = [(one, polygon_of(asked[one.piece], one)) for one in placed]
    least = math.inf
    for k, (one, shape) in enumerate(lies):
        least = min(least, cloths[one.cloth].grounds[0].usable.shape.exterior.distance(shape))
        for other, beside in lies[k + 1 :]:
            if other.cloth == one.cloth:
                least = min(least, shape.distance(beside))
    return least
