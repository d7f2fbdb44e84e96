"""Only what will be on the book: the faces in full colour on the bare table, while pieces rest and while they move."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, linen, printed, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.layout.question import Placed
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.theme import DARK, LIGHT, Theme

Open = Callable[..., Canvas]
RED, GREEN, GROUND = "#c8281e", "#1e783c", "#f0e6d2"


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    def open_one(project: Project, theme: Theme = LIGHT) -> Canvas:
        canvas = Canvas(session_of(project), theme)
        qtbot.addWidget(canvas)
        canvas.resize(900, 640)
        with qtbot.waitExposed(canvas):
            canvas.show()
        canvas.shown.covers_only = True
        canvas.repaint_all()
        QApplication.processEvents()
        return canvas

    return open_one


def color(canvas: Canvas, at_mm: Point) -> str:
    """What the canvas shows at a place of the first cloth."""
    x, y = canvas.bench.sheets[0].to_table.then(canvas.view.to_screen).at(at_mm)
    image = canvas.grab().toImage()
    return QColor(image.pixel(round(x), round(y))).name()


# On the front board (43 to 157 across, 40 to 192 down): a red place, a green one and the ground.
ON_BOARD = ((94.0, 70.0), (79.0, 60.0), (120.0, 130.0))


def test_the_places_tell_all_three_colours_apart() -> None:
    assert [printed(place) for place in ON_BOARD] == [RED, GREEN, GROUND]


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("side", ["print", "back"])
def test_boards_show_their_print_and_all_else_is_table(opened: Open, theme: Theme, side: str) -> None:
    canvas = opened(with_side(job(), side), theme)
    table = QColor(theme.canvas).name()
    for place in ON_BOARD:
        assert color(canvas, place) == printed(place)
    # A turn-in, the cloth between pieces, its corner, the crease, the ground outside the cloth.
    for place in ((35.0, 100.0), (176.0, 250.0), (3.0, 3.0), (100.0, 304.0), (-6.0, 40.0)):
        assert color(canvas, place) == table, place
    # A liner without a board shows all of itself: 108.3 x 146.4 about (395, 95).
    assert color(canvas, (345.0, 40.0)) == printed((345.0, 40.0))


def test_a_piece_that_is_carried_shows_its_face_alone(opened: Open) -> None:
    canvas = opened(job())
    canvas.hand.snapping = False
    start, end = (QPoint(*map(round, canvas.view.to_screen.at(at))) for at in ((100.0, 116.0), (104.0, 176.0)))
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start)
    for part in (0.5, 1.0):
        QTest.mouseMove(canvas, start + (end - start) * part)
        QApplication.processEvents()
    table = QColor(LIGHT.canvas).name()
    # Clear of the distances shown on the middle lines; the board now lies from 47 to 161 and from 100 to 252.
    for place in ((94.0, 150.0), (79.0, 160.0), (140.0, 225.0)):
        assert color(canvas, place) == printed(place), place
    assert color(canvas, (39.0, 130.0)) == table, "the turn-in"
    assert color(canvas, (60.0, 60.0)) == table, "where it came from"
    stepwise = canvas.grab().toImage()
    canvas.repaint_all()
    assert canvas.grab().toImage() == stepwise
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=end)


def test_what_lies_wrong_is_still_marked(opened: Open) -> None:
    project = job()
    over = replace(project.layouts[0], placements=(*project.layouts[0].placements[:2],))
    wrong = replace(over, placements=(over.placements[0], replace(over.placements[1], x_mm=200.0)))
    canvas = opened(replace(project, layouts=(wrong,)))
    clean = opened(replace(project, layouts=(over,)))
    # The turn-in of the back cover, beside the overlap: marked when wrong, table when right.
    assert color(clean, (265.0, 27.0)) == QColor(LIGHT.canvas).name()
    assert color(canvas, (265.0, 27.0)) != QColor(LIGHT.canvas).name()


def test_the_tick_goes_on_and_off_without_a_trace(opened: Open) -> None:
    canvas = opened(job())
    covers = canvas.grab().toImage()
    canvas.shown.covers_only = False
    canvas.repaint_all()
    usual = canvas.grab().toImage()
    assert usual != covers
    canvas.shown.covers_only = True
    canvas.repaint_all()
    assert canvas.grab().toImage() == covers


def test_waiting_pieces_stay_to_be_taken(opened: Open) -> None:
    canvas = opened(replace(job(linen()), layouts=(replace(job().layouts[0], placements=()),)))
    lying = canvas.bench.find("front-1")
    assert lying is not None
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["front-1"][1].middle)
    shown = QColor(canvas.grab().toImage().pixel(round(x), round(y) + 40)).name()
    assert shown != QColor(LIGHT.canvas).name()
    assert lying.placed == Placed("front-1", "", lying.placed.x_mm, lying.placed.y_mm)
