"""A constraint solver as the judge of packing jobs: whether there is a layout, and the least length.

Jobs are job files as records (see the README). Everything is counted in whole grid steps. Gaps at corners and slanted
outlines are met half-way: with `kind="must not"` every rule is a little too lenient, so that "no" is true; with
`kind="may"` a little too strict, so that "yes" is. For upright rectangles without gaps both say the same.
"""

from __future__ import annotations

import itertools
import math
import time
from dataclasses import dataclass
from typing import Any, Literal

from ortools.sat.python import cp_model

__all__ = ["Solved", "book_pieces", "solve"]

Json = dict[str, Any]
Kind = Literal["may", "must not"]
Spot = tuple[float, float, float, float]  # left, top, right, bottom
Points = list[tuple[float, float]]
Ring = tuple[tuple[float, float], ...]
# Directions are counted in such parts: a slanted side of 300 mm is met within 0.02 mm.
SCALE = 10_000
_DECIDED = (cp_model.OPTIMAL, cp_model.INFEASIBLE)


@dataclass(frozen=True)
class Solved:
    """What the solver says: `fits` None when it ran out of time; `optimal` for a least length proved."""

    fits: bool | None
    optimal: bool
    length_mm: float | None
    placements: tuple[Json, ...]
    seconds: float


def book_pieces(book: Json, board: tuple[float, float], books: int) -> list[Json]:
    """The pieces of a job's books, NAME-BOOK-K."""
    return [
        {
            "id": f"{part['name']}-{number}-{k}",
            "width_mm": part.get("width_mm", board[0] + 2 * part["grow_mm"]),
            "height_mm": board[1] + 2 * part["grow_mm"],
            "turns": part["turns"],
        }
        for number in range(1, books + 1)
        for part in book["pieces"]
        for k in range(1, part["count"] + 1)
    ]


def solve(
    job: Json,
    *,
    per_mm: int = 1,
    kind: Kind = "may",
    looser_mm: float = 0.0,
    least_length: bool = False,
    seconds: float = 20.0,
    workers: int = 2,
) -> Solved:
    """Ask the solver. `looser_mm`: every piece may overlap anything by so much; only a "no" counts then."""
    model = _Model(job, per_mm, kind, looser_mm)
    if least_length:
        model.model.minimize(model.bottom)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.random_seed = 1
    start = time.perf_counter()
    status = solver.solve(model.model)
    assert status != cp_model.MODEL_INVALID, model.model.validate()
    took = time.perf_counter() - start
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved(False if status == cp_model.INFEASIBLE else None, False, None, (), took)
    length_mm = solver.value(model.bottom) / per_mm + job.get("edge_mm", 0)
    return Solved(True, status in _DECIDED, length_mm, tuple(model.placements(solver)), took)


def _turned(point: tuple[float, float], turn: float) -> tuple[float, float]:
    x, y = point
    return {0: (x, y), 90: (-y, x), 180: (-x, -y), 270: (y, -x)}[round(turn) % 360]


def _outline(piece: Json) -> Points:
    if "outline_mm" in piece:
        return [tuple(point) for point in piece["outline_mm"]]
    width, height = piece["width_mm"], piece["height_mm"]
    return [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]


def _box(points: Points) -> Spot:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class _Way:
    """A piece in one turn, its box's corner at 0,0: its convex parts, its reference point, what is seen of it."""

    turn: float
    width: float
    height: float
    parts: tuple[Ring, ...]
    reference: tuple[float, float]
    seen: Ring | None


def _ways(piece: Json) -> list[_Way]:
    points = _outline(piece)
    left, top, right, bottom = _box(points)
    middle = piece.get("reference_mm", ((left + right) / 2, (top + bottom) / 2))
    ways = []
    for turn in piece.get("turns", [0]):
        ring = [_turned(point, turn) for point in points]
        x, y, far_x, far_y = _box(ring)
        ring = [(a - x, b - y) for a, b in ring]
        u, v = _turned(tuple(middle), turn)
        seen = None
        if "board_mm" in piece:
            bx, by, bw, bh = piece["board_mm"]
            a, b, c, d = _box([_turned(p, turn) for p in ((bx, by), (bx + bw, by + bh))])
            seen = ((a - x, b - y), (c - x, b - y), (c - x, d - y), (a - x, d - y))
        ways.append(_Way(turn, far_x - x, far_y - y, _parts(ring), (u - x, v - y), seen))
    return ways


def _parts(ring: Points) -> tuple[Ring, ...]:
    """The outline as convex parts: itself, or slabs from one corner's height to the next."""
    if _is_convex(ring):
        return (tuple(ring),)
    found = []
    for above, below in itertools.pairwise(sorted({y for _, y in ring})):
        first, last = _across(ring, above + 1e-9), _across(ring, below - 1e-9)
        for (a, b), (c, d) in zip(first, last, strict=True):
            found.append(((a, above), (b, above), (d, below), (c, below)))
    return tuple(tuple((round(x, 6), y) for x, y in part) for part in found)


def _is_convex(ring: Points) -> bool:
    bends = set()
    for (x1, y1), (x2, y2), (x3, y3) in zip(ring, [*ring[1:], ring[0]], [*ring[2:], *ring[:2]], strict=True):
        cross = (x2 - x1) * (y3 - y2) - (y2 - y1) * (x3 - x2)
        bends.add(cross > 0)
    return len(bends) == 1


def _across(ring: Points, y: float) -> list[tuple[float, float]]:
    hits = []
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y1 <= y) != (y2 <= y):
            hits.append(x1 + (x2 - x1) * (y - y1) / (y2 - y1))
    hits.sort()
    return list(zip(hits[::2], hits[1::2], strict=True))


class _Model:
    def __init__(self, job: Json, per_mm: int, kind: Kind, looser_mm: float) -> None:
        self.model = cp_model.CpModel()
        self.job, self.per_mm, self.kind, self.looser = job, per_mm, kind, looser_mm
        cloth = job["cloth"]
        self.width, self.length = cloth["width_mm"], cloth.get("length_mm") or self._enough()
        self.pieces: list[Json] = job["pieces"]
        self.ways = [_ways(piece) for piece in self.pieces]
        self.x: list[Any] = []
        self.y: list[Any] = []
        self.turn: list[list[Any]] = []
        self.bottom = self.model.new_int_var(0, self.whole(self.length, up=True), "bottom")
        for ways in self.ways:
            self._piece(ways)
        self._apart()
        self._grounds()
        self._keep_outs()
        self._locks()
        self._links()

    def _enough(self) -> float:
        return sum(max(_box(_outline(p))[2:]) + self.job.get("gap_mm", 0) for p in self.job["pieces"]) + 100

    def whole(self, mm: float, *, up: bool) -> int:
        """Whole grid steps; `up` where the larger number is the stricter or the more lenient one wanted."""
        exact = mm * self.per_mm
        return round(exact) if abs(exact - round(exact)) < 1e-6 else math.ceil(exact) if up else math.floor(exact)

    def low(self, mm: float) -> int:
        """The left or top end of a spot covered by a piece."""
        return self.whole(mm + self.looser, up=self.kind == "must not")

    def high(self, mm: float) -> int:
        return self.whole(mm - self.looser, up=self.kind == "may")

    def _piece(self, ways: list[_Way]) -> None:
        m = self.model
        x = m.new_int_var(-self.per_mm, self.whole(self.width, up=True) + self.per_mm, "")
        y = m.new_int_var(-self.per_mm, self.whole(self.length, up=True) + self.per_mm, "")
        turns = [m.new_bool_var("") for _ in ways]
        m.add_exactly_one(turns)
        edge = self.whole(self.job.get("edge_mm", 0), up=self.kind == "may")
        lenient = self.kind == "must not"
        far_x, far_y = (self.whole(side, up=lenient) - edge for side in (self.width, self.length))
        for way, turned in zip(ways, turns, strict=True):
            m.add(x + self.low(0) >= edge).only_enforce_if(turned)
            m.add(y + self.low(0) >= edge).only_enforce_if(turned)
            m.add(x + self.high(way.width) <= far_x).only_enforce_if(turned)
            m.add(y + self.high(way.height) <= far_y).only_enforce_if(turned)
            m.add(y + self.high(way.height) <= self.bottom).only_enforce_if(turned)
        self.x.append(x)
        self.y.append(y)
        self.turn.append(turns)

    def _side(self, k: int, values: list[int]) -> Any:
        """A figure of a piece that depends on its turn, as a linear expression."""
        return sum(value * turned for value, turned in zip(values, self.turn[k], strict=True))

    def _apart(self) -> None:
        gap = self.job.get("gap_mm", 0)
        plain = all(len(way.parts) == 1 and _is_box(way.parts[0]) for ways in self.ways for way in ways)
        if gap == 0 and plain:
            self._no_overlap()
            return
        for j, k in itertools.combinations(range(len(self.pieces)), 2):
            for way, turned in zip(self.ways[j], self.turn[j], strict=True):
                for other, other_turned in zip(self.ways[k], self.turn[k], strict=True):
                    for a in way.parts:
                        for b in other.parts:
                            self._parts_apart(j, k, a, b, gap, [turned, other_turned])

    def _no_overlap(self) -> None:
        across, along = [], []
        for k, ways in enumerate(self.ways):
            left = self.x[k] + self.low(0)
            top = self.y[k] + self.low(0)
            wide = self._side(k, [self.high(way.width) - self.low(0) for way in ways])
            high = self._side(k, [self.high(way.height) - self.low(0) for way in ways])
            across.append(self.model.new_interval_var(left, self._var(wide), self._var(left + wide, -1_000), ""))
            along.append(self.model.new_interval_var(top, self._var(high), self._var(top + high, -1_000), ""))
        self.model.add_no_overlap_2d(across, along)

    def _var(self, expression: Any, least: int = 0) -> Any:
        if isinstance(expression, int):
            return expression
        made = self.model.new_int_var(least, 10_000_000, "")
        self.model.add(made == expression)
        return made

    def _parts_apart(self, j: int, k: int, a: Ring, b: Ring, gap_mm: float, when: list[Any]) -> None:
        if _is_box(a) and _is_box(b):
            self._spots_apart(j, k, _box(list(a)), _box(list(b)), gap_mm, when)
            return
        ways = []
        for nx, ny, reach in (*_sides(list(a)), *((-x, -y, _reach(a, -x, -y)) for x, y, _ in _sides(list(b)))):
            # Along the normal, b begins where a ends.
            between = (reach + _reach(b, -nx, -ny) - 2 * self.looser + gap_mm) * self.per_mm * SCALE
            whole = math.ceil(between - 1e-6) if self.kind == "may" else math.floor(between + 1e-6)
            way = self.model.new_bool_var("")
            across, along = self.x[k] - self.x[j], self.y[k] - self.y[j]
            self.model.add(round(nx * SCALE) * across + round(ny * SCALE) * along >= whole).only_enforce_if(way)
            ways.append(way)
        self.model.add_bool_or([*ways, *(condition.negated() for condition in when)])

    def _spots_apart(self, j: int, k: int, a: Spot, b: Spot, gap_mm: float, when: list[Any]) -> None:
        gap = self.whole(gap_mm, up=self.kind == "may")
        x, y, u, v = self.x[j], self.y[j], self.x[k], self.y[k]
        across = [
            (u + self.low(b[0])) - (x + self.high(a[2])),
            (x + self.low(a[0])) - (u + self.high(b[2])),
        ]
        along = [
            (v + self.low(b[1])) - (y + self.high(a[3])),
            (y + self.low(a[1])) - (v + self.high(b[3])),
        ]
        self._one_way(across, along, gap, when)

    def _one_way(self, across: list[Any], along: list[Any], gap: int, when: list[Any]) -> None:
        m, ways = self.model, []
        for distance in (*across, *along):
            way = m.new_bool_var("")
            m.add(distance >= gap).only_enforce_if(way)
            ways.append(way)
        for dx in across if gap and self.kind == "must not" else ():
            for dy in along:
                way = m.new_bool_var("")
                m.add(dx >= 0).only_enforce_if(way)
                m.add(dy >= 0).only_enforce_if(way)
                m.add(dx + dy >= gap).only_enforce_if(way)
                ways.append(way)
        m.add_bool_or([*ways, *(condition.negated() for condition in when)])

    def _grounds(self) -> None:
        outline = self.job["cloth"].get("outline_mm")
        zones = self.job.get("zones", [])
        for k, piece in enumerate(self.pieces):
            own = [zone["outline_mm"] for zone in zones if zone["print"] == piece.get("print")]
            for way, turned in zip(self.ways[k], self.turn[k], strict=True):
                if outline:
                    self._within(k, way, [outline], turned, self.job.get("edge_mm", 0))
                if zones:
                    self._within(k, way, own, turned, 0.0)

    def _within(self, k: int, way: _Way, rings: list[Points], turned: Any, inset: float) -> None:
        """Within one of some convex rings; two that touch are not taken together."""
        chosen = []
        for ring in rings:
            inside = self.model.new_bool_var("")
            for side in _sides(ring):
                nx, ny, reach = side
                for part in way.parts:
                    self._beyond(k, part, (-nx, -ny, -reach + inset), [inside])
            chosen.append(inside)
        self.model.add_bool_or([*chosen, turned.negated()])

    def _beyond(self, k: int, part: Ring, side: tuple[float, float, float], when: list[Any]) -> None:
        """All of a part of a piece on the far side of a line."""
        nx, ny, reach = side
        bound = (reach + _reach(part, -nx, -ny) - self.looser) * self.per_mm * SCALE
        whole = math.ceil(bound - 1e-6) if self.kind == "may" else math.floor(bound + 1e-6)
        at = round(nx * SCALE) * self.x[k] + round(ny * SCALE) * self.y[k]
        self.model.add(at >= whole).only_enforce_if(when)

    def _keep_outs(self) -> None:
        for flaw in self.job.get("keep_outs", []):
            rings = _parts([tuple(point) for point in flaw["outline_mm"]])
            for k, ways in enumerate(self.ways):
                for way, turned in zip(ways, self.turn[k], strict=True):
                    fine = flaw.get("fine_in_turn_in") and way.seen is not None
                    for part, ring in itertools.product([way.seen] if fine else way.parts, rings):
                        self._off(k, part, ring, turned)

    def _off(self, k: int, part: Ring, ring: Ring, turned: Any) -> None:
        ways = []
        for nx, ny, reach in (*_sides(list(ring)), *((-x, -y, _reach(ring, -x, -y)) for x, y, _ in _sides(list(part)))):
            way = self.model.new_bool_var("")
            self._beyond(k, part, (nx, ny, reach), [way])
            ways.append(way)
        self.model.add_bool_or([*ways, turned.negated()])

    def _lattice_step(self, name: str) -> tuple[Any, Any]:
        a_print = self.job["prints"][name]
        (ax, ay), (bx, by) = ([round(v * self.per_mm) for v in a_print[side]] for side in ("a_mm", "b_mm"))
        i, j = self.model.new_int_var(-999, 999, ""), self.model.new_int_var(-999, 999, "")
        return ax * i + bx * j, ay * i + by * j

    def _reference(self, k: int) -> tuple[Any, Any]:
        """Twice the reference point, so that halves of odd sizes stay whole."""
        ways = self.ways[k]
        across = self._side(k, [round(2 * way.reference[0] * self.per_mm) for way in ways])
        along = self._side(k, [round(2 * way.reference[1] * self.per_mm) for way in ways])
        return 2 * self.x[k] + across, 2 * self.y[k] + along

    def _locks(self) -> None:
        for k, piece in enumerate(self.pieces):
            if "lock" in piece:
                step = self._lattice_step(piece["print"])
                origin, offset = self.job["prints"][piece["print"]]["origin_mm"], piece["lock"]["offset_mm"]
                for axis, at in enumerate(self._reference(k)):
                    start = round(2 * (origin[axis] + offset[axis]) * self.per_mm)
                    self.model.add(at == start + 2 * step[axis])

    def _links(self) -> None:
        numbers = {piece["id"]: k for k, piece in enumerate(self.pieces)}
        for link in self.job.get("phase_links", []):
            first, *others = (numbers[name] for name in link["pieces"])
            differences = link.get("differences_mm", [(0, 0)] * len(others))
            for other, difference in zip(others, differences, strict=True):
                self._linked(first, other, difference)

    def _linked(self, first: int, other: int, difference: tuple[float, float]) -> None:
        mine = {way.turn: turned for way, turned in zip(self.ways[first], self.turn[first], strict=True)}
        for way, turned in zip(self.ways[other], self.turn[other], strict=True):
            if way.turn in mine:
                self.model.add(mine.pop(way.turn) == turned)
            else:
                self.model.add(turned == 0)
        for turned in mine.values():
            self.model.add(turned == 0)
        step = self._lattice_step(self.pieces[first]["print"])
        steps = [_turned(tuple(difference), way.turn) for way in self.ways[first]]
        here, there = self._reference(first), self._reference(other)
        for axis in (0, 1):
            shift = self._side(first, [round(2 * by[axis] * self.per_mm) for by in steps])
            self.model.add(there[axis] == here[axis] + shift + 2 * step[axis])

    def placements(self, solver: Any) -> list[Json]:
        found = []
        for k, piece in enumerate(self.pieces):
            turn = next(w.turn for w, t in zip(self.ways[k], self.turn[k], strict=True) if solver.value(t))
            x, y = solver.value(self.x[k]) / self.per_mm, solver.value(self.y[k]) / self.per_mm
            found.append({"piece": piece["id"], "x_mm": x, "y_mm": y, "turn_deg": turn})
        return found


def _is_box(ring: Ring) -> bool:
    left, top, right, bottom = _box(list(ring))
    return len(ring) == 4 and all(x in (left, right) and y in (top, bottom) for x, y in ring)


def _reach(ring: Ring, nx: float, ny: float) -> float:
    """How far a ring reaches along a direction."""
    return max(nx * x + ny * y for x, y in ring)


def _sides(ring: Points) -> list[tuple[float, float, float]]:
    """Lines of a convex ring: the normal that points out, whole in SCALE parts, and the reach along it."""
    area = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True))
    sign = 1 if area > 0 else -1
    found = []
    for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True):
        long = math.hypot(x2 - x1, y2 - y1)
        if long > 0:
            # Rounded as it will be used, so that the corners of the ring still lie on the line.
            nx, ny = (round(SCALE * v / long) / SCALE for v in (sign * (y2 - y1), -sign * (x2 - x1)))
            found.append((nx, ny, _reach(tuple(ring), nx, ny)))
    return found
