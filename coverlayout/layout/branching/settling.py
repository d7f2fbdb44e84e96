"""What follows from what a node knows: choices with one way left are taken, nodes without any die."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.branching.holding import keep_held
from coverlayout.layout.branching.nodes import Flags, Nodes, Numbers
from coverlayout.layout.exact.apart import Floats
from coverlayout.layout.exact.tables import LEVEL_NORMALS, WaysTable

__all__ = ["Seen", "Way", "between", "settle", "take_normals", "ways_left"]

# Rounds after which what still follows is left to the children.
_ROUNDS = 12
# A slanted line or a step that moves a bound by less than this is not followed further (mm).
_WORTH_MM = 1e-3


@dataclass(frozen=True)
class Seen:
    """What the choices of some nodes look like: `bounds` and `open` by normal, node and choice.

    By node and choice: `active`, still to be settled; `seated`, both its pieces have a seat, or what slants must wait.
    """

    bounds: Floats
    open: Flags
    active: Flags
    seated: Flags

    @classmethod
    def joined(cls, some: Sequence[Seen]) -> Seen:
        """What nodes look like together."""
        return cls(
            np.concatenate([seen.bounds for seen in some], axis=1),
            np.concatenate([seen.open for seen in some], axis=1),
            np.concatenate([seen.active for seen in some]),
            np.concatenate([seen.seated for seen in some]),
        )

    def take(self, rows: Numbers | Flags | slice) -> Seen:
        """What some of the nodes look like."""
        return Seen(self.bounds[:, rows], self.open[:, rows], self.active[rows], self.seated[rows])


@dataclass(frozen=True)
class Way:
    """The ways of one step that some nodes still have: `ways` and `left` by node and number."""

    step: WaysTable
    rows: Numbers
    ways: Floats
    left: Flags


def settle(nodes: Nodes) -> tuple[Nodes, Seen]:
    """Follow everything to its end, or nearly: the nodes that live, in their order, and what they look like then."""
    numbers = np.arange(len(nodes))
    done: list[tuple[Numbers, Nodes, Seen]] = []
    for left in range(_ROUNDS, -1, -1):
        seen = _look(nodes)
        stuck = seen.active & ~seen.open.any(axis=0)
        nodes.blame += stuck.sum(axis=0)
        nodes.alive &= ~stuck.any(axis=1)
        moved = _follow(nodes, seen) if left else np.zeros(len(nodes), dtype=np.bool_)
        ready, going = nodes.alive & ~moved, nodes.alive & moved
        done.append((numbers[ready], nodes.take(ready), seen.take(ready)))
        if not going.any():
            break
        numbers, nodes = numbers[going], nodes.take(going)
    return _in_order(done)


def _follow(nodes: Nodes, seen: Seen) -> Flags:
    """What follows at once; the nodes in which something did."""
    moved = _take_forced(nodes, seen)
    moved |= _keep_slants(nodes, seen)
    moved |= _keep_steps(nodes)
    return moved | keep_held(nodes)


def _in_order(done: list[tuple[Numbers, Nodes, Seen]]) -> tuple[Nodes, Seen]:
    if len(done) == 1:
        return done[0][1:]
    order = np.argsort(np.concatenate([numbers for numbers, _, _ in done]))
    nodes, seen = Nodes.joined([some for _, some, _ in done]), Seen.joined([some for _, _, some in done])
    return nodes.take(order), seen.take(order)


def between(nodes: Nodes) -> tuple[Floats, Floats, Floats, Floats]:
    """For every node and choice the least and the most of its way across and along."""
    first, second = nodes.tables.apart.first, nodes.tables.apart.second
    x, y = nodes.paths
    return x[:, first, second], -x[:, second, first], y[:, first, second], -y[:, second, first]


def _look(nodes: Nodes) -> Seen:
    bounds, seated = bounds_of(nodes)
    low_x, high_x, low_y, high_y = between(nodes)
    opened = np.empty(bounds.shape, dtype=np.bool_)
    implied = np.zeros(seated.shape, dtype=np.bool_)
    for number, (nx, ny) in enumerate(nodes.tables.apart.normals.tolist()):
        bound = bounds[number] - EXACT_MM
        least = _least(nx, low_x, high_x) + _least(ny, low_y, high_y)
        most = _least(nx, high_x, low_x) + _least(ny, high_y, low_y)
        np.greater_equal(most, bound, out=opened[number])
        implied |= least >= bound
    return Seen(bounds, opened & ~nodes.barred, ~implied & (nodes.slant < 0), seated)


def _least(along: float, low: Floats, high: Floats) -> Floats | float:
    """The least of `along` times what lies between low and high; the most with these turned round."""
    return 0.0 if along == 0.0 else along * (low if along > 0 else high)


def bounds_of(nodes: Nodes) -> tuple[Floats, Flags]:
    """The bounds of every choice by normal, node and choice, and whether the seats it hangs on are chosen."""
    apart = nodes.tables.apart
    chosen = np.where(nodes.seat < 0, nodes.tables.seats, nodes.seat)
    seats = np.concatenate([np.zeros((len(nodes), 1), dtype=np.intp), chosen], axis=1)
    seated = np.concatenate([np.ones((len(nodes), 1), dtype=np.bool_), nodes.seat >= 0], axis=1)
    rows = apart.base + seats[:, apart.first] * apart.width + seats[:, apart.second]
    return nodes.tables.bounds_by_normal[:, rows], seated[:, apart.first] & seated[:, apart.second]


def _take_forced(nodes: Nodes, seen: Seen) -> Flags:
    moved = np.zeros(len(nodes), dtype=np.bool_)
    rows, choices = np.nonzero(seen.active & (seen.open.sum(axis=0) == 1) & nodes.alive[:, None])
    if len(rows):
        normals = seen.open[:, rows, choices].argmax(axis=0)
        sure = seen.seated[rows, choices] | (normals < LEVEL_NORMALS)
        rows, choices, normals = rows[sure], choices[sure], normals[sure]
        take_normals(nodes, rows, choices, normals, seen.bounds[normals, rows, choices])
        moved[rows] = True
    return moved


def take_normals(nodes: Nodes, rows: Numbers, choices: Numbers, normals: Numbers, bounds: Floats) -> None:
    """Let choices take a normal, any number in one node; rows must be in order."""
    turn = np.arange(len(rows)) - np.searchsorted(rows, rows)
    slanted = normals >= LEVEL_NORMALS
    nodes.slant[rows[slanted], choices[slanted]] = normals[slanted]
    for k in range(int(turn.max(initial=-1)) + 1):
        now = (turn == k) & ~slanted
        keep_level(nodes, rows[now], choices[now], normals[now], bounds[now])


def keep_level(nodes: Nodes, rows: Numbers, choices: Numbers, normals: Numbers, bounds: Floats) -> None:
    """Keep level or upright half-planes, one a node."""
    apart = nodes.tables.apart
    first, second = apart.first[choices], apart.second[choices]
    back = normals % 2 == 1
    i, j = np.where(back, second, first), np.where(back, first, second)
    before = nodes.alive[rows]
    for axis in (0, 1):
        mine = normals // 2 == axis
        nodes.add(axis, rows[mine], i[mine], j[mine], bounds[mine])
    np.add.at(nodes.blame, choices[before & ~nodes.alive[rows]], 1.0)


def _keep_slants(nodes: Nodes, seen: Seen) -> Flags:
    """What the slanted lines kept say of each axis alone, from what is known of the other."""
    moved = np.zeros(len(nodes), dtype=np.bool_)
    rows, choices = np.nonzero((nodes.slant >= 0) & nodes.alive[:, None])
    if not len(rows):
        return moved
    apart = nodes.tables.apart
    normals = nodes.slant[rows, choices].astype(np.intp)
    bound = seen.bounds[normals, rows, choices]
    turn = np.arange(len(rows)) - np.searchsorted(rows, rows)
    for k in range(int(turn.max()) + 1):
        now = turn == k
        ends = apart.first[choices[now]], apart.second[choices[now]]
        for axis in (0, 1):
            lines = apart.normals[normals[now]], bound[now]
            moved[rows[now][_keep_slant(nodes, axis, rows[now], ends, lines)]] = True
    return moved


def _keep_slant(
    nodes: Nodes, axis: int, rows: Numbers, ends: tuple[Numbers, Numbers], lines: tuple[Floats, Floats]
) -> Flags:
    (i, j), (normals, bounds) = ends, lines
    along, other = normals[:, axis], normals[:, 1 - axis]
    paths = nodes.paths[1 - axis]
    most = np.where(other > 0, -paths[rows, j, i], paths[rows, i, j]) * other
    least = (bounds - most) / np.abs(along)
    back = along < 0
    start, end = np.where(back, j, i), np.where(back, i, j)
    news = nodes.paths[axis][rows, start, end] + _WORTH_MM < least
    nodes.add(axis, rows[news], start[news], end[news], least[news])
    return np.asarray(news)


def ways_left(nodes: Nodes) -> list[Way]:
    """For every step the ways that the nodes in which its seats are chosen still have."""
    seats = np.concatenate([np.zeros((len(nodes), 1), dtype=np.intp), nodes.seat], axis=1)
    found = []
    for step in nodes.tables.steps:
        one, other = seats[:, step.first], seats[:, step.second]
        rows = np.flatnonzero(nodes.alive & (one >= 0) & (other >= 0))
        if len(rows):
            found.append(_way(nodes, step, rows, one[rows] * step.width + other[rows]))
    return found


def _way(nodes: Nodes, step: WaysTable, rows: Numbers, numbers: Numbers) -> Way:
    ways, left = step.ways[numbers], step.there[numbers]
    loose = nodes.tables.loose_mm + EXACT_MM
    for axis in (0, 1):
        low = nodes.paths[axis][rows, step.first, step.second][:, None] - loose
        high = -nodes.paths[axis][rows, step.second, step.first][:, None] + loose
        left = left & ~((ways[..., axis] < low) | (ways[..., axis] > high))
    return Way(step, rows, ways, left)


def _keep_steps(nodes: Nodes) -> Flags:
    """Bring the bounds of every step to the outermost of the ways it has left."""
    moved = np.zeros(len(nodes), dtype=np.bool_)
    for way in ways_left(nodes):
        some = way.left.any(axis=1)
        nodes.alive[way.rows[~some]] = False
        if some.any():
            kept = Way(way.step, way.rows[some], way.ways[some], way.left[some])
            for axis in (0, 1):
                moved[kept.rows[_keep_between(nodes, axis, kept)]] = True
    return moved


def _keep_between(nodes: Nodes, axis: int, way: Way) -> Flags:
    ways, left = way.ways[..., axis], way.left
    if np.isnan(ways).any():
        return np.zeros(len(way.rows), dtype=np.bool_)
    loose, i, j = nodes.tables.loose_mm, way.step.first, way.step.second
    least = np.where(left, ways, np.inf).min(axis=1) - loose
    most = np.where(left, ways, -np.inf).max(axis=1) + loose
    paths, rows = nodes.paths[axis], way.rows
    news = (paths[rows, i, j] + _WORTH_MM < least) | (-paths[rows, j, i] - _WORTH_MM > most)
    if news.any():
        nodes.add(axis, rows, i, j, least)
        nodes.add(axis, rows, j, i, -most)
    return np.asarray(news)
