"""Where the repeat lets a piece lie: anchors that hold its locks, and its links to pieces already laid."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.frames import Affine, Point, same_turn, shift, turn
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG, SNAP_MM
from coverlayout.layout.placing import ClothReady
from coverlayout.layout.question import Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice

__all__ = ["Holds", "Points", "lying_for_good", "points_in_box", "points_of"]

Points = npt.NDArray[np.float64]
"""One row a point: x, y in mm."""

# Of a repeat so fine that a ground has more places than this, only those near corners are looked at.
_MOST_PLACES = 20_000


class Holds:
    """The locks and links of a question that are musts, found by piece."""

    def __init__(self, question: Question) -> None:
        """Sort them once."""
        self._pieces = {fixed.id: fixed for cloth in question.cloths for fixed, _ in cloth.fixed}
        self._pieces |= {piece.id: piece for piece in question.pieces}
        self.locks: dict[str, list[Lock]] = {}
        self.links: dict[str, list[Link]] = {}
        for lock in question.locks:
            if lock.must:
                self.locks.setdefault(lock.piece, []).append(lock)
        for link in question.links:
            for piece in link.pieces if link.must else ():
                self.links.setdefault(piece, []).append(link)

    def holds(self, piece_id: str) -> bool:
        """True when a lock or a link speaks of the piece."""
        return piece_id in self.locks or piece_id in self.links

    def anchors(
        self, piece: PieceAsked, ground: Ground, turn_deg: float, lies: Mapping[str, tuple[Placed, Ground]]
    ) -> list[Point] | None:
        """For each lock of the piece and each link to a piece already laid one anchor that holds it, repeats aside.

        None when one of them can hold nowhere on this ground at this turn for sure: no print, its origin unknown, the
        other piece on another print or turned otherwise, or two that never agree. `lies` tells where and on which
        ground each placed piece lies.
        """
        held = [_lock_anchor(lock, piece, ground, turn_deg) for lock in self.locks.get(piece.id, ())]
        for link in self.links.get(piece.id, ()):
            for number, other in enumerate(link.pieces):
                if other != piece.id and other in lies:
                    held.append(self._link_anchor(link, piece, number, (ground, turn_deg), lies[other]))
        sure = [anchor for anchor in held if anchor is not None]
        if len(sure) < len(held) or (sure and not _agree(ground.lattice_mm, sure)):
            return None
        return sure

    def _link_anchor(
        self, link: Link, piece: PieceAsked, number: int, at: tuple[Ground, float], lies: tuple[Placed, Ground]
    ) -> Point | None:
        (ground, turn_deg), (placed, its_ground) = at, lies
        turned_deg = (turn_deg - ground.up_deg) - (placed.turn_deg - its_ground.up_deg)
        own, other = link.pieces.index(piece.id), self._pieces[placed.piece]
        steps = ((0.0, 0.0), *link.differences_mm)
        turned = turn(placed.turn_deg)
        ahead = turned.vector(_from(steps[number], steps[own]))
        there = turned.vector(_from(other.anchor_mm, link.points_mm[number]))
        wanted = placed.x_mm + there[0] + ahead[0], placed.y_mm + there[1] + ahead[1]
        if not same_turn(turned_deg, 0.0, SAME_TURN_DEG) or its_ground is not ground:
            to_own = _through_the_print(its_ground, ground, turned_deg)
            if to_own is None:
                return None
            wanted = to_own.at(wanted)
        here = turn(turn_deg).vector(_from(piece.anchor_mm, link.points_mm[own]))
        return None if ground.lattice_mm is None else (wanted[0] - here[0], wanted[1] - here[1])


def _through_the_print(there: Ground, here: Ground, turned_deg: float) -> Affine | None:
    """The map from one ground to another that shows the same, or the same turned, of their one print.

    None where that cannot be known, or the print turned like that does not look alike.
    """
    known = there.origin_known and here.origin_known and there.print_id == here.print_id
    if not known or there.print_to_cloth is None or here.print_to_cloth is None:
        return None
    to_print = there.print_to_cloth.inverse()
    if same_turn(turned_deg, 0.0, SAME_TURN_DEG):
        return to_print.then(here.print_to_cloth)
    if not any(same_turn(turned_deg, alike_deg, SAME_TURN_DEG) for alike_deg in here.alike_deg):
        return None
    x, y = here.alike_about_mm
    return to_print.then(shift(-x, -y)).then(turn(turned_deg)).then(shift(x, y)).then(here.print_to_cloth)


def _lock_anchor(lock: Lock, piece: PieceAsked, ground: Ground, turn_deg: float) -> Point | None:
    if ground.print_to_cloth is None or ground.lattice_mm is None or not ground.origin_known:
        return None
    place = ground.print_to_cloth.at(lock.place_mm)
    ahead = turn(turn_deg).vector(_from(piece.anchor_mm, lock.point_mm))
    return place[0] - ahead[0], place[1] - ahead[1]


def _agree(lattice: Lattice | None, anchors: list[Point]) -> bool:
    assert lattice is not None, "an anchor is only held where there is a repeat"
    return all(lattice.off_mm(_from(other, anchors[0])) <= SAME_LENGTH_MM for other in anchors[1:])


def _from(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def lying_for_good(question: Question) -> dict[str, tuple[Placed, Ground]]:
    """Linked pieces that are cut or stay where they lie, each with the ground it lies on."""
    linked = {piece for link in question.links if link.must for piece in link.pieces}
    return {
        laid.piece.id: (laid.placed, laid.nearest_ground.ground)
        for cloth in question.cloths
        if any(piece.id in linked for piece, _ in cloth.fixed)
        for laid in ClothReady(cloth).fixed
        if laid.piece.id in linked and laid.nearest_ground is not None
    }


def points_in_box(lattice: Lattice, start: Point, box: Box, most: int = _MOST_PLACES) -> Points:
    """The points `start` + whole repeats that lie in a box (mm, edges included), in a fixed order.

    Where there are more than `most` only those next to a corner of the box; on stripes, which leave a point free along
    them, where a line from a corner across them, or along a side, meets one.
    """
    reduced = lattice.reduced()
    points = _whole_points(reduced, start, box, most)
    if points is None:
        points = np.array(list(_near_corners(reduced, start, box))).reshape(-1, 2)
    inside = (points >= (box.left_mm - SNAP_MM, box.top_mm - SNAP_MM)).all(axis=1)
    inside &= (points <= (box.right_mm + SNAP_MM, box.bottom_mm + SNAP_MM)).all(axis=1)
    return points[inside]


def _whole_points(lattice: Lattice, start: Point, box: Box, most: int) -> Points | None:
    """Every lattice point around a box; None for stripes, and when there are too many."""
    if lattice.b_mm is None or box.width_mm * box.height_mm > most * lattice.cell_area_mm2:
        return None
    return points_of(lattice, start, lattice.spans_around(start, box))


def points_of(lattice: Lattice, start: Point, spans: tuple[range, range]) -> Points:
    """All `start` + i a + k b for the whole numbers of two spans, i first."""
    i, k = np.meshgrid(*spans, indexing="ij")
    (ax, ay), (bx, by) = lattice.a_mm, lattice.b_mm or (0.0, 0.0)
    points: Points = np.stack([start[0] + i * ax + k * bx, start[1] + i * ay + k * by], axis=-1).reshape(-1, 2)
    return points


def _near_corners(lattice: Lattice, start: Point, box: Box) -> Iterator[Point]:
    """Points of the lattice, or of its stripes, next to each corner of a box."""
    for corner in box.ring():
        across, along = lattice.coordinates(_from(start, corner))
        if lattice.b_mm is not None:
            for i in range(math.floor(across) - 1, math.floor(across) + 3):
                for k in range(math.floor(along) - 1, math.floor(along) + 3):
                    ahead = lattice.point(i, k)
                    yield start[0] + ahead[0], start[1] + ahead[1]
            continue
        ax, ay = lattice.a_mm
        length2 = ax * ax + ay * ay
        for whole in (math.floor(across), math.ceil(across)):
            missing = whole - across
            yield corner[0] + missing * ax, corner[1] + missing * ay
            if abs(ax) > SNAP_MM:
                yield corner[0] + missing * length2 / ax, corner[1]
            if abs(ay) > SNAP_MM:
                yield corner[0], corner[1] + missing * length2 / ay
