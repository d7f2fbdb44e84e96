"""Whatever the print, the line and the changes: both ends bear the same motif, and pieces keep theirs."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.base_line import base_line_now, nearest_repeats, way_between
from coverlayout.cloth.cloth import BaseLine, Change, Cloth
from coverlayout.cloth.remeasuring import Remeasured
from coverlayout.cloth.usable import laid_to_cloth, size_now_mm
from coverlayout.document.edits.cloths import add_change
from coverlayout.document.measuring.again import measure_again
from coverlayout.document.measuring.base_lines import set_base_line
from coverlayout.document.project import Layout, Project
from coverlayout.geometry.frames import turn
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

PERCENT = st.floats(-5.0, 5.0)
LAID = st.builds(
    LaidPrint,
    st.just("p"),
    st.tuples(st.floats(-100.0, 100.0), st.floats(-100.0, 100.0)),
    st.floats(-180.0, 180.0),
    PERCENT,
    PERCENT,
    PERCENT,
)
CHANGES = st.lists(st.builds(Change, st.just("washing"), PERCENT, PERCENT), max_size=3).map(tuple)
SHEARED = Lattice((64.0, 48.0), (7.0, 96.0))


@st.composite
def lined(draw: st.DrawFn) -> tuple[Project, BaseLine]:
    """A large cloth that went through changes, and a line on it that is a few percent and degrees off the print."""
    cloth = Cloth("cloth-1", "Yard", 3000.0, 3000.0, changes=draw(CHANGES), laid=draw(LAID))
    assert cloth.laid is not None
    repeats = (draw(st.integers(-8, 8)), draw(st.integers(-5, 5)))
    assume(repeats != (0, 0))
    way = turn(draw(st.floats(-3.0, 3.0))).vector(way_between(cloth, cloth.laid, SHEARED, repeats))
    grown = draw(st.floats(0.95, 1.05))
    start = (1400.0, 1400.0)
    line = BaseLine(start, (start[0] + grown * way[0], start[1] + grown * way[1]), repeats)
    project = Project(
        prints=(Print("p", "Flags", SHEARED),),
        cloths=(cloth,),
        own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0),),
        layouts=(Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", 1300.0, 1500.0, cloth.laid.turn_deg),)),),
    )
    return project, line


@given(lined())
def test_both_ends_bear_the_same_motif_before_and_after_washing(case):
    project, line = case
    new = set_base_line("cloth-1", line).change(project)
    for each in (new, add_change("cloth-1", Change("washing", -3.0, -1.5)).change(new)):
        cloth = each.cloths[0]
        ends = base_line_now(cloth)
        assert ends is not None
        to_print = laid_to_cloth(cloth, cloth.laid).inverse()
        (x0, y0), (x1, y1) = (to_print.at(end) for end in ends)
        wanted = SHEARED.point(*line.repeats)
        assert (x1 - x0, y1 - y0) == pytest.approx(wanted, abs=1e-6)


@given(lined())
def test_a_piece_keeps_its_motif_and_its_turn_from_the_prints_up(case):
    project, line = case
    new = set_base_line("cloth-1", line).change(project)
    (before,), (after,) = (one.layout.placements for one in (project, new))
    was, now = project.cloths[0], new.cloths[0]
    motif = laid_to_cloth(was, was.laid).inverse().at((before.x_mm, before.y_mm))
    assert laid_to_cloth(now, now.laid).inverse().at((after.x_mm, after.y_mm)) == pytest.approx(motif, abs=1e-6)
    off_deg = (after.turn_deg - now.laid.turn_deg) - (before.turn_deg - was.laid.turn_deg)
    assert math.cos(math.radians(off_deg)) == pytest.approx(1.0, abs=1e-12)


@given(lined())
def test_setting_the_same_line_again_changes_no_more(case):
    project, line = case
    once = set_base_line("cloth-1", line).change(project)
    twice = set_base_line("cloth-1", line).change(once)
    first, second = (laid_to_cloth(one.cloths[0], one.cloths[0].laid) for one in (once, twice))
    for corner in ((0.0, 0.0), (3000.0, 0.0), (0.0, 3000.0)):
        assert second.at(corner) == pytest.approx(first.at(corner), abs=1e-6)


@given(lined(), st.floats(-10.0, 10.0), st.floats(-10.0, 10.0))
def test_a_place_near_a_motif_is_read_as_that_motif(case, dx, dy):
    project, line = case
    cloth = project.cloths[0]
    way = way_between(cloth, cloth.laid, SHEARED, line.repeats)
    end = (line.start_mm[0] + way[0] + dx, line.start_mm[1] + way[1] + dy)
    assert nearest_repeats(cloth, cloth.laid, SHEARED, line.start_mm, end) == line.repeats


@given(CHANGES, st.floats(50.0, 2000.0), st.floats(0.6, 1.4), st.floats(0.6, 1.4))
def test_what_was_measured_is_what_the_cloth_then_has(changes, was_mm, across, along):
    assume(max(abs(across - 1), abs(along - 1)) > 1e-3)
    project = Project(cloths=(Cloth("cloth-1", "Yard", 1100.0, 900.0, changes=changes),))
    before = size_now_mm(project.cloths[0])
    new = measure_again("cloth-1", Remeasured(was_mm, was_mm * across), Remeasured(was_mm, was_mm * along))
    after = size_now_mm(new.change(project).cloths[0])
    assert after == pytest.approx((before[0] * across, before[1] * along))
