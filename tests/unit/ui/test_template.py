"""The template: a hole that is carried like its piece, over either side, with places as they are seen."""

from __future__ import annotations

from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, with_side

from coverlayout.cloth.cloth import BaseLine
from coverlayout.document.project import Project
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.ui.seeing.template import Template, template_of, template_piece, template_sized
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.shown import bench_of


def bench(project: Project) -> Bench:
    return bench_of(project)[0]


def of(where: Bench, piece: str, at_mm: tuple[float, float] = (0.0, 0.0)) -> Template:
    found = template_of(where, piece, at_mm)
    assert found is not None
    return found


def test_the_chosen_piece_counts_then_the_first_cover_then_nothing() -> None:
    table = bench(job())
    assert template_piece(table, ("front-1", "liner-front-1")) == "liner-front-1"
    assert template_piece(table, ()) == "front-1"
    assert template_piece(bench(replace(job(), books=())), ()) is None
    assert template_of(table, "pocket-1", (0.0, 0.0)) is None


def test_the_hole_is_the_board_where_the_piece_lies() -> None:
    table = bench(job())
    # A board of 114.3 x 152.4 about (100, 116).
    hole = bounds(of(table, "front-1").seen(table))
    assert (hole.left_mm, hole.top_mm) == pytest.approx((100 - 57.15, 116 - 76.2))
    assert of(table, "front-1").size_mm(table) == pytest.approx((114.3, 152.4))
    assert of(table, "front-1").from_edges(table) == pytest.approx((42.85, 39.8))
    # A liner has no board: the hole is all of it, 108.3 x 146.4.
    assert of(table, "liner-front-1").size_mm(table) == pytest.approx((108.3, 146.4))


def test_on_the_back_places_count_from_the_left_as_seen() -> None:
    table = bench(with_side(job(), "back"))
    # Seen from the back of a cloth 460 wide, the middle lies at 360 from the left.
    assert of(table, "front-1").from_edges(table) == pytest.approx((360 - 57.15, 39.8))
    moved = of(table, "front-1").moved_to(table, (300.0, 120.0))
    assert (moved.placed.x_mm, moved.placed.y_mm) == pytest.approx((160.0, 120.0))
    assert moved.middle(table) == pytest.approx((300.0, 120.0))


def test_a_board_that_lies_askew_is_told_in_its_own_size() -> None:
    # 0.96 degrees make 116.8 x 154.3 of the box round a board of 114.3 x 152.4.
    table = bench(job())
    askew = of(table, "front-1")
    askew = replace(askew, placed=replace(askew.placed, turn_deg=359.04))
    assert askew.size_mm(table) == pytest.approx((114.3, 152.4))
    assert bounds(askew.seen(table)).width_mm == pytest.approx(116.84, abs=0.01)


@pytest.mark.parametrize(("side", "across_mm"), [("print", 12.85), ("back", -127.15)])
def test_the_board_is_told_along_and_across_the_line_that_is_measured_from(side: str, across_mm: float) -> None:
    """The line runs straight down at 30 from the left; the board from 42.85 to 157.15 across, from 39.8 down."""
    line = BaseLine((30.0, 0.0), (30.0, 250.0), measured_from=True)
    table = bench(with_side(job(replace(linen(), base_line=line)), side))
    found = of(table, "front-1").from_line(table)
    assert found is not None
    assert found.left_mm == pytest.approx((39.8, across_mm))
    assert found.lengthwise
    kept = bench(job(replace(linen(), base_line=replace(line, measured_from=False))))
    assert of(kept, "front-1").from_line(kept) is None


def test_it_takes_the_turn_of_the_print_it_comes_to() -> None:
    table = bench(job(linen(), leftover()))
    to = table.sheet("cloth-2").box.middle
    moved = of(table, "front-1").moved_to(table, to)
    assert (moved.placed.cloth, moved.placed.turn_deg) == ("cloth-2", 90.0)
    assert moved.size_mm(table) == pytest.approx((152.4, 114.3))
    beside = moved.moved_to(table, (to[0], 2000.0))
    assert beside.placed.cloth == WAITING
    assert beside.from_edges(table) is None


def test_one_that_waits_begins_on_the_cloth() -> None:
    table = bench(job())
    assert of(table, "liner-back-1", (200.0, 150.0)).middle(table) == pytest.approx((200.0, 150.0))
    # Looked at beside the cloth it begins in the middle of the first one, 460 x 330.
    assert of(table, "liner-back-1", (-300.0, 900.0)).middle(table) == pytest.approx((230.0, 165.0))


def test_it_turns_as_the_piece_may() -> None:
    table = bench(job())
    assert of(table, "front-1").turned(table, clockwise=True) is None
    both = bench(job(up="two-way"))
    turned = of(both, "front-1").turned(both, clockwise=True)
    assert turned is not None
    assert turned.placed.turn_deg == 180.0


def test_a_mere_size_needs_no_piece_and_turns_by_quarters() -> None:
    table = bench(Project("bare", cloths=(linen(),), prints=job().prints))
    template = template_sized(table, 60.0, 90.0, (100.0, 80.0))
    assert not template.is_piece
    assert bounds(template.seen(table)) == Box(70.0, 35.0, 60.0, 90.0)
    quarter = template.turned(table, clockwise=True)
    assert quarter is not None
    assert bounds(quarter.seen(table)) == Box(55.0, 50.0, 90.0, 60.0)
    assert quarter.turned(table, clockwise=False) == template
    assert [lying.piece.id for lying in table.lying] == []


def test_on_a_bare_table_it_lies_where_it_is_looked_for() -> None:
    table = bench(Project())
    template = template_sized(table, 60.0, 90.0, (100.0, 80.0))
    assert template.placed.cloth == WAITING
    assert template.middle(table) == pytest.approx((100.0, 80.0))
