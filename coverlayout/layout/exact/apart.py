"""What keeps two bodies apart: for every pair a choice of half-planes, one of which must hold.

Two convex rings have no area in common when they lie on two sides of a line along an edge of one of them (separating
lines of convex polygons, standard computational geometry). So with d the way from the place of the first to that of the
second, some `n . d >= least` holds, n the normal of such an edge. Where they must be farther apart than touching, the
corners between two such normals are cut off by *chords*: a chord lets everything pass that is far enough from the
corner, and a little more, but nothing more in the directions in which it ends. All pairs share one list of normals.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.frames import Ring
from coverlayout.layout.exact.job import Body, ExactJob, Nearness, Seat, edges_of
from coverlayout.layout.question import unseen

__all__ = ["Apart", "Bends", "Floats", "Needs", "apart_of"]

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]

Bends = tuple[float, ...] | None
# A bound that always holds, and one that never does (mm).
_ALWAYS, _NEVER = -1e15, 1e15
_NEARNESS: tuple[Nearness, ...] = ("flaw", "neighbour", "edge")
# Two normals this near are one.
_SAME_NORMAL_DIGITS = 7


@dataclass(frozen=True)
class Needs:
    """How far apart things must be, mm: from drawn flaws, from neighbours and from the edge."""

    flaw_mm: float
    neighbour_mm: float
    edge_mm: float

    @classmethod
    def of(cls, gap_mm: float, room_mm: float, slack_mm: float = 0.0) -> Needs:
        """The needs of a layout with some room, everything `slack_mm` looser."""
        return cls(-slack_mm, max(gap_mm, room_mm) - slack_mm, room_mm - slack_mm)


@dataclass(frozen=True)
class Apart:
    """All choices of a job. Node 0 is the origin of all frames, node k the place of the k-th piece, counted from 1.

    `first` and `second` are the nodes of each choice; its row in the tables is `base + seat of first * width + seat of
    second`. The seat of the origin is 0; a piece without a seat counts as having the one after its last, whose rows ask
    no more than every seat does. `least_mm` and `share` by row and normal: `n . d >= least + share * need`, where the
    need is that of `near` (0 flaw, 1 neighbour, 2 edge) of the row. `any_seat` are the rows without a seat, each the
    least of so many rows of `members`, from `starts` on.
    """

    normals: Floats
    first: Numbers
    second: Numbers
    base: Numbers
    width: Numbers
    least_mm: Floats
    share: Floats
    near: Numbers
    any_seat: Numbers
    members: Numbers
    starts: Numbers

    def bounds(self, needs: Needs) -> Floats:
        """The least `n . d` by row and normal, mm."""
        need = np.array([needs.flaw_mm, needs.neighbour_mm, needs.edge_mm])[self.near]
        bounds: Floats = self.least_mm + self.share * need[:, None]
        if len(self.any_seat):
            bounds[self.any_seat] = np.minimum.reduceat(bounds[self.members], self.starts, axis=0)
        return bounds


@dataclass(frozen=True)
class _Line:
    """One half-plane of a choice: its normal (nx, ny), the least n . d, and how much of the need comes on top."""

    nx: float
    ny: float
    least_mm: float
    share: float = 1.0


_Row = tuple[tuple[_Line, ...], Nearness] | None


@dataclass(frozen=True)
class _Choice:
    """A choice between two nodes: a row for each pair of their seats; None where it always holds."""

    first: int
    second: int
    width: int
    rows: tuple[_Row, ...]


def apart_of(job: ExactJob, bends: Bends, look: Callable[[], None] = unseen) -> Apart:
    """All choices of a job, with one chord at every corner, cut again where it meets one of the directions `bends`.

    None: no chords, which is quick but misses layouts with room there. `look` is called every few milliseconds.
    """
    choices = []
    for choice in _choices(job, bends):
        look()
        if any(row is not None for row in choice.rows):
            choices.append(choice)
    normals: dict[tuple[float, float], int] = {(1.0, 0.0): 0, (-1.0, 0.0): 1, (0.0, 1.0): 2, (0.0, -1.0): 3}
    for choice in choices:
        look()
        for row in choice.rows:
            for line in row[0] if row is not None else ():
                normals.setdefault(_key(line), len(normals))
    grids = [_grid(choice) for choice in choices]
    starts = np.cumsum([0, *(grid.size for grid in grids)])[:-1].astype(np.intp)
    least = np.full((max(sum(grid.size for grid in grids), 1), len(normals)), _NEVER)
    share, near = np.zeros_like(least), np.zeros(len(least), dtype=np.intp)
    any_seat, members = [], []
    for choice, grid, start in zip(choices, grids, starts.tolist(), strict=True):
        look()
        numbers = start + np.arange(grid.size).reshape(grid.shape)
        for place, row in zip(numbers[:-1, :-1].ravel() if choice.first else numbers[0, :-1], choice.rows, strict=True):
            _write(row, int(place), normals, (least, share, near))
        for a, b in np.argwhere(grid):
            any_seat.append(int(numbers[a, b]))
            members.append(_members(numbers, int(a), int(b), bool(choice.first)))
    ends = np.cumsum([0, *map(len, members)])[:-1]
    return Apart(
        normals=np.array(list(normals)),
        first=np.array([choice.first for choice in choices], dtype=np.intp),
        second=np.array([choice.second for choice in choices], dtype=np.intp),
        base=starts,
        width=np.array([grid.shape[1] for grid in grids], dtype=np.intp),
        least_mm=least,
        share=share,
        near=near,
        any_seat=np.array(any_seat, dtype=np.intp),
        members=np.concatenate(members).astype(np.intp) if members else np.zeros(0, dtype=np.intp),
        starts=ends.astype(np.intp),
    )


def _grid(choice: _Choice) -> NDArray[np.bool_]:
    """By seat of the first and of the second, one more each: True where either has no seat."""
    firsts = len(choice.rows) // choice.width
    grid = np.zeros((firsts + (1 if choice.first else 0), choice.width + 1), dtype=np.bool_)
    grid[:, -1] = True
    if choice.first:
        grid[-1, :] = True
    return grid


def _members(numbers: Numbers, a: int, b: int, two: bool) -> Numbers:
    """The rows of all seats that a row without a seat stands for."""
    rows = numbers[:-1] if two else numbers
    rows = rows if two and a == len(numbers) - 1 else rows[[a]]
    return (rows[:, :-1] if b == numbers.shape[1] - 1 else rows[:, [b]]).ravel()


def _write(
    row: _Row, place: int, normals: dict[tuple[float, float], int], tables: tuple[Floats, Floats, Numbers]
) -> None:
    least, share, near = tables
    if row is None:
        least[place, 0] = _ALWAYS
        return
    near[place] = _NEARNESS.index(row[1])
    for line in row[0]:
        at = place, normals[_key(line)]
        least[at], share[at] = line.least_mm, line.share


def _key(line: _Line) -> tuple[float, float]:
    return round(line.nx, _SAME_NORMAL_DIGITS) + 0.0, round(line.ny, _SAME_NORMAL_DIGITS) + 0.0


def _choices(job: ExactJob, bends: Bends) -> Iterator[_Choice]:
    for k, seats in enumerate(job.seats, start=1):
        yield from _slopes(k, seats)
        for frame, bodies in enumerate(job.bodies):
            for body in bodies:
                yield from _beside_body(k, seats, frame, body, bends)
    for i, j in itertools.combinations(range(1, len(job.seats) + 1), 2):
        yield from _beside(i, j, job.seats[i - 1], job.seats[j - 1], bends)


def _slopes(k: int, seats: tuple[Seat, ...]) -> Iterator[_Choice]:
    """The slanted edges of the grounds: choices of one."""
    for number in range(max(len(seat.slopes) for seat in seats)):
        rows: list[_Row] = []
        for seat in seats:
            here = number < len(seat.slopes)
            rows.append(((_Line(*seat.slopes[number]),), "edge") if here else None)
        yield _Choice(0, k, len(seats), tuple(rows))


def _beside_body(k: int, seats: tuple[Seat, ...], frame: int, body: Body, bends: Bends) -> Iterator[_Choice]:
    for number in range(max(len(seat.seen if body.seen_only else seat.parts) for seat in seats)):
        rows: list[_Row] = []
        for seat in seats:
            parts = seat.seen if body.seen_only else seat.parts
            here = seat.frame == frame and body.ground in (-1, seat.part) and number < len(parts)
            cuts = None if body.near == "flaw" else bends
            rows.append((_lines(body.ring, parts[number], cuts), body.near) if here else None)
        yield _Choice(0, k, len(seats), tuple(rows))


def _beside(i: int, j: int, firsts: tuple[Seat, ...], seconds: tuple[Seat, ...], bends: Bends) -> Iterator[_Choice]:
    parts = range(max(len(seat.parts) for seat in firsts)), range(max(len(seat.parts) for seat in seconds))
    for one, other in itertools.product(*parts):
        rows: list[_Row] = []
        for first, second in itertools.product(firsts, seconds):
            here = first.frame == second.frame and one < len(first.parts) and other < len(second.parts)
            rows.append((_lines(first.parts[one], second.parts[other], bends), "neighbour") if here else None)
        yield _Choice(i, j, len(seconds), tuple(rows))


@lru_cache(maxsize=4096)
def _lines(first: Ring, second: Ring, bends: Bends) -> tuple[_Line, ...]:
    """The half-planes in one of which the place of the second lies, counted from that of the first."""
    outward = [(-nx, -ny) for nx, ny, _ in edges_of(first)] + [(nx, ny) for nx, ny, _ in edges_of(second)]
    angles = sorted({round(math.atan2(ny, nx) % math.tau, 9) % math.tau for nx, ny in outward})
    lines = [_line(first, second, angle, 1.0) for angle in angles]
    if bends is None:
        return tuple(lines)
    for start, end in zip(angles, [*angles[1:], angles[0] + math.tau], strict=True):
        between = sorted(angle for bend in bends for angle in (bend, bend + math.tau) if start < angle < end)
        for low, high in itertools.pairwise((start, *between, end)):
            lines.append(_line(first, second, (low + high) / 2, math.cos((high - low) / 2)))
    return tuple(lines)


def _line(first: Ring, second: Ring, angle: float, share: float) -> _Line:
    quarter = round(angle / (math.pi / 2))
    if abs(angle - quarter * math.pi / 2) < 1e-8:
        nx, ny = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
    else:
        nx, ny = math.cos(angle), math.sin(angle)
    reach = max(nx * x + ny * y for x, y in first) - min(nx * x + ny * y for x, y in second)
    return _Line(nx, ny, reach, share)
