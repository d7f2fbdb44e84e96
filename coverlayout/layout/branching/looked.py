"""Nodes looked at: which of them are layouts, and the children of the others.

A node is a layout when all its places, as far left and up as they can be, keep what is chosen and break nothing else.
Otherwise something in it is still to be chosen: the normal of a choice that these places break, the way of a step, the
place of a held piece, or a seat. What an elder child has, a younger one may not have any more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coverlayout.layout.branching.leaves import slanted_places
from coverlayout.layout.branching.nodes import Flags, Nodes, Numbers
from coverlayout.layout.branching.settling import Seen, keep_level, take_normals, ways_left
from coverlayout.layout.exact.apart import Floats
from coverlayout.layout.exact.tables import LEVEL_NORMALS

__all__ = ["Layout", "Looked"]

# Steps of effort: for looking at all, for a linear program, and for each node so many numbers.
_LOOK_STEPS, _PROGRAM_STEPS, _NUMBERS_A_STEP = 10, 10, 1500
# A step with at most so many ways left gets a child for each; one with more is halved.
_FEW_WAYS = 32
# A held piece with so few places left is settled before anything else.
_FEW_PLACES = 6
_NONE = np.iinfo(np.intp).max
# Places found by a linear program keep a line up to its dust (mm).
_DUST_MM = 1e-6


@dataclass(frozen=True)
class Layout:
    """Places of all pieces (piece, axis), in their frames, with the seat of each."""

    seats: tuple[int, ...]
    places: Floats


class Looked:
    """Some settled nodes with the earliest places of all pieces, and what is wrong there."""

    def __init__(self, nodes: Nodes, seen: Seen) -> None:
        self._nodes, self._seen = nodes, seen
        self._places = np.stack([paths[:, 0, :] for paths in nodes.paths], axis=-1)
        self._unseated = (nodes.seat < 0).any(axis=1)
        self._ways = [way for way in ways_left(nodes) if way.left.shape[1] > 1]
        self._open_ways = np.zeros(len(nodes), dtype=np.intp)
        for way in self._ways:
            counts = way.left.sum(axis=1)
            fewer = (counts > 1) & ((self._open_ways[way.rows] == 0) | (counts < self._open_ways[way.rows]))
            self._open_ways[way.rows[fewer]] = counts[fewer]
        counts = nodes.left.sum(axis=2)
        self._places_left = np.where(counts > 1, counts, _NONE)
        self._open_places = self._places_left.min(axis=1, initial=_NONE)
        self._broken = self._broken_at(slice(None)) & seen.active
        self._dead = np.zeros(len(nodes), dtype=np.bool_)
        self._programs = 0
        self._lean()

    @property
    def steps(self) -> int:
        """What looking at the nodes and settling their children costs, in steps of effort."""
        numbers = self._nodes.tables.numbers
        return _LOOK_STEPS + len(self._nodes) * (1 + numbers // _NUMBERS_A_STEP) + _PROGRAM_STEPS * self._programs

    def missing_mm(self) -> Floats:
        """How much all broken choices of a node miss together, by node."""
        missing = (self._seen.bounds - self._reach(slice(None))).min(axis=0, initial=np.inf)
        return np.asarray(np.where(self._broken, np.maximum(missing, 0.0), 0.0).sum(axis=1))

    def _reach(self, rows: Numbers | slice) -> Floats:
        """How far every way reaches, by normal, node and choice, mm."""
        apart, places = self._nodes.tables.apart, self._places[rows]
        ways = places[:, apart.second] - places[:, apart.first]
        x, y = ways[..., 0], ways[..., 1]
        return np.stack([nx * x + ny * y for nx, ny in apart.normals.tolist()])

    def _broken_at(self, rows: Numbers | slice) -> Flags:
        """By node and choice: no normal of it holds at these places."""
        return np.asarray(~(self._reach(rows) >= self._seen.bounds[:, rows] - _DUST_MM).any(axis=0))

    def _lean(self) -> None:
        """Where only a slanted line is broken, places that keep all of them; nodes without any are dead."""
        nodes, seen = self._nodes, self._seen
        ready = ~self._broken.any(axis=1) & self._is_chosen() & (nodes.slant >= 0).any(axis=1)
        for row in np.flatnonzero(ready).tolist():
            kept = np.flatnonzero(nodes.slant[row] >= 0)
            normals = nodes.slant[row, kept].astype(np.intp)
            bounds = seen.bounds[normals, row, kept]
            one = np.array([row])
            if (self._reach(one)[normals, 0, kept] >= bounds - _DUST_MM).all():
                continue
            places = slanted_places(nodes, row, kept, normals, bounds)
            self._programs += 1
            if places is None:
                self._dead[row] = True
                continue
            self._places[row] = places
            self._broken[row] = self._broken_at(one)[0] & seen.active[row]

    def layouts(self) -> Iterator[Layout]:
        """The layouts of the nodes that have one."""
        for row in np.flatnonzero(self._is_whole()).tolist():
            yield Layout(tuple(self._nodes.seat[row].tolist()), self._places[row, 1:].copy())

    def _is_whole(self) -> Flags:
        return np.asarray(~self._broken.any(axis=1) & self._is_chosen() & ~self._dead)

    def _is_chosen(self) -> Flags:
        """Which nodes have a seat for every piece, and one way and place where only some are allowed."""
        return np.asarray(~self._unseated & (self._open_ways == 0) & (self._open_places == _NONE))

    def children(self) -> Iterator[Nodes]:
        """The children of all nodes, those with the fewest possibilities chosen first."""
        counts = self._seen.open.sum(axis=0)
        # What slants is chosen only for pieces that have their seats.
        ready = self._broken if self._nodes.tables.is_level else self._broken & self._seen.seated
        few = np.where(ready, counts, _NONE)
        ranked = np.where(ready, np.maximum(counts, 2) / self._nodes.blame, np.inf)
        choice = ranked.argmin(axis=1) if few.shape[1] else np.zeros(len(few), dtype=np.intp)
        fewest = few.min(axis=1, initial=_NONE)
        alive = ~self._dead
        places = self._open_places
        by_place = alive & (places < _NONE) & ((places <= _FEW_PLACES) | (fewest > 2))
        alive &= ~by_place
        by_pair = alive & (fewest <= 2)
        by_seat = alive & ~by_pair & self._unseated
        by_way = alive & ~by_pair & ~by_seat & (self._open_ways > 0) & (self._open_ways <= fewest)
        by_pair |= alive & ~by_seat & ~by_way & (fewest < _NONE)
        if by_place.any():
            yield from self._by_place(np.flatnonzero(by_place))
        if by_pair.any():
            rows = np.flatnonzero(by_pair)
            yield self._by_normal(rows, choice[rows])
        if by_way.any():
            yield from self._by_way(by_way)
        if by_seat.any():
            yield self._by_seat(np.flatnonzero(by_seat))

    def _by_normal(self, rows: Numbers, choices: Numbers) -> Nodes:
        """A child for every normal a choice may take, the one that is least broken first."""
        seen, number = self._seen, np.arange(len(rows))
        reach = self._reach(rows)[:, number, choices]
        missing = np.where(seen.open[:, rows, choices], seen.bounds[:, rows, choices] - reach, np.inf).T
        order = np.argsort(missing, axis=1, kind="stable")
        ranked = np.take_along_axis(missing, order, axis=1)
        parent, rank = np.nonzero(np.isfinite(ranked))
        children = self._nodes.take(rows[parent])
        own, normals, taken = np.arange(len(parent)), order[parent, rank], choices[parent]
        bounds = seen.bounds[:, rows[parent], taken].T
        for elder in range(int(rank.max(initial=0))):
            younger = np.flatnonzero(rank > elder)
            barred = order[parent[younger], elder]
            children.barred[barred, younger, taken[younger]] = True
            level = barred < LEVEL_NORMALS
            later = younger[level]
            against = barred[level] ^ 1
            keep_level(children, later, taken[later], against, -bounds[later, barred[level]])
        take_normals(children, own, taken, normals, bounds[own, normals])
        return children

    def _by_way(self, chosen: Flags) -> Iterator[Nodes]:
        """For each node the step with the fewest ways left: a child for each, or for each half of many."""
        todo = chosen.copy()
        for way in self._ways:
            counts = way.left.sum(axis=1)
            mine = todo[way.rows] & (counts == self._open_ways[way.rows])
            todo[way.rows[mine]] = False
            ends = way.step.first, way.step.second
            inside, number = np.nonzero(way.left & (mine & (counts <= _FEW_WAYS))[:, None])
            if len(inside):
                each = way.ways[inside, number]
                yield self._between(ends, way.rows[inside], each, each)
            many = mine & (counts > _FEW_WAYS)
            if many.any():
                halves = [_halves(way.ways[row][way.left[row]]) for row in np.flatnonzero(many).tolist()]
                low, high = (np.concatenate(ends_of) for ends_of in zip(*halves, strict=True))
                yield self._between(ends, np.repeat(way.rows[many], 2), low, high)

    def _by_place(self, rows: Numbers) -> Iterator[Nodes]:
        """For each node the held piece with the fewest places left: a child for each, or for each half of many."""
        nodes, held = self._nodes, self._nodes.tables.held
        chosen = (self._places_left[rows] / self._blame_of_pieces()[list(held.piece)]).argmin(axis=1)
        for number in np.unique(chosen).tolist():
            mine = rows[chosen == number]
            left = nodes.left[mine, number]
            many = left.sum(axis=1) > _FEW_WAYS
            inside, place = np.nonzero(left & ~many[:, None])
            if len(inside):
                children = nodes.take(mine[inside])
                children.left[:, number] = False
                children.left[np.arange(len(inside)), number, place] = True
                yield children
            if many.any():
                yield _in_halves(nodes, mine[many], number, held.place[number])

    def _blame_of_pieces(self) -> Floats:
        """How many nodes died of a choice each piece had a part in."""
        apart, blame = self._nodes.tables.apart, self._nodes.blame
        both = np.concatenate([apart.first, apart.second]), np.concatenate([blame, blame])
        counts = np.bincount(both[0], weights=both[1], minlength=self._nodes.tables.pieces + 1)
        return np.asarray(counts[1:] + 1.0, dtype=np.float64)

    def _between(self, ends: tuple[int, int], rows: Numbers, low: Floats, high: Floats) -> Nodes:
        first, second = ends
        children = self._nodes.take(rows)
        own, loose = np.arange(len(rows)), self._nodes.tables.loose_mm
        for axis in (0, 1):
            if not np.isnan(low[:, axis]).any():
                children.add(axis, own, first, second, low[:, axis] - loose)
                children.add(axis, own, second, first, -high[:, axis] - loose)
        return children

    def _by_seat(self, rows: Numbers) -> Nodes:
        """A child for every seat of the next piece without one; equal pieces have seats in order."""
        nodes, tables = self._nodes, self._nodes.tables
        order = tables.order
        following = order[(nodes.seat[rows][:, order] < 0).argmax(axis=1)]
        earlier = tables.before[following]
        least = np.where(earlier > 0, nodes.seat[rows, np.maximum(earlier - 1, 0)], 0)
        number = np.arange(int(tables.seats.max()))[None, :]
        parent, seat = np.nonzero((number >= least[:, None]) & (number < tables.seats[following][:, None]))
        children = nodes.take(rows[parent])
        for piece in np.unique(following[parent]).tolist():
            mine = np.flatnonzero(following[parent] == piece)
            children.seat_at(piece, mine, seat[mine])
        return children


def _halves(ways: Floats) -> tuple[Floats, Floats]:
    """The least and the most of two halves of some ways, split in the middle of their longer spread."""
    known = np.where(np.isnan(ways), 0.0, ways)
    axis = int(np.argmax(known.max(axis=0) - known.min(axis=0)))
    middle = float(np.median(known[:, axis]))
    nearer = known[:, axis] <= middle if known[:, axis].max() > middle else known[:, axis] < middle
    halves = [ways[nearer], ways[~nearer]]
    return np.array([half.min(axis=0) for half in halves]), np.array([half.max(axis=0) for half in halves])


def _in_halves(nodes: Nodes, rows: Numbers, number: int, places: Floats) -> Nodes:
    """Two children of each node with half of a held piece's places each, split where they spread farthest."""
    children = nodes.take(np.repeat(rows, 2))
    children.left[:, number] = False
    for child, row in enumerate(rows.tolist()):
        listed = np.flatnonzero(nodes.left[row, number])
        spread = places[listed].max(axis=0) - places[listed].min(axis=0)
        ranked = listed[np.argsort(places[listed, int(spread.argmax())], kind="stable")]
        children.left[2 * child, number, ranked[: len(ranked) // 2]] = True
        children.left[2 * child + 1, number, ranked[len(ranked) // 2 :]] = True
    return children
