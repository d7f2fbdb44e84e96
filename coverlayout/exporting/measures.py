"""The measures of what lies on a cloth, worked out once for one side; table, drawing and screen show this list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.book.pieces import Face, Mark
from coverlayout.cloth.usable import outline_region
from coverlayout.document.project import Project
from coverlayout.document.questions import placed_now, planned_pieces, question_for
from coverlayout.exporting.measuring.beside import Beside, Neighbour
from coverlayout.exporting.measuring.by_line import (
    FromLine,
    Side,
    cloth_to_side,
    from_line,
    line_seen,
    line_zero_deg,
    seen_deg,
)
from coverlayout.exporting.measuring.shape import CutShape, FaceSeen, face_seen, shape_of
from coverlayout.exporting.names import called, fact_name
from coverlayout.geometry.frames import Affine, Point, Ring, lean_deg, piece_to_cloth, signed_deg
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import ClothAsked, Ground, Placed

__all__ = ["Edge", "Measure", "Zero", "measures"]

Zero = Literal["edges", "print", "line"]
"""What a turn is counted from: the edges of the cloth, the print's up where the piece lies, or the base line."""
Edge = Literal["spine", "mouth"]


@dataclass(frozen=True)
class Measure:
    """One piece as seen from the side being marked, lengths in mm from the cloth's left and top edges on that side.

    `name` is what to call the piece, told apart from others of that name. `box` is the upright box as the piece lies,
    `width_mm` and `height_mm` are its own, head up. `turn_deg` is clockwise as seen from that side, 0 up to 360, with 0
    where the head is up on the cloth. `zero_deg` is the turn of what counts as upright: 0 where the edges are measured
    from; by the base line, the print's up under the piece, else the line's own. `in_repeat_mm` is where the piece's
    anchor (the board's centre) sits in the repeat, in the print's own frame, None without a print or with an unknown
    origin. Outlines, marks and faces are in the side's view. `from_line` is there when the cloth is measured from its
    base line. `edge` is what its spine edge is called: the walls of a slipcase have the mouth there.
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
    zero_deg: float = 0.0
    zero: Zero = "edges"
    shape: CutShape = "rectangle"
    faces: tuple[FaceSeen, ...] = ()
    edge: Edge = "spine"

    @property
    def shown_turn_deg(self) -> float:
        """The turn that every table shows: from what counts as upright, clockwise as seen, above -180 up to 180."""
        return signed_deg(self.turn_deg - self.zero_deg)

    @property
    def size_shown_mm(self) -> tuple[float, float]:
        """Width and height that every table shows.

        As the piece lies; its own, head up, where it lies askew or is measured from the base line, so that no box
        round it is cut for it.
        """
        own = self.askew or self.from_line is not None
        return (self.width_mm, self.height_mm) if own else (self.box.width_mm, self.box.height_mm)

    @property
    def askew(self) -> bool:
        """True when the piece lies at no quarter turn, so that its box is larger than it is."""
        return lean_deg(self.turn_deg) != 0.0


@dataclass(frozen=True)
class _Lying:
    """A piece as it lies, from whichever list it came, in the cloth frame."""

    piece: str
    name: str
    state: Literal["planned", "cut", "spoiled"]
    place: Placed
    anchor_mm: Point
    outline_mm: Ring
    marks: tuple[Mark, ...] = ()
    faces: tuple[Face, ...] = ()
    edge: Edge = "spine"

    def seen(self, to_side: Affine) -> Affine:
        """Piece frame to what one sees from the side."""
        at = (self.place.x_mm, self.place.y_mm)
        return piece_to_cloth(self.anchor_mm, at, self.place.turn_deg).then(to_side)


def measures(project: Project, cloth_id: str, side: Side, *, only: str | None = None) -> tuple[Measure, ...]:
    """Every piece that lies on the cloth, planned, cut or spoiled, in the order of the project's pieces.

    `only` the piece of that id, where one is enough. Empty when nothing lies there. KeyError for a cloth that is not in
    the project.
    """
    cloth = project.cloth(cloth_id)
    to_side = cloth_to_side(cloth, side)
    ground = outline_region(cloth).mapped(to_side)
    lying = [(one, one.seen(to_side)) for one in _lying(project, cloth_id)]
    beside = Beside(ground, [(one.piece, seen.ring(one.outline_mm)) for one, seen in lying])
    asked = next((one for one in question_for(project).cloths if one.id == cloth_id), None)
    edge, line = ground.bounds, line_seen(cloth, side)
    found = []
    for number, (one, seen) in enumerate(lying):
        if only is not None and one.piece != only:
            continue
        outline, turn_deg = seen.ring(one.outline_mm), seen_deg(one.place.turn_deg, side)
        box, lean = bounds(outline), lean_deg(turn_deg)
        under = _ground_under(asked, (one.place.x_mm, one.place.y_mm))
        zero, zero_deg = _zero(under, side, line)
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
                turn_deg=turn_deg,
                to_left=beside.nearest(number, lean, "left"),
                to_top=beside.nearest(number, lean, "above"),
                in_repeat_mm=_place_in_repeat(under, (one.place.x_mm, one.place.y_mm)),
                outline_mm=outline,
                marks=tuple(replace(mark, points_mm=seen.ring(mark.points_mm)) for mark in one.marks),
                from_line=None if line is None else from_line(outline, turn_deg, line),
                zero_deg=zero_deg,
                zero=zero,
                shape=shape_of(one.outline_mm),
                faces=tuple(face_seen(face, seen) for face in one.faces),
                edge=one.edge,
            )
        )
    return tuple(found)


def _lying(project: Project, cloth_id: str) -> list[_Lying]:
    """Planned pieces that are placed on the cloth, then those cut or spoiled there."""
    places = {place.piece: place for place in placed_now(project) if place.cloth == cloth_id}
    planned = planned_pieces(project)
    names = called(planned, project.cut_pieces)
    cases = {book.id for book in project.books if book.structure == "slipcase"}
    lying = [
        _Lying(
            piece.id,
            names[piece.id],
            "planned",
            places[piece.id],
            piece.anchor_mm,
            piece.outline_mm,
            piece.marks,
            piece.faces,
            "mouth" if piece.book_id in cases else "spine",
        )
        for piece in planned
        if piece.id in places
    ]
    lying += [
        _Lying(fact.piece, fact_name(fact, names), fact.state, fact.place, fact.anchor_mm, fact.outline_mm)
        for fact in project.cut_pieces
        if fact.place.cloth == cloth_id
    ]
    return lying


def _zero(under: Ground | None, side: Side, line: tuple[Point, Point] | None) -> tuple[Zero, float]:
    """What a turn is counted from, and how that is turned as seen from the side."""
    if line is None:
        return "edges", 0.0
    if under is not None and under.print_to_cloth is not None:
        return "print", seen_deg(under.up_deg, side)
    return "line", line_zero_deg(line)


def _ground_under(asked: ClothAsked | None, at_mm: Point) -> Ground | None:
    """The part of the cloth that lies under a place; on a cloth of one part, that one wherever the place is."""
    grounds = asked.grounds if asked else ()
    only = grounds[0] if len(grounds) == 1 else None
    return next((ground for ground in grounds if ground.usable.contains(at_mm)), only)


def _place_in_repeat(under: Ground | None, at_mm: Point) -> Point | None:
    """Where a point of the cloth sits in the repeat of the print that lies there, in the print's own frame."""
    if under is None or not (under.print_to_cloth and under.lattice_mm and under.origin_known):
        return None
    if not under.usable.contains(at_mm):
        return None
    to_print = under.print_to_cloth.inverse()
    return under.lattice_mm.mapped(to_print).place_in_repeat(to_print.at(at_mm))
