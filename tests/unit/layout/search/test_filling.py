"""First layouts by filling: valid by plain arithmetic, the same every time, room and gap kept, flaws kept clear of."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.filling import Filled, Spaces, fill, fillings, too_much
from coverlayout.layout.search.sheets import Block, RectangularJob, Sheet, rectangular_job


def job_of(question: Question) -> RectangularJob:
    job = rectangular_job(question)
    assert job is not None
    return job


def boxes(filled: Filled) -> list[Box]:
    return [Box(seat.left_mm, seat.top_mm, seat.pose.width_mm, seat.pose.height_mm) for seat in filled]


def apart_mm(one: Box, other: Box) -> float:
    across = max(other.left_mm - one.right_mm, one.left_mm - other.right_mm)
    along = max(other.top_mm - one.bottom_mm, one.top_mm - other.bottom_mm)
    return max(across, along)


def test_forty_pieces_lie_apart_and_inside() -> None:
    job = job_of(Question(book_pieces(10), (cloth(1371.6, 914.4),), gap_mm=2.0))
    filled = fill(job, Effort(100_000), 5.0, orders=0)
    assert filled is not None
    for box in boxes(filled):
        assert min(box.left_mm, box.top_mm, 1371.6 - box.right_mm, 914.4 - box.bottom_mm) >= 5.0 - 1e-9
    assert min(apart_mm(a, b) for a, b in itertools.combinations(boxes(filled), 2)) >= 5.0 - 1e-9
    assert fill(job, Effort(100_000), 5.0, orders=0) == filled


def test_the_gap_counts_between_pieces_but_not_at_the_edge() -> None:
    job = job_of(Question((piece("a", 48, 50), piece("b", 48, 50)), (cloth(100, 50),), gap_mm=4.0))
    filled = fill(job, Effort(100), orders=0)
    assert filled is not None
    assert [box.left_mm for box in boxes(filled)] == [0.0, 52.0]
    wider = job_of(Question((piece("a", 48, 50), piece("b", 48, 50)), (cloth(100, 50),), gap_mm=4.1))
    assert fill(wider, Effort(10_000), orders=20) is None


def test_flaws_holes_and_cut_pieces_are_kept_clear_of() -> None:
    cut = (piece("cut-1", 20, 50), Placed("cut-1", "c", 90.0, 25.0))
    keep_outs = (flaw(rectangle(10, 50, 30, 0)), flaw(rectangle(5, 5, 0, 0), seen_only=True))
    on = cloth(100, 50, keep_outs=keep_outs, fixed=(cut,))
    cover = piece("a", 35, 50, seen=rectangle(25, 40, 6, 6))
    label = piece("b", 30, 50, seen=rectangle(20, 40, 6, 6))
    filled = fill(job_of(Question((cover, label), (on,), gap_mm=5.0)), Effort(1000), orders=0)
    assert filled is not None
    assert [box.left_mm for box in boxes(filled)] == [40.0, 0.0]


def test_a_turned_piece_takes_the_place_that_fits() -> None:
    filled = fill(job_of(Question((piece("strip", 90, 10, ANY),), (cloth(20, 100),))), Effort(100), orders=0)
    assert filled is not None
    assert filled[0].pose.turn_deg == 90.0


def test_a_second_cloth_takes_what_the_first_cannot() -> None:
    cloths = (cloth(50, 50, name="c1"), cloth(50, 50, name="c2"))
    filled = fill(job_of(Question((piece("a", 40, 40), piece("b", 40, 40)), cloths)), Effort(100), orders=0)
    assert filled is not None
    assert [seat.sheet for seat in filled] == [0, 1]


def test_orders_are_tried_until_the_steps_end() -> None:
    # Two squares of 60 lie neither side by side in 100 nor, three of them, one above the other in 130.
    squares = tuple(piece(f"square-{k}", 60, 60) for k in range(3))
    job = job_of(Question((*squares, piece("label", 20, 30, ANY)), (cloth(100, 130),)))
    with pytest.raises(OutOfSteps):
        fill(job, Effort(500), orders=100_000)
    assert fill(job, Effort(10**6), orders=30) is None


def test_no_order_is_tried_for_more_area_than_there_is_or_a_piece_without_a_pose() -> None:
    job = job_of(Question((piece("a", 60, 60), piece("b", 60, 61)), (cloth(60, 120),)))
    assert too_much(job)
    assert fill(job, Effort(1), orders=100_000) is None
    assert not too_much(job_of(Question((piece("a", 60, 60), piece("b", 60, 60)), (cloth(60, 120),))))
    elsewhere = replace(piece("a", 10, 10), cloth_ids=("other",))
    assert fill(job_of(Question((elsewhere,), (cloth(60, 120),))), Effort(1), orders=100_000) is None


def test_many_fillings_of_an_easy_job_differ() -> None:
    job = job_of(Question((piece("a", 30, 20), piece("b", 20, 45), piece("d", 10, 10)), (cloth(100, 100),)))
    layouts = list(fillings(job, Effort(10_000), 0.0, 6))
    assert len(layouts) == 18
    assert len(set(layouts)) > 1


def test_what_is_free_is_all_largest_rectangles() -> None:
    spaces = Spaces(Sheet("c", "g", Box(0, 0, 100, 80), ()), 0.0, 0.0)
    spaces.take((40.0, 30.0, 60.0, 50.0))
    assert sorted(spaces.free) == [(0, 0, 40, 80), (0, 0, 100, 30), (0, 50, 100, 80), (60, 0, 100, 80)]
    spaces.take((0.0, 0.0, 100.0, 80.0))
    assert spaces.free == []


def test_room_and_distance_are_taken_off_around_blocks() -> None:
    blocks = Block(Box(0, 0, 10, 80), neighbour=True), Block(Box(90, 0, 10, 80), neighbour=False)
    spaces = Spaces(Sheet("c", "g", Box(0, 0, 100, 80), blocks), 2.0, 5.0)
    assert spaces.free == [(15.0, 2.0, 90.0, 78.0)]
    assert math.isclose(spaces.free[0][2] - spaces.free[0][0], 75.0)
