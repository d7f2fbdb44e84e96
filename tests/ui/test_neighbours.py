"""Pieces carried to the cloth beside theirs without a pointer, against figures worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project
from coverlayout.layout.question import Placed
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.neighbours import neighbour, to_neighbour
from coverlayout.ui.table.shown import Shown


def bench_of(project: Project) -> Bench:
    return Shown(project).bench


def plain(width_mm: float, length_mm: float) -> Cloth:
    """A cloth without print, so that nothing turns."""
    return Cloth("cloth-2", "Other", width_mm, length_mm)


def laid(bench: Bench, *piece_ids: str) -> list[Placed]:
    return [lying.placed for lying in bench.lying if lying.piece.id in piece_ids]


def test_the_row_has_two_ends() -> None:
    bench = bench_of(job(linen(), leftover()))
    there = neighbour(bench, "cloth-1", 1)
    assert there is not None
    assert there.id == "cloth-2"
    assert neighbour(bench, "cloth-2", 1) is None
    assert neighbour(bench, "cloth-1", -1) is None
    assert neighbour(bench, WAITING, 1) is None


def test_what_fits_lies_as_far_from_the_corner_as_before() -> None:
    bench = bench_of(job(linen(), replace(linen(), id="cloth-2")))
    moved = to_neighbour(bench, laid(bench, "front-1", "back-1"), 1)
    assert moved == (Placed("front-1", "cloth-2", 100.0, 116.0), Placed("back-1", "cloth-2", 255.0, 116.0))


def test_what_would_stick_out_is_drawn_in_together() -> None:
    # The covers are 144.3 x 182.4: together they span 27.85 to 327.15 across, 299.3 wide, and 24.8 to 207.2 along.
    # On a cloth of 310 x 200 they come 17.15 further left (their right edges at 310) and 7.2 further up.
    bench = bench_of(job(linen(), plain(310.0, 200.0)))
    moved = to_neighbour(bench, laid(bench, "front-1", "back-1"), 1)
    assert [(each.cloth, each.turn_deg) for each in moved] == [("cloth-2", 0.0)] * 2
    assert (moved[0].x_mm, moved[0].y_mm) == (pytest.approx(82.85), pytest.approx(108.8))
    assert moved[1].x_mm - moved[0].x_mm == pytest.approx(155.0)


def test_those_that_fit_only_one_by_one_are_drawn_in_one_by_one() -> None:
    # 200 wide: the front cover stays at 27.85, the back cover ends at 200, with its middle 72.15 left of that.
    bench = bench_of(job(linen(), plain(200.0, 250.0)))
    front, back = to_neighbour(bench, laid(bench, "front-1", "back-1"), 1)
    assert (front.x_mm, front.y_mm) == (pytest.approx(100.0), pytest.approx(116.0))
    assert (back.x_mm, back.y_mm) == (pytest.approx(127.85), pytest.approx(116.0))


def test_what_is_larger_than_the_cloth_lies_over_its_middle() -> None:
    bench = bench_of(job(linen(), plain(100.0, 300.0)))
    (front,) = to_neighbour(bench, laid(bench, "front-1"), 1)
    assert (front.cloth, front.x_mm) == ("cloth-2", pytest.approx(50.0))


def test_a_piece_turns_along_with_the_print() -> None:
    bench = bench_of(job(linen(), replace(leftover(), width_mm=400.0, length_mm=400.0, outline_mm=None)))
    (front,) = to_neighbour(bench, laid(bench, "front-1"), 1)
    assert (front.cloth, front.turn_deg) == ("cloth-2", 90.0)


def test_seen_from_the_back_it_is_the_corner_as_seen() -> None:
    # As seen the front cover lies 460 - 172.15 = 287.85 from the left edge; on 800 wide that is x = 800 - 360.
    project = job(linen(), plain(800.0, 400.0))
    bench = bench_of(replace(project, preferences=replace(project.preferences, side="back")))
    (front,) = to_neighbour(bench, laid(bench, "front-1"), 1)
    assert (front.x_mm, front.y_mm) == (pytest.approx(440.0), pytest.approx(116.0))


def test_what_has_no_cloth_there_is_left_out() -> None:
    bench = bench_of(job(linen(), leftover()))
    assert to_neighbour(bench, laid(bench, "front-1", "liner-back-1"), -1) == ()
