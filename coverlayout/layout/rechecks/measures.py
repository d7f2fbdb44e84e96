"""Plain measures for second looks: whole thousandths of a millimetre, turns and repeats worked out on the spot.

Pieces are a little smaller and ground a little larger than they are, by what a no must bear; so what is refused here is
refused under the rules with every length that much looser.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question

__all__ = [
    "UNITS_A_MM",
    "Bounds",
    "Pose",
    "fills_its_box",
    "homes",
    "lattice_points",
    "poses_on",
    "rounded_bounds",
    "turned",
    "upright_deg",
]

UNITS_A_MM = 1000
# Half of what two pieces may overlap, as each gives that much way on every side; ground gives as much.
_SLACK = 6
_QUARTERS = ((1, 0), (0, 1), (-1, 0), (0, -1))

Point = tuple[float, float]


@dataclass(frozen=True)
class Bounds:
    """An upright box in whole units."""

    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True)
class Pose:
    """A piece turned one way on one ground: its box and what is seen of it, from its frame's origin, in whole units."""

    cloth: int
    ground: int
    turn_deg: float
    box: Bounds
    seen: Bounds


def turned(points: Sequence[Point], turn_deg: float) -> list[Point]:
    """Points turned clockwise about the origin, y down; exact for whole quarters.

    >>> turned([(2.0, 1.0)], 90.0)
    [(-1.0, 2.0)]
    """
    quarter = round(turn_deg / 90.0)
    if abs(turn_deg - 90.0 * quarter) < 1e-7:
        c, s = map(float, _QUARTERS[quarter % 4])
    else:
        c, s = math.cos(turn_deg * math.pi / 180.0), math.sin(turn_deg * math.pi / 180.0)
    return [(c * x - s * y, s * x + c * y) for x, y in points]


def rounded_bounds(points: Sequence[Point], *, inward: bool) -> Bounds:
    """The box around points in whole units, made a little smaller (`inward`) or larger."""
    left, top = (min(p[n] for p in points) * UNITS_A_MM for n in (0, 1))
    right, bottom = (max(p[n] for p in points) * UNITS_A_MM for n in (0, 1))
    if inward:
        return Bounds(_up(left) + _SLACK, _up(top) + _SLACK, _down(right) - _SLACK, _down(bottom) - _SLACK)
    return Bounds(_down(left) - _SLACK, _down(top) - _SLACK, _up(right) + _SLACK, _up(bottom) + _SLACK)


def _up(units: float) -> int:
    return math.ceil(units - 1e-3)


def _down(units: float) -> int:
    return math.floor(units + 1e-3)


def homes(question: Question, piece: PieceAsked) -> Iterator[tuple[int, int, ClothAsked, Ground]]:
    """The grounds the piece may come from, with the numbers of cloth and ground."""
    for number, cloth in enumerate(question.cloths):
        for which, ground in enumerate(cloth.grounds):
            print_agrees = piece.print_id is None or piece.print_id == ground.print_id
            cloth_agrees = not piece.cloth_ids or cloth.id in piece.cloth_ids
            if print_agrees and cloth_agrees and (not piece.ground_ids or ground.id in piece.ground_ids):
                yield number, which, cloth, ground


def upright_deg(question: Question) -> float | None:
    """The one lean (deg) of all prints from the edges of the cloth's frame; None when they differ."""
    leans = {round(math.remainder(g.up_deg, 90.0), 6) for cloth in question.cloths for g in cloth.grounds}
    return leans.pop() if len(leans) == 1 else None if leans else 0.0


def poses_on(question: Question, piece: PieceAsked, lean_deg: float) -> list[Pose]:
    """Every way a piece may lie, in the frame turned back by the lean.

    Of what is no upright rectangle there only one corner counts, and that loosely.
    """
    found = []
    for number, which, _, ground in homes(question, piece):
        for deg in piece.turns_deg or ():
            own_deg = ground.up_deg + deg - lean_deg
            box, seen = (
                _box_of(turned(ring, own_deg)) for ring in (piece.outline_mm, piece.seen_mm or piece.outline_mm)
            )
            found.append(Pose(number, which, deg, box, seen))
    return found


def _box_of(ring: Sequence[Point]) -> Bounds:
    if fills_its_box(ring):
        return rounded_bounds(ring, inward=True)
    x, y = (round(v * UNITS_A_MM) for v in ring[0])
    return Bounds(x + 2 * _SLACK, y + 2 * _SLACK, x - 2 * _SLACK, y - 2 * _SLACK)


def fills_its_box(ring: Sequence[Point]) -> bool:
    """Whether an outline is an upright rectangle."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    doubled = math.fsum(xs[k - 1] * ys[k] - xs[k] * ys[k - 1] for k in range(len(ring)))
    return abs(abs(doubled) / 2 - (max(xs) - min(xs)) * (max(ys) - min(ys))) < 1e-4


def lattice_points(a_mm: Point, b_mm: Point, start: Point, box: tuple[float, float, float, float]) -> Iterator[Point]:
    """The start moved by whole repeats, wherever that lies in the box (left, top, right, bottom)."""
    det = a_mm[0] * b_mm[1] - a_mm[1] * b_mm[0]
    corners = [(x - start[0], y - start[1]) for x in box[::2] for y in box[1::2]]
    firsts = [(x * b_mm[1] - y * b_mm[0]) / det for x, y in corners]
    for i in range(math.floor(min(firsts)), math.ceil(max(firsts)) + 1):
        x, y = start[0] + i * a_mm[0], start[1] + i * a_mm[1]
        # Along b the points cross the box between these.
        spans = [sorted(((low - v) / step, (high - v) / step)) for low, high, v, step in
                 ((box[0], box[2], x, b_mm[0]), (box[1], box[3], y, b_mm[1])) if abs(step) > 1e-12]  # fmt: skip
        for k in range(math.floor(max(s[0] for s in spans)), math.ceil(min(s[1] for s in spans)) + 1):
            point = x + k * b_mm[0], y + k * b_mm[1]
            if box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]:
                yield point
