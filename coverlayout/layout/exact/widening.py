"""The most room a layout has when its pieces may still be shifted: a linear program along the lines they lie apart by.

Seen along a direction two bodies are at most as far apart as they are: so asking for the room along the direction in
which they lie now is enough, and is linear. Solved, and asked again along the new directions, until nothing is gained.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.exact.apart import Apart, Floats
from coverlayout.layout.exact.tables import LEVEL_NORMALS, Tables
from coverlayout.layout.search.programs import LinearProgram

__all__ = ["widened"]

_ROUNDS = 6
# Rounds end when they gain less than this, mm.
_GAIN_MM = 1e-4
# Room below 0 only comes up within the tolerances (mm); the solver's dust is taken off at the end.
_LEAST_ROOM_MM, _DUST_MM = -0.005, 1e-7
_FLAW, _NEIGHBOUR = 0, 1
_FAR = 1e14


class _Line(NamedTuple):
    """Two bodies lie apart along a normal: n . d is at least `least_mm`, or that and the need of `near`."""

    first: int
    second: int
    nx: float
    ny: float
    least_mm: float
    near: int


def widened(tables: Tables, layout: Layout, gap_mm: float, most_mm: float) -> tuple[float, Layout] | None:
    """The room found (mm, up to `most_mm`) and the layout with it; None when the pieces cannot be shifted into place.

    Everything is asked for without slack: a layout found with some comes out without, where it can.
    """
    room, places = -math.inf, np.vstack([np.zeros(2), layout.places])
    for _ in range(_ROUNDS):
        found = _along_lines(tables, Layout(layout.seats, places), gap_mm, most_mm)
        if found is None or found[0] < room + _GAIN_MM:
            break
        room, places = found
    return None if math.isinf(room) else (room - _DUST_MM, Layout(layout.seats, places[1:]))


def _along_lines(tables: Tables, layout: Layout, gap_mm: float, most_mm: float) -> tuple[float, Floats] | None:
    nodes = tables.pieces + 1
    room = 2 * nodes
    low, high = zip(*(_range(tables, layout, k) for k in range(tables.pieces)), strict=True)
    spans = [(0.0, 0.0), *[(-math.inf, math.inf)] * (nodes - 1)]
    program = LinearProgram([*spans, *spans, (_LEAST_ROOM_MM, max(most_mm, 0.0))])
    for axis, k in itertools.product((0, 1), range(1, nodes)):
        place = axis * nodes + k
        program.add_row({place: 1.0, room: -1.0}, (float(low[k - 1][axis]), math.inf))
        program.add_row({place: 1.0, room: 1.0}, (-math.inf, float(high[k - 1][axis])))
    for line in _lines(tables, layout):
        _add_line(program, line, nodes, gap_mm)
    for first, second, axis, way in _fixed_ways(tables, layout):
        step_row = {axis * nodes + second: 1.0}
        if first:
            step_row[axis * nodes + first] = -1.0
        program.add_row(step_row, (way, way))
    best = program.best({room: 1.0})
    return None if best is None else (best[room], np.array(best[: 2 * nodes]).reshape(2, nodes).T)


def _add_line(program: LinearProgram, line: _Line, nodes: int, gap_mm: float) -> None:
    room, row = 2 * nodes, {}
    for axis, along in ((0, line.nx), (1, line.ny)):
        for node, sign in ((line.second, 1.0), (line.first, -1.0)):
            if node and along:
                row[axis * nodes + node] = sign * along
    if line.near == _FLAW:
        program.add_row(row, (line.least_mm, math.inf))
        return
    program.add_row({**row, room: -1.0}, (line.least_mm, math.inf))
    if line.near == _NEIGHBOUR and gap_mm > 0.0:
        program.add_row(row, (line.least_mm + gap_mm, math.inf))


def _range(tables: Tables, layout: Layout, piece: int) -> tuple[Floats, Floats]:
    """Where a place may lie when no room is asked for."""
    seat = layout.seats[piece]
    return tables.low[piece, seat] - tables.edge_mm, tables.high[piece, seat] + tables.edge_mm


def _lines(tables: Tables, layout: Layout) -> Iterator[_Line]:
    """For every choice the line along which its bodies lie farthest apart."""
    apart = tables.apart
    seats = np.array([0, *layout.seats])
    rows = apart.base + seats[apart.first] * apart.width + seats[apart.second]
    least = apart.least_mm[rows]
    ways = layout.places[apart.second] - layout.places[apart.first]
    beyond = np.where(np.abs(least) < _FAR, ways @ apart.normals.T - least, -math.inf)
    for p in range(len(rows)):
        if (least[p] <= -_FAR).any():
            continue
        normal = int(beyond[p].argmax())
        nx, ny = apart.normals[normal]
        line = float(nx), float(ny), float(least[p, normal])
        if _is_level_row(apart, least[p], rows[p]):
            line = _corner(least[p], ways[p], line)
        yield _Line(int(apart.first[p]), int(apart.second[p]), *line, int(apart.near[rows[p]]))


def _is_level_row(apart: Apart, least: Floats, row: int) -> bool:
    """True when both bodies are upright rectangles: level normals, and chords only between them."""
    offered = np.abs(least) < _FAR
    chords = apart.share[row] < 1.0
    return bool(offered[:LEVEL_NORMALS].all() and (chords | ~offered)[LEVEL_NORMALS:].all())


def _corner(least: Floats, way: Floats, line: tuple[float, float, float]) -> tuple[float, float, float]:
    """Between upright rectangles that lie apart both ways, the line from corner to corner."""
    across, along = int(way[0] - least[0] < -way[0] - least[1]), 2 + int(way[1] - least[2] < -way[1] - least[3])
    sx, sy = 1.0 - 2.0 * across, 1.0 - 2.0 * (along - 2)
    gap_x, gap_y = sx * way[0] - least[across], sy * way[1] - least[along]
    far = math.hypot(gap_x, gap_y)
    if min(gap_x, gap_y) <= 0.0:
        return line
    cos, sin = gap_x / far, gap_y / far
    return sx * cos, sy * sin, float(cos * least[across] + sin * least[along])


def _fixed_ways(tables: Tables, layout: Layout) -> Iterator[tuple[int, int, int, float]]:
    """The steps a layout takes: first and second node, axis, mm."""
    seats = (0, *layout.seats)
    held = tables.held
    for number, piece in enumerate(held.piece):
        listed = held.place[number][held.there[number] & (held.seat[number] == layout.seats[piece])]
        nearest = listed[int(np.abs(listed - layout.places[piece + 1]).sum(axis=1).argmin())]
        yield from ((0, piece + 1, axis, float(nearest[axis])) for axis in (0, 1))
    for step in tables.steps:
        row = seats[step.first] * step.width + seats[step.second]
        ways = step.ways[row][step.there[row]]
        way = layout.places[step.second] - layout.places[step.first]
        nearest = ways[int(np.nan_to_num(np.abs(ways - way)).sum(axis=1).argmin())]
        for axis in (0, 1):
            if not math.isnan(nearest[axis]):
                yield step.first, step.second, axis, float(nearest[axis])
