"""Where the repeat lets pieces lie: for every lock and link of a job the whole list of ways from one node to another.

A lock gives the places of one piece (seen from the origin), a link the ways from one piece to another. Both are lattice
points of the print, so there are only so many of them on a cloth.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.frames import Affine, Point, turn, turns_apart_deg
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import LOCK_MM, SAME_TURN_DEG
from coverlayout.layout.exact.job import ExactJob, Seat
from coverlayout.layout.phase_rules import Pair, pairs_of
from coverlayout.layout.placing import ClothReady
from coverlayout.layout.question import Ground, Lock, PieceAsked, Placed
from coverlayout.layout.search.repeats import points_of
from coverlayout.motif.lattice import Lattice

__all__ = ["Step", "steps_of"]

Ways = NDArray[np.float64]

# Finer repeats than this many places are not listed: then nothing is found by them, yet a no without them is a no.
_MOST_PLACES = 40_000
_NOWHERE: Ways = np.zeros((0, 2))
_SAME_MAP = 1e-9


@dataclass(frozen=True)
class Step:
    """The ways allowed from node `first` (0: the origin) to node `second`: by seat of the first times `width` + second.

    Each is an array of (dx, dy) in mm; of plain stripes only the way across them counts and the other number is NaN.
    """

    first: int
    second: int
    width: int
    ways: tuple[Ways, ...]


@dataclass(frozen=True)
class _Lies:
    """A piece of a link in one seat, or for good: its ground, the map from the cloth to its frame, its turn there."""

    ground: Ground
    to_frame: Affine
    turn_deg: float
    point_mm: Point


def steps_of(job: ExactJob) -> tuple[tuple[Step, ...], bool]:
    """The steps of all locks and links that must hold, and whether they say everything that those ask for."""
    found: list[Step] = []
    whole = True
    for ways in itertools.chain(_locks(job), _links(job)):
        if ways is None:
            whole = False
        else:
            found.append(ways)
    return tuple(found), whole


def _locks(job: ExactJob) -> Iterator[Step | None]:
    numbers = {piece.id: k for k, piece in enumerate(job.question.pieces, start=1)}
    for lock in job.question.locks:
        if lock.must and lock.piece in numbers:
            k = numbers[lock.piece]
            piece, seats = job.question.pieces[k - 1], job.seats[k - 1]
            yield _step(0, k, len(seats), [_lock_ways(lock, piece, seat) for seat in seats])


def _step(first: int, second: int, width: int, ways: list[Ways | None]) -> Step | None:
    known = tuple(way for way in ways if way is not None)
    return Step(first, second, width, known) if len(known) == len(ways) else None


def _lock_ways(lock: Lock, piece: PieceAsked, seat: Seat) -> Ways | None:
    ground = seat.ground
    if ground.print_to_cloth is None or ground.lattice_mm is None:
        return _NOWHERE
    if not ground.origin_known:
        return None
    to_frame = seat.to_cloth.inverse()
    there = to_frame.at(ground.print_to_cloth.at(lock.place_mm))
    here = _in_seat(piece, seat, to_frame, lock.point_mm)
    start = there[0] - here[0], there[1] - here[1]
    return _lattice_ways(ground.lattice_mm.mapped(_linear(to_frame)), start, seat.low_mm, seat.high_mm)


def _in_seat(piece: PieceAsked, seat: Seat, to_frame: Affine, point_mm: Point) -> Point:
    """A point of the piece, counted from its place in the frame."""
    on_cloth = turn(seat.turn_deg).vector((point_mm[0] - piece.anchor_mm[0], point_mm[1] - piece.anchor_mm[1]))
    x, y = to_frame.vector(on_cloth)
    return x + seat.anchor_mm[0], y + seat.anchor_mm[1]


def _linear(by: Affine) -> Affine:
    return Affine(by.xx, by.xy, by.yx, by.yy)


def _links(job: ExactJob) -> Iterator[Step | None]:
    numbers = {piece.id: k for k, piece in enumerate(job.question.pieces, start=1)}
    lying = {
        laid.piece.id: (laid.piece, laid.placed, laid.nearest_ground.ground)
        for cloth in job.question.cloths
        for laid in ClothReady(cloth).fixed
        if laid.nearest_ground is not None
    }
    for link in job.question.links:
        for pair in pairs_of(link) if link.must else ():
            first, second = pair.pieces
            if first in numbers and second in numbers:
                yield _link(job, pair, numbers[first], numbers[second])
            elif first in numbers or second in numbers:
                mine, other = (0, 1) if first in numbers else (1, 0)
                if pair.pieces[other] in lying:
                    yield _link_to(job, pair, mine, numbers[pair.pieces[mine]], lying[pair.pieces[other]])


def _link(job: ExactJob, pair: Pair, i: int, j: int) -> Step | None:
    one, other = job.question.pieces[i - 1], job.question.pieces[j - 1]
    ways: list[Ways | None] = []
    for first, second in itertools.product(job.seats[i - 1], job.seats[j - 1]):
        lies = _lies(one, first, pair.points_mm[0]), _lies(other, second, pair.points_mm[1])
        low = tuple(b - a for a, b in zip(first.high_mm, second.low_mm, strict=True))
        high = tuple(b - a for a, b in zip(first.low_mm, second.high_mm, strict=True))
        ways.append(_link_ways(pair, lies, (low[0], low[1]), (high[0], high[1])))
    return _step(i, j, len(job.seats[j - 1]), ways)


def _link_to(
    job: ExactJob, pair: Pair, mine: int, k: int, lies_there: tuple[PieceAsked, Placed, Ground]
) -> Step | None:
    """A link of a piece to one that lies for good: places of the piece, seen from the origin."""
    piece, (other, placed, ground) = job.question.pieces[k - 1], lies_there
    point = pair.points_mm[1 - mine]
    ahead = turn(placed.turn_deg).vector((point[0] - other.anchor_mm[0], point[1] - other.anchor_mm[1]))
    ways: list[Ways | None] = []
    for seat in job.seats[k - 1]:
        # Where the other lies, seen from the frame of this seat: only on the same cloth is that the same frame.
        to_frame = seat.to_cloth.inverse()
        there = to_frame.at((placed.x_mm + ahead[0], placed.y_mm + ahead[1]))
        theirs = _Lies(ground, to_frame, placed.turn_deg, there)
        ours = _lies(piece, seat, pair.points_mm[mine])
        lies = (ours, theirs) if mine == 0 else (theirs, ours)
        if mine == 1:
            ways.append(_link_ways(pair, lies, seat.low_mm, seat.high_mm))
        else:
            low, high = (-seat.high_mm[0], -seat.high_mm[1]), (-seat.low_mm[0], -seat.low_mm[1])
            back = _link_ways(pair, lies, low, high)
            ways.append(None if back is None else -back)
    return _step(0, k, len(job.seats[k - 1]), ways)


def _lies(piece: PieceAsked, seat: Seat, point_mm: Point) -> _Lies:
    to_frame = seat.to_cloth.inverse()
    return _Lies(seat.ground, to_frame, seat.turn_deg, _in_seat(piece, seat, to_frame, point_mm))


def _link_ways(pair: Pair, lies: tuple[_Lies, _Lies], low: Point, high: Point) -> Ways | None:
    """The ways from the first to the second; None where they cannot be listed."""
    first, second = lies
    ups_deg = first.ground.up_deg - second.ground.up_deg
    if turns_apart_deg(first.turn_deg - ups_deg, second.turn_deg) > SAME_TURN_DEG:
        return _NOWHERE
    lattice = second.ground.lattice_mm
    if lattice is None:
        return _NOWHERE
    aside = (0.0, 0.0) if first.ground is second.ground else _aside(first, second)
    if aside is None:
        return None if _one_print(first.ground, second.ground) else _NOWHERE
    dx, dy = first.to_frame.vector(turn(first.turn_deg).vector(pair.difference_mm))
    start = (
        first.point_mm[0] + dx + aside[0] - second.point_mm[0],
        first.point_mm[1] + dy + aside[1] - second.point_mm[1],
    )
    return _lattice_ways(lattice.mapped(_linear(second.to_frame)), start, low, high)


def _one_print(one: Ground, other: Ground) -> bool:
    """True when the places of both in the print are known, and it is one print."""
    known = one.origin_known and other.origin_known
    return known and one.print_id is not None and one.print_id == other.print_id


def _aside(first: _Lies, second: _Lies) -> Point | None:
    """How far the print lies aside in the second's frame, seen from the first's; None when it is not only shifted."""
    one, other = first.ground.print_to_cloth, second.ground.print_to_cloth
    if one is None or other is None or not _one_print(first.ground, second.ground):
        return None
    across = first.to_frame.inverse().then(one.inverse()).then(other).then(second.to_frame)
    off = max(abs(across.xx - 1.0), abs(across.xy), abs(across.yx), abs(across.yy - 1.0))
    return (across.dx, across.dy) if off <= _SAME_MAP else None


def _lattice_ways(lattice: Lattice, start: Point, low: Point, high: Point) -> Ways | None:
    """All of start + whole repeats between two corners, a lock's tolerance more; None when there are too many."""
    low, high = (low[0] - 2 * LOCK_MM, low[1] - 2 * LOCK_MM), (high[0] + 2 * LOCK_MM, high[1] + 2 * LOCK_MM)
    if lattice.b_mm is None:
        return _stripe_ways(lattice.a_mm, start, low, high)
    lattice = lattice.reduced()
    spans = lattice.spans_around(start, Box(*low, high[0] - low[0], high[1] - low[1]))
    if math.prod(map(len, spans)) > _MOST_PLACES:
        return None
    ways = points_of(lattice, start, spans)
    inside = (ways >= np.array(low)).all(axis=1) & (ways <= np.array(high)).all(axis=1)
    return np.asarray(ways[inside], dtype=np.float64)


def _stripe_ways(step: Point, start: Point, low: Point, high: Point) -> Ways | None:
    """Upright or level stripes: places across them; None for slanted ones."""
    axis = 0 if abs(step[1]) <= _SAME_MAP * abs(step[0]) else 1
    if axis == 1 and abs(step[0]) > _SAME_MAP * abs(step[1]):
        return None
    length = abs(step[axis])
    first, last = math.ceil((low[axis] - start[axis]) / length), math.floor((high[axis] - start[axis]) / length)
    if last - first > _MOST_PLACES:
        return None
    ways = np.full((max(last - first + 1, 0), 2), np.nan)
    ways[:, axis] = start[axis] + length * np.arange(first, first + len(ways))
    return ways
