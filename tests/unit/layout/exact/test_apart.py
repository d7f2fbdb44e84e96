"""Half-planes that keep bodies apart, against true distances between the shapes themselves."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
from laying import ANY, cloth, flaw, piece
from samples import L_SHAPE
from shapely import affinity
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.exact.apart import Apart, Bends, Needs, apart_of
from coverlayout.layout.exact.job import ExactJob, exact_job
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question

WEDGE: Ring = ((0.0, 0.0), (70.0, 12.0), (20.0, 40.0))
GAP_MM = 6.0


def job_of(*pieces: PieceAsked, on: ClothAsked | None = None) -> ExactJob:
    job = exact_job(Question(pieces, (on or cloth(600, 600),)), 14)
    assert job is not None
    return job


def clear(
    apart: Apart, needs: Needs, nodes: tuple[int, int], way: tuple[float, float], seats: tuple[int, int] = (0, 0)
) -> bool:
    """Every choice between two nodes has a half-plane that holds when the second lies that way from the first."""
    bounds = apart.bounds(needs)
    here = np.flatnonzero((apart.first == nodes[0]) & (apart.second == nodes[1]))
    rows = [apart.base[p] + seats[0] * apart.width[p] + seats[1] for p in here]
    return all((apart.normals @ np.array(way) >= bounds[row] - 1e-7).any() for row in rows)


def at_place(ring: Ring) -> Polygon:
    """The shape as a seat has it: its box starts at the origin."""
    shape = Polygon(ring)
    return affinity.translate(shape, -shape.bounds[0], -shape.bounds[1])


def ways(seed: int, count: int) -> list[tuple[float, float]]:
    chance = random.Random(seed)
    return [(chance.uniform(-130, 130), chance.uniform(-130, 130)) for _ in range(count)]


def evenly(count: int) -> tuple[float, ...]:
    """So many directions all around, none of them level."""
    return tuple((k + 0.5) * math.tau / count for k in range(count))


PAIRS = [
    (L_SHAPE, WEDGE),
    (WEDGE, L_SHAPE),
    (rectangle(30, 50), WEDGE),
    (WEDGE, WEDGE),
    (rectangle(9, 40), rectangle(25, 5)),
]


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_touching_is_allowed_and_overlapping_is_not(one: Ring, other: Ring) -> None:
    job = job_of(piece("a", 0, 0, outline=one), piece("b", 0, 0, outline=other))
    apart, needs = apart_of(job, None), Needs.of(0.0, 0.0)
    first, second = at_place(one), at_place(other)
    found = set()
    for way in ways(1, 400):
        shared = first.intersection(affinity.translate(second, *way)).area
        if not 0.0 < shared < 0.05:
            found.add(shared == 0.0)
            assert clear(apart, needs, (1, 2), way) is (shared == 0.0)
    assert found == {True, False}


@pytest.mark.parametrize(("one", "other"), PAIRS)
@pytest.mark.parametrize("count", [0, 16, 64])
def test_what_is_far_enough_passes_and_what_is_too_near_does_not(one: Ring, other: Ring, count: int) -> None:
    job = job_of(piece("a", 0, 0, outline=one), piece("b", 0, 0, outline=other))
    apart, needs = apart_of(job, evenly(count)), Needs.of(GAP_MM, 0.0)
    first, second = at_place(one), at_place(other)
    # A chord spans no more than the angle between two directions: it cuts off what half of that leaves.
    error = GAP_MM * (1 - math.cos(math.pi / max(count, 2)))
    near = 0
    for way in ways(2, 400):
        far = first.distance(affinity.translate(second, *way))
        if far >= GAP_MM:
            assert clear(apart, needs, (1, 2), way)
        elif far < GAP_MM - error - 1e-6:
            near += 1
            assert not clear(apart, needs, (1, 2), way)
    # One chord between normals that are far apart promises nothing.
    assert near > 20 or not count


@pytest.mark.parametrize("bend_deg", [3.0, 35.0, 88.0, 140.0, 200.0, 352.0])
@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_in_the_directions_in_which_chords_end_they_are_true(one: Ring, other: Ring, bend_deg: float) -> None:
    job = job_of(piece("a", 0, 0, outline=one), piece("b", 0, 0, outline=other))
    # Other directions round about, so that some come before the first normal and some after the last.
    bends = tuple(sorted(math.radians(angle) for angle in (bend_deg, 1.0, 40.0, 170.0, 359.0)))
    apart, needs = apart_of(job, bends), Needs.of(GAP_MM, 0.0)
    first, second = at_place(one), at_place(other)
    ahead = math.cos(math.radians(bend_deg)), math.sin(math.radians(bend_deg))
    # Where the second lies when it leaves the first in that direction, from the farthest it still touches.
    corners = [(x - u, y - v) for x, y in first.exterior.coords for u, v in second.exterior.coords]
    touch = max(corners, key=lambda way: way[0] * ahead[0] + way[1] * ahead[1])
    for far, passes in ((GAP_MM + 1e-4, True), (GAP_MM - 1e-3, False)):
        way = touch[0] + far * ahead[0], touch[1] + far * ahead[1]
        assert first.distance(affinity.translate(second, *way)) == pytest.approx(far)
        assert clear(apart, needs, (1, 2), way) is passes


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_without_chords_what_passes_is_far_enough_to_the_hair(one: Ring, other: Ring) -> None:
    job = job_of(piece("a", 0, 0, outline=one), piece("b", 0, 0, outline=other))
    apart, needs = apart_of(job, None), Needs.of(GAP_MM, 0.0)
    first, second = at_place(one), at_place(other)
    for way in ways(3, 300):
        if clear(apart, needs, (1, 2), way):
            assert first.distance(affinity.translate(second, *way)) >= GAP_MM - 1e-5


@pytest.mark.parametrize(("bends", "passes"), [(None, False), ((), True), (evenly(64), True)])
def test_corner_to_corner_three_and_four_are_five_apart(bends: Bends, passes: bool) -> None:
    job = job_of(piece("a", 40, 30), piece("b", 20, 20))
    apart, needs = apart_of(job, bends), Needs.of(5.0, 0.0)
    assert clear(apart, needs, (1, 2), (43.0, 34.0)) is passes
    assert clear(apart, needs, (1, 2), (-23.0, -24.0)) is passes
    # With 64 directions a quarter circle of 5 mm is 5 (1 - cos 2.8125 deg) = 0.006 mm off at most.
    short = 5.0 * math.cos(math.radians(360 / 64 / 2)) - 1e-4
    for k in range(91):
        angle = math.radians(k)
        way = 40.0 + short * math.cos(angle), 30.0 + short * math.sin(angle)
        assert bends == () or not clear(apart, needs, (1, 2), way)


def test_needs_of_a_layout_with_room_and_with_slack() -> None:
    assert Needs.of(3.0, 0.0) == Needs(0.0, 3.0, 0.0)
    assert Needs.of(3.0, 5.0) == Needs(0.0, 5.0, 5.0)
    assert Needs.of(3.0, 0.0, 0.01) == Needs(-0.01, 2.99, -0.01)


def test_flaws_may_be_touched_and_spoiled_holes_keep_the_gap() -> None:
    stain, hole = (100.0, 100.0, 130.0, 150.0), (300.0, 300.0, 330.0, 350.0)
    on = cloth(
        600,
        600,
        keep_outs=(
            flaw(rectangle(30, 50, 100, 100)),
            flaw(rectangle(30, 50, 300, 300), "hole", spoiled=True),
            flaw(rectangle(30, 50, 100, 400), "spot", seen_only=True),
        ),
        fixed=((piece("label", 10, 10), Placed("label", "c", 505.0, 105.0)),),
    )
    apart = apart_of(job_of(piece("a", 40, 20, seen=rectangle(30, 10, 4, 6)), on=on), evenly(16))
    needs = Needs.of(3.0, 0.0)
    assert clear(apart, needs, (0, 1), (stain[0] - 40.0, 120.0))
    assert not clear(apart, needs, (0, 1), (stain[0] - 39.9, 120.0))
    assert not clear(apart, needs, (0, 1), (hole[2] + 2.9, 320.0))
    assert clear(apart, needs, (0, 1), (hole[2] + 3.0, 320.0))
    # 4 mm of the left of the piece and 6 of its top may lie on the spot.
    assert clear(apart, needs, (0, 1), (130.0 - 4.0, 420.0))
    assert not clear(apart, needs, (0, 1), (130.0 - 4.1, 420.0))
    assert clear(apart, needs, (0, 1), (110.0, 450.0 - 6.0))
    assert not clear(apart, needs, (0, 1), (110.0, 450.0 - 6.1))
    assert not clear(apart, needs, (0, 1), (510.0 + 2.9, 100.0))
    assert clear(apart, needs, (0, 1), (510.0 + 3.0, 100.0))


def test_a_bay_and_a_slope_keep_the_room_but_not_the_gap() -> None:
    ragged: Ring = (
        (0.0, 0.0),
        (200.0, 0.0),
        (200.0, 100.0),
        (160.0, 180.0),
        (0.0, 180.0),
        (0.0, 60.0),
        (20.0, 60.0),
        (20.0, 40.0),
        (0.0, 40.0),
    )
    apart = apart_of(job_of(piece("a", 10, 10), on=cloth(0, 0, outline=ragged)), evenly(16))
    gap, room = Needs.of(3.0, 0.0), Needs.of(3.0, 5.0)
    assert clear(apart, gap, (0, 1), (20.0, 45.0))
    assert not clear(apart, gap, (0, 1), (19.9, 45.0))
    assert clear(apart, room, (0, 1), (25.0, 45.0))
    assert not clear(apart, room, (0, 1), (24.9, 45.0))
    # The slanted edge falls 80 on 40: 2 x + y <= 500 for the lower right corner, hypotenuse sqrt 5. Normals are kept
    # to seven digits, which over this cloth is off by a hundred-thousandth of a millimetre.
    on_line = (500 - 150) / 2 - 10.0 - 1e-4
    assert clear(apart, gap, (0, 1), (on_line, 140.0))
    assert not clear(apart, gap, (0, 1), (on_line + 0.1, 140.0))
    inside = on_line - 5.0 * math.sqrt(5) / 2
    assert clear(apart, room, (0, 1), (inside, 140.0))
    assert not clear(apart, room, (0, 1), (inside + 0.1, 140.0))


def test_a_bay_is_in_the_way_only_on_its_own_part() -> None:
    bent = Ground("bent", Region.of(L_SHAPE), "p")
    beside = Ground("beside", Region.of(rectangle(40, 75, 20, 0)), "q")
    on = ClothAsked("c", "c", rectangle(60, 100), (bent, beside))
    job = job_of(piece("a", 10, 10), on=on)
    apart, needs = apart_of(job, None), Needs.of(0.0, 0.0)
    numbers = {seat.ground.id: k for k, seat in enumerate(job.seats[0])}
    assert not clear(apart, needs, (0, 1), (30.0, 30.0), (0, numbers["bent"]))
    assert clear(apart, needs, (0, 1), (30.0, 30.0), (0, numbers["beside"]))


def test_pieces_of_different_frames_never_meet() -> None:
    grounds = (
        Ground("left", Region.of(rectangle(100, 200)), "p", 0.0),
        Ground("right", Region.of(rectangle(100, 200, 100, 0)), "q", 5.0),
    )
    on = ClothAsked("c", "c", rectangle(200, 200), grounds)
    apart = apart_of(job_of(piece("a", 30, 20), piece("b", 30, 20), on=on), None)
    needs = Needs.of(0.0, 0.0)
    assert not clear(apart, needs, (1, 2), (3.0, 2.0), (0, 0))
    assert clear(apart, needs, (1, 2), (3.0, 2.0), (0, 1))


def test_without_a_seat_no_more_is_asked_than_by_every_seat() -> None:
    stain = flaw(WEDGE, "stain")
    job = job_of(
        piece("a", 60, 20, ANY), piece("b", 0, 0, ANY, outline=L_SHAPE), on=cloth(600, 600, keep_outs=(stain,))
    )
    apart = apart_of(job, (0.5,))
    bounds = apart.bounds(Needs.of(3.0, 0.0))
    checked = 0
    for p in range(len(apart.first)):
        firsts = len(job.seats[apart.first[p] - 1]) if apart.first[p] else 1
        seconds = len(job.seats[apart.second[p] - 1])
        assert apart.width[p] == seconds + 1
        table = bounds[apart.base[p] : apart.base[p] + (firsts + (apart.first[p] > 0)) * (seconds + 1)]
        table = table.reshape(-1, seconds + 1, bounds.shape[1])
        assert (table[:firsts, seconds] == table[:firsts, :seconds].min(axis=1)).all()
        if apart.first[p]:
            assert (table[firsts, :seconds] == table[:firsts, :seconds].min(axis=0)).all()
            assert (table[firsts, seconds] == table[:firsts, :seconds].min(axis=(0, 1))).all()
        checked += table.size
    assert checked == bounds.size


def test_normals_begin_with_the_four_level_ones_and_are_shared() -> None:
    apart = apart_of(job_of(piece("a", 30, 20), piece("b", 10, 20), piece("c", 7, 7)), None)
    assert apart.normals.tolist() == [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]]
    assert list(zip(apart.first.tolist(), apart.second.tolist(), strict=True)) == list(
        itertools.combinations((1, 2, 3), 2)
    )
    corners = apart_of(job_of(piece("a", 30, 20), piece("b", 10, 20)), ())
    assert len(corners.normals) == 8
    assert np.abs(np.hypot(*corners.normals.T) - 1).max() < 1e-6


def test_a_piece_alone_with_nothing_in_the_way_has_no_choices() -> None:
    apart = apart_of(job_of(piece("a", 30, 20)), evenly(16))
    assert len(apart.first) == 0
    assert apart.bounds(Needs.of(0.0, 0.0)).shape == (1, 4)
