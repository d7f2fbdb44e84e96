"""The window template on the canvas: only the print in the hole is seen, and Done lays the piece there, once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, printed, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QInputDialog
from pytestqt.qtbot import QtBot

from coverlayout.document.edits.books import remove_book
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.placements import pin
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.seeing.looking_through import look_through, look_through_size
from coverlayout.ui.tasks.window_template import WindowTemplate
from coverlayout.ui.theme import DARK, LIGHT, Theme

Open = Callable[..., Canvas]
Key, With = Qt.Key, Qt.KeyboardModifier
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    def open_one(project: Project, theme: Theme = LIGHT) -> Canvas:
        canvas = Canvas(session_of(project), theme)
        qtbot.addWidget(canvas)
        canvas.resize(900, 640)
        with qtbot.waitExposed(canvas):
            canvas.show()
        QApplication.processEvents()
        return canvas

    return open_one


def looking(canvas: Canvas, *chosen: str) -> WindowTemplate:
    canvas.choose(chosen)
    look_through(canvas)
    task = canvas.work.task
    assert isinstance(task, WindowTemplate)
    return task


def px(canvas: Canvas, at_mm: Point) -> QPoint:
    """The pixel of a place of the first cloth."""
    x, y = canvas.bench.sheets[0].to_table.then(canvas.view.to_screen).at(at_mm)
    return QPoint(round(x), round(y))


def point(canvas: Canvas, at_mm: Point) -> None:
    # A pointer that is there already would not be heard of.
    QTest.mouseMove(canvas, px(canvas, at_mm) + QPoint(9, 7))
    QTest.mouseMove(canvas, px(canvas, at_mm))
    for _ in range(3):
        QApplication.processEvents()


def color(canvas: Canvas, at_mm: Point) -> str:
    at = px(canvas, at_mm)
    return QColor(canvas.grab().toImage().pixel(at.x(), at.y())).name()


def hints(canvas: Canvas) -> list[str]:
    heard: list[str] = []
    canvas.hint.connect(heard.append)
    return heard


def lies(canvas: Canvas, piece: str) -> Point | None:
    found = canvas._session.project.layout.place_of(piece)
    return None if found is None else (found.x_mm, found.y_mm)


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("side", ["print", "back"])
def test_only_the_print_in_the_hole_is_seen(opened: Open, theme: Theme, side: str) -> None:
    canvas = opened(with_side(job(), side), theme)
    looking(canvas, "back-1")
    point(canvas, (230.0, 140.0))
    # The hole spans 173 to 287 and 64 to 216: places of all three colours, some under pieces that lie there.
    places = [(180.0, 80.0), (220.0, 85.0), (204.0, 90.0), (240.0, 150.0), (283.0, 100.0)]
    assert {printed(place) for place in places} == {"#c8281e", "#1e783c", "#f0e6d2"}
    assert {place: color(canvas, place) for place in places} == {place: printed(place) for place in places}
    mask = QColor(theme.panel).name()
    waits = canvas.bench.sheets[0].from_table.at(canvas.bench.outlines["liner-back-1"][1].middle)
    # The cloth beside, a piece beside, the crease, the name of the cloth, a piece that waits.
    for place in ((160.0, 100.0), (100.0, 100.0), (20.0, 302.0), (300.0, 20.0), waits):
        assert color(canvas, place) == mask, place


def test_it_begins_where_the_piece_lies_and_follows_until_it_is_put_down(opened: Open) -> None:
    canvas = opened(job())
    task = looking(canvas, "front-1")
    assert (task.template.placed.x_mm, task.template.placed.y_mm) == (100.0, 116.0)
    point(canvas, (200.0, 150.0))
    assert task.template.middle(canvas.bench) == pytest.approx((200.0, 150.0), abs=0.5)
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (210.0, 150.0)))
    put = task.template
    assert task.guide.startswith("Drag the hole on")
    point(canvas, (300.0, 200.0))
    assert task.template == put
    start = px(canvas, (210.0, 150.0))
    QTest.mousePress(canvas, LEFT, pos=start)
    QTest.mouseMove(canvas, start + QPoint(20, 10))
    for _ in range(3):
        QApplication.processEvents()
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(40, 10))
    expected = canvas.view.mm_at((start.x() + 40, start.y() + 10))
    assert task.template.middle(canvas.bench) == pytest.approx(expected)
    assert lies(canvas, "front-1") == (100.0, 116.0), "looking moves nothing"


@pytest.mark.parametrize(("side", "x_mm"), [("print", 106.1), ("back", 93.9)])
def test_by_keys_alone_it_goes_where_arrows_point_and_is_laid_in_one_step(opened: Open, side: str, x_mm: float) -> None:
    canvas = opened(with_side(job(), side))
    looking(canvas, "front-1")
    for key, modifiers in (
        (Key.Key_Right, With.ShiftModifier),
        (Key.Key_Left, With.NoModifier),
        (Key.Key_Left, With.NoModifier),
        (Key.Key_Left, With.NoModifier),
        (Key.Key_Left, With.NoModifier),
        (Key.Key_Right, With.ControlModifier),
        (Key.Key_Up, With.ShiftModifier),
        (Key.Key_Return, With.NoModifier),
    ):
        QTest.keyClick(canvas, key, modifiers)
    assert lies(canvas, "front-1") == pytest.approx((x_mm, 106.0))
    assert canvas.work.task is None
    assert canvas.chosen == ("front-1",)
    assert canvas._session.undo_name == "Move front cover"
    canvas._session.undo()
    assert lies(canvas, "front-1") == (100.0, 116.0)
    assert canvas._session.undo_name is None


def test_where_the_piece_may_not_lie_it_says_why_and_stays(opened: Open) -> None:
    canvas = opened(job())
    task = looking(canvas, "front-1")
    heard = hints(canvas)
    project = canvas._session.project
    # 20 mm to the right it ends at 172.15 + 20 = 192.15, where the back cover begins at 182.85: 9.3 mm, shown as 9.5.
    for _ in range(2):
        QTest.keyClick(canvas, Key.Key_Right, With.ShiftModifier)
    task.accept()
    assert heard == ["Front cover may not be cut here: overlaps back cover by 9.5 mm."]
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (230.0, 420.0)))
    task.accept()
    assert heard[1:] == ["Front cover would lie beside the cloth; move the hole onto it."]
    assert canvas.work.task is task
    assert canvas._session.project is project
    QTest.keyClick(canvas, Key.Key_Escape)
    assert canvas.work.task is None
    assert canvas._session.project is project


def test_a_piece_that_waits_is_laid_by_a_double_click(opened: Open) -> None:
    project = job()
    bare = replace(project, layouts=(replace(project.layouts[0], placements=()),))
    canvas = opened(bare)
    looking(canvas, "back-1")
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (200.0, 120.0)))
    QTest.mouseDClick(canvas, LEFT, pos=px(canvas, (200.0, 120.0)))
    assert lies(canvas, "back-1") == pytest.approx((200.0, 120.0), abs=0.6)


def test_r_turns_it_as_the_print_allows(opened: Open) -> None:
    canvas = opened(job())
    task = looking(canvas, "front-1")
    heard = hints(canvas)
    QTest.keyClick(canvas, Key.Key_R)
    assert task.template.placed.turn_deg == 0.0
    assert heard == ["Front cover may lie no other way; steps 1 and 3 say which turns are allowed."]
    both = opened(job(up="two-way"))
    task = looking(both, "front-1")
    QTest.keyClick(both, Key.Key_R)
    assert task.template.placed.turn_deg == 180.0


def test_turned_over_the_hole_stays_on_its_place_of_the_print(opened: Open) -> None:
    canvas = opened(job())
    task = looking(canvas, "front-1")
    point(canvas, (230.0, 140.0))
    before = task.template.placed
    canvas._session.do(change_preferences(side="back"))
    assert task.template.placed == before
    assert color(canvas, (180.0, 80.0)) == printed((180.0, 80.0))
    point(canvas, (200.0, 140.0))
    assert task.template.placed.x_mm == pytest.approx(200.0, abs=0.5)


def test_nothing_is_left_of_a_hole_that_moves_also_after_a_zoom(opened: Open, qtbot: QtBot) -> None:
    canvas = opened(job())
    looking(canvas, "front-1")
    for place in ((230.0, 140.0), (100.0, 60.0), (400.0, 250.0)):
        point(canvas, place)
    canvas.sight.zoom_in()
    canvas.grab()
    qtbot.waitUntil(lambda: not canvas.sight.moving)
    canvas.repaint()
    for place in ((300.0, 240.0), (180.0, 90.0)):
        point(canvas, place)
    stepwise = canvas.grab().toImage()
    canvas.repaint_all()
    assert canvas.grab().toImage() == stepwise


def test_a_pinned_piece_is_only_looked_for(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(pin(("front-1",)))
    task = looking(canvas, "front-1")
    assert not task.can_accept
    assert "Done" not in task.guide
    point(canvas, (200.0, 150.0))
    QTest.keyClick(canvas, Key.Key_Return)
    assert lies(canvas, "front-1") == (100.0, 116.0)


def test_a_mere_size_is_looked_through_without_any_piece(opened: Open, monkeypatch: pytest.MonkeyPatch) -> None:
    canvas = opened(Project("bare", cloths=(linen(), leftover()), prints=job().prints))
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("60 x 90", True))
    look_through(canvas)
    task = canvas.work.task
    assert isinstance(task, WindowTemplate)
    assert not task.can_accept
    point(canvas, (230.0, 140.0))
    assert task.template.size_mm(canvas.bench) == pytest.approx((60.0, 90.0))
    assert color(canvas, (215.0, 150.0)) == printed((215.0, 150.0))
    QTest.keyClick(canvas, Key.Key_R)
    assert task.template.size_mm(canvas.bench) == pytest.approx((90.0, 60.0))


def test_a_size_that_cannot_be_read_is_said_and_nothing_begins(opened: Open, monkeypatch: pytest.MonkeyPatch) -> None:
    canvas = opened(job())
    heard = hints(canvas)
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("a palm", True))
    look_through_size(canvas)
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("60 x 0", True))
    look_through_size(canvas)
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("60 x 90", False))
    look_through_size(canvas)
    assert canvas.work.task is None
    assert len(heard) == 2
    assert all("Window template" in words for words in heard)


def test_it_goes_with_its_piece(opened: Open) -> None:
    canvas = opened(job())
    looking(canvas, "front-1")
    canvas._session.do(remove_book("book-1"))
    assert canvas.work.task is None
