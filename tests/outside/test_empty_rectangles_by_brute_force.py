"""The largest empty rectangle against trying every one with shapely, on random cloths, upright and crooked."""

from __future__ import annotations

import random
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from coverlayout.geometry.empty_rectangles import SLANT_MM, empty_rectangles
from coverlayout.geometry.frames import Ring, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

LEAST_MM = 8.0


def pieces(chance: random.Random, count: int, turn_deg: float = 0.0) -> list[Ring]:
    return [
        turn(turn_deg).ring(
            rectangle(chance.randint(10, 60), chance.randint(10, 70), chance.randint(0, 150), chance.randint(0, 120))
        )
        for _ in range(count)
    ]


def stains(chance: random.Random, count: int) -> list[Ring]:
    made = []
    for _ in range(count):
        x, y = chance.uniform(0, 160), chance.uniform(0, 120)
        made.append(
            ((x, y), (x + chance.uniform(4, 25), y + chance.uniform(-4, 6)), (x + 9.0, y + chance.uniform(8, 20)))
        )
    return made


def largest_by_trying(shape: BaseGeometry, xs: list[float], ys: list[float]) -> list[tuple[float, float, float, float]]:
    """Every rectangle between the lines that lies within the shape, largest first."""
    across = [pair for pair in combinations(sorted(xs), 2) if pair[1] - pair[0] >= LEAST_MM]
    along = [pair for pair in combinations(sorted(ys), 2) if pair[1] - pair[0] >= LEAST_MM]
    sides = np.array([(x0, y0, x1, y1) for x0, x1 in across for y0, y1 in along])
    if not len(sides):
        return []
    area = (sides[:, 2] - sides[:, 0]) * (sides[:, 3] - sides[:, 1])
    sides = sides[np.argsort(-area, kind="stable")]
    shapely.prepare(shape)
    inside = shapely.covers(shape, shapely.box(*sides.T))
    return [tuple(one) for one in sides[inside].tolist()]


@pytest.mark.parametrize("seed", range(40))
def test_upright_cloths_to_the_last_figure(seed: int) -> None:
    chance = random.Random(seed)
    holes = pieces(chance, chance.randint(1, 7))
    shape = shapely.box(0, 0, 190, 160).difference(shapely.union_all([shapely.Polygon(ring) for ring in holes]))
    found = empty_rectangles(Region(shape), least_mm=LEAST_MM, most=3)
    xs = sorted({0.0, 190.0, *(x for ring in holes for x, _ in ring)})
    ys = sorted({0.0, 160.0, *(y for ring in holes for _, y in ring)})
    left = shape
    for one in found:
        tried = largest_by_trying(left, xs, ys)
        assert one.area_mm2 == pytest.approx((tried[0][2] - tried[0][0]) * (tried[0][3] - tried[0][1]), rel=1e-9)
        taken = shapely.Polygon(one.ring())
        assert left.buffer(1e-6).covers(taken)
        left = left.difference(taken)
        xs, ys = sorted({*xs, *(x for x, _ in one.ring())}), sorted({*ys, *(y for _, y in one.ring())})
    if len(found) < 3:
        assert largest_by_trying(left, xs, ys) == []


@pytest.mark.parametrize("seed", range(40))
def test_crooked_cloths_are_never_told_too_large_and_never_more_than_the_bound_too_small(seed: int) -> None:
    chance = random.Random(1000 + seed)
    outline = (
        (0.0, chance.uniform(0, 9)),
        (190.0, chance.uniform(0, 9)),
        (185.0, 160.0),
        (chance.uniform(2, 9), 150.0),
    )
    holes = [
        *pieces(chance, chance.randint(0, 3), chance.choice((0.0, 2.0, 3.0))),
        *stains(chance, chance.randint(1, 4)),
    ]
    shape = shapely.Polygon(outline).difference(shapely.union_all([shapely.Polygon(ring) for ring in holes]))
    found = empty_rectangles(Region(shape), least_mm=LEAST_MM, most=4)
    for one in found:
        assert shape.buffer(SAME_LENGTH_MM).covers(shapely.Polygon(one.ring()))
    for one, other in combinations(found, 2):
        assert shapely.Polygon(one.ring()).intersection(shapely.Polygon(other.ring())).area < 1e-6
    for best in _pushed_outward(shape):
        smaller_mm2 = max(best[2] - best[0] - 2 * SLANT_MM, 0) * max(best[3] - best[1] - 2 * SLANT_MM, 0)
        assert smaller_mm2 <= found[0].area_mm2


def _pushed_outward(shape: BaseGeometry) -> list[list[float]]:
    """The most promising rectangles of a coarse grid, each side then pushed out in turn as far as it goes."""
    low_x, low_y, high_x, high_y = shape.bounds
    tried = largest_by_trying(shape, [*np.linspace(low_x, high_x, 24)], [*np.linspace(low_y, high_y, 24)])
    return [_pushed(shape, list(one)) for one in tried[:12]]


def _pushed(shape: BaseGeometry, sides: list[float]) -> list[float]:
    for step_mm in (4.0, 1.0, 0.25, 0.06, 0.015):
        better = True
        while better:
            better = False
            for change in _moves(step_mm):
                moved = [side + by for side, by in zip(sides, change, strict=True)]
                if _area(moved) > _area(sides) and shape.covers(shapely.box(*moved)):
                    sides, better = moved, True
    return sides


def _moves(step_mm: float) -> list[tuple[float, float, float, float]]:
    """One side outward; and one side outward while another comes in by less, by as much, or by more."""
    out = (-1.0, -1.0, 1.0, 1.0)
    moves = []
    for k in range(4):
        for j in range(4):
            for share in (0.0, 0.25, 0.5, 1.0, 2.0) if j != k else (0.0,):
                change = [0.0] * 4
                change[k] = out[k] * step_mm
                change[j] -= out[j] * step_mm * share if j != k else 0.0
                moves.append(tuple(change))
    return moves


def _area(sides: list[float]) -> float:
    return max(sides[2] - sides[0], 0.0) * max(sides[3] - sides[1], 0.0)
