"""The states of pieces on the canvas: solid corners where cut, pins' heads where pinned, bare table where gone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, session_of
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.cutting.remnants import make_remnant
from coverlayout.document.edits.placements import pin, place, unpin
from coverlayout.document.project import Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.gestures import DragPiece, guides_for
from coverlayout.ui.painting.names import CHOSEN, FITS
from coverlayout.ui.theme import DARK, LIGHT, Theme

Open = Callable[..., Canvas]
# The front cover of 144.3 x 182.4 lies with its middle at (100, 116): its corners are these.
LEFT, TOP, RIGHT, BOTTOM = 27.85, 24.8, 172.15, 207.2


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


def painted(canvas: Canvas) -> QImage:
    for _ in range(3):
        QApplication.processEvents()
    return canvas.grab().toImage()


def at(canvas: Canvas, image: QImage, place_mm: tuple[float, float], off_px: tuple[float, float] = (0, 0)) -> QColor:
    """The colour at a place of the first cloth, so many pixels off it."""
    to_screen = canvas.bench.sheets[0].to_table.then(canvas.view.to_screen)
    point = QPointF(*to_screen.at(place_mm)) + QPointF(*off_px)
    return image.pixelColor(round(point.x()), round(point.y()))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_a_cut_piece_has_solid_corners_and_a_pinned_one_pins(opened: Open, theme: Theme) -> None:
    canvas = opened(job(), theme)
    plain = painted(canvas)
    canvas._session.do(pin(("front-1",)))
    pinned = painted(canvas)
    canvas._session.do(mark_cut(("front-1",)))
    cut = painted(canvas)
    for corner, inward in (((LEFT, TOP), (1, 1)), ((RIGHT, TOP), (-1, 1)), ((RIGHT, BOTTOM), (-1, -1))):
        on_pin = 8 * inward[0], 8 * inward[1]
        on_tick = 4 * inward[0], 4 * inward[1]
        assert at(canvas, pinned, corner, on_pin) == CHOSEN
        assert at(canvas, cut, corner, on_tick) == FITS
        assert at(canvas, plain, corner, on_pin) != CHOSEN
        assert at(canvas, plain, corner, on_tick) != FITS


def test_what_is_repainted_of_a_pin_is_the_same_as_painted_anew(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(pin(("front-1", "back-1")))
    canvas._session.do(unpin(("back-1",)))
    now = painted(canvas)
    canvas.repaint_all()
    assert painted(canvas) == now


def test_a_cut_piece_shows_its_board(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(mark_cut(("front-1",)))
    lying = canvas.bench.find("front-1")
    assert lying is not None
    assert lying.piece.board is not None
    # 15 mm of turn-in all round a board of 114.3 x 152.4 (common practice, no source).
    assert (lying.piece.board.width_mm, lying.piece.board.left_mm) == pytest.approx((114.3, 15.0))
    assert (lying.state, lying.moves) == ("cut", False)


def test_where_cloth_is_gone_the_table_shows(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(make_remnant("cloth-1", rectangle(60.0, 60.0, 330.0, 240.0)))
    image = painted(canvas)
    assert at(canvas, image, (360.0, 280.0)) == LIGHT.color("canvas")
    assert [sheet.name for sheet in canvas.bench.sheets] == ["Linen", "Rest of Linen"]


def test_a_spoiled_hole_is_called_by_the_name_of_its_piece(opened: Open) -> None:
    canvas = opened(job(books=2))
    canvas._session.do(place((Placed("front-2", "cloth-1", 380.0, 230.0),)))
    canvas._session.do(mark_spoiled(("front-2",)))
    assert "Front cover 2, spoiled" in [flaw.name for flaw in canvas.scene().drawing.flaws]


def test_a_drag_of_several_leaves_pinned_ones_where_they_are(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(pin(("front-1",)))
    both = ("front-1", "back-1")
    drag = DragPiece(canvas.bench, both, (0.0, 0.0), guides_for(canvas.bench, canvas.shown.judge, both, "front-1"))
    drag.move((5.0, 3.0))
    assert [(each.piece, each.x_mm, each.y_mm) for each in drag.shown] == [("back-1", 260.0, 119.0)]
    canvas.do(drag.finish())
    project = canvas._session.project
    assert project.layout.place_of("front-1") == Placed("front-1", "cloth-1", 100.0, 116.0)
    assert project.layout.place_of("back-1") == Placed("back-1", "cloth-1", 260.0, 119.0)
    none = DragPiece(canvas.bench, ("front-1",), (0.0, 0.0))
    none.move((9.0, 9.0))
    assert none.finish() is None
    assert guides_for(canvas.bench, canvas.shown.judge, ("front-1",), "front-1") is None


def test_a_pin_belongs_to_its_layout_only(opened: Open) -> None:
    other = replace(job().layouts[0], id="layout-2", name="Other")
    canvas = opened(replace(job(), layouts=(*job().layouts, other)))
    canvas._session.do(pin(("front-1",)))
    assert [lying.piece.id for lying in canvas.bench.lying if lying.pinned] == ["front-1"]
    assert canvas._session.project.layouts[1].pinned == ()
