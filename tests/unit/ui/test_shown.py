"""The state behind the canvas: a print on its way is shown as it will lie, judged anew only where that matters."""

from __future__ import annotations

from dataclasses import replace

from canvas_samples import job, linen, with_side

from coverlayout.cloth.cloth import Flaw
from coverlayout.document.project import LockWish, Project
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.table.shown import Shown, flaws_changed


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
