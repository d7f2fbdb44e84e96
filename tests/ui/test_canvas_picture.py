"""What the canvas paints: the print at true scale, mirrored for the back, and never a trace of a pan or a drag."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from canvas_samples import job, leaf, leaf_picture, leftover, linen, session_of, with_side
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.cloths import add_flaw, change_cloth, change_flaw, remove_flaw
from coverlayout.document.edits.placements import accept
from coverlayout.document.edits.prints import change_print
from coverlayout.document.edits.zones import add_zone
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.painting import tiles
from coverlayout.ui.painting.layers import Layers, Scene
from coverlayout.ui.theme import DARK, LIGHT
from coverlayout.units import LengthStyle

Open = Callable[..., Canvas]
Levels = npt.NDArray[np.int16]
LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
RED, GREEN, GROUND = (200, 40, 30), (30, 120, 60), (240, 230, 210)


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    """Opens a canvas of 900 x 640 on a project or session."""

    def open_one(what: Project | Session) -> Canvas:
        canvas = Canvas(what if isinstance(what, Session) else session_of(what), LIGHT)
        qtbot.addWidget(canvas)
        canvas.resize(900, 640)
        with qtbot.waitExposed(canvas):
            canvas.show()
        QApplication.processEvents()
        return canvas

    return open_one


def picture(canvas: Canvas) -> Levels:
    """What is on the screen now, nothing painted anew for it: height x width x 3."""
    for _ in range(3):  # the move, what it asks for, the painting
        QApplication.processEvents()
    image = canvas.screen().grabWindow(canvas.winId()).toImage().convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : 3 * image.width()].reshape(image.height(), image.width(), 3).astype(np.int16)


def anew(canvas: Canvas) -> Levels:
    """The same, painted from nothing."""
    canvas.repaint_all()
    return picture(canvas)


def colour_at(canvas: Canvas, x_mm: float, y_mm: float) -> tuple[int, int, int]:
    x, y = canvas.view.to_screen.at((x_mm, y_mm))
    red, green, blue = (int(level) for level in picture(canvas)[int(y), int(x)])
    return red, green, blue


def same(seen: Levels, wanted: Levels) -> bool:
    """Equal but for rounding: one level in the smoothed print where a strip begins, and a letter set a hair aside."""
    return int((np.abs(seen - wanted).max(axis=2) > 2).sum()) <= 60


def near(found: tuple[int, int, int], wanted: tuple[int, int, int]) -> bool:
    return max(abs(a - b) for a, b in zip(found, wanted, strict=True)) <= 8


def plain_job() -> Project:
    """One own-size cloth under a single wholly bright piece, so that the print is seen as it is."""
    label = OwnPiece("label", "label", 200.0, 180.0)
    base = job(linen())
    layout = replace(base.layout, placements=(Placed("label-1", "cloth-1", 110.0, 110.0),))
    return replace(base, books=(), own_pieces=(label,), layouts=(layout,))


def formula(x_mm: float, y_mm: float) -> tuple[int, int, int]:
    """The leaf print's colour at a place of the cloth, from its definition: half-drop 64 x 96 from (20, 10)."""
    across, along = x_mm - 20.0, y_mm - 10.0
    column = int(across // 64.0)
    x, y = across - 64.0 * column, (along - 48.0 * column) % 96.0
    if x < 20.0 and y < 30.0:
        return RED
    return GREEN if x >= 54.0 and 40.0 <= y < 90.0 else GROUND


@pytest.mark.parametrize("side", ["print", "back"])
def test_the_print_lies_at_true_scale_on_either_side(opened: Open, side: str) -> None:
    canvas = opened(with_side(plain_job(), side))
    seen = picture(canvas)
    wrong = 0
    for x_mm in np.arange(18.5, 200.0, 5.37):
        for y_mm in np.arange(60.5, 190.0, 4.11):
            x, y = canvas.view.to_screen.at((460.0 - x_mm if side == "back" else x_mm, y_mm))
            wrong += not near(tuple(seen[int(y), int(x)]), formula(x_mm, y_mm))
    assert wrong <= 0.06 * 34 * 32  # places within a pixel of an edge, and the piece's own marks


def test_board_in_full_colour_turn_ins_paler_the_rest_veiled(opened: Open) -> None:
    canvas = opened(job())
    # The red corner of the tile at (84, 58) to (104, 88) lies in the front board (43 to 157, 40 to 192).
    assert near(colour_at(canvas, 95.0, 78.0), RED)
    # The corner comes again from (148, 106), under the right turn-in (157 to 172), and on bare cloth from (20, 202).
    paler, veiled = colour_at(canvas, 165.5, 122.0), colour_at(canvas, 30.0, 220.0)
    for found in (paler, veiled):
        assert found[0] > found[1] + 15
        assert found[1] > RED[1] + 60
    assert paler != veiled


def test_the_print_stays_inside_the_cloth_outline(opened: Open) -> None:
    canvas = opened(replace(job(leftover()), books=()))
    # The outline's upper left corner is cut from (0, 10) to (290, 0): (2, 3) is table, (150, 100) is cloth.
    table = canvas._theme.color("canvas")
    assert colour_at(canvas, 1.5, 2.0) == (table.red(), table.green(), table.blue())
    assert colour_at(canvas, 150.0, 100.0) != (table.red(), table.green(), table.blue())


def test_zones_carry_their_own_print(opened: Open) -> None:
    zones = (
        Zone("z1", "left", rectangle(100.0, 200.0), LaidPrint("print-1")),
        Zone("z2", "right", rectangle(100.0, 200.0, 100.0), LaidPrint("print-1", (104.0, 0.0))),
    )
    canvas = opened(replace(job(Cloth("cloth-1", "two prints", 220.0, 200.0, zones=zones)), books=()))
    left, right, bare = (colour_at(canvas, x, 20.0) for x in (6.0, 110.0, 210.0))
    assert left == right != bare


def test_a_pan_leaves_no_trace(opened: Open) -> None:
    canvas = opened(job(linen(), leftover()))
    canvas.sight.zoom_in()
    canvas.sight.zoom_in()
    QApplication.processEvents()
    start = QPoint(450, 320)
    QTest.mousePress(canvas, MIDDLE, pos=start)
    for dx, dy in ((40, 20), (-90, 130), (-230, 10), (-330, -250), (130, -280), (400, 200), (17, -3)):
        QTest.mouseMove(canvas, start + QPoint(dx, dy))
        QApplication.processEvents()
        assert same(picture(canvas), anew(canvas)), f"after a pan to {dx}, {dy}"
    QTest.mouseRelease(canvas, MIDDLE, pos=start)


def test_long_pans_without_painting_anew_leave_no_trace(opened: Open) -> None:
    canvas = opened(job(linen(), leftover()))
    for _ in range(4):
        canvas.sight.zoom_in()
    QApplication.processEvents()
    start = QPoint(450, 320)
    QTest.mousePress(canvas, MIDDLE, pos=start)
    for k in range(1, 40):
        QTest.mouseMove(canvas, start + QPoint(-23 * k, 13 * (k % 9)))
        QApplication.processEvents()
    QTest.mouseRelease(canvas, MIDDLE, pos=start + QPoint(-300, 40))
    QApplication.processEvents()
    assert same(picture(canvas), anew(canvas))


def test_a_flaw_that_reaches_far_beyond_the_cloth_is_seen_there_after_a_pan(opened: Open) -> None:
    canvas = opened(job())
    canvas._session.do(add_flaw("cloth-1", Flaw("", "tear", ((90.0, 60.0), (180.0, 60.0), (180.0, 3000.0)))))
    for _ in range(4):
        canvas.sight.zoom_in()
    anew(canvas)
    for _ in range(8):
        canvas.sight.pan_to(canvas.view.panned((0.0, -90.0)))
        QApplication.processEvents()
    assert canvas.view.to_screen.at((0.0, 330.0))[1] < 200.0, "the cloth is nearly out of sight"
    assert same(picture(canvas), anew(canvas))


def test_a_drag_leaves_no_trace(opened: Open) -> None:
    canvas = opened(job(linen(), leftover()))
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["back-1"][1].middle)
    start = QPoint(round(x), round(y))
    QTest.mousePress(canvas, LEFT, pos=start)
    for dx, dy in ((0, 30), (-40, 60), (200, 160), (60, 90), (10, 20)):
        QTest.mouseMove(canvas, start + QPoint(dx, dy))
        QApplication.processEvents()
    during = picture(canvas)
    assert same(during, anew(canvas))
    QTest.mouseRelease(canvas, LEFT, pos=start + QPoint(10, 20))
    QApplication.processEvents()
    assert same(picture(canvas), anew(canvas))
    canvas._session.undo()
    assert same(picture(canvas), anew(canvas))


def test_a_piece_lifted_from_beside_the_cloth_leaves_no_trace(opened: Open) -> None:
    canvas = opened(job())
    x, y = canvas.view.to_screen.at(canvas.bench.outlines["liner-back-1"][1].middle)
    start = QPoint(round(x), round(y))
    QTest.mousePress(canvas, LEFT, pos=start)
    for k in range(1, 9):
        QTest.mouseMove(canvas, start + QPoint(-40 * k, 5 * k))
        QApplication.processEvents()
    assert same(picture(canvas), anew(canvas))
    canvas.keys.escape()
    assert same(picture(canvas), anew(canvas))
    QTest.mouseRelease(canvas, LEFT, pos=start)


def test_a_print_moved_and_given_up_leaves_no_trace(opened: Open) -> None:
    canvas = opened(job())
    before = picture(canvas)
    canvas.set_moving_print(True)
    start = QPoint(400, 300)
    QTest.mousePress(canvas, LEFT, pos=start)
    QTest.mouseMove(canvas, start + QPoint(9, 9))
    QTest.mouseMove(canvas, start + QPoint(30, 11))
    assert not same(picture(canvas), before)
    canvas.keys.escape()
    assert same(picture(canvas), before)


def test_a_piece_larger_than_the_canvas_is_dragged_without_a_trace(opened: Open) -> None:
    canvas = opened(job())
    canvas.sight.pan_to(canvas.view.zoomed(40.0, (450.0, 320.0)))
    placed = canvas.bench.lying[0].placed
    middle = canvas.bench.outlines[placed.piece][1].middle
    at = canvas.view.to_screen.at(middle)
    canvas.sight.pan_to(canvas.view.panned((450.0 - at[0], 320.0 - at[1])))
    before = picture(canvas)
    QTest.mousePress(canvas, LEFT, Qt.KeyboardModifier.NoModifier, QPoint(450, 320))
    for x in (470, 500, 530):
        QTest.mouseMove(canvas, QPoint(x, 330))
        QApplication.processEvents()
    assert canvas.layers._sprites == {}
    canvas.keys.escape()
    QTest.mouseRelease(canvas, LEFT, Qt.KeyboardModifier.NoModifier, QPoint(530, 330))
    canvas.choose(())
    assert np.abs(picture(canvas) - before).max() <= 1


def test_many_changes_at_once_are_painted_once(opened: Open, monkeypatch: pytest.MonkeyPatch) -> None:
    session = session_of(job())
    canvas = opened(session)
    painted: list[int] = []
    paint = Layers._paint_rest

    def counted(layers: Layers, scene: Scene, areas: list[QRectF]) -> None:
        painted.append(len(areas))
        paint(layers, scene, areas)

    monkeypatch.setattr(Layers, "_paint_rest", counted)
    canvas.choose(tuple(lying.piece.id for lying in canvas.bench.lying))
    shown = picture(canvas)
    assert painted == [1]
    assert np.abs(anew(canvas) - shown).max() <= 1


def test_choosing_repaints_both_pieces(opened: Open) -> None:
    canvas = opened(job())
    canvas.choose(("front-1",))
    canvas.choose(("back-1", "liner-back-1"))
    assert same(picture(canvas), anew(canvas))


def test_cut_and_spoiled_pieces_are_told_apart(opened: Open) -> None:
    canvas = opened(job())
    session = canvas._session
    front, back = canvas.bench.find("front-1"), canvas.bench.find("back-1")
    assert front is not None
    assert back is not None
    before = picture(canvas)
    session.do(mark_cut((front.piece.id,)))
    session.do(mark_spoiled((back.piece.id,)))
    after = picture(canvas)
    assert not np.array_equal(before, after)
    assert same(after, anew(canvas))
    assert canvas.bench.find("front-1") is not None
    assert canvas.bench.find("back-1") is not None  # planned again, and waits
    # In the hole the table shows through, not the print.
    y, x = _at(canvas, 270.0, 85.0)
    hole = np.median(after[y - 8 : y + 8, x - 8 : x + 8].reshape(-1, 3), axis=0)
    table = canvas._theme.color("canvas")
    assert hole.tolist() == [table.red(), table.green(), table.blue()]


def test_the_wheel_zooms_on_the_pointer(opened: Open) -> None:
    canvas = opened(job())
    before = canvas.view
    at = (300.0, 200.0)
    none = Qt.MouseButton.NoButton
    wheel = QWheelEvent(
        QPointF(*at),
        QPointF(*at),
        QPoint(),
        QPoint(0, 120),
        none,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(canvas, wheel)
    assert canvas.view.px_per_mm == pytest.approx(before.px_per_mm * 1.0015**120)
    assert canvas.view.mm_at(at) == pytest.approx(before.mm_at(at), abs=1.0 / before.px_per_mm)


def test_a_zoom_shows_the_picture_there_is_and_paints_once_after_it(
    opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    canvas = opened(job())
    painted: list[float] = []
    paint = Layers.paint

    def counting(layers: Layers, scene: Scene) -> None:
        painted.append(scene.drawing.to_screen.xx)
        paint(layers, scene)

    monkeypatch.setattr(Layers, "paint", counting)
    for _ in range(3):
        canvas.sight.zoom_in()
        rough = picture(canvas)
    assert painted == []
    # Rough as it is, the red corner of the tile, (276, 106) to (296, 136) in the back board, lies where it belongs.
    x, y = canvas.view.to_screen.at((281.0, 131.0))
    assert near(tuple(rough[int(y), int(x)]), RED)
    qtbot.waitUntil(lambda: len(painted) == 1)
    assert painted == [canvas.view.px_per_mm]
    assert same(picture(canvas), anew(canvas))
    canvas.sight.fit()
    canvas.repaint_all()
    picture(canvas)
    # A press ends the zoom at once, and a wheel turned in a drag paints at once: what moves must not vanish.
    canvas.sight.zoom_out()
    painted.clear()
    x, y = _at(canvas, 100.0, 116.0)
    QTest.mousePress(canvas, LEFT, pos=QPoint(x, y))
    QTest.mouseMove(canvas, QPoint(x + 20, y))
    picture(canvas)
    assert len(painted) == 1
    canvas.sight.zoom_out()
    picture(canvas)
    assert len(painted) == 2
    canvas.keys.escape()
    assert same(picture(canvas), anew(canvas))


def test_the_table_stays_whole_in_sight_until_the_maker_zooms(opened: Open) -> None:
    canvas = opened(job())
    canvas.resize(600, 500)
    QApplication.processEvents()
    box = canvas.view.box_px(canvas.bench.box)
    assert box.left_mm >= 24
    assert box.right_mm <= 600
    canvas._session.do(change_cloth("cloth-1", width_mm=1200.0))
    wider = canvas.view.box_px(canvas.bench.box)
    assert wider.right_mm <= 600
    canvas.sight.zoom_in()
    size = canvas.view.px_per_mm
    canvas.resize(700, 500)
    assert canvas.view.px_per_mm == size


def test_a_whole_layout_takes_the_room_that_the_waiting_pieces_leave(opened: Open) -> None:
    waiting = job()
    bare = replace(waiting, layouts=(replace(waiting.layout, placements=()),))
    canvas = opened(bare)
    far = canvas.view.px_per_mm
    there = (*waiting.layout.placements, Placed("liner-back-1", "cloth-1", 395.0, 250.0))
    canvas._session.do(accept(there[:1]))
    assert canvas.view.px_per_mm == far  # one piece by itself moves nothing else
    canvas._session.do(accept(there))
    assert canvas.view.px_per_mm > far


def test_both_looks_both_units_and_an_empty_table(opened: Open) -> None:
    canvas = opened(with_side(job(), "back", LengthStyle("in", inch_parts=16)))
    light = picture(canvas)
    canvas.set_theme(DARK)
    dark = picture(canvas)
    assert dark.mean() < light.mean() - 20
    empty = opened(Project())
    assert picture(empty).std() > 1.0  # it says what to do first


def test_that_there_is_no_cloth_is_not_said_across_the_pieces_that_wait(opened: Open) -> None:
    canvas = opened(replace(plain_job(), cloths=()))
    assert canvas.bench.lying
    canvas.says_empty = False
    canvas.update()
    silent = picture(canvas)
    canvas.says_empty = True
    canvas.update()
    changed = (picture(canvas) != silent).reshape(silent.shape[0], -1).any(axis=1).nonzero()[0]
    assert changed.size > 0
    assert changed.min() > 0.85 * silent.shape[0], "at the foot"


def test_a_large_picture_is_decoded_beside_the_window(
    opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tiles, "_QUICK_PX", 100)
    canvas = opened(plain_job())
    prints = canvas._prints
    qtbot.waitUntil(lambda: not prints.waiting)
    QApplication.processEvents()
    assert near(colour_at(canvas, 95.0, 78.0), RED)


def test_tiles_of_sizes_given_up_are_forgotten(opened: Open, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tiles, "_QUICK_PX", 0)
    session = session_of(job())
    canvas = opened(session)
    prints = canvas._prints
    for width_mm in (50.0, 60.0, 70.0):
        before = session.project.prints[0]
        session.do(change_print(before.id, tile_mm=(width_mm, 90.0)))
        picture(canvas)
    qtbot.waitUntil(lambda: not prints.waiting)
    assert {key.tile_mm for key in prints._tiles} == {each.tile_mm for each in session.project.prints}
    assert all(tile.levels[0].width() > 24 for tile in prints._tiles.values())


def test_a_picture_that_comes_later_is_shown_then(opened: Open) -> None:
    session = Session(plain_job())
    canvas = opened(session)
    assert not near(colour_at(canvas, 95.0, 78.0), RED)
    session.add_picture(leaf_picture())
    assert near(tuple(anew(canvas)[_at(canvas, 95.0, 78.0)]), RED)


def test_a_damaged_picture_leaves_the_plain_tile(qtbot: QtBot) -> None:
    prints = tiles.Prints()
    tile = prints.tile(leaf(), {leaf().picture.sha256: b"no picture"})  # type: ignore[union-attr]  # the leaf has one
    assert tile.levels


def _at(canvas: Canvas, x_mm: float, y_mm: float) -> tuple[int, int]:
    x, y = canvas.view.to_screen.at((x_mm, y_mm))
    return int(y), int(x)


def test_after_the_canvas_is_gone_the_session_goes_on(qtbot: QtBot) -> None:
    session = session_of(job())
    canvas = Canvas(session, LIGHT)
    canvas.deleteLater()
    del canvas
    QApplication.sendPostedEvents(None, 52)  # QEvent::DeferredDelete
    QApplication.processEvents()
    session.do(change_cloth("cloth-1", width_mm=500.0))
    assert session.project.cloths[0].width_mm == 500.0


def test_a_flaw_comes_changes_and_goes_without_a_trace(opened: Open) -> None:
    """Only what it touches is painted anew: the same as if all were, names and the words on pieces included."""
    canvas = opened(job())
    session = canvas._session
    picture(canvas)
    session.do(add_flaw("cloth-1", Flaw("", "stain", ((90.0, 60.0), (180.0, 70.0), (150.0, 140.0)))))
    assert not canvas.stale
    assert same(picture(canvas), anew(canvas))
    flaw = session.project.cloths[0].flaws[-1]
    for edit in (
        change_flaw("cloth-1", flaw.id, name="a stain with a far longer name"),
        change_flaw("cloth-1", flaw.id, points_mm=((290.0, 20.0), (330.0, 25.0), (300.0, 240.0))),
        remove_flaw("cloth-1", flaw.id),
    ):
        session.do(edit)
        assert not canvas.stale
        assert same(picture(canvas), anew(canvas))
    session.undo()
    assert same(picture(canvas), anew(canvas))
    session.do(add_zone("cloth-1", Zone("", "left", ((0.0, 0.0), (90.0, 0.0), (90.0, 300.0)))))
    assert canvas.stale, "a zone has a print of its own: that is another ground"
