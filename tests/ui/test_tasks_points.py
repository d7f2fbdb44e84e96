"""Points of flaws, zones and outlines changed by hand: dragged, picked up and set down, by keys and by number."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, session_of, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.edits.cloths import remove_flaw
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.canvas.strip import Strip
from coverlayout.ui.tasks.drawn import drawn_at, drawn_of
from coverlayout.ui.tasks.points import ChangePoints
from coverlayout.ui.theme import LIGHT

LEFT, SHIFT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier
STAIN = ((300.0, 215.0), (400.0, 225.0), (390.0, 290.0), (310.0, 270.0))
Open = Callable[[Project], Canvas]


def stained(**more: object) -> Cloth:
    """Linen with a stain of four corners and a crease."""
    cloth = linen()
    return replace(cloth, flaws=(*cloth.flaws, Flaw("flaw-2", "stain", STAIN)), **more)  # type: ignore[arg-type]  # by name


@pytest.fixture
def opened(qtbot: QtBot) -> Open:
    def open_one(project: Project) -> Canvas:
        canvas = Canvas(session_of(project), LIGHT)
        qtbot.addWidget(canvas)
        canvas.resize(1100, 760)
        with qtbot.waitExposed(canvas):
            canvas.show()
        canvas.sight.fit()
        QApplication.processEvents()
        return canvas

    return open_one


def begin(canvas: Canvas, kind: str = "flaw", thing: str = "flaw-2", cloth: str = "cloth-1") -> ChangePoints:
    target = drawn_of(canvas._session.project, kind, cloth, thing)  # type: ignore[arg-type]  # one of the kinds
    task = ChangePoints(canvas, target)
    canvas.work.begin(task)
    return task


def px(canvas: Canvas, at_mm: Point) -> QPoint:
    x, y = canvas.view.to_screen.at(at_mm)
    return QPoint(round(x), round(y))


def drag(canvas: Canvas, start: Point, end: Point) -> None:
    QTest.mousePress(canvas, LEFT, pos=px(canvas, start))
    for share in (0.4, 1.0):
        at = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        QTest.mouseMove(canvas, px(canvas, at))
        QApplication.processEvents()
    QTest.mouseRelease(canvas, LEFT, pos=px(canvas, end))
    QApplication.processEvents()


def points(canvas: Canvas, flaw: int = 1) -> list[Point]:
    return [*canvas._session.project.cloths[0].flaws[flaw].points_mm]


def near(canvas: Canvas) -> float:
    return 0.75 / canvas.view.px_per_mm


def test_a_dragged_point_is_one_edit_and_the_task_goes_on(opened: Open) -> None:
    canvas = opened(job(stained()))
    task = begin(canvas)
    drag(canvas, STAIN[1], (430.0, 240.0))
    assert points(canvas) == [STAIN[0], pytest.approx((430.0, 240.0), abs=near(canvas)), *STAIN[2:]]
    assert canvas.work.task is task
    drag(canvas, STAIN[2], (395.0, 300.0))
    assert canvas._session.undo_name == "Change flaw"
    canvas._session.undo()
    canvas._session.undo()
    assert canvas._session.project == job(stained())
    assert task.target is not None
    assert task.target.points == STAIN


def test_a_middle_becomes_a_point(opened: Open) -> None:
    canvas = opened(job(stained()))
    begin(canvas)
    drag(canvas, (350.0, 220.0), (352.0, 205.0))
    assert points(canvas) == [STAIN[0], pytest.approx((352.0, 205.0), abs=near(canvas)), *STAIN[1:]]
    drag(canvas, (305.0, 242.5), (290.0, 240.0))
    assert points(canvas)[-1] == pytest.approx((290.0, 240.0), abs=near(canvas)), "between the last and the first"


def test_a_point_is_picked_up_by_a_click_and_set_down_by_another(opened: Open) -> None:
    canvas = opened(job(stained()))
    task = begin(canvas)
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, STAIN[3]))
    assert task.held == 3
    assert "set it down" in task.guide
    QTest.mouseMove(canvas, px(canvas, (305.0, 285.0)))
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (305.0, 285.0)))
    assert task.held is None
    assert points(canvas)[3] == pytest.approx((305.0, 285.0), abs=near(canvas))


def test_all_of_it_by_keys(opened: Open) -> None:
    """N steps over points and middles in turn; Enter picks up and sets down; Delete removes."""
    canvas = opened(job(stained()))
    begin(canvas)
    for _ in range(3):
        QTest.keyClick(canvas, Qt.Key.Key_N)
    assert canvas.work.at_mm == STAIN[1]
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    QTest.keyClick(canvas, Qt.Key.Key_Right, SHIFT)
    QTest.keyClick(canvas, Qt.Key.Key_Up)
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    assert points(canvas)[1] == (410.0, 224.0)
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    assert canvas.work.task is not None, "picked up and set down on the spot"
    QTest.keyClick(canvas, Qt.Key.Key_N, SHIFT)
    assert canvas.work.at_mm == (355.0, 219.5), "the middle before it"
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    QTest.keyClick(canvas, Qt.Key.Key_Up)
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    assert points(canvas) == [STAIN[0], (355.0, 218.5), (410.0, 224.0), *STAIN[2:]]
    QTest.keyClick(canvas, Qt.Key.Key_Delete)
    assert points(canvas) == [STAIN[0], (410.0, 224.0), *STAIN[2:]]
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    assert canvas.work.task is None


def test_a_held_point_goes_to_the_place_typed(opened: Open, qtbot: QtBot) -> None:
    canvas = opened(job(stained()))
    strip = Strip(canvas, LIGHT, canvas)
    begin(canvas)
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, STAIN[0]))
    QTest.keyClicks(canvas, "2")
    QTest.keyClicks(strip.place, "95.5, 210")
    QTest.keyClick(strip.place, Qt.Key.Key_Return)
    assert points(canvas)[0] == (295.5, 210.0)


def test_seen_from_the_back_it_is_the_same_point(opened: Open) -> None:
    """460 wide: the corner at 300 lies at 160 as seen; carried 20 to the right there, it lies at 280."""
    canvas = opened(with_side(job(stained()), "back"))
    begin(canvas)
    drag(canvas, (160.0, 215.0), (180.0, 215.0))
    assert points(canvas)[0] == pytest.approx((280.0, 215.0), abs=near(canvas))


def test_what_would_cross_itself_stays_as_it_was_and_is_told(opened: Open) -> None:
    canvas = opened(job(stained()))
    said: list[str] = []
    canvas.hint.connect(said.append)
    task = begin(canvas)
    drag(canvas, STAIN[3], (350.0, 190.0))
    assert points(canvas) == [*STAIN]
    assert "crosses itself" in said[0]
    assert task.trial == STAIN


def test_the_last_points_of_a_line_are_kept(opened: Open) -> None:
    canvas = opened(job(stained()))
    said: list[str] = []
    canvas.hint.connect(said.append)
    begin(canvas, thing="flaw-1")
    QTest.keyClick(canvas, Qt.Key.Key_N)
    QTest.keyClick(canvas, Qt.Key.Key_Delete)
    assert said == ["Crease: 2 points are the fewest it can have; remove it as a whole instead"]
    assert len(points(canvas, 0)) == 2


def test_the_whole_is_carried_by_its_inside(opened: Open) -> None:
    canvas = opened(job(stained()))
    begin(canvas)
    drag(canvas, (350.0, 255.0), (360.0, 250.0))
    moved = [(x + 10.0, y - 5.0) for x, y in STAIN]
    assert points(canvas) == [pytest.approx(at, abs=2 * near(canvas)) for at in moved]


def test_backspace_puts_a_held_point_back(opened: Open) -> None:
    canvas = opened(job(stained()))
    task = begin(canvas)
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (350.0, 220.0)))
    assert len(task.trial) == 5
    QTest.keyClick(canvas, Qt.Key.Key_Delete)
    assert (task.held, len(task.trial)) == (None, 4), "a new point is simply not made"
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, STAIN[0]))
    QTest.keyClick(canvas, Qt.Key.Key_Backspace)
    assert (task.held, task.trial) == (None, STAIN)
    QTest.keyClick(canvas, Qt.Key.Key_Backspace)
    assert canvas.work.task is None
    assert canvas._session.project == job(stained())


def test_the_first_press_chooses_what_is_changed_and_another_chooses_another(opened: Open) -> None:
    zone = Zone("zone-1", "left", rectangle(250.0, 330.0))
    canvas = opened(job(stained(zones=(zone,))))
    task = ChangePoints(canvas)
    canvas.work.begin(task)
    assert task.area() is not None
    assert "Press the flaw" in task.guide
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (350.0, 255.0)))
    assert task.target is not None
    assert task.target.name == "stain"
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (120.0, 250.0)))
    assert task.target.name == "left"
    drag(canvas, (250.0, 330.0), (240.0, 320.0))
    assert canvas._session.project.cloths[0].zones[0].outline_mm[2] == pytest.approx((240.0, 320.0), abs=near(canvas))
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (440.0, 30.0)))
    assert task.target.kind == "outline"
    QTest.mouseClick(canvas, LEFT, pos=px(canvas, (440.0, 40.0)))
    assert task.held is None, "a cloth is not carried about"


def test_corners_of_the_cloth_move_and_what_lies_on_it_stays(opened: Open) -> None:
    """The top left corner brought in by 6, 9, then the one below it by 6: the box begins at 6, 0."""
    canvas = opened(job(stained()))
    begin(canvas, "outline", "")
    drag(canvas, (0.0, 0.0), (6.0, 9.0))
    drag(canvas, (0.0, 330.0), (6.0, 330.0))
    cloth = canvas._session.project.cloths[0]
    assert cloth.outline_mm is not None
    left, top = cloth.outline_mm[0]
    assert (left, top) == (pytest.approx(0.0, abs=2 * near(canvas)), pytest.approx(9.0, abs=near(canvas)))
    assert cloth.flaws[1].points_mm[0][0] == pytest.approx(294.0, abs=2 * near(canvas))


def test_beyond_the_cloth_no_outline_reaches(opened: Open) -> None:
    canvas = opened(job(stained()))
    said: list[str] = []
    canvas.hint.connect(said.append)
    begin(canvas, "outline", "")
    drag(canvas, (460.0, 0.0), (480.0, -10.0))
    assert "reaches beyond the cloth of 460.0 mm x 330.0 mm" in said[0].replace("×", "x")
    assert canvas._session.project == job(stained())


def test_points_are_those_of_the_washed_cloth(opened: Open) -> None:
    """Washed by 10 % across: the corner at 300 lies at 270 now, and the figures contain the wash from then on."""
    canvas = opened(job(stained(changes=(Change("washing", -10.0, 0.0),))))
    begin(canvas)
    drag(canvas, (270.0, 215.0), (275.0, 215.0))
    flaw = canvas._session.project.cloths[0].flaws[1]
    assert flaw.changes_in == 1
    assert flaw.points_mm[0] == pytest.approx((275.0, 215.0), abs=near(canvas))
    assert flaw.points_mm[1] == pytest.approx((360.0, 225.0))


def test_keys_find_something_to_change_by_themselves(opened: Open) -> None:
    canvas = opened(job(linen(), leftover()))
    task = ChangePoints(canvas)
    canvas.work.begin(task)
    QTest.keyClick(canvas, Qt.Key.Key_Delete)
    QTest.keyClick(canvas, Qt.Key.Key_N)
    assert task.target is not None
    assert task.target.kind == "outline"
    task.accept()
    assert canvas.work.task is None


def test_keys_go_from_one_drawn_thing_to_the_next(opened: Open) -> None:
    zone = Zone("zone-1", "left", rectangle(200.0, 330.0))
    canvas = opened(job(stained(zones=(zone,)), leftover()))
    task = ChangePoints(canvas)
    canvas.work.begin(task)
    assert "A goes from one to the next" in task.guide
    met = []
    for _ in range(6):
        QTest.keyClick(canvas, Qt.Key.Key_A)
        assert task.target is not None
        met.append((task.target.cloth.id, task.target.kind, task.target.id))
        sheet = canvas.bench.sheet(task.target.cloth.id)
        assert sheet.from_table.at(canvas.work.at_mm) == pytest.approx(task.target.points[0])
    of_linen = [("flaw", "flaw-1"), ("flaw", "flaw-2"), ("zone", "zone-1"), ("outline", "")]
    assert met == [*(("cloth-1", *each) for each in of_linen), ("cloth-2", "outline", ""), ("cloth-1", *of_linen[0])]
    QTest.keyClick(canvas, Qt.Key.Key_A, SHIFT)
    assert task.target is not None
    assert task.target.cloth.id == "cloth-2"
    # Back to the stain; its first point is picked up, carried 10 mm and set down.
    for _ in range(3):
        QTest.keyClick(canvas, Qt.Key.Key_A, SHIFT)
    assert (task.target.kind, task.target.id) == ("flaw", "flaw-2")
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    assert task.held == 0
    QTest.keyClick(canvas, Qt.Key.Key_A)
    assert (task.target.id, task.held) == ("flaw-2", 0), "what is held is set down first"
    QTest.keyClick(canvas, Qt.Key.Key_Left, SHIFT)
    QTest.keyClick(canvas, Qt.Key.Key_Return)
    assert points(canvas) == [(290.0, 215.0), *STAIN[1:]]


def test_the_first_key_back_leads_to_the_last_thing(opened: Open) -> None:
    canvas = opened(job(stained(), leftover()))
    task = ChangePoints(canvas)
    canvas.work.begin(task)
    QTest.keyClick(canvas, Qt.Key.Key_A, SHIFT)
    assert task.target is not None
    assert task.target.cloth.id == "cloth-2"


def test_without_a_cloth_there_is_nothing_to_go_to(opened: Open) -> None:
    canvas = opened(Project())
    task = ChangePoints(canvas)
    canvas.work.begin(task)
    QTest.keyClick(canvas, Qt.Key.Key_A)
    assert task.target is None


def test_a_task_ends_with_what_it_is_about(opened: Open) -> None:
    canvas = opened(job(stained()))
    begin(canvas)
    canvas._session.do(remove_flaw("cloth-1", "flaw-2"))
    assert canvas.work.task is None


def test_grips_are_painted_and_tell_a_crossing_by_their_line(opened: Open) -> None:
    canvas = opened(job(stained()))
    bare = canvas.grab().toImage()
    begin(canvas)
    resting = canvas.grab().toImage()
    assert resting != bare
    QTest.mousePress(canvas, LEFT, pos=px(canvas, STAIN[3]))
    QTest.mouseMove(canvas, px(canvas, (350.0, 190.0)))
    QApplication.processEvents()
    assert canvas.grab().toImage() != resting
    QTest.mouseRelease(canvas, LEFT, pos=px(canvas, (350.0, 190.0)))


def test_the_topmost_drawn_thing_is_found(opened: Open) -> None:
    zone = Zone("zone-1", "left", rectangle(350.0, 330.0))
    cloth = stained(zones=(zone,))
    names = [
        found.name if (found := drawn_at(cloth, at)) else None
        for at in ((340.0, 250.0), (20.0, 20.0), (455.0, 9.0), (-9.0, 0.0))
    ]
    assert names == ["stain", "left", "Linen", None]
    crease = drawn_at(cloth, (100.0, 305.0))
    assert crease is not None
    assert (crease.id, crease.closed, len(crease.edges())) == ("flaw-1", False, 1)
    assert drawn_of(Project(), "outline", "cloth-1") is None
