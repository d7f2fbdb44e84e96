"""Seats, bodies and frames of a question: each against arithmetic done by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece
from samples import L_SHAPE
from shapely.geometry import Polygon

from coverlayout.geometry.frames import IDENTITY, Ring, shift
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.exact.job import Body, ExactJob, Seat, edges_of, exact_job
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice


def job_of(*pieces: PieceAsked, on: ClothAsked | tuple[ClothAsked, ...], **more: object) -> ExactJob:
    job = exact_job(Question(pieces, on if isinstance(on, tuple) else (on,), **more), 14)  # type: ignore[arg-type]  # passed on
    assert job is not None
    return job


def boxes(seats: tuple[Seat, ...]) -> list[tuple[float, float]]:
    return [seat.size_mm for seat in seats]


def test_a_rectangle_has_a_seat_for_each_way_that_can_be_told_apart() -> None:
    job = job_of(piece("a", 40, 20, ANY), piece("b", 30, 30, ANY), on=cloth(100, 80))
    assert boxes(job.seats[0]) == [(40.0, 20.0), (20.0, 40.0)]
    assert boxes(job.seats[1]) == [(30.0, 30.0)]
    lying, standing = job.seats[0]
    assert (lying.low_mm, lying.high_mm) == ((0.0, 0.0), (60.0, 60.0))
    assert (standing.low_mm, standing.high_mm) == ((0.0, 0.0), (80.0, 40.0))
    assert (lying.turn_deg, standing.turn_deg) == (0.0, 90.0)
    assert job.exact


def test_a_wish_keeps_ways_apart_that_look_alike() -> None:
    pieces = piece("a", 40, 20, ANY), piece("b", 40, 20, ANY), piece("c", 40, 20, ANY)
    locks = (Lock("a", (1.0, 2.0), (0.0, 0.0)),)
    links = (Link(("b", "x"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),)),)
    job = job_of(*pieces, on=cloth(100, 80), locks=locks, links=links)
    assert [len(seats) for seats in job.seats] == [4, 4, 2]


def test_a_way_that_does_not_fit_the_ground_is_no_seat() -> None:
    job = job_of(piece("a", 70, 20, ANY), on=cloth(100, 60))
    assert boxes(job.seats[0]) == [(70.0, 20.0)]
    # A little larger counts as fitting: the tolerance of both edges.
    assert boxes(job_of(piece("a", 70, 20, ANY), on=cloth(100, 69.985)).seats[0]) == [(70.0, 20.0), (20.0, 70.0)]
    assert boxes(job_of(piece("a", 70, 20, ANY), on=cloth(100, 69.975)).seats[0]) == [(70.0, 20.0)]
    assert exact_job(Question((piece("a", 70, 20),), (cloth(60, 60),)), 14) is None


def test_only_few_pieces_few_bodies_and_few_parts_are_searched() -> None:
    pieces = tuple(piece(f"p{k}", 5, 5) for k in range(4))
    question = Question(pieces, (cloth(100, 100),))
    assert exact_job(question, 4) is not None
    assert exact_job(question, 3) is None
    assert exact_job(replace(question, pieces=()), 3) is None
    stains = tuple(flaw(rectangle(1, 1, 3 * k, 90), f"s{k}") for k in range(61))
    assert exact_job(replace(question, cloths=(cloth(200, 100, keep_outs=stains[:60]),)), 4) is not None
    assert exact_job(replace(question, cloths=(cloth(200, 100, keep_outs=stains),)), 4) is None
    points = [
        (r * math.cos(k * math.pi / 9), r * math.sin(k * math.pi / 9)) for k in range(18) for r in [30 - 20 * (k % 2)]
    ]
    star = piece("star", 0, 0, outline=tuple(points))
    assert exact_job(replace(question, pieces=(star,)), 4) is None


def test_a_piece_at_any_angle_is_tried_upright_and_proves_nothing() -> None:
    job = job_of(piece("a", 40, 20, None), on=cloth(100, 80))
    assert boxes(job.seats[0]) == [(40.0, 20.0), (20.0, 40.0)]
    assert not job.exact


def test_a_slanted_turn_is_a_polygon_in_its_box() -> None:
    (seat,) = job_of(piece("a", 30, 10, (30.0,)), on=cloth(100, 80)).seats[0]
    cos, sin = math.sqrt(3) / 2, 0.5
    assert seat.size_mm == pytest.approx((30 * cos + 10 * sin, 30 * sin + 10 * cos))
    assert sorted(seat.parts[0]) == [
        pytest.approx(point) for point in ((0, 10 * cos), (5, 0), (30 * cos, 15 + 10 * cos), (30 * cos + 5, 15))
    ]
    assert seat.turn_deg == 30.0


@pytest.mark.parametrize("up_deg", [0.0, 90.0, 4.0, 183.0, 266.5])
@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0, 270.0])
def test_a_place_of_a_crooked_frame_comes_back_to_the_cloth(up_deg: float, turn_deg: float) -> None:
    asked = piece("ell", 0, 0, (turn_deg,), outline=L_SHAPE, anchor=(7.0, 31.0))
    on = cloth(400, 300, up_deg=up_deg)
    job = job_of(asked, on=(cloth(50, 50, name="other", print_id="no"), on))
    (seat,) = [seat for seat in job.seats[0] if seat.cloth_id == "c"]
    place = seat.low_mm[0] + 61.0, seat.low_mm[1] + 47.0
    placed = seat.placed("ell", place)
    assert (placed.cloth, placed.piece) == ("c", "ell")
    assert placed.turn_deg == pytest.approx((up_deg + turn_deg) % 360.0)
    # The outline on the cloth, seen from the frame again, is what the seat says it is there.
    outline = seat.to_cloth.inverse().ring(outline_on_cloth(asked, placed))
    box = bounds(outline)
    assert (box.left_mm, box.top_mm) == pytest.approx(place)
    assert (box.width_mm, box.height_mm) == pytest.approx(seat.size_mm)
    parts = [Polygon(shift(*place).ring(part)) for part in seat.parts]
    assert sum(part.area for part in parts) == pytest.approx(Polygon(L_SHAPE).area)
    assert all(part.difference(Polygon(outline).buffer(1e-6)).area < 1e-9 for part in parts)


def test_frames_of_different_cloths_and_leans_stand_far_apart() -> None:
    halves = (
        Ground("left", Region.of(rectangle(100, 200)), "p", 0.0),
        Ground("right", Region.of(rectangle(100, 200, 100, 0)), "q", 5.0),
        Ground("below", Region.of(rectangle(200, 50, 0, 200)), "r", 90.0),
    )
    whole = ClothAsked("c", "c", rectangle(200, 250), halves)
    job = job_of(piece("a", 30, 20), on=(whole, cloth(80, 80, name="d")))
    assert [(seat.ground.id, seat.frame) for seat in job.seats[0]] == [
        ("left", 0),
        ("right", 1),
        ("below", 0),
        ("d-all", 2),
    ]
    left, right, _, other = job.seats[0]
    assert left.to_cloth == IDENTITY
    # 200 x 250 leaning by 5 degrees, set aside by a metre, is where the second frame begins.
    lean = math.radians(5.0)
    wide = 200 * math.cos(lean) + 250 * math.sin(lean)
    assert right.low_mm[0] >= 200 + 1000
    assert other.low_mm[0] == pytest.approx(200 + 1000 + wide + 1000)
    assert len(job.bodies) == 3


def test_what_is_in_the_way_says_what_it_asks_for() -> None:
    label = piece("label", 20, 10)
    on = cloth(
        200,
        100,
        keep_outs=(
            flaw(L_SHAPE, "stain"),
            flaw(rectangle(5, 5, 100, 5), "spot", seen_only=True),
            flaw(rectangle(7, 9, 150, 50), "hole", spoiled=True),
        ),
        fixed=((label, Placed("label", "c", 120.0, 80.0, 90.0)),),
    )
    job = job_of(piece("a", 20, 20, seen=rectangle(10, 10, 3, 4)), on=on)
    (bodies,) = job.bodies
    assert [(body.near, body.seen_only) for body in bodies[-3:]] == [
        ("flaw", True),
        ("neighbour", False),
        ("neighbour", False),
    ]
    assert {(body.near, body.seen_only) for body in bodies[:-3]} == {("flaw", False)}
    # The label stands: 10 wide and 20 high about (120, 80).
    assert sorted(bodies[-1].ring) == [(115.0, 70.0), (115.0, 90.0), (125.0, 70.0), (125.0, 90.0)]
    assert sorted(job.seats[0][0].seen[0]) == [(3.0, 4.0), (3.0, 14.0), (13.0, 4.0), (13.0, 14.0)]
    # The spot takes nothing off the area: only the seen part keeps clear of it.
    assert job.areas_mm2 == pytest.approx((200 * 100 - Polygon(L_SHAPE).area - 63 - 200,))


def test_the_seen_part_counts_only_where_something_asks_for_it() -> None:
    seen = rectangle(10, 10, 3, 4)
    job = job_of(piece("a", 20, 20, (0.0, 180.0), seen=seen), on=cloth(200, 100))
    assert len(job.seats[0]) == 1
    assert job.seats[0][0].seen == job.seats[0][0].parts
    spot = flaw(rectangle(5, 5, 100, 5), seen_only=True)
    told = job_of(piece("a", 20, 20, (0.0, 180.0), seen=seen), on=cloth(200, 100, keep_outs=(spot,)))
    assert [bounds(seat.seen[0]).left_mm for seat in told.seats[0]] == [3.0, 7.0]
    plain = job_of(piece("a", 20, 20), on=cloth(200, 100, keep_outs=(spot,)))
    assert plain.seats[0][0].seen == plain.seats[0][0].parts


def test_a_bay_of_the_ground_is_a_body_and_a_slanted_edge_a_slope() -> None:
    ragged: Ring = (
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 60.0),
        (60.0, 100.0),
        (0.0, 100.0),
        (0.0, 60.0),
        (20.0, 60.0),
        (20.0, 40.0),
        (0.0, 40.0),
    )
    job = job_of(piece("a", 10, 10), on=cloth(0, 0, outline=ragged))
    (bay,) = job.bodies[0]
    assert (bay.near, bay.ground) == ("edge", 0)
    assert sorted(bay.ring) == [(0.0, 40.0), (0.0, 60.0), (20.0, 40.0), (20.0, 60.0)]
    (seat,) = job.seats[0]
    ((nx, ny, least),) = seat.slopes
    # x + y <= 160 for the lower right corner, so x + y <= 140 for the place.
    assert (nx, ny) == pytest.approx((-math.sqrt(0.5), -math.sqrt(0.5)))
    assert least == pytest.approx(-140 * math.sqrt(0.5))
    assert job.areas_mm2 == pytest.approx((10000 - 800 - 400,))


def test_every_part_of_a_ground_in_pieces_is_a_part_of_its_own() -> None:
    two = Region.union([Region.of(rectangle(40, 40)), Region.of(rectangle(60, 30, 100, 10))])
    on = ClothAsked("c", "c", rectangle(200, 50), (Ground("g", two),))
    job = job_of(piece("a", 35, 20), on=on)
    assert sorted((seat.low_mm, seat.high_mm) for seat in job.seats[0]) == [
        ((0.0, 0.0), (5.0, 20.0)),
        ((100.0, 10.0), (125.0, 20.0)),
    ]
    assert job.seats[0][0].part != job.seats[0][1].part


def test_a_ground_swallowed_by_a_joined_one_has_no_seats() -> None:
    lattice, laid = Lattice((30.0, 0.0), (0.0, 20.0)), shift(3.0, 4.0)
    joined = Ground("both", Region.of(rectangle(100, 50)), "p", 0.0, lattice, laid)
    left = replace(joined, id="left", usable=Region.of(rectangle(50, 50)))
    on = ClothAsked("c", "c", rectangle(200, 50), (left, joined))
    a = piece("a", 20, 20, print_id="p")
    assert [seat.ground.id for seat in job_of(a, on=on).seats[0]] == ["both"]
    # Not where the print lies otherwise, nor where the piece may not use the larger one, nor where it reaches further.
    moved = replace(left, print_to_cloth=shift(4.0, 4.0))
    assert len(job_of(a, on=replace(on, grounds=(moved, joined))).seats[0]) == 2
    bound = replace(a, ground_ids=("left",))
    assert [seat.ground.id for seat in job_of(bound, on=on).seats[0]] == ["left"]
    further = replace(left, usable=Region.of(rectangle(50, 50, 60, 0)))
    assert len(job_of(a, on=replace(on, grounds=(further, joined))).seats[0]) == 2
    elsewhere = ClothAsked("d", "d", rectangle(200, 50), (left,))
    assert len(job_of(a, on=(replace(on, grounds=(joined,)), elsewhere)).seats[0]) == 2


def test_a_piece_lies_only_where_its_print_and_its_cloths_allow() -> None:
    on = (cloth(100, 100, name="c", print_id="p"), cloth(100, 100, name="d", print_id="q"))
    assert [seat.cloth_id for seat in job_of(piece("a", 20, 20), on=on).seats[0]] == ["c", "d"]
    assert [seat.cloth_id for seat in job_of(piece("a", 20, 20, print_id="q"), on=on).seats[0]] == ["d"]
    bound = replace(piece("a", 20, 20), cloth_ids=("c",))
    assert [seat.cloth_id for seat in job_of(bound, on=on).seats[0]] == ["c"]


@pytest.mark.parametrize("ring", [((0.0, 0.0), (4.0, 0.0), (4.0, 3.0)), ((4.0, 3.0), (4.0, 0.0), (0.0, 0.0))])
def test_edges_of_a_triangle_whichever_way_it_runs(ring: Ring) -> None:
    # 3-4-5: inside the slanted edge, 4 y <= 3 x.
    found = sorted(tuple(round(number, 9) + 0.0 for number in edge) for edge in edges_of(ring))
    assert found == [(-1.0, 0.0, -4.0), (0.0, 1.0, 0.0), (0.6, -0.8, 0.0)]


def test_a_body_belongs_to_all_grounds_unless_it_says_otherwise() -> None:
    assert Body(rectangle(1, 1), "flaw").ground == -1
    assert not Body(rectangle(1, 1), "flaw").seen_only
