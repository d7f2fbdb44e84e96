"""Choices of poses: equal pieces counted once, the order of the job kept, and when the search is not begun."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.positions.choices import every_layout, only_sheet
from coverlayout.layout.positions.relations import Found
from coverlayout.layout.question import Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job


def job_of(question: Question) -> RectangularJob:
    job = rectangular_job(question)
    assert job is not None
    return job


def test_pieces_come_back_in_the_order_of_the_job() -> None:
    # Equal pieces apart from each other in the list.
    pieces = (piece("a", 30, 20, ANY), piece("b", 50, 10), piece("d", 30, 20, ANY), piece("e", 50, 10))
    job = job_of(Question(pieces, (cloth(100, 40),)))
    found: list[Found] = []
    every_layout(job, 0, Effort(100_000), 0.0, found.append)
    sizes = [(pose.width_mm, pose.height_mm) for pose in found[-1].poses]
    assert sizes[1] == sizes[3] == (50.0, 10.0)
    assert {*sizes[0], *sizes[2]} == {30.0, 20.0}


def test_the_turn_of_every_piece_is_tried() -> None:
    job = job_of(Question(book_pieces(), (cloth(304.8, 304.8),)))
    found: list[Found] = []
    refused = every_layout(job, 0, Effort(100_000), 0.0, found.append)
    assert found[-1].room_mm == pytest.approx(4.7)
    assert refused > 4.7
    assert [pose.turn_deg for pose in found[-1].poses] == [0.0, 0.0, 90.0, 90.0]


def test_slack_loosens_every_demand() -> None:
    job = job_of(Question((piece("a", 50, 50), piece("b", 50.015, 50)), (cloth(100, 50),)))
    found: list[Found] = []
    every_layout(job, 0, Effort(1000), 0.0, found.append)
    assert found == []
    every_layout(job, 0, Effort(1000), -0.01, found.append, slack_mm=0.01)
    assert found
    blocked = cloth(100.015, 50, keep_outs=(flaw(rectangle(0.02, 50, 50, 0)),))
    tight = job_of(Question((piece("a", 50, 50), piece("b", 50, 50)), (blocked,)))
    seen: list[Found] = []
    every_layout(tight, 0, Effort(1000), 0.0, seen.append)
    assert seen == []
    every_layout(tight, 0, Effort(1000), -0.01, seen.append, slack_mm=0.01)
    assert seen


def test_small_jobs_of_one_sheet_only() -> None:
    small = Question(book_pieces(), (cloth(304.8, 304.8),))
    assert only_sheet(job_of(small)) == 0
    two = (cloth(304.8, 304.8, name="c1"), cloth(304.8, 304.8, name="c2"))
    assert only_sheet(job_of(replace(small, cloths=two))) is None
    bound = tuple(replace(one, cloth_ids=("c2",)) for one in small.pieces)
    assert only_sheet(job_of(replace(small, pieces=bound, cloths=two))) == 1
    assert only_sheet(job_of(Question(book_pieces(3), (cloth(900, 900),)))) is None
    many = tuple(flaw(rectangle(2, 2, 20 * k, 5)) for k in range(13))
    assert only_sheet(job_of(replace(small, cloths=(cloth(304.8, 304.8, keep_outs=many),)))) is None
    assert only_sheet(job_of(replace(small, pieces=()))) is None
    lost = replace(small.pieces[0], cloth_ids=("elsewhere",))
    assert only_sheet(job_of(replace(small, pieces=(lost, *small.pieces[1:])))) is None


def test_running_out_of_steps_proves_nothing() -> None:
    job = job_of(Question(book_pieces(), (cloth(304.8, 304.8),)))
    with pytest.raises(OutOfSteps):
        every_layout(job, 0, Effort(10), 0.0, lambda _: None)


def test_layouts_that_only_have_the_room_are_told_without_rising() -> None:
    job = job_of(Question((piece("a", 30, 20), piece("b", 50, 10)), (cloth(100, 100),)))
    found: list[Found] = []
    every_layout(job, 0, Effort(10_000), 6.0, found.append, rising=False)
    assert len(found) > 1
    assert {one.room_mm for one in found} == {6.0}
