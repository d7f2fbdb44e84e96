"""The ways from body to body against shapely, and the directions in which two corners are too near."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from laying import cloth, flaw, piece
from shapely import affinity
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.exact.apart import Needs
from coverlayout.layout.exact.corners import bends_at, nearest_way
from coverlayout.layout.exact.job import ExactJob, exact_job
from coverlayout.layout.question import ClothAsked, Placed, Question

WEDGE: Ring = ((0.0, 0.0), (70.0, 12.0), (20.0, 40.0))


def job_of(on: ClothAsked, *names: str) -> ExactJob:
    job = exact_job(Question(tuple(piece(name, 40, 30) for name in names), (on,)), 14)
    assert job is not None
    return job


def bends(
    job: ExactJob, needs: Needs, *places: tuple[float, float], seats: tuple[int, ...] | None = None
) -> list[float]:
    return [
        round(math.degrees(a), 3) for a in bends_at(job, Layout(seats or (0,) * len(places), np.array(places)), needs)
    ]


@pytest.mark.parametrize("other", [WEDGE, WEDGE[::-1], rectangle(30, 9)])
def test_the_nearest_way_is_as_long_as_the_distance_and_brings_them_to_touch(other: Ring) -> None:
    chance = random.Random(3)
    first = rectangle(25, 40)
    for _ in range(100):
        x, y = chance.uniform(-150, 150), chance.uniform(-150, 150)
        second = affinity.translate(Polygon(other), x, y)
        far = Polygon(first).distance(second)
        if far > 0:
            dx, dy = nearest_way(first, tuple(second.exterior.coords[:-1]))
            assert math.hypot(dx, dy) == pytest.approx(far)
            assert Polygon(first).distance(affinity.translate(second, -dx, -dy)) < 1e-9


def test_a_corner_too_near_gives_its_direction() -> None:
    job = job_of(cloth(300, 300), "a", "b")
    angle = round(math.degrees(math.atan2(3, 4)), 3)
    found = bends(job, Needs.of(5.1, 0.0), (10.0, 10.0), (54.0, 43.0))
    assert found == [angle]
    # The other way about half a turn from it; far enough, none.
    assert bends(job, Needs.of(5.1, 0.0), (54.0, 43.0), (10.0, 10.0)) == [180 + angle]
    assert bends(job, Needs.of(5.0, 0.0), (10.0, 10.0), (54.0, 43.0)) == []
    # What touches or overlaps has no direction.
    assert bends(job, Needs.of(5.1, 0.0), (10.0, 10.0), (50.0, 10.0)) == []


def test_holes_fixed_pieces_and_bays_count_and_flaws_do_not() -> None:
    hole = rectangle(20, 20, 100, 100)
    at = (123.0, 124.0)
    for on, expected in (
        (cloth(300, 300, keep_outs=(flaw(hole, spoiled=True),)), 1),
        (cloth(300, 300, keep_outs=(flaw(hole),)), 0),
        (cloth(300, 300, fixed=((piece("label", 20, 20), Placed("label", "c", 110.0, 110.0)),)), 1),
    ):
        assert len(bends(job_of(on, "a"), Needs.of(6.0, 0.0), at)) == expected
    bay = (*rectangle(300, 300)[:3], (0.0, 300.0), (0.0, 120.0), (20.0, 120.0), (20.0, 100.0), (0.0, 100.0))
    on = cloth(0, 0, outline=bay)
    assert bends(job_of(on, "a"), Needs.of(6.0, 0.0), (23.0, 124.0)) == []
    assert len(bends(job_of(on, "a"), Needs.of(0.0, 6.0), (23.0, 124.0))) == 1


def test_pieces_on_two_cloths_are_not_near_each_other() -> None:
    job = exact_job(
        Question((piece("a", 40, 30), piece("b", 40, 30)), (cloth(100, 100), cloth(100, 100, name="d"))), 14
    )
    assert job is not None
    assert bends(job, Needs.of(6.0, 0.0), (10.0, 10.0), (53.0, 44.0), seats=(0, 1)) == []
    assert len(bends(job, Needs.of(6.0, 0.0), (10.0, 10.0), (53.0, 44.0), seats=(0, 0))) == 1
