"""Gestures without a window: begin, move, finish or cancel."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, session_of, with_side

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.project import CutPiece, Layout, Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.canvas.gestures import Choose, DragPiece, Pan, free_place, move_print_at, placing
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.shown import bench_of
from coverlayout.ui.table.view import View


def bench(project: Project) -> Bench:
    return bench_of(project)[0]


def test_a_drag_is_one_edit_with_a_name() -> None:
    session = session_of(job())
    drag = DragPiece(bench(session.project), ("back-1",), (255.0, 116.0))
    for step in range(1, 6):
        drag.move((255.0 + step, 116.0 + 2 * step))
    edit = drag.finish()
    assert edit is not None
    session.do(edit)
    placed = session.project.layout.place_of("back-1")
    assert placed is not None
    assert (placed.x_mm, placed.y_mm) == pytest.approx((260.0, 126.0))
    assert session.undo_name == "Move back cover"
    session.undo()
    assert session.project == job()


def test_a_drag_on_the_back_goes_the_other_way_on_the_cloth() -> None:
    drag = DragPiece(bench(with_side(job(), "back")), ("back-1",), (200.0, 116.0))
    drag.move((230.0, 100.0))
    assert (drag.shown[0].x_mm, drag.shown[0].y_mm) == pytest.approx((225.0, 100.0))


def test_cancel_leaves_everything_as_it_was() -> None:
    drag = DragPiece(bench(job()), ("back-1",), (0.0, 0.0))
    drag.move((20.0, 0.0))
    assert drag.shown != drag.start
    drag.cancel()
    assert drag.shown == drag.start
    assert drag.finish() is None


def test_back_where_it_was_is_no_edit() -> None:
    drag = DragPiece(bench(job()), ("back-1",), (9.0, 9.0))
    drag.move((20.0, 0.0))
    drag.move((9.0, 9.0))
    assert drag.finish() is None


def test_dropped_beside_the_cloth_it_waits_again() -> None:
    session = session_of(job())
    drag = DragPiece(bench(session.project), ("back-1",), (0.0, 0.0))
    drag.move((0.0, 900.0))
    edit = drag.finish()
    assert edit is not None
    session.do(edit)
    assert session.project.layout.place_of("back-1") is None


def test_a_waiting_piece_moved_about_beside_the_cloth_is_no_edit() -> None:
    drag = DragPiece(bench(job()), ("liner-back-1",), (0.0, 0.0))
    drag.move((15.0, 4.0))
    assert drag.shown[0].cloth == WAITING
    assert drag.finish() is None


def test_several_are_carried_together_some_off_the_cloth() -> None:
    session = session_of(job())
    drag = DragPiece(bench(session.project), ("front-1", "liner-front-1"), (0.0, 0.0))
    drag.move((150.0, 0.0))
    edit = drag.finish()
    assert edit is not None
    session.do(edit)
    front = session.project.layout.place_of("front-1")
    assert front is not None
    assert front.x_mm == pytest.approx(250.0)
    assert session.project.layout.place_of("liner-front-1") is None
    session.undo()
    assert session.project == job()


def test_a_piece_cut_already_is_not_carried() -> None:
    fact = CutPiece(
        "front-1", "front cover", "cut", rectangle(10, 10), (5.0, 5.0), Placed("front-1", "cloth-1", 50, 50)
    )
    drag = DragPiece(bench(replace(job(), cut_pieces=(fact,))), ("front-1", "gone-1"), (0.0, 0.0))
    drag.move((5.0, 5.0))
    assert drag.shown == ()
    assert drag.finish() is None


def test_turning_while_carrying_keeps_what_was_carried() -> None:
    drag = DragPiece(bench(job(up="any")), ("front-1",), (0.0, 0.0))
    drag.move((6.0, 0.0))
    assert drag.turn()
    assert (drag.shown[0].x_mm, drag.shown[0].turn_deg) == (pytest.approx(106.0), 90.0)
    drag.move((8.0, 0.0))
    assert (drag.shown[0].x_mm, drag.shown[0].turn_deg) == (pytest.approx(108.0), 90.0)
    assert not DragPiece(bench(job()), ("front-1",), (0.0, 0.0)).turn()


def test_pan_follows_the_pointer_and_can_be_given_up() -> None:
    pan = Pan(View(2.0, 10.0, 10.0), (100.0, 100.0))
    pan.move((90.0, 130.0))
    assert pan.shown == View(2.0, 0.0, 40.0)
    assert pan.finish() is None
    pan.cancel()
    assert pan.shown == pan.start


def test_the_print_is_moved_in_the_frame_it_was_laid_in() -> None:
    # Half as wide after washing: 10 mm on the table are 20 mm of the cloth as it was when the print was measured.
    washed = Cloth(
        "cloth-1",
        "washed",
        400.0,
        300.0,
        laid=LaidPrint("print-1", (5.0, 5.0)),
        changes=(Change("washing", -50.0, 0.0),),
    )
    session = session_of(job(washed))
    moving = move_print_at(bench(session.project), (50.0, 50.0))
    assert moving is not None
    assert moving.finish() is None
    moving.move((60.0, 47.0))
    edit = moving.finish()
    assert edit is not None
    session.do(edit)
    laid = session.project.cloths[0].laid
    assert laid is not None
    assert laid.origin_mm == pytest.approx((25.0, 2.0))
    moving.cancel()
    assert moving.finish() is None


def test_the_print_of_the_zone_under_the_hand_is_moved() -> None:
    zones = (
        Zone("z1", "left", rectangle(100.0, 200.0), LaidPrint("print-1")),
        Zone("z2", "right", rectangle(100.0, 200.0, 100.0), LaidPrint("print-1", (3.0, 3.0))),
    )
    session = session_of(job(Cloth("cloth-1", "two prints", 220.0, 200.0, zones=zones)))
    table = bench(session.project)
    moving = move_print_at(table, (150.0, 50.0))
    assert moving is not None
    moving.move((151.0, 50.0))
    edit = moving.finish()
    assert edit is not None
    session.do(edit)
    laid = [zone.laid for zone in session.project.cloths[0].zones]
    assert [each.origin_mm for each in laid if each] == [(0.0, 0.0), (4.0, 3.0)]
    assert move_print_at(table, (210.0, 50.0)) is None  # on the cloth, beside the zones
    assert move_print_at(table, (900.0, 900.0)) is None


def test_a_frame_adds_the_pieces_wholly_inside() -> None:
    table = bench(job())
    frame = Choose(table, (0.0, 0.0), ("liner-front-1",))
    frame.move((200.0, 330.0))
    assert frame.shown == ("liner-front-1", "front-1")
    frame.move((330.0, 330.0))
    assert frame.shown == ("liner-front-1", "front-1", "back-1")
    assert frame.finish() is None
    frame.cancel()
    assert frame.shown == ("liner-front-1",)


def test_a_free_place_breaks_no_rule() -> None:
    project = job(linen(), leftover())
    table, judge = bench_of(project)
    assert judge is not None
    there = free_place(table, "liner-back-1", judge)
    assert there is not None
    report = judge.report([*project.layout.placements, there])
    assert report.breaches == ()


def test_no_free_place_is_said() -> None:
    table, judge = bench_of(job(Cloth("cloth-1", "scrap", 90.0, 90.0)))
    assert judge is not None
    assert free_place(table, "liner-back-1", judge) is None
    assert free_place(table, "no such piece", judge) is None


def test_nothing_changed_is_no_edit() -> None:
    table = bench(job())
    assert placing(table, tuple(lying.placed for lying in table.lying)) is None


def crooked_swatch() -> Cloth:
    """420 x 380 mm, drawn by four corners, with a small stain; nothing lies on it."""
    ring = ((10.0, 0.0), (420.0, 8.0), (400.0, 380.0), (0.0, 370.0))
    stain = Flaw("flaw-1", "Stain", ((300.0, 200.0), (318.0, 204.0), (310.0, 216.0)))
    return Cloth("cloth-1", "Swatch", 420.0, 380.0, outline_mm=ring, flaws=(stain,))


@pytest.mark.parametrize("print_turn_deg", [None, 359.04, 90.0])
def test_on_an_empty_crooked_swatch_every_piece_finds_a_place(print_turn_deg: float | None) -> None:
    # Pages 4.5 x 6 in: the covers measure 144.3 x 182.4 mm, the swatch more than twice that both ways.
    cloth = crooked_swatch()
    if print_turn_deg is not None:
        cloth = replace(cloth, laid=LaidPrint("print-1", turn_deg=print_turn_deg))
    project = replace(job(cloth), layouts=(Layout("layout-1", "Layout 1", ()),))
    for piece_id in ("front-1", "back-1", "liner-front-1", "liner-back-1"):
        table, judge = bench_of(project)
        assert judge is not None
        began = time.perf_counter()
        there = free_place(table, piece_id, judge)
        assert time.perf_counter() - began < 0.5  # a few hundredths on a free machine
        assert there is not None, piece_id
        assert there.turn_deg == pytest.approx(print_turn_deg or 0.0)
        lies = (*project.layout.placements, there)
        assert judge.report(lies).breaches == ()
        project = replace(project, layouts=(replace(project.layout, placements=lies),))


def test_a_piece_is_turned_only_where_it_has_no_place_upright() -> None:
    label = OwnPiece("own-1", "label", 60.0, 30.0, turns="quarter")
    for size, turn_deg in (((70.0, 80.0), 0.0), ((40.0, 80.0), 90.0)):
        cloth = Cloth("cloth-1", "Strip", *size)
        table, judge = bench_of(Project(cloths=(cloth,), own_pieces=(label,), layouts=(Layout("layout-1", "L", ()),)))
        assert judge is not None
        there = free_place(table, "label-1", judge)
        assert there is not None
        assert there.turn_deg == turn_deg


def test_what_lies_wrong_already_hinders_no_free_place() -> None:
    # The back cover lies over the front cover; the waiting liner still finds its place beside them.
    project = job()
    front, back, liner = project.layout.placements
    over = replace(back, x_mm=front.x_mm + 20.0)
    project = replace(project, layouts=(replace(project.layout, placements=(front, over, liner)),))
    table, judge = bench_of(project)
    assert judge is not None
    there = free_place(table, "liner-back-1", judge)
    assert there is not None
    assert judge.report([*project.layout.placements, there]).breaches == judge.report((front, over, liner)).breaches
