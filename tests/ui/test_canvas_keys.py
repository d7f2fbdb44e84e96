"""Everything by keys: nudge, turn, put aside, lay on, go from piece to piece, zoom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from canvas_samples import job, linen, session_of, with_side
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.geometry.shapes import Box
from coverlayout.layout.question import Placed
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.gestures import Pan
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.theme import DARK
from coverlayout.ui.window import Window

Open = Callable[[Project], Canvas]
_UP_AND_DOWN = (QEvent.Type.KeyRelease, QEvent.Type.KeyPress)
Key, With = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def opened(qtbot: QtBot, port, look: Look, tmp_path: Path) -> Open:
    """Opens a window, its canvas with the keys: what keys do there, they do through the window's acts."""

    def open_one(project: Project) -> Canvas:
        session = session_of(project)
        window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
        qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
        window.resize(1240, 700)
        with qtbot.waitExposed(window):
            window.show()
        window.canvas.sight.set_px_per_mm(4.0)
        window.activateWindow()
        window.canvas.setFocus()
        qtbot.waitUntil(window.canvas.hasFocus)
        return window.canvas

    return open_one


def place(canvas: Canvas, piece_id: str) -> Placed:
    found = canvas._session.project.layout.place_of(piece_id)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("key", "modifiers", "x_mm", "y_mm"),
    [
        (Key.Key_Left, With.NoModifier, -1.0, 0.0),
        (Key.Key_Right, With.ShiftModifier, 10.0, 0.0),
        (Key.Key_Up, With.ControlModifier, 0.0, -0.1),
        (Key.Key_Down, With.AltModifier, 0.0, 0.1),
    ],
)
def test_arrows_nudge(opened: Open, key: Qt.Key, modifiers: Qt.KeyboardModifier, x_mm: float, y_mm: float) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, key, modifiers)
    after = place(canvas, "front-1")
    assert (after.x_mm, after.y_mm) == (pytest.approx(100.0 + x_mm), pytest.approx(116.0 + y_mm))
    assert canvas._session.undo_name == "Move front cover"


def test_on_the_back_arrows_go_where_they_point(opened: Open) -> None:
    canvas = opened(with_side(job(), "back"))
    canvas.choose(("front-1",))
    before = canvas.bench.outlines["front-1"][1].left_mm
    QTest.keyClick(canvas, Key.Key_Left)
    assert canvas.bench.outlines["front-1"][1].left_mm == pytest.approx(before - 1.0)
    assert place(canvas, "front-1").x_mm == pytest.approx(101.0)


def test_each_nudge_is_an_edit_of_its_own(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    for _ in range(3):
        QTest.keyClick(canvas, Key.Key_Right)
    canvas._session.undo()
    assert place(canvas, "front-1").x_mm == pytest.approx(102.0)


def test_r_turns_both_ways_as_seen(opened: Open) -> None:
    canvas = opened(job(up="any"))
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, Key.Key_R)
    assert place(canvas, "front-1") == Placed("front-1", "cloth-1", 100.0, 116.0, 90.0)
    QTest.keyClick(canvas, Key.Key_R, With.ShiftModifier)
    assert place(canvas, "front-1").turn_deg == 0.0
    assert canvas._session.undo_name == "Turn front cover"
    back = opened(with_side(job(up="any"), "back"))
    back.choose(("front-1",))
    QTest.keyClick(back, Key.Key_R)
    assert place(back, "front-1").turn_deg == 270.0


def test_several_are_turned_in_one_edit(opened: Open) -> None:
    canvas = opened(job(up="any"))
    canvas.choose(("front-1", "back-1"))
    QTest.keyClick(canvas, Key.Key_R)
    assert place(canvas, "front-1").turn_deg == place(canvas, "back-1").turn_deg == 90.0
    canvas._session.undo()
    assert canvas._session.project == job(up="any")


def test_a_turn_that_the_print_forbids_is_said_not_done(opened: Open) -> None:
    canvas = opened(job())
    said: list[str] = []
    canvas.hint.connect(said.append)
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, Key.Key_R)
    canvas.choose(("liner-back-1",))
    QTest.keyClick(canvas, Key.Key_R)
    assert said == [
        "Front cover may lie no other way; steps 1 and 3 say which turns are allowed.",
        "Back liner waits beside the cloth; bring it on before you turn or move it by keys.",
    ]
    assert canvas._session.project == job()


def test_r_turns_what_is_being_dragged(opened: Open) -> None:
    canvas = opened(job(up="any"))
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["front-1"][1].middle)
    start = QPoint(round(x), round(y))
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(canvas, start + QPoint(0, 12))
    QApplication.processEvents()
    QTest.keyClick(canvas, Key.Key_R)
    canvas.grab()
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start + QPoint(0, 12))
    assert place(canvas, "front-1").turn_deg == 90.0
    canvas._session.undo()
    assert canvas._session.project == job(up="any")


def test_delete_puts_aside_and_return_lays_on(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("back-1",))
    QTest.keyClick(canvas, Key.Key_Delete)
    assert canvas._session.project.layout.place_of("back-1") is None
    assert "back cover" in (canvas._session.undo_name or "")
    QTest.keyClick(canvas, Key.Key_Return)
    assert place(canvas, "back-1").cloth == "cloth-1"
    assert canvas.shown.looks["back-1"].breaches == ()


def _is_seen(canvas: Canvas, piece_id: str) -> bool:
    seen = canvas.view.box_px(canvas.bench.outlines[piece_id][1])
    return (
        seen.left_mm >= 0 and seen.right_mm <= canvas.width() and seen.top_mm >= 0 and seen.bottom_mm <= canvas.height()
    )


def test_what_is_put_aside_out_of_sight_is_brought_into_it(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("back-1",))
    canvas.sight.zoom_out()
    whole = canvas.view
    QTest.keyClick(canvas, Key.Key_Delete)
    assert canvas.view == whole, "it is seen already"
    canvas._session.undo()
    # Nearer, and so far to the left that the waiting ground is out of sight.
    canvas.sight.pan_to(canvas.view.at_size(2.0, (100.0, 300.0)).panned((-60.0, 0.0)))
    QTest.keyClick(canvas, Key.Key_Delete)
    assert _is_seen(canvas, "back-1")
    # The place it came from, 182.85 to 327.15 mm across the cloth, is still seen too.
    assert canvas.view.box_px(Box(182.85, 24.8, 144.3, 182.4)).left_mm >= 0
    canvas._session.undo()
    canvas.sight.pan_to(canvas.view.at_size(20.0, canvas.view.to_screen.at((255.0, 116.0))))
    QTest.keyClick(canvas, Key.Key_Delete)
    assert _is_seen(canvas, "back-1")


def test_return_without_room_says_so(opened: Open) -> None:
    canvas = opened(job(books=3))
    said: list[str] = []
    canvas.hint.connect(said.append)
    canvas.choose(("front-3",))
    QTest.keyClick(canvas, Key.Key_Return)
    assert said == ["Front cover 3: no free place was found for it; make room first, or drag it on."]


def test_tab_goes_through_the_pieces_and_then_on(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    canvas, beside = Canvas(session_of(job()), DARK), QLineEdit()
    column = QVBoxLayout(page)
    column.addWidget(canvas)
    column.addWidget(beside)
    with qtbot.waitExposed(page):
        page.show()
    canvas.setFocus()
    qtbot.waitUntil(canvas.hasFocus)
    seen = []
    for _ in range(4):
        QTest.keyClick(canvas, Key.Key_Tab)
        seen.append(canvas.chosen)
    assert seen == [("front-1",), ("back-1",), ("liner-front-1",), ("liner-back-1",)]
    QTest.keyClick(canvas, Key.Key_Backtab, With.ShiftModifier)
    assert canvas.chosen == ("liner-front-1",)
    said: list[str] = []
    canvas.hint.connect(said.append)
    QTest.keyClick(canvas, Key.Key_Tab)
    assert said == []
    QTest.keyClick(canvas, Key.Key_Tab)
    qtbot.waitUntil(beside.hasFocus)
    assert [words.partition(":")[0] for words in said] == ["The keys have left the cloth"]
    assert canvas.chosen == ("liner-back-1",), "the choice stays for the fields"


def test_escape_chooses_nothing(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1", "no such piece"))
    assert canvas.chosen == ("front-1",)
    QTest.keyClick(canvas, Key.Key_Escape)
    assert canvas.chosen == ()


def test_all_pieces_are_chosen_at_once_and_a_mixed_choice_is_nudged_where_it_can_be(opened: Open) -> None:
    canvas = opened(job())
    said: list[str] = []
    canvas.hint.connect(said.append)
    QTest.keyClick(canvas, Key.Key_A, With.ControlModifier)
    assert canvas.chosen == ("front-1", "back-1", "liner-front-1", "liner-back-1")
    QTest.keyClick(canvas, Key.Key_Down)
    assert said == ["Back liner waits beside the cloth; bring it on before you turn or move it by keys."]
    assert place(canvas, "front-1").y_mm == place(canvas, "back-1").y_mm == 117.0
    assert canvas._session.project.layout.place_of("liner-back-1") is None


def test_with_nothing_chosen_keys_do_nothing(opened: Open) -> None:
    canvas = opened(job())
    for key in (Key.Key_Left, Key.Key_R, Key.Key_Delete, Key.Key_Return, Key.Key_Escape):
        QTest.keyClick(canvas, key)
    assert canvas._session.project == job()


def test_zoom_by_keys_and_true_size(opened: Open) -> None:
    canvas = opened(job())
    heard: list[float] = []
    canvas.zoomed.connect(heard.append)
    size = canvas.view.px_per_mm
    QTest.keyClick(canvas, Key.Key_Plus)
    assert canvas.view.px_per_mm == pytest.approx(size * 1.25)
    QTest.keyClick(canvas, Key.Key_Minus)
    assert canvas.view.px_per_mm == pytest.approx(size)
    canvas.sight.true_size()
    assert canvas.view.px_per_mm == pytest.approx(4.0)
    assert heard[-1] == pytest.approx(100.0)
    canvas.sight.set_px_per_mm(5.0)
    assert heard[-1] == pytest.approx(80.0)
    QTest.keyClick(canvas, Key.Key_F)
    assert canvas.view.px_per_mm == pytest.approx(size)
    canvas.sight.zoom_in()
    QTest.keyClick(canvas, Key.Key_0, With.ControlModifier)
    assert canvas.view.px_per_mm == pytest.approx(size)


def test_the_space_bar_takes_hold_of_the_table(opened: Open) -> None:
    canvas = opened(job())
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["front-1"][1].middle)
    start = QPoint(round(x), round(y))
    QTest.keyPress(canvas, Key.Key_Space)
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(canvas, start + QPoint(15, 5))
    QApplication.processEvents()
    assert isinstance(canvas.gesture, Pan)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start + QPoint(15, 5))
    QTest.keyRelease(canvas, Key.Key_Space)
    assert not canvas.keys.space_held
    assert canvas._session.project == job()


def test_keys_of_no_use_here_go_on(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, Key.Key_Q)
    QTest.keyClick(canvas, Key.Key_R, With.ControlModifier)
    assert canvas._session.project == job()


def test_what_is_chosen_is_said_to_those_who_hear_it(opened: Open) -> None:
    canvas = opened(job())
    assert canvas.accessibleName() == "Cloth and pieces"
    canvas.choose(("front-1",))
    # The cover is 144.3 x 182.4 mm and its middle lies at (100, 116): 27.85 from the left, 24.8 from the top.
    assert canvas.accessibleDescription().startswith("Front cover, 28.0 mm from the left and 25.0 mm from the top.")
    assert "with Ctrl or Alt by 0.1 mm" in canvas.accessibleDescription()
    canvas.choose(("liner-back-1",))
    assert canvas.accessibleDescription().startswith("Back liner waits beside the cloth.")


def hold(canvas: Canvas, key: Qt.Key, repeats: int, modifiers: Qt.KeyboardModifier = With.NoModifier) -> None:
    """A key pressed, held while it repeats, and let go, as a keyboard sends it."""
    QTest.keyPress(canvas, key, modifiers)
    for _ in range(repeats):
        QApplication.sendEvent(canvas, QKeyEvent(QEvent.Type.KeyPress, key, modifiers, "", True))
        QApplication.processEvents()
    QTest.keyRelease(canvas, key, modifiers)


def test_an_arrow_held_down_is_one_step(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    hold(canvas, Key.Key_Right, 6)
    assert place(canvas, "front-1").x_mm == pytest.approx(107.0)
    hold(canvas, Key.Key_Down, 2, With.ShiftModifier)
    assert place(canvas, "front-1").y_mm == pytest.approx(146.0)
    canvas._session.undo()
    assert (place(canvas, "front-1").x_mm, place(canvas, "front-1").y_mm) == (pytest.approx(107.0), 116.0)
    canvas._session.undo()
    assert canvas._session.project == job(), "two keys held, two steps"
    canvas._session.redo()
    assert place(canvas, "front-1").x_mm == pytest.approx(107.0)


def test_repeats_that_come_all_at_once_are_one_move(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    told: list[float] = []
    canvas._session.listen(lambda old, new: told.append(place(canvas, "front-1").x_mm))
    QTest.keyPress(canvas, Key.Key_Right)
    for _ in range(5):
        QApplication.sendEvent(canvas, QKeyEvent(QEvent.Type.KeyPress, Key.Key_Right, With.NoModifier, "", True))
    QTest.keyRelease(canvas, Key.Key_Right)
    QApplication.processEvents()
    assert told == [pytest.approx(101.0), pytest.approx(106.0)]


def test_a_release_and_a_press_of_one_moment_are_a_key_held_down(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    moments = ((QEvent.Type.KeyPress, 700), *((kind, 740 + 40 * k) for k in range(4) for kind in _UP_AND_DOWN))
    for kind, at_ms in (*moments, (QEvent.Type.KeyRelease, 930), (QEvent.Type.KeyPress, 935)):
        event = QKeyEvent(kind, Key.Key_Right, With.NoModifier)
        event.setTimestamp(at_ms)
        QApplication.sendEvent(canvas, event)
        QApplication.processEvents()
    assert place(canvas, "front-1").x_mm == pytest.approx(106.0)
    canvas._session.undo()
    assert place(canvas, "front-1").x_mm == pytest.approx(105.0), "a quick second tap is a step of its own"
    canvas._session.undo()
    assert canvas._session.project == job()


def test_what_comes_between_parts_the_steps_of_a_held_arrow(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    QTest.keyPress(canvas, Key.Key_Right)
    canvas._session.undo()
    QApplication.sendEvent(canvas, QKeyEvent(QEvent.Type.KeyPress, Key.Key_Right, With.NoModifier, "", True))
    canvas.keys.let_go()
    assert place(canvas, "front-1").x_mm == pytest.approx(101.0)
    canvas._session.undo()
    assert canvas._session.project == job()
    # Held against something that cannot be moved: the step before is not touched.
    canvas.choose(("back-1",))
    QTest.keyClick(canvas, Key.Key_Left)
    canvas.choose(("liner-back-1",))
    hold(canvas, Key.Key_Left, 2)
    canvas._session.undo()
    assert canvas._session.project == job()


def test_with_nothing_chosen_arrows_look_on(opened: Open) -> None:
    canvas = opened(job())
    for _ in range(3):
        QTest.keyClick(canvas, Key.Key_Plus)
    before = canvas.view.to_screen.at((100.0, 116.0))
    QTest.keyClick(canvas, Key.Key_Right)
    after = canvas.view.to_screen.at((100.0, 116.0))
    assert (after[0], after[1]) == (pytest.approx(before[0] - 80.0, abs=1.0), pytest.approx(before[1]))
    canvas.choose(("front-1",))
    QTest.keyClick(canvas, Key.Key_Left, With.ControlModifier | With.ShiftModifier)
    assert canvas.view.to_screen.at((100.0, 116.0))[0] == pytest.approx(before[0], abs=1.0)
    assert canvas._session.project == job()


def test_several_are_chosen_by_keys(opened: Open) -> None:
    canvas = opened(job(books=2))
    QTest.keyClick(canvas, Key.Key_Tab)
    QTest.keyClick(canvas, Key.Key_A)
    assert canvas.chosen == ("front-1", "back-1")
    QTest.keyClick(canvas, Key.Key_A, With.ShiftModifier)
    assert canvas.chosen == ("front-1", "liner-front-1")
    QTest.keyClick(canvas, Key.Key_K)
    assert canvas.chosen == ("front-1", "liner-front-1", "front-2", "liner-front-2")
    QTest.keyClick(canvas, Key.Key_A, With.ControlModifier)
    assert len(canvas.chosen) == 8
    QTest.keyClick(canvas, Key.Key_A)
    QTest.keyClick(canvas, Key.Key_A, With.ShiftModifier)
    assert len(canvas.chosen) == 8, "there is none left to choose"
    QTest.keyClick(canvas, Key.Key_Escape)
    assert canvas.chosen == ()
    QTest.keyClick(canvas, Key.Key_A)
    assert canvas.chosen == ("front-1",)


def test_pieces_go_to_the_cloth_beside_theirs(opened: Open) -> None:
    canvas = opened(job(linen(), replace(linen(), id="cloth-2", name="Second")))
    canvas.choose(("front-1", "back-1"))
    QTest.keyClick(canvas, Key.Key_PageDown)
    assert place(canvas, "front-1") == Placed("front-1", "cloth-2", 100.0, 116.0)
    assert place(canvas, "back-1") == Placed("back-1", "cloth-2", 255.0, 116.0)
    QTest.keyClick(canvas, Key.Key_PageUp)
    assert place(canvas, "back-1").cloth == "cloth-1"
    canvas._session.undo()
    canvas._session.undo()
    assert place(canvas, "front-1") == Placed("front-1", "cloth-1", 100.0, 116.0)


def test_keys_of_the_number_pad_serve_too(opened: Open) -> None:
    canvas = opened(job())
    size = canvas.view.px_per_mm
    QTest.keyClick(canvas, Key.Key_Plus, With.KeypadModifier)
    assert canvas.view.px_per_mm == pytest.approx(size * 1.25)
    canvas.choose(("liner-back-1",))
    QTest.keyClick(canvas, Key.Key_Enter, With.KeypadModifier)
    assert canvas._session.project.layout.place_of("liner-back-1") is not None
