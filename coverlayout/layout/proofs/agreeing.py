"""Proofs from wishes that must hold: two that can never hold at once, and linked pieces without room for both.

Two wishes are held against each other by their places in the repeat alone: the locks of one piece, and all that ties
two pieces together, their links and the locks of both. For linked pieces on one ground every whole repeat is tried.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.geometry.frames import Point, Ring, shift, turn, turns_apart_deg
from coverlayout.geometry.shapes import Box, Region, bounds, is_rectangle
from coverlayout.geometry.tolerance import NO_LOOSER_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Proof
from coverlayout.layout.phase_rules import Pair, pairs_of
from coverlayout.layout.proofs.nowhere import LOCK_LOOSE_MM, Place, Spots, must_locks, places_for, repeats_in
from coverlayout.layout.question import Ground, Lock, PieceAsked, Question

__all__ = ["never_agree", "no_room_for_linked"]


def _linked_pairs(question: Question) -> list[Pair]:
    """The pairs of links that must hold, of pieces that are still to be laid."""
    names = {piece.id for piece in question.pieces}
    pairs = (pair for link in question.links if link.must for pair in pairs_of(link))
    return [pair for pair in pairs if names.issuperset(pair.pieces)]


def _offset_of(pair: Pair, turn_deg: float) -> Point:
    """From the first piece's frame origin to the second's, whole repeats aside, when both lie turned so."""
    (ax, ay), (bx, by), (dx, dy) = *pair.points_mm, pair.difference_mm
    return turn(turn_deg).vector((ax + dx - bx, ay + dy - by))


def never_agree(question: Question) -> Proof | None:
    """Two wishes that can never hold at once, both named in the figures; None when each two may agree."""
    locks = must_locks(question)
    pieces = {piece.id: piece for piece in question.pieces}
    for name, own in locks.items():
        if name in pieces and len(own) > 1:
            off_mm = _locks_apart_mm(question, pieces[name], own)
            if off_mm is not None:
                return _proof("two locks", name, name, off_mm)
    tied: dict[tuple[str, str], list[Pair]] = {}
    for pair in _linked_pairs(question):
        tied.setdefault(_sorted_names(pair), []).append(pair)
    for names, pairs in tied.items():
        tie = _Tie(question, pieces[names[0]], pieces[names[1]], pairs, locks)
        proof = tie.refuted()
        if proof is not None:
            return proof
    return None


def _proof(wish: str, piece: str, other: str, off_mm: float) -> Proof:
    return Proof("fits nowhere", (("piece", piece), ("other", other), ("wish", wish), ("apart_mm", off_mm)))


def _sorted_names(pair: Pair) -> tuple[str, str]:
    first, other = sorted(pair.pieces)
    return first, other


def _locks_apart_mm(question: Question, piece: PieceAsked, locks: tuple[Lock, ...]) -> float | None:
    """How far (mm) the two locks furthest from agreeing are apart where they come nearest; None when they may agree."""
    if piece.turns_deg is None:
        return None
    least: float | None = None
    # Where the print is not known to lie, all locks are off by the same.
    for _, ground in places_for(question, piece):
        for turn_deg in piece.turns_deg:
            starts = [_start(lock, ground, turn_deg) for lock in locks]
            if starts[0] is None or ground.lattice_mm is None:
                continue
            known = [start for start in starts if start is not None]
            off_mm = max(ground.lattice_mm.off_mm((x - known[0][0], y - known[0][1])) for x, y in known)
            if off_mm <= 2 * LOCK_LOOSE_MM:
                return None
            least = off_mm if least is None else min(least, off_mm)
    return least


def _start(lock: Lock, ground: Ground, turn_deg: float) -> Point | None:
    """Where the lock puts the frame origin of its piece, whole repeats aside; None without a print."""
    if ground.print_to_cloth is None:
        return None
    (x, y), (dx, dy) = ground.print_to_cloth.at(lock.place_mm), turn(ground.up_deg + turn_deg).vector(lock.point_mm)
    return x - dx, y - dy


@dataclass(frozen=True)
class _Tie:
    """Two pieces with the links between them and the locks of both."""

    question: Question
    first: PieceAsked
    other: PieceAsked
    pairs: list[Pair]
    locks: dict[str, tuple[Lock, ...]]

    def refuted(self) -> Proof | None:
        """The proof that the wishes that tie the two can never hold at once."""
        grounds = [(g, h) for _, g in self._places(self.first) for _, h in self._places(self.other)]
        if not grounds or self.first.turns_deg is None or self.other.turns_deg is None:
            return None
        held = [(g, h) for g, h in grounds if _may_hold(g, h)]
        if not held:
            return self._said("no repeat", 0.0)
        if any(g is not h or g.alike_deg for g, h in held):
            return self._refuted_apart(held)
        turns = _same_turns(self.first, self.other)
        if not turns:
            return self._said("no turn", 0.0)
        off_mm = [self._off_mm(g, turn_deg) for g, _ in held for turn_deg in turns]
        least, wish = min(off_mm)
        return None if least <= 0.0 else self._said(wish, least)

    def _places(self, piece: PieceAsked) -> list[tuple[object, Ground]]:
        return [(cloth, ground) for cloth, ground in places_for(self.question, piece)]

    def _said(self, wish: str, off_mm: float) -> Proof:
        return _proof(wish, self.first.id, self.other.id, off_mm)

    def _off_mm(self, ground: Ground, turn_deg: float) -> tuple[float, str]:
        """How far the wishes are from agreeing on one ground, 0 when they may; and which."""
        assert ground.lattice_mm is not None, "a link holds on no ground without a repeat"
        offsets = [(name, off) for name, off in self._offsets(ground, turn_deg)]
        worst = 0.0, ""
        for number, (name, (x, y)) in enumerate(offsets):
            for earlier, (u, v) in offsets[:number]:
                off_mm = ground.lattice_mm.off_mm((x - u, y - v))
                bearable = LOCK_LOOSE_MM * (2 if name == earlier == "links" else 3)
                if off_mm > bearable:
                    worst = max(worst, (off_mm, "two links" if name == earlier == "links" else "locks and link"))
        return worst

    def _offsets(self, ground: Ground, turn_deg: float) -> Iterator[tuple[str, Point]]:
        """From the first piece's origin to the other's by each wish, whole repeats aside."""
        for pair in self.pairs:
            x, y = _offset_of(pair, ground.up_deg + turn_deg)
            yield "links", (x, y) if pair.pieces[0] == self.first.id else (-x, -y)
        for lock in self.locks.get(self.first.id, ()):
            for other in self.locks.get(self.other.id, ()):
                start, end = _start(lock, ground, turn_deg), _start(other, ground, turn_deg)
                if start is not None and end is not None:
                    yield "locks", (end[0] - start[0], end[1] - start[1])

    def _refuted_apart(self, held: list[tuple[Ground, Ground]]) -> Proof | None:
        """On several grounds, or where turned copies look alike: only that the turns must suit is looked at."""
        if _same_turns(self.first, self.other):
            return None
        alike = [deg for g, _ in held for deg in g.alike_deg]
        own = [(a, b) for a in self.first.turns_deg or () for b in self.other.turns_deg or ()]
        if any(
            turns_apart_deg(way * (b - a), deg) <= SAME_TURN_DEG for a, b in own for deg in alike for way in (1, -1)
        ):
            return None
        return self._said("no turn", 0.0)


def _same_turns(first: PieceAsked, other: PieceAsked) -> list[float]:
    """The turns that both allow."""
    return [
        deg
        for deg in first.turns_deg or ()
        if any(turns_apart_deg(deg, each) <= SAME_TURN_DEG for each in other.turns_deg or ())
    ]


def _may_hold(ground: Ground, other: Ground) -> bool:
    """Whether a link can hold between pieces on these grounds at all, as far as their prints go."""
    if ground is other:
        return ground.lattice_mm is not None
    known = ground.print_to_cloth is not None and other.print_to_cloth is not None and other.lattice_mm is not None
    return ground.print_id == other.print_id and known


def no_room_for_linked(question: Question, spots: Spots) -> Proof | None:
    """Two linked pieces that can only come from one ground, on which no whole repeat keeps both on it and apart."""
    pieces = {piece.id: piece for piece in question.pieces}
    looked: dict[object, Proof | None] = {}
    for pair in _linked_pairs(question):
        first, other = pieces[pair.pieces[0]], pieces[pair.pieces[1]]
        shapes = [(p.outline_mm, p.seen_mm, p.turns_deg, p.print_id, p.cloth_ids, p.ground_ids) for p in (first, other)]
        key = tuple(shapes), pair.points_mm, pair.difference_mm
        if key not in looked:
            looked[key] = _Together(question, spots, first, other, pair).refuted()
        if (proof := looked[key]) is not None:
            return proof
    return None


class _Together:
    """Two linked pieces on the one ground they may come from: shifted against each other by whole repeats."""

    def __init__(self, question: Question, spots: Spots, first: PieceAsked, other: PieceAsked, pair: Pair) -> None:
        self._spots, self._pieces, self._pair = spots, (first, other), pair
        self._gap_mm = max(question.gap_mm - NO_LOOSER_MM, 0.0)
        self._places = [[p for p in places_for(question, piece) if self._has_spots(piece, p)] for piece in self._pieces]

    def _has_spots(self, piece: PieceAsked, place: Place) -> bool:
        return any(self._spots.box(piece, place, deg) is not None for deg in piece.turns_deg or ())

    def refuted(self) -> Proof | None:
        """The proof, with the box around both where they come nearest to having room."""
        first, other = self._pieces
        if [len(own) for own in self._places] != [1, 1] or self._places[0][0][1] is not self._places[1][0][1]:
            return None
        place = self._places[0][0]
        ground = place[1]
        if ground.alike_deg or ground.lattice_mm is None or ground.lattice_mm.b_mm is None:
            return None
        usable, nearest = ground.usable.bounds, Box(0.0, 0.0, math.inf, math.inf)
        for turn_deg in _same_turns(first, other):
            box = self._nearest(place, turn_deg)
            if box is None:
                return None
            nearest = min(nearest, box, key=lambda each: _excess_mm(each, usable))
        names = ("pieces", f"{first.id}, {other.id}"), ("count", 2.0), ("wish", "link")
        if _excess_mm(nearest, usable)[0] in (-math.inf, math.inf) or _excess_mm(nearest, usable)[0] <= 0.0:
            return Proof("side by side", names)
        need = ("need_width_mm", nearest.width_mm), ("need_height_mm", nearest.height_mm)
        have = ("have_width_mm", usable.width_mm), ("have_height_mm", usable.height_mm)
        return Proof("side by side", (*names, *need, *have))

    def _nearest(self, place: Place, turn_deg: float) -> Box | None:
        """The box around both where they come nearest to having room in this turn; None when there may be room."""
        ground = place[1]
        rings = [turn(ground.up_deg + turn_deg).ring(piece.outline_mm) for piece in self._pieces]
        boxes, usable = [bounds(ring) for ring in rings], ground.usable.bounds
        # Shifts this far still overlap the ground with both; the nearest to having room is among them.
        wide, high = usable.width_mm + boxes[1].width_mm, usable.height_mm + boxes[1].height_mm
        start = _offset_of(self._pair, ground.up_deg + turn_deg)
        assert ground.lattice_mm is not None, "a link is looked at on printed ground alone"
        shifts = repeats_in(Box(-wide, -high, 2 * wide, 2 * high), start, ground.lattice_mm)
        rooms = [self._spots.box(piece, place, turn_deg) for piece in self._pieces]
        if shifts is None:
            return None
        nearest = Box(0.0, 0.0, math.inf, math.inf)
        # The farthest are the likeliest to keep both apart.
        for by in sorted(shifts, key=lambda point: -math.hypot(*point)):
            moved = Box(boxes[1].left_mm + by[0], boxes[1].top_mm + by[1], boxes[1].width_mm, boxes[1].height_mm)
            apart = _apart_mm(boxes[0], moved) >= self._gap_mm
            if _meet(rooms, by) and (apart or not self._touch(rings, by)) and self._share(place, turn_deg, by):
                return None
            if apart:
                around = bounds((*boxes[0].ring(), *moved.ring()))
                nearest = min(nearest, around, key=lambda each: _excess_mm(each, usable))
        return nearest

    def _touch(self, rings: list[Ring], by: Point) -> bool:
        """Whether two outlines, a little smaller than they are, overlap or keep less than the gap."""
        if all(map(is_rectangle, rings)) and self._gap_mm <= 0.0:
            return True
        loose = NO_LOOSER_MM + LOCK_LOOSE_MM / 2
        shape, other = Region.of(rings[0]).inset(loose), Region.of(shift(*by).ring(rings[1])).inset(loose)
        too_near_mm = self._gap_mm - LOCK_LOOSE_MM - NO_LOOSER_MM
        return shape.overlaps(other) or (too_near_mm > 0.0 and shape.distance_mm(other) < too_near_mm)

    def _share(self, place: Place, turn_deg: float, by: Point) -> bool:
        """Whether some spot of the first lets the other, so shifted, be at one of its own; their boxes have met."""
        if all(self._spots.is_plain(piece, place, turn_deg) for piece in self._pieces):
            return True
        own = [self._spots.of(piece, place, turn_deg) for piece in self._pieces]
        moved = own[1].inset(-LOCK_LOOSE_MM).mapped(shift(-by[0], -by[1]))
        return not own[0].meet(moved).is_empty


def _meet(rooms: list[Box | None], by: Point) -> bool:
    """Whether the boxes around the spots of both have a place in common, the second's moved back by the shift."""
    room, other = rooms
    if room is None or other is None:
        return False
    loose, (x, y) = LOCK_LOOSE_MM, by
    across = min(room.right_mm, other.right_mm - x + loose) - max(room.left_mm, other.left_mm - x - loose)
    along = min(room.bottom_mm, other.bottom_mm - y + loose) - max(room.top_mm, other.top_mm - y - loose)
    return across >= 0.0 and along >= 0.0


def _apart_mm(box: Box, other: Box) -> float:
    """How far two boxes are apart across or along, whichever is more, as loosely as a link may lie; below 0: not."""
    across = max(box.left_mm - other.right_mm, other.left_mm - box.right_mm)
    along = max(box.top_mm - other.bottom_mm, other.top_mm - box.bottom_mm)
    return max(across, along) + LOCK_LOOSE_MM + 2 * NO_LOOSER_MM


def _excess_mm(box: Box, usable: Box) -> tuple[float, float]:
    """How far a box reaches beyond the ground the worse way, and its size to part equals."""
    over = max(box.width_mm - usable.width_mm, box.height_mm - usable.height_mm)
    return over, box.width_mm + box.height_mm
