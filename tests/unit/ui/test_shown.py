"""The state behind the canvas: a print on its way is shown as it will lie, judged anew only where that matters."""

from __future__ import annotations

from dataclasses import replace

from canvas_samples import job, linen, with_side
from every_structure import project_of

from coverlayout.cloth.cloth import Flaw
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.project import LockWish, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.table.shown import Shown, bench_of, flaws_changed


def moved(project: Project, x_mm: float, y_mm: float) -> Project:
    cloth = replace(project.cloths[0], laid=LaidPrint("print-1", (x_mm, y_mm)))
    return replace(project, cloths=(cloth, *project.cloths[1:]))


def test_without_locks_a_moved_print_is_shown_and_nothing_judged_anew() -> None:
    shown = Shown(job())
    judge, looks = shown.judge, shown.looks
    after = moved(job(), 33.0, -7.0)
    shown.show_moved_print(after)
    assert shown.project is after
    assert shown.bench.sheets[0].cloth == after.cloths[0]
    assert shown.judge is judge
    assert shown.looks is looks
    assert shown.bench.outlines == Shown(after).bench.outlines
    assert looks == Shown(after).looks


def test_a_lock_is_judged_while_the_print_moves() -> None:
    # The middle of the front board lies at (100, 116), so at (80, 106) of the print; half-drop 64 x 96: (16, 58).
    locked = replace(job(linen()), locks=(LockWish("lock-1", "front-1", (16.0, 58.0)),))
    shown = Shown(locked)
    assert "lock" not in shown.looks["front-1"].rules
    shown.show_moved_print(moved(locked, 25.0, 10.0))
    assert "lock" in shown.looks["front-1"].rules
    shown.show_moved_print(moved(locked, 20.0, 10.0))
    assert "lock" not in shown.looks["front-1"].rules


def test_flaws_alone_tell_where_to_look_again() -> None:
    """A stain of 40 x 30 at 100, 50, seen from the back of a cloth 460 wide: 320 from the left."""
    shown = Shown(with_side(job(), "back"))
    before = shown.ground()
    stain = Flaw("flaw-9", "stain", rectangle(40.0, 30.0, 100.0, 50.0))
    cloth = shown.project.cloths[0]
    shown.show(shown.project.with_cloth(replace(cloth, flaws=(*cloth.flaws, stain))))
    assert flaws_changed(before, shown.ground()) == [Box(320.0, 50.0, 40.0, 30.0)]
    assert flaws_changed(before, before) == []
    wider = replace(cloth, width_mm=470.0, flaws=(*cloth.flaws, stain))
    for other in (shown.project.with_cloth(wider), replace(shown.project, cloths=())):
        shown.show(other)
        assert flaws_changed(before, shown.ground()) is None


def test_a_cover_that_was_cut_still_shows_both_boards_and_the_spine() -> None:
    """As long as the book is bound as it was; else only the board it was cut with is known."""
    project = project_of("flat-case")
    cover = planned_pieces(project)[0]
    laid = project.with_layout(replace(project.layout, placements=(Placed(cover.id, "cloth", 500.0, 300.0),)))
    done = mark_cut((cover.id,)).change(laid)
    cut = bench_of(done)[0].find(cover.id)
    assert cut is not None
    assert cut.state == "cut"
    assert [face.name for face in cut.piece.faces] == ["front", "spine", "back"]
    assert {mark.kind for mark in cut.piece.marks} == {"board"}
    thicker = done.with_book(replace(done.books[0], board_thickness_mm=3.0))
    changed = bench_of(thicker)[0].find(cover.id)
    assert changed is not None
    assert (changed.piece.faces, changed.piece.marks, changed.piece.board) == ((), (), cover.board)
