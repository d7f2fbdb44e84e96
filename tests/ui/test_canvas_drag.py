"""Pieces dragged on the canvas with real mouse events: one edit, judged while they move, given up by Escape."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from canvas_samples import job, leftover, linen, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.project import Project
from coverlayout.layout.rules import Live
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.gestures import Choose, DragPiece, MovePrint, Pan
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.theme import LIGHT

Open = Callable[[Project], Canvas]
LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    """Opens a canvas of 1000 x 700 on a project, the whole table in sight."""

    def open_one(project: Project) -> Canvas:
        canvas = Canvas(session_of(project), LIGHT)
        canvas.hand.snapping = False  # guides have tests of their own
        qtbot.addWidget(canvas)
        canvas.resize(1000, 700)
        with qtbot.waitExposed(canvas):
            canvas.show()
        canvas.sight.fit()
        QApplication.processEvents()
        return canvas

    return open_one


def at(canvas: Canvas, piece_id: str) -> QPoint:
    x, y = canvas.view.to_screen.at(canvas.bench.outlines[piece_id][1].middle)
    return QPoint(round(x), round(y))


def px(canvas: Canvas, x_mm: float, y_mm: float) -> QPoint:
    x, y = canvas.view.to_screen.at((x_mm, y_mm))
    return QPoint(round(x), round(y))


def drag(canvas: Canvas, start: QPoint, *stops: QPoint, let_go: bool = True) -> None:
    QTest.mousePress(canvas, LEFT, pos=start)
    for stop in stops:
        QTest.mouseMove(canvas, stop)
        QApplication.processEvents()
    if let_go:
        QTest.mouseRelease(canvas, LEFT, pos=stops[-1])
        QApplication.processEvents()


def place(canvas: Canvas, piece_id: str) -> tuple[str, float, float]:
    lying = canvas.bench.find(piece_id)
    assert lying is not None
    return lying.placed.cloth, lying.placed.x_mm, lying.placed.y_mm


def test_a_whole_drag_is_one_edit_at_true_scale(opened: Open) -> None:
    canvas = opened(job())
    size = canvas.view.px_per_mm
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(3, 9), start + QPoint(-5, 30), start + QPoint(-8, 40))
    _, x, y = place(canvas, "back-1")
    assert (x, y) == (pytest.approx(255.0 - 8 / size), pytest.approx(116.0 + 40 / size))
    session = canvas._session
    assert session.undo_name == "Move back cover"
    session.undo()
    assert session.project == job()
    assert session.undo_name is None


def test_seen_from_the_back_a_piece_follows_the_hand_too(opened: Open) -> None:
    canvas = opened(with_side(job(), "back"))
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(40, 10), start + QPoint(50, 0))
    assert at(canvas, "back-1") == start + QPoint(50, 0)
    assert place(canvas, "back-1")[1] == pytest.approx(255.0 - 50 / canvas.view.px_per_mm)


def test_every_move_is_judged_while_it_lasts(opened: Open) -> None:
    canvas = opened(job())
    heard: list[Live | None] = []
    canvas.live.connect(heard.append)
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(0, 20), start + QPoint(-60, 20), let_go=False)
    kept = [live for live in heard if live is not None]
    assert [breach.rule for breach in kept[0].breaches] == []
    assert {breach.rule for breach in kept[-1].breaches} == {"overlap"}
    assert {distance.kind for distance in kept[0].distances} >= {"left", "right", "edge-above"}
    assert kept[0].clearance_mm == pytest.approx(10.7)  # the covers' middles 155 mm apart, each 144.3 mm wide
    assert 0 < kept[-1].used_percent < kept[0].used_percent
    assert canvas.hand.chips
    QTest.mouseRelease(canvas, LEFT, pos=start)
    assert heard[-1] is None
    assert canvas.hand.chips == ()


def test_what_lies_wrong_stays_marked_after_the_drag(opened: Open) -> None:
    canvas = opened(job())
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(-20, 20), start + QPoint(-60, 20))
    for piece_id, other in (("back-1", "front cover"), ("front-1", "back cover")):
        ((rule, words),) = canvas.shown.looks[piece_id].breaches
        assert rule == "overlap"
        assert words.startswith(f"overlaps {other} by ")
    drag(canvas, at(canvas, "back-1"), at(canvas, "back-1") + QPoint(60, -20))
    assert canvas.shown.looks["front-1"].breaches == ()


@pytest.mark.parametrize(
    ("to_mm", "rule"), [((387.0, 240.0), "outside"), ((255.0, 235.0), "flaw"), ((253.0, 116.0), None)]
)
def test_outside_and_flaw_are_told_apart(opened: Open, to_mm: tuple[float, float], rule: str | None) -> None:
    canvas = opened(job())
    heard: list[Live | None] = []
    canvas.live.connect(heard.append)
    drag(canvas, at(canvas, "front-1"), px(canvas, *to_mm), px(canvas, *to_mm), let_go=False)
    live = heard[-1]
    assert live is not None
    rules = {breach.rule for breach in live.breaches}
    assert (rule in rules) if rule else (rules == {"overlap"})
    canvas.leave_gesture()


def test_escape_gives_the_drag_up(opened: Open) -> None:
    canvas = opened(job())
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(50, 50), let_go=False)
    assert isinstance(canvas.gesture, DragPiece)
    canvas.keys.escape()
    assert canvas.gesture is None
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(50, 50))
    assert canvas._session.project == job()
    assert canvas.shown.lifted == frozenset()


def test_a_lost_focus_gives_the_drag_up(opened: Open) -> None:
    canvas = opened(job())
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(50, 50), let_go=False)
    QApplication.sendEvent(canvas, QFocusEvent(QFocusEvent.Type.FocusOut))
    assert canvas.gesture is None
    assert canvas._session.project == job()


def test_a_change_from_elsewhere_gives_the_drag_up(opened: Open) -> None:
    canvas = opened(job())
    session = canvas._session
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(0, 30))
    drag(canvas, at(canvas, "front-1"), at(canvas, "front-1") + QPoint(30, 30), let_go=False)
    session.undo()
    assert canvas.gesture is None
    assert session.project == job()
    assert at(canvas, "back-1") == start


def test_a_tremble_is_a_click(opened: Open) -> None:
    canvas = opened(job())
    start = at(canvas, "front-1")
    drag(canvas, start, start + QPoint(2, 1))
    assert canvas.chosen == ("front-1",)
    assert canvas._session.project == job()


def test_waiting_pieces_are_dragged_on_and_off(opened: Open) -> None:
    canvas = opened(job())
    assert place(canvas, "liner-back-1")[0] == WAITING
    drag(canvas, at(canvas, "liner-back-1"), px(canvas, 395.0, 200.0), px(canvas, 395.0, 250.0))
    cloth, x, y = place(canvas, "liner-back-1")
    assert (cloth, x, y) == ("cloth-1", pytest.approx(395.0, abs=1.0), pytest.approx(250.0, abs=1.0))
    drag(canvas, at(canvas, "front-1"), px(canvas, 540.0, 100.0), px(canvas, 560.0, 100.0))
    assert place(canvas, "front-1")[0] == WAITING
    assert canvas._session.project.layout.place_of("front-1") is None


def test_a_piece_goes_from_cloth_to_cloth_and_turns_with_the_print(opened: Open) -> None:
    canvas = opened(job(linen(), leftover()))
    box = canvas.bench.sheets[1].box
    middle = px(canvas, box.left_mm + 150.0, box.top_mm + 140.0)
    drag(canvas, at(canvas, "front-1"), middle + QPoint(-9, 0), middle)
    lying = canvas.bench.find("front-1")
    assert lying is not None
    assert (lying.placed.cloth, lying.placed.turn_deg) == ("cloth-2", 90.0)
    assert canvas.shown.looks["front-1"].breaches == ()


def test_several_chosen_pieces_are_dragged_together(opened: Open) -> None:
    canvas = opened(job())
    QTest.mouseClick(canvas, LEFT, pos=at(canvas, "front-1"))
    QTest.mouseClick(canvas, LEFT, Qt.KeyboardModifier.ShiftModifier, at(canvas, "back-1"))
    assert canvas.chosen == ("front-1", "back-1")
    start = at(canvas, "back-1")
    drag(canvas, start, start + QPoint(0, 20), start + QPoint(0, 26))
    assert canvas._session.undo_name is not None
    assert place(canvas, "front-1")[2] == place(canvas, "back-1")[2] == pytest.approx(116 + 26 / canvas.view.px_per_mm)
    QTest.mouseClick(canvas, LEFT, Qt.KeyboardModifier.ControlModifier, at(canvas, "back-1"))
    assert canvas.chosen == ("front-1",)


def test_a_frame_chooses_what_lies_in_it(opened: Open) -> None:
    canvas = opened(job())
    start, end = px(canvas, 1.0, 1.0), px(canvas, 335.0, 290.0)
    QTest.mousePress(canvas, LEFT, Qt.KeyboardModifier.ShiftModifier, start)
    QTest.mouseMove(canvas, start + QPoint(30, 30))
    QTest.mouseMove(canvas, end)
    QApplication.processEvents()
    assert isinstance(canvas.gesture, Choose)
    canvas.grab()
    QTest.mouseRelease(canvas, LEFT, Qt.KeyboardModifier.ShiftModifier, end)
    assert canvas.chosen == ("front-1", "back-1")
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, 450.0, 320.0))
    assert canvas.chosen == ()


def test_the_print_is_dragged_only_when_that_is_asked_for(opened: Open) -> None:
    canvas = opened(job())
    canvas.set_moving_print(True)
    start = at(canvas, "front-1")
    drag(canvas, start, start + QPoint(10, 5), start + QPoint(16, 8), let_go=False)
    assert isinstance(canvas.gesture, MovePrint)
    shown = canvas.shown.project.cloths[0].laid
    assert shown is not None
    assert shown.origin_mm[0] == pytest.approx(20.0 + 16 / canvas.view.px_per_mm)
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(16, 8))
    laid = canvas._session.project.cloths[0].laid
    assert laid is not None
    assert laid.origin_mm == pytest.approx((20.0 + 16 / canvas.view.px_per_mm, 10.0 + 8 / canvas.view.px_per_mm))
    assert place(canvas, "front-1") == ("cloth-1", 100.0, 116.0)
    canvas._session.undo()
    drag(canvas, start, start + QPoint(16, 8), let_go=False)
    canvas.keys.escape()
    assert canvas._session.project == canvas.shown.project == job()


def test_a_cut_piece_says_that_it_stays(opened: Open) -> None:
    canvas = opened(job())
    said: list[str] = []
    canvas.hint.connect(said.append)
    lying = canvas.bench.find("front-1")
    assert lying is not None
    canvas._session.do(mark_cut(("front-1",)))
    before = canvas._session.project
    drag(canvas, at(canvas, "front-1"), at(canvas, "front-1") + QPoint(30, 30))
    assert said[0] == "Front cover is cut already and stays where it was cut."
    assert canvas._session.project == before


def test_middle_button_and_empty_ground_pan(opened: Open) -> None:
    canvas = opened(job())
    before = canvas.view
    for button, start in ((MIDDLE, at(canvas, "front-1")), (LEFT, px(canvas, 450.0, 322.0))):
        QTest.mousePress(canvas, button, pos=start)
        QTest.mouseMove(canvas, start + QPoint(9, 9))
        QTest.mouseMove(canvas, start + QPoint(20, -11))
        QApplication.processEvents()
        assert isinstance(canvas.gesture, Pan)
        QTest.mouseRelease(canvas, button, pos=start + QPoint(20, -11))
    after = canvas.view
    assert (after.x_px - before.x_px, after.y_px - before.y_px) == (pytest.approx(40.0), pytest.approx(-22.0))
    assert canvas._session.project == job()


@pytest.mark.parametrize("held", [Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier])
def test_escape_leaves_a_drag_whatever_is_held(opened: Open, held: Qt.KeyboardModifier) -> None:
    canvas = opened(job())
    before, start = place(canvas, "back-1"), at(canvas, "back-1")
    drag(canvas, start, start + QPoint(3, 9), start + QPoint(-8, 40), let_go=False)
    assert isinstance(canvas.gesture, DragPiece)
    QTest.keyClick(canvas, Qt.Key.Key_Escape, held)
    assert canvas.gesture is None
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(-8, 40))
    assert place(canvas, "back-1") == before


def test_escape_before_a_pressed_hand_has_moved_lets_go(opened: Open) -> None:
    canvas = opened(job())
    before, start = place(canvas, "back-1"), at(canvas, "back-1")
    QTest.mousePress(canvas, LEFT, pos=start)
    QTest.keyClick(canvas, Qt.Key.Key_Escape, Qt.KeyboardModifier.ControlModifier)
    QTest.mouseMove(canvas, start + QPoint(-8, 40))
    QApplication.processEvents()
    assert canvas.gesture is None
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(-8, 40))
    assert place(canvas, "back-1") == before
