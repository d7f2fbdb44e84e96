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


def lies_there(bench: Bench, project: Project, moved: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """Everything that lies on a cloth once these are moved."""
    names = {placed.piece for placed in moved}
    return (*(placed for placed in project.layout.placements if placed.piece not in names), *moved)


def two_linens(*there: Placed) -> Project:
    """The covers on the first linen; what is named lies on the second."""
    project = job(linen(), replace(linen(), id="cloth-2"))
    names = {placed.piece for placed in there}
    stays = tuple(placed for placed in project.layout.placements if placed.piece not in names)
    return replace(project, layouts=(replace(project.layout, placements=(*stays, *there)),))


def test_a_taken_spot_is_left_for_free_ground_beside_it() -> None:
    # The back cover lies on the second linen just where the front cover would come to lie.
    project = two_linens(Placed("back-1", "cloth-2", 100.0, 116.0))
    shown = Shown(project)
    assert shown.judge is not None
    (front,) = to_neighbour(shown.bench, laid(shown.bench, "front-1"), 1, shown.judge)
    assert (front.cloth, front.turn_deg) == ("cloth-2", 0.0)
    assert shown.judge.report(lies_there(shown.bench, project, (front,))).breaches == ()
    # Beside the back cover: it begins where that ends at 100 + 144.3 / 2, or further right.
    assert front.x_mm >= 100.0 + 144.3 - 0.01
    assert to_neighbour(shown.bench, laid(shown.bench, "front-1"), 1) == (Placed("front-1", "cloth-2", 100.0, 116.0),)


def test_a_free_spot_is_kept_with_a_judge_too() -> None:
    project = two_linens(Placed("back-1", "cloth-2", 380.0, 116.0))
    shown = Shown(project)
    moved = to_neighbour(shown.bench, laid(shown.bench, "front-1"), 1, shown.judge)
    assert moved == (Placed("front-1", "cloth-2", 100.0, 116.0),)


def test_where_no_ground_is_free_the_spot_stays_the_same() -> None:
    # 200 x 200 mm hold one cover of 144.3 x 182.4 mm, not two.
    project = job(linen(), plain(200.0, 200.0))
    front, _, liner = project.layout.placements
    layout = replace(project.layout, placements=(front, Placed("back-1", "cloth-2", 100.0, 100.0), liner))
    project = replace(project, layouts=(layout,))
    shown = Shown(project)
    with_judge = to_neighbour(shown.bench, laid(shown.bench, "front-1"), 1, shown.judge)
    assert with_judge == to_neighbour(shown.bench, laid(shown.bench, "front-1"), 1)
    assert with_judge[0].cloth == "cloth-2"


def test_several_find_ground_together_and_keep_their_turn_to_the_print() -> None:
    # The leftover's print lies a quarter turned: the liners lie so too, clear of the one that is there.
    project = two_linens()
    project = replace(project, cloths=(project.cloths[0], leftover()))
    placed = (Placed("liner-front-1", "cloth-1", 100.0, 100.0), Placed("liner-back-1", "cloth-1", 300.0, 100.0))
    project = replace(project, layouts=(replace(project.layout, placements=placed),))
    shown = Shown(project)
    assert shown.judge is not None
    moved = to_neighbour(shown.bench, laid(shown.bench, "liner-front-1", "liner-back-1"), 1, shown.judge)
    assert [(each.cloth, each.turn_deg) for each in moved] == [("cloth-2", 90.0)] * 2
    assert shown.judge.report(moved).breaches == ()
