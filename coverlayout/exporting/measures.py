"""The measures of what lies on a cloth, worked out once for one side; table, drawing and screen show this list."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from coverlayout.book.pieces import Mark
from coverlayout.cloth.base_line import base_line_now, cloth_to_line, line_turn_deg
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import outline_region
from coverlayout.document.project import Project
from coverlayout.document.questions import placed_now, planned_pieces, question_for
from coverlayout.geometry.frames import IDENTITY, Affine, Point, Ring, cloth_to_back, piece_to_cloth, turns_apart_deg
from coverlayout.geometry.shapes import Box, Region, bounds
from coverlayout.geometry.tolerance import SAME_TURN_DEG, SNAP_MM
from coverlayout.layout.question import ClothAsked, Placed

__all__ = ["FromLine", "Measure", "Neighbour", "Side", "cloth_to_side", "line_seen", "measures", "step_on_cloth"]

Side = Literal["print", "back"]


@dataclass(frozen=True)
class Neighbour:
    """The nearest other piece or edge of the cloth in one direction: its id (or "edge") and how far, 0 mm or more.

    `at_mm` tells where it is nearest, in the view of the side: y for what lies to the left, x for what lies above.
    """

    name: str
    distance_mm: float
    at_mm: float = field(default=0.0, compare=False)


@dataclass(frozen=True)
class FromLine:
    """Where a piece lies by the cloth's base line, as seen from the side: (along, across) of two of its corners, in mm.

    Along is counted from the line's start towards its end; across is above 0 to the right of the line, as one looks
    from its start to its end on that side. The corners are the upper left and upper right one of the cut outline's box,
    head up, as seen from the side; `corner_mm` is the upper left one in the side's view. `turn_deg` is the piece's
    turn, clockwise as seen, counted from the line's direction.
    """

    left_mm: Point
    right_mm: Point
    turn_deg: float
    corner_mm: Point


@dataclass(frozen=True)
class Measure:
    """One piece as seen from the side being marked, lengths in mm from the cloth's left and top edges on that side.

    `box` is the upright box as the piece lies, `width_mm` and `height_mm` are its own, unturned. `turn_deg` is
    clockwise as seen from that side. `in_repeat_mm` is where the piece's anchor (the board's centre) sits in the
    repeat, in the print's own frame, None without a print or with an unknown origin. Outlines and marks are in the
    side's view. `from_line` is there when the cloth is measured from its base line.
    """

    piece: str
    name: str
    state: Literal["planned", "cut", "spoiled"]
    side: Side
    cloth_id: str
    cloth: str
    box: Box
    width_mm: float
    height_mm: float
    turn_deg: float
    to_left: Neighbour
    to_top: Neighbour
    in_repeat_mm: Point | None
    outline_mm: Ring
    marks: tuple[Mark, ...]
    from_line: FromLine | None = None

    @property
    def askew(self) -> bool:
        """True when the piece lies at no quarter turn, so that its box is larger than it is."""
        return turns_apart_deg(self.turn_deg * 4, 0.0) > SAME_TURN_DEG


@dataclass(frozen=True)
class _Lying:
    """A piece as it lies, from whichever list it came, in the cloth frame."""

    piece: str
    name: str
    state: Literal["planned", "cut", "spoiled"]
    place: Placed
    anchor_mm: Point
    outline_mm: Ring
    marks: tuple[Mark, ...]

    def seen(self, to_side: Affine) -> Affine:
        """Piece frame to what one sees from the side."""
        at = (self.place.x_mm, self.place.y_mm)
        return piece_to_cloth(self.anchor_mm, at, self.place.turn_deg).then(to_side)


def cloth_to_side(cloth: Cloth, side: Side) -> Affine:
    """Cloth frame to what one sees from that side: the same for the print side, mirrored for the back."""
    return cloth_to_back(outline_region(cloth).bounds.right_mm) if side == "back" else IDENTITY


def line_seen(cloth: Cloth, side: Side) -> tuple[Point, Point] | None:
    """Start and end of the base line as one sees it from that side; None unless the cloth is measured from it."""
    line = base_line_now(cloth)
    if line is None or cloth.base_line is None or not cloth.base_line.measured_from:
        return None
    to_side = cloth_to_side(cloth, side)
    return to_side.at(line[0]), to_side.at(line[1])


def step_on_cloth(cloth: Cloth, side: Side, step_mm: Point) -> Point:
    """A step as it is measured on that side (to the right and down, or along and across the base line) on the cloth."""
    line = line_seen(cloth, side)
    on_side = step_mm if line is None else cloth_to_line(*line).inverse().vector(step_mm)
    return cloth_to_side(cloth, side).inverse().vector(on_side)


def measures(project: Project, cloth_id: str, side: Side, *, only: str | None = None) -> tuple[Measure, ...]:
    """Every piece that lies on the cloth, planned, cut or spoiled, in the order of the project's pieces.

    `only` the piece of that id, where one is enough. Empty when nothing lies there. KeyError for a cloth that is not in
    the project.
    """
    cloth = project.cloth(cloth_id)
    lying = _lying(project, cloth_id)
    to_side = cloth_to_side(cloth, side)
    ground = outline_region(cloth).mapped(to_side)
    seen = {one.piece + one.state: Region.of(one.seen(to_side).ring(one.outline_mm)) for one in lying}
    asked = next((one for one in question_for(project).cloths if one.id == cloth_id), None)
    edge, line = ground.bounds, line_seen(cloth, side)
    found = []
    for one in lying:
        if only is not None and one.piece != only:
            continue
        region = seen[one.piece + one.state]
        others = [(other.piece, seen[other.piece + other.state]) for other in lying if other is not one]
        box = region.bounds
        found.append(
            Measure(
                piece=one.piece,
                name=one.name,
                state=one.state,
                side=side,
                cloth_id=cloth_id,
                cloth=cloth.name,
                box=Box(box.left_mm - edge.left_mm, box.top_mm - edge.top_mm, box.width_mm, box.height_mm),
                width_mm=bounds(one.outline_mm).width_mm,
                height_mm=bounds(one.outline_mm).height_mm,
                turn_deg=_seen_turn(one.place.turn_deg, side),
                to_left=_nearest(box, others, ground, to_left=True),
                to_top=_nearest(box, others, ground, to_left=False),
                in_repeat_mm=_place_in_repeat(asked, (one.place.x_mm, one.place.y_mm)),
                outline_mm=one.seen(to_side).ring(one.outline_mm),
                marks=tuple(replace(mark, points_mm=one.seen(to_side).ring(mark.points_mm)) for mark in one.marks),
                from_line=None if line is None else _from_line(one, to_side, side, line),
            )
        )
    return tuple(found)


def _lying(project: Project, cloth_id: str) -> list[_Lying]:
    """Planned pieces that are placed on the cloth, then those cut or spoiled there."""
    places = {place.piece: place for place in placed_now(project) if place.cloth == cloth_id}
    lying = [
        _Lying(piece.id, piece.name, "planned", places[piece.id], piece.anchor_mm, piece.outline_mm, piece.marks)
        for piece in planned_pieces(project)
        if piece.id in places
    ]
    lying += [
        _Lying(fact.piece, fact.name, fact.state, fact.place, fact.anchor_mm, fact.outline_mm, ())
        for fact in project.cut_pieces
        if fact.place.cloth == cloth_id
    ]
    return lying


def _from_line(one: _Lying, to_side: Affine, side: Side, line: tuple[Point, Point]) -> FromLine:
    """Where the corners of the piece's head lie by the base line, both as seen from the side."""
    box = bounds(one.outline_mm)
    left, right = (box.left_mm, box.top_mm), (box.right_mm, box.top_mm)
    # Seen from behind, the piece too is turned over: what was its left corner is its right one.
    corners = one.seen(to_side).ring((right, left) if side == "back" else (left, right))
    to_line = cloth_to_line(*line)
    return FromLine(
        left_mm=to_line.at(corners[0]),
        right_mm=to_line.at(corners[1]),
        turn_deg=(_seen_turn(one.place.turn_deg, side) - line_turn_deg(*line)) % 360.0,
        corner_mm=corners[0],
    )


def _seen_turn(turn_deg: float, side: Side) -> float:
    """The turn clockwise as seen from the side, 0 up to 360: clockwise in front is the other way round behind."""
    return (-turn_deg if side == "back" else turn_deg) % 360.0


def _nearest(box: Box, others: list[tuple[str, Region]], ground: Region, *, to_left: bool) -> Neighbour:
    """What comes first going straight left (or up) from the piece's box: another piece, or ground that is not cloth."""
    edge = ground.bounds
    if to_left:
        corridor = Box(edge.left_mm - 1, box.top_mm, box.left_mm - edge.left_mm + 1, box.height_mm)
    else:
        corridor = Box(box.left_mm, edge.top_mm - 1, box.width_mm, box.top_mm - edge.top_mm + 1)
    if min(corridor.width_mm, corridor.height_mm) <= 0:
        return Neighbour("edge", 0.0, _part_way(box, to_left=to_left))
    way = Region.of(corridor.ring())
    in_the_way = ((name, way.meet(region)) for name, region in others if _touch(corridor, region.bounds))
    nearest = [("edge", way.minus(ground)), *in_the_way]
    here = box.left_mm if to_left else box.top_mm
    return min(
        (
            Neighbour(
                name,
                here - (region.bounds.right_mm if to_left else region.bounds.bottom_mm),
                _part_way(_nearest_end(region, to_left=to_left), to_left=to_left),
            )
            for name, region in nearest
            if not region.is_empty
        ),
        key=lambda neighbour: neighbour.distance_mm,
        default=Neighbour("edge", here - (edge.left_mm if to_left else edge.top_mm), _part_way(box, to_left=to_left)),
    )


def _nearest_end(region: Region, *, to_left: bool) -> Box:
    """The part of what lies to the left (or above) that comes nearest, as a box without width (or height)."""
    far = region.bounds.right_mm if to_left else region.bounds.bottom_mm
    points = [point for outer, _ in region.parts() for point in outer]
    return bounds([point for point in points if far - point[0 if to_left else 1] <= SNAP_MM])


def _part_way(box: Box, *, to_left: bool) -> float:
    """Where a distance line is drawn along a box: a third of the way, clear of the marks in the middle of an edge."""
    return box.top_mm + box.height_mm / 3 if to_left else box.left_mm + box.width_mm / 3


def _touch(one: Box, other: Box) -> bool:
    """False when two boxes lie apart: most pieces are out of the way, and cutting shapes is dear."""
    across = one.left_mm <= other.right_mm and other.left_mm <= one.right_mm
    return across and one.top_mm <= other.bottom_mm and other.top_mm <= one.bottom_mm


def _place_in_repeat(asked: ClothAsked | None, at_mm: Point) -> Point | None:
    """Where a point of the cloth sits in the repeat of the print that lies there, in the print's own frame."""
    for ground in asked.grounds if asked else ():
        if ground.print_to_cloth and ground.lattice_mm and ground.origin_known and ground.usable.contains(at_mm):
            to_print = ground.print_to_cloth.inverse()
            return ground.lattice_mm.mapped(to_print).place_in_repeat(to_print.at(at_mm))
    return None
