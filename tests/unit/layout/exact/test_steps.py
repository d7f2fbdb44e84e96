"""Lists of lattice places against plain loops over whole repeats, and against the judge."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from laying import ANY, piece
from wishing import printed_cloth

from coverlayout.geometry.frames import Affine, Point, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import LOCK_MM
from coverlayout.layout.exact.job import ExactJob, exact_job
from coverlayout.layout.exact.steps import Step, steps_of
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

SHEARED = Lattice((31.0, 7.0), (-9.0, 43.0))
HALF_DROP = Lattice((40.0, 15.0), (0.0, 30.0))
FINE = Lattice((1.0, 0.0), (0.0, 1.0))
A = piece("a", 30, 20, ANY, anchor=(3.0, 11.0))
B = piece("b", 17, 26, ANY, anchor=(9.0, 1.0))


def steps_for(question: Question) -> tuple[ExactJob, tuple[Step, ...], bool]:
    job = exact_job(question, 14)
    assert job is not None
    steps, whole = steps_of(job)
    return job, steps, whole


def laid(lattice: Lattice, up_deg: float, origin: Point = (5.0, 8.0), size: Point = (190.0, 150.0)) -> ClothAsked:
    """A cloth whose print lies turned, its origin off every corner."""
    to_cloth = turn(up_deg).then(shift(*origin))
    ground = Ground("g", Region.of(rectangle(*size)), "p", up_deg, lattice.mapped(turn(up_deg)), to_cloth)
    return ClothAsked("c", "c", rectangle(*size), (ground,))


def turned(vector: Point, turn_deg: float) -> Point:
    """Clockwise with y down, by the textbook."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return vector[0] * cos - vector[1] * sin, vector[0] * sin + vector[1] * cos


def corners(asked: PieceAsked, placed: Placed) -> list[Point]:
    ring = [turned((x - asked.anchor_mm[0], y - asked.anchor_mm[1]), placed.turn_deg) for x, y in asked.outline_mm]
    return [(x + placed.x_mm, y + placed.y_mm) for x, y in ring]


def anchors_by_loop(
    question: Question, lock: Lock, asked: PieceAsked, up_deg: float, turn_deg: float, lattice: Lattice
) -> set[Point]:
    """Every anchor at which the lock holds and the piece lies on the cloth or hangs out by a tolerance at most."""
    found = set()
    point = turned((lock.point_mm[0] - asked.anchor_mm[0], lock.point_mm[1] - asked.anchor_mm[1]), up_deg + turn_deg)
    assert lattice.b_mm is not None
    width, length = question.cloths[0].outline_mm[2]
    for i, k in itertools.product(range(-30, 31), repeat=2):
        place = (
            lock.place_mm[0] + i * lattice.a_mm[0] + k * lattice.b_mm[0],
            lock.place_mm[1] + i * lattice.a_mm[1] + k * lattice.b_mm[1],
        )
        x, y = turned(place, up_deg)
        anchor = x + 5.0 - point[0], y + 8.0 - point[1]
        box = corners(asked, Placed("a", "c", *anchor, up_deg + turn_deg))
        if all(-0.1 <= x <= width + 0.1 and -0.1 <= y <= length + 0.1 for x, y in box):
            found.add((round(anchor[0], 5), round(anchor[1], 5)))
    return found


@pytest.mark.parametrize("lattice", [SHEARED, HALF_DROP])
@pytest.mark.parametrize("up_deg", [0.0, 90.0, 180.0, 270.0])
def test_the_places_of_a_lock_are_all_there_are(lattice: Lattice, up_deg: float) -> None:
    lock = Lock("a", (28.0, 2.0), (12.0, 19.0))
    question = Question((A,), (laid(lattice, up_deg),), locks=(lock,))
    job, (step,), whole = steps_for(question)
    assert (step.first, step.second, whole) == (0, 1, True)
    judge = Judge(question)
    for seat, ways in zip(job.seats[0], step.ways, strict=True):
        places = [seat.placed("a", (float(x), float(y))) for x, y in ways]
        expected = anchors_by_loop(question, lock, A, up_deg, seat.turn_deg - up_deg, lattice)
        assert {(round(one.x_mm, 5), round(one.y_mm, 5)) for one in places} == expected
        assert len(ways) == len(expected) > 5
        assert not [b for one in places for b in judge.report((one,)).breaches if b.rule == "lock"]


def test_on_a_crooked_print_every_place_holds_and_lies_a_repeat_from_the_next() -> None:
    lock = Lock("a", (28.0, 2.0), (12.0, 19.0))
    question = Question((A,), (laid(SHEARED, 6.0),), locks=(lock,))
    job, (step,), _ = steps_for(question)
    judge = Judge(question)
    for seat, ways in zip(job.seats[0], step.ways, strict=True):
        places = [seat.placed("a", (float(x), float(y))) for x, y in ways]
        assert not [b for one in places for b in judge.report((one,)).breaches if b.rule == "lock"]
        listed = {(round(one.x_mm, 5), round(one.y_mm, 5)) for one in places}
        assert anchors_by_loop(question, lock, A, 6.0, seat.turn_deg - 6.0, SHEARED) <= listed


def test_a_link_lists_every_way_from_one_to_the_other() -> None:
    link = Link(("a", "b"), ((28.0, 2.0), (1.0, 1.0)), ((4.0, -3.0),))
    question = Question(
        (replace(A, turns_deg=(90.0,)), replace(B, turns_deg=(0.0, 90.0))), (laid(HALF_DROP, 0.0),), links=(link,)
    )
    job, (step,), whole = steps_for(question)
    assert (step.first, step.second, step.width, whole) == (1, 2, 2, True)
    # Turned apart, they never are alike.
    assert len(step.ways[0]) == 0
    first, (_, second) = job.seats[0][0], job.seats[1]
    # Turned by 90 degrees a point (x, y) of the piece lies at (20 - y, x) of its box, of the other at (26 - y, x).
    point, other = (20.0 - 2.0, 28.0), (26.0 - 1.0, 1.0)
    start = point[0] + 3.0 - other[0], point[1] + 4.0 - other[1]
    low = second.low_mm[0] - first.high_mm[0], second.low_mm[1] - first.high_mm[1]
    high = second.high_mm[0] - first.low_mm[0], second.high_mm[1] - first.low_mm[1]
    expected = {
        (round(x, 6), round(y, 6))
        for i, k in itertools.product(range(-20, 21), range(-40, 41))
        for x, y in [(start[0] + 40.0 * i, start[1] + 15.0 * i + 30.0 * k)]
        if low[0] - 0.1 <= x <= high[0] + 0.1 and low[1] - 0.1 <= y <= high[1] + 0.1
    }
    assert {(round(x, 6), round(y, 6)) for x, y in step.ways[1].tolist()} == expected
    assert len(expected) == len(step.ways[1]) > 20


def test_a_link_over_two_grounds_of_one_print_knows_how_far_it_lies_aside() -> None:
    lattice = Lattice((50.0, 0.0), (0.0, 40.0))
    left = Ground("left", Region.of(rectangle(120, 100)), "p", 0.0, lattice, shift(3.0, 8.0))
    right = Ground("right", Region.of(rectangle(120, 100, 150, 0)), "p", 0.0, lattice, shift(20.0, 11.0))
    on = ClothAsked("c", "c", rectangle(270, 100), (left, right))
    link = Link(("a", "b"), ((1.0, 2.0), (4.0, 1.0)), ((0.0, 0.0),))
    pieces = replace(A, turns_deg=(0.0,), ground_ids=("left",)), replace(B, turns_deg=(0.0,), ground_ids=("right",))
    question = Question(pieces, (on,), links=(link,))
    job, (step,), whole = steps_for(question)
    assert whole
    judge = Judge(question)
    (first,), (second,) = job.seats
    start = (10.0, 20.0)
    for x, y in step.ways[0].tolist():
        # From the one's place in the print to the other's: 17 mm right, 3 down, and whole repeats.
        assert ((x + 4.0 - 1.0) - 17.0) % 50.0 == pytest.approx(0.0, abs=1e-6)
        assert ((y + 1.0 - 2.0) - 3.0) % 40.0 == pytest.approx(0.0, abs=1e-6)
        placed = first.placed("a", start), second.placed("b", (start[0] + x, start[1] + y))
        assert not [b for b in judge.report(placed).breaches if b.rule == "link"]
    # On one ground only the difference counts, wherever the print lies.
    both = Question((replace(A, turns_deg=(0.0,)), replace(B, turns_deg=(0.0,))), (on,), links=(link,))
    _, (four,), _ = steps_for(both)
    starts = [(round(ways[0][0] + 3.0, 6) % 50.0, round(ways[0][1] - 1.0, 6) % 40.0) for ways in four.ways]
    assert starts == [(0.0, 0.0), (17.0, 3.0), (33.0, 37.0), (0.0, 0.0)]


def test_a_link_over_grounds_that_are_not_only_shifted_is_not_listed() -> None:
    lattice = Lattice((50.0, 0.0), (0.0, 40.0))
    left = Ground("left", Region.of(rectangle(120, 100)), "p", 0.0, lattice, shift(3.0, 8.0))
    link = Link(("a", "b"), ((1.0, 2.0), (4.0, 1.0)), ((0.0, 0.0),))
    pieces = replace(A, turns_deg=(0.0,), ground_ids=("left",)), replace(B, turns_deg=(0.0,), ground_ids=("right",))
    wide = replace(
        left, id="right", usable=Region.of(rectangle(120, 100, 150, 0)), print_to_cloth=Affine(xx=1.02, dx=20.0)
    )
    on = ClothAsked("c", "c", rectangle(270, 100), (left, wide))
    _, steps, whole = steps_for(Question(pieces, (on,), links=(link,)))
    assert (steps, whole) == ((), False)
    # Two prints, or one whose place is not known, never show the same.
    for other in (replace(wide, print_id="q"), replace(wide, origin_known=False), replace(wide, print_to_cloth=None)):
        question = Question(pieces, (replace(on, grounds=(left, other)),), links=(link,))
        _, steps, whole = steps_for(question)
        listed = [len(ways) for step in steps for ways in step.ways]
        assert (listed, whole) in (([0], True), ([], False))
        if listed == [0]:
            placed = Placed("a", "c", 20.0, 50.0), Placed("b", "c", 200.0, 50.0)
            assert [b.rule for b in Judge(question).report(placed).breaches] == ["link"]


@pytest.mark.parametrize("first", [True, False])
def test_a_link_to_a_piece_that_lies_for_good_is_a_lock(first: bool) -> None:
    lattice = Lattice((50.0, 6.0), (0.0, 40.0))
    there = replace(B, turns_deg=(0.0, 180.0))
    on = replace(
        printed_cloth(200, 150, lattice, origin_mm=(3.0, 8.0)), fixed=((there, Placed("b", "c", 160.0, 100.0, 180.0)),)
    )
    names, points = (("a", "b"), ((28.0, 2.0), (1.0, 1.0))) if first else (("b", "a"), ((1.0, 1.0), (28.0, 2.0)))
    question = Question((A,), (on,), links=(Link(names, points, ((4.0, -3.0),)),))
    job, (step,), whole = steps_for(question)
    assert (step.first, step.second, whole) == (0, 1, True)
    turns = [seat.turn_deg for seat in job.seats[0]]
    assert [len(ways) > 0 for ways in step.ways] == [turn_deg == 180.0 for turn_deg in turns]
    (seat,) = [seat for seat in job.seats[0] if seat.turn_deg == 180.0]
    (ways,) = [ways for ways in step.ways if len(ways)]
    judge = Judge(question)
    for x, y in ways.tolist():
        report = judge.report((seat.placed("a", (x, y)),))
        assert not [b for b in report.breaches if b.rule == "link"]
    # As many as there are lattice points in the box of places: about its area over that of a cell.
    across, along = seat.high_mm[0] - seat.low_mm[0], seat.high_mm[1] - seat.low_mm[1]
    assert abs(len(ways) - across * along / 2000.0) < across / 50 + along / 40 + 2


def test_plain_stripes_count_only_across() -> None:
    lock = Lock("a", (5.0, 0.0), (2.0, 0.0))
    for vector, axis in (((25.0, 0.0), 0), ((0.0, -25.0), 1)):
        _, (step,), whole = steps_for(
            Question((replace(A, turns_deg=(0.0,)),), (laid(Lattice(vector), 0.0),), locks=(lock,))
        )
        (ways,) = step.ways
        assert whole
        assert np.isnan(ways[:, 1 - axis]).all()
        # The origin lies at (5, 8): the point comes to lie at 7 across, or at 8 along, and whole stripes from there.
        start, most = ((7.0 - 5.0), 160.0) if axis == 0 else (8.0, 130.0)
        assert ways[:, axis].tolist() == pytest.approx(
            [x for k in range(-9, 9) for x in [start + 25.0 * k] if -0.1 <= x <= most + 0.1]
        )


def test_slanted_stripes_and_very_fine_repeats_are_left_out() -> None:
    lock = Lock("a", (5.0, 0.0), (2.0, 0.0))
    for lattice in (Lattice((20.0, 3.0)), Lattice((0.3, 0.0), (0.0, 0.3)), Lattice((0.001, 0.0))):
        question = Question((A,), (laid(lattice, 0.0),), locks=(lock,))
        _, steps, whole = steps_for(question)
        assert (steps, whole) == ((), False)
    assert len(steps_for(Question((A,), (laid(FINE, 0.0),), locks=(lock,)))[1][0].ways[0]) == 161 * 131


def test_where_the_print_is_not_known_a_lock_holds_nowhere_or_says_nothing() -> None:
    lock = Lock("a", (5.0, 0.0), (2.0, 0.0))
    on = laid(SHEARED, 0.0)
    bare = replace(on, grounds=(replace(on.grounds[0], lattice_mm=None, print_to_cloth=None),))
    _, (step,), whole = steps_for(Question((A,), (bare,), locks=(lock,)))
    assert [len(ways) for ways in step.ways] == [0] * 4
    assert whole
    unknown = replace(on, grounds=(replace(on.grounds[0], origin_known=False),))
    _, steps, whole = steps_for(Question((A,), (unknown,), locks=(lock,)))
    assert (steps, whole) == ((), False)
    # A link within the ground needs no origin, but it needs a repeat.
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    _, (step,), whole = steps_for(Question((A, B), (unknown,), links=(link,)))
    assert whole
    assert sum(map(len, step.ways)) > 20
    _, (step,), _ = steps_for(Question((A, B), (bare,), links=(link,)))
    assert sum(map(len, step.ways)) == 0


def test_wishes_that_are_no_musts_or_speak_of_others_are_no_steps() -> None:
    on = laid(SHEARED, 0.0)
    zero: Point = (0.0, 0.0)
    locks = (Lock("a", zero, zero, must=False), Lock("gone", zero, zero))
    links = (
        Link(("a", "b"), (zero, zero), (zero,), must=False),
        Link(("x", "y"), (zero, zero), (zero,)),
        Link(("a", "y"), (zero, zero), (zero,)),
    )
    _, steps, whole = steps_for(Question((A, B), (on,), locks=locks, links=links))
    assert (steps, whole) == ((), True)


def test_places_reach_a_locks_tolerance_beyond_the_ground() -> None:
    on = laid(Lattice((50.0, 0.0), (0.0, 50.0)), 0.0, origin=(-2 * LOCK_MM + 1e-6, 0.0))
    (step,) = steps_for(Question((replace(A, turns_deg=(0.0,)),), (on,), locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),)))[1]
    assert min(step.ways[0][:, 0]) == pytest.approx(-0.1, abs=1e-5)
