"""What could be cut from a free rectangle: each kind of piece in rows, how many, and where the first would lie."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from coverlayout.book.book import OwnPiece
from coverlayout.book.pieces import Piece
from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.document.edits.books import add_own_piece
from coverlayout.document.edits.placements import place
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.questions import asked_piece, judge_for, placed_now, planned_pieces
from coverlayout.errors import Remark
from coverlayout.geometry.distance import Shape
from coverlayout.geometry.frames import Point, piece_to_cloth, turn
from coverlayout.geometry.shapes import Box, area_mm2, bounds, is_rectangle
from coverlayout.geometry.tolerance import LOCK_MM, SAME_LENGTH_MM
from coverlayout.layout.answer import Breach
from coverlayout.layout.phase_rules import lock_breach
from coverlayout.layout.placing import GroundReady, Laid
from coverlayout.layout.question import Ground, Lock, PieceAsked, Placed
from coverlayout.motif.lattice import Lattice

__all__ = ["Rows", "add_piece_there", "rows_in", "seat_in"]


@dataclass(frozen=True)
class Rows:
    """One kind of piece laid in rows in a free rectangle: `across` in each row, `along` rows, turned by `turn_deg`.

    `turn_deg` is the turn on the cloth. `at_least`: turning some of them, or fitting crooked outlines into each other,
    might bring more. `from_here` False: such a piece must come from another print, cloth or zone. `waiting` are the ids
    of those that wait beside the cloth, as they come in the project.
    """

    name: str
    width_mm: float
    height_mm: float
    across: int
    along: int
    turn_deg: float = 0.0
    at_least: bool = False
    from_here: bool = True
    waiting: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many."""
        return self.across * self.along


def rows_in(project: Project, left: LeftOver) -> tuple[Rows, ...]:
    """Each kind of piece of the project in the order of the book: how many the rectangle takes in straight rows.

    The gap is kept between them; turns and where a piece may come from count, wishes for the motif do not. A kind that
    does not go in has 0. Raises BadInput as `planned_pieces` does.
    """
    lying = {placed.piece for placed in placed_now(project)}
    kinds: dict[tuple[object, ...], list[Piece]] = {}
    for piece in planned_pieces(project):
        kinds.setdefault((piece.name, piece.outline_mm, piece.turns, piece.source), []).append(piece)
    return tuple(
        _rows(project, left, alike[0], tuple(piece.id for piece in alike if piece.id not in lying))
        for alike in kinds.values()
    )


def seat_in(project: Project, left: LeftOver, piece_id: str, turn_deg: float) -> tuple[Placed, bool]:
    """Where a piece lies in the rectangle's first corner at that turn; moved on to where its lock holds, if it can be.

    The answer's second part is False when the piece must keep a place in the repeat and does not there. KeyError for a
    piece that is not planned; the piece is taken to go in at that turn.
    """
    judge = judge_for(project)
    piece = judge.pieces[piece_id]
    box = _turned_box(piece, turn_deg - left.rectangle.turn_deg)
    corner = -box.left_mm, -box.top_mm
    room = max(left.rectangle.width_mm - box.width_mm, 0.0), max(left.rectangle.height_mm - box.height_mm, 0.0)
    locks = [lock for lock in judge.locks if lock.piece == piece_id]
    first = Placed(piece_id, left.cloth_id, *left.rectangle.at(corner), turn_deg % 360.0)
    laid = judge.laid(first, ())
    if not locks or isinstance(laid, Breach):
        return first, not locks
    for ground in _grounds(project, left, piece):
        for across_mm, along_mm in _shifts(left, ground.ground, locks[0], laid, room):
            x_mm, y_mm = left.rectangle.at((corner[0] + across_mm, corner[1] + along_mm))
            placed = replace(first, x_mm=x_mm, y_mm=y_mm)
            moved = judge.laid(placed, ())
            if isinstance(moved, Laid) and not any(lock_breach(lock, moved) for lock in locks):
                return placed, True
    return first, False


def add_piece_there(left: LeftOver, name: str) -> Edit:
    """Add a piece of the maker's own as large as the rectangle, head up as its print, and lay it there: one step.

    BadInput for a name that another piece has already.
    """
    turns = round((left.up_deg - left.rectangle.turn_deg) / 90.0)
    width_mm, height_mm = left.rectangle.width_mm, left.rectangle.height_mm
    if turns % 2:
        width_mm, height_mm = height_mm, width_mm

    def change(old: Project) -> Project:
        new = add_own_piece(OwnPiece("", name, width_mm, height_mm)).change(old)
        piece_id = new.own_pieces[-1].piece_ids[0]
        x_mm, y_mm = left.rectangle.middle_mm
        return place((Placed(piece_id, left.cloth_id, x_mm, y_mm, left.up_deg % 360.0),)).change(new)

    return Edit(Remark.of("edit-add-there", name=name), change)


def _rows(project: Project, left: LeftOver, piece: Piece, waiting: tuple[str, ...]) -> Rows:
    asked = asked_piece(project, piece)
    width, height = left.rectangle.width_mm, left.rectangle.height_mm
    found: list[tuple[int, int, float]] = []
    shapes = set()
    for turn_deg in _turns(project, left, asked):
        box = _turned_box(asked, turn_deg - left.rectangle.turn_deg)
        shapes.add((round(box.width_mm, 3), round(box.height_mm, 3)))
        gap_mm = project.rules.gap_mm
        found.append((_fit(width, box.width_mm, gap_mm), _fit(height, box.height_mm, gap_mm), turn_deg))
    # Of turns that bring as many, the first one allowed: head up before upside down.
    across, along, turn_deg = max(found, key=lambda one: one[0] * one[1], default=(0, 0, left.rectangle.turn_deg))
    at_most = int((left.rectangle.area_mm2 + SAME_LENGTH_MM) / area_mm2(piece.outline_mm))
    mixed = bool(found) and (len(shapes) > 1 or asked.turns_deg is None or not is_rectangle(piece.outline_mm))
    return Rows(
        name=piece.name or piece.id,
        width_mm=piece.width_mm,
        height_mm=piece.height_mm,
        across=across,
        along=along,
        turn_deg=turn_deg % 360.0,
        at_least=mixed and across * along < at_most,
        from_here=bool(found),
        waiting=waiting,
    )


def _fit(room_mm: float, length_mm: float, gap_mm: float) -> int:
    """How many lengths go into a room with gaps between them; a hair too long still counts as in."""
    return int((room_mm + gap_mm + SAME_LENGTH_MM) / (length_mm + gap_mm))


def _turns(project: Project, left: LeftOver, piece: PieceAsked) -> Iterator[float]:
    """The turns on the cloth at which the piece may lie there; of any angle, those straight in the rectangle."""
    for ground in _grounds(project, left, piece):
        if piece.turns_deg is None:
            yield from (left.rectangle.turn_deg, left.rectangle.turn_deg + 90.0)
        else:
            yield from (ground.ground.up_deg + turn_deg for turn_deg in piece.turns_deg)


def _grounds(project: Project, left: LeftOver, piece: PieceAsked) -> list[GroundReady]:
    """The grounds that the piece may come from and that hold the whole rectangle."""
    cloth = judge_for(project).cloths[left.cloth_id]
    shape = Shape.of(left.rectangle.ring())
    return [ground for ground in cloth.grounds if ground.takes(piece, left.cloth_id) and ground.shape.holds(shape)]


def _turned_box(piece: PieceAsked, turn_deg: float) -> Box:
    """The smallest upright box of the turned outline, counted from the piece's anchor."""
    return bounds(piece_to_cloth(piece.anchor_mm, (0.0, 0.0), turn_deg).ring(piece.outline_mm))


def _shifts(left: LeftOver, ground: Ground, lock: Lock, laid: Laid, room_mm: Point) -> list[Point]:
    """How far on the piece must go, across and along in the rectangle, for its lock to hold; the least way first."""
    if ground.print_to_cloth is None or ground.lattice_mm is None or not ground.origin_known:
        return []
    to_rectangle = turn(-left.rectangle.turn_deg)
    at = laid.at(lock.point_mm)
    place = ground.print_to_cloth.at(lock.place_mm)
    away = to_rectangle.at((place[0] - at[0], place[1] - at[1]))
    lattice = ground.lattice_mm.mapped(to_rectangle).reduced()
    ways = _along_stripes(lattice, away) if lattice.b_mm is None else _over_repeats(lattice, away, room_mm)
    inside = [way for way in ways if all(-LOCK_MM / 2 <= way[k] <= room_mm[k] + LOCK_MM / 2 for k in (0, 1))]
    clipped = {(min(max(x, 0.0), room_mm[0]), min(max(y, 0.0), room_mm[1])) for x, y in inside}
    return sorted(clipped, key=lambda way: (math.hypot(*way), way))


def _over_repeats(lattice: Lattice, away: Point, room_mm: Point) -> list[Point]:
    """The repeats of a way that lie in the room, or in so much of it that one surely does."""
    enough_mm = 2 * lattice.farthest_off_mm
    width, height = min(room_mm[0], enough_mm), min(room_mm[1], enough_mm)
    corners = [lattice.coordinates((x - away[0], y - away[1])) for x in (0.0, width) for y in (0.0, height)]
    (low_i, high_i), (low_k, high_k) = ((min(ends), max(ends)) for ends in zip(*corners, strict=True))
    return [
        (away[0] + x, away[1] + y)
        for i in range(math.floor(low_i), math.ceil(high_i) + 1)
        for k in range(math.floor(low_k), math.ceil(high_k) + 1)
        for x, y in (lattice.point(i, k),)
    ]


def _along_stripes(lattice: Lattice, away: Point) -> list[Point]:
    """Ways straight across, and straight along, to the next stripes."""
    ax, ay = lattice.a_mm
    step2 = ax * ax + ay * ay
    left_over = (away[0] * ax + away[1] * ay) % step2
    ways = [(left_over + whole * step2) for whole in (-1, 0, 1)]
    across = [(way / ax, 0.0) for way in ways] if abs(ax) > SAME_LENGTH_MM else []
    along = [(0.0, way / ay) for way in ways] if abs(ay) > SAME_LENGTH_MM else []
    return across + along
