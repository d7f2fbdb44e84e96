"""Where the repeat lets a piece lie: anchors that hold its locks, and its links to pieces already laid."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from coverlayout.geometry.frames import Point, same_turn, turn
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.question import Ground, Link, Lock, PieceAsked, Placed, Question

__all__ = ["anchors_in_repeat", "held_anchors"]

# A piece locked to a very fine repeat is tried at no more than this many places each way.
_MOST_REPEATS = 60
# A room is this much wider when it is asked whether a point lies in it: rooms are cut a little too small for dust.
_DUST_MM = SAME_LENGTH_MM / 4


def held_anchors(
    question: Question,
    piece: PieceAsked,
    ground: Ground,
    turn_deg: float,
    lies: Mapping[str, tuple[Placed, Ground]],
) -> list[Point] | None:
    """For each lock of the piece and each link to a piece already laid one anchor that holds it, whole repeats aside.

    None when one of them can hold nowhere on this ground at this turn for sure: no print, its origin unknown, the other
    piece on another ground or turned otherwise. `lies` tells where and on which ground each placed piece lies.
    """
    anchors = [
        _lock_anchor(lock, piece, ground, turn_deg) for lock in question.locks if lock.must and lock.piece == piece.id
    ]
    for link in question.links:
        if link.must and piece.id in link.pieces:
            for number, other in enumerate(link.pieces):
                if other != piece.id and other in lies:
                    placed, its_ground = lies[other]
                    same = its_ground is ground and same_turn(placed.turn_deg, turn_deg, SAME_TURN_DEG)
                    repeats = same and ground.lattice_mm is not None
                    anchors.append(_link_anchor(question, link, piece, number, placed) if repeats else None)
    held = [anchor for anchor in anchors if anchor is not None]
    return held if len(held) == len(anchors) else None


def _lock_anchor(lock: Lock, piece: PieceAsked, ground: Ground, turn_deg: float) -> Point | None:
    if ground.print_to_cloth is None or ground.lattice_mm is None or not ground.origin_known:
        return None
    place = ground.print_to_cloth.at(lock.place_mm)
    ahead = turn(turn_deg).vector(_from(piece.anchor_mm, lock.point_mm))
    return place[0] - ahead[0], place[1] - ahead[1]


def _link_anchor(question: Question, link: Link, piece: PieceAsked, number: int, lies: Placed) -> Point:
    own = link.pieces.index(piece.id)
    other = next(one for one in _every_piece(question) if one.id == lies.piece)
    steps = ((0.0, 0.0), *link.differences_mm)
    turned = turn(lies.turn_deg)
    ahead = turned.vector(_from(steps[number], steps[own]))
    there = turned.vector(_from(other.anchor_mm, link.points_mm[number]))
    here = turned.vector(_from(piece.anchor_mm, link.points_mm[own]))
    return lies.x_mm + there[0] + ahead[0] - here[0], lies.y_mm + there[1] + ahead[1] - here[1]


def _every_piece(question: Question) -> Iterator[PieceAsked]:
    """The pieces to lay, then those that lie for good."""
    yield from question.pieces
    yield from (fixed for cloth in question.cloths for fixed, _ in cloth.fixed)


def _from(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def anchors_in_repeat(ground: Ground, held: list[Point], room: Region) -> Iterator[Point]:
    """The points of the room that are all held anchors at once, whole repeats aside. The ground must have a repeat."""
    lattice = ground.lattice_mm
    assert lattice is not None, "an anchor is only held where there is a repeat"
    points = _on_stripes(lattice.a_mm, held[0], room) if lattice.b_mm is None else _on_lattice(ground, held[0], room)
    for anchor in points:
        if all(lattice.off_mm(_from(other, anchor)) <= SAME_LENGTH_MM for other in held[1:]):
            yield anchor


def _on_lattice(ground: Ground, start: Point, room: Region) -> Iterator[Point]:
    """The points `start` + whole repeats that lie in the room."""
    lattice = ground.lattice_mm
    assert lattice is not None, "asked only where there is a repeat"
    corners = [lattice.coordinates(_from(start, corner)) for corner in room.bounds.ring()]
    across = range(math.floor(min(i for i, _ in corners)), math.ceil(max(i for i, _ in corners)) + 1)
    along = range(math.floor(min(k for _, k in corners)), math.ceil(max(k for _, k in corners)) + 1)
    grown = room.inset(-_DUST_MM)
    for i in across[:_MOST_REPEATS]:
        for k in along[:_MOST_REPEATS]:
            ahead = lattice.point(i, k)
            point = (start[0] + ahead[0], start[1] + ahead[1])
            if grown.contains(point):
                yield point


def _on_stripes(step: Point, start: Point, room: Region) -> Iterator[Point]:
    """Corners of the room brought to the nearest stripe line, across the stripes, where they stay in the room."""
    length2 = step[0] ** 2 + step[1] ** 2
    grown = room.inset(-_DUST_MM)
    for ring, holes in room.parts():
        for corner in (point for one in (ring, *holes) for point in one):
            ahead = _from(start, corner)
            repeats = (ahead[0] * step[0] + ahead[1] * step[1]) / length2
            for whole in (math.floor(repeats), math.ceil(repeats)):
                point = (corner[0] + (whole - repeats) * step[0], corner[1] + (whole - repeats) * step[1])
                if grown.contains(point):
                    yield point
