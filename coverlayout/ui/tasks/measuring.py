"""Measure on the canvas: press and drag, two clicks, or keys; nothing in the project changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QGuiApplication, QPainter

from coverlayout.cloth.base_line import base_line_now
from coverlayout.document.project import Project
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.measuring.catching import Caught, Edging, caught
from coverlayout.layout.measuring.measure import Measure, measured, square_deg
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.seeing.edgings import edgings_of
from coverlayout.ui.seeing.measure_sketch import MeasureSketch, catch_area, paint_catch, sketched
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.tasks.task import Task

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["CATCH_PX", "Measuring"]

CATCH_PX = 8.0
"""Within so many pixels the end of a measure catches."""

_End = tuple[str, Point]
"""A sheet and a place on it: so an end stays where it is on the cloth when the cloth is turned over."""


class Measuring(Task):
    """Measures one line after another; the last one stays until the next begins or the task is left."""

    title = "Measure"

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self._start: _End | None = None
        self._end: _End | None = None
        # The second end still follows the hand.
        self._open = False
        self._from = ""
        self._near: Caught | None = None
        self._edgings: tuple[Bench, tuple[Edging, ...]] | None = None

    # What is said

    @property
    def guide(self) -> str:
        """What to do, where the measure starts, or what it came to."""
        found = self.measure
        if self._start is None:
            return sentence("measuring-begin", {})
        if self._open or found is None:
            return sentence("measuring-from" if self._from else "measuring-on", {"place": self._from})
        figures: dict[str, str | int | float] = {
            "length_mm": found.length_mm,
            "across_mm": found.across_mm,
            "along_mm": found.along_mm,
            "lean": f"{self._off_deg(found):.1f}",
            "cloth": self._line_of or "",
        }
        code = "measuring-found-by-line" if self._line_of else "measuring-found"
        return sentence(code, figures, self.canvas.shown.project.preferences.length_style.show)

    @property
    def measure(self) -> Measure | None:
        """The measure as it is seen now, in table mm; None while it has no second end."""
        if self._start is None or self._end is None:
            return None
        return measured(self._on_table(self._start), self._on_table(self._end), self._across_deg())

    @property
    def _line_of(self) -> str | None:
        """The name of the cloth whose base line says which way is across, None when the edges do."""
        start, end = self._start, self._end
        if start is None or end is None or start[0] != end[0]:
            return None
        cloth = self.canvas.bench.sheet(start[0]).cloth
        line = cloth.base_line if cloth else None
        return cloth.name if cloth and line and line.measured_from else None

    def _across_deg(self) -> float:
        """The direction that counts as across: straight to the right, or square to the base line."""
        if self._line_of is None or self._start is None:
            return 0.0
        sheet = self.canvas.bench.sheet(self._start[0])
        line = base_line_now(sheet.cloth) if sheet.cloth else None
        return 0.0 if line is None else square_deg(*sheet.to_table.ring(line))

    def _sketch(self, found: Measure, to_screen: Affine) -> MeasureSketch:
        style = self.canvas.shown.project.preferences.length_style
        return sketched(found, to_screen, style, self._off_deg(found))

    def _off_deg(self, found: Measure) -> float:
        """How far the measure leans off straight across, or off the base line: 90 when it is square to that."""
        return found.lean_deg if self._line_of is None else 90.0 - abs(found.lean_deg)

    # The hand

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """The second end where one is wanted, else the first of a new measure."""
        near, end = self._caught(at_mm, modifiers)
        if self._open and not self._is_start(end):
            self._end, self._open = end, False
        elif not self._open:
            self._start, self._end, self._open = end, None, True
            self._from = _named(near)

    def over(self, at_mm: Point, *, held: bool) -> None:
        """The open end follows; where it would catch is marked."""
        self._near, end = self._caught(at_mm, QGuiApplication.keyboardModifiers())
        if self._start is not None and (self._open or held):
            self._end = None if self._is_start(end) else end

    def up(self, at_mm: Point) -> None:
        """Dragged that far: there is the second end."""
        _, end = self._caught(at_mm, QGuiApplication.keyboardModifiers())
        if self._start is not None and not self._is_start(end):
            self._end, self._open = end, False

    def back(self) -> bool:
        """The second end is free again, then the first is taken back."""
        if self._start is None:
            return False
        if self._open:
            self._start = self._end = None
        self._open = self._start is not None
        return True

    def _caught(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> tuple[Caught | None, _End]:
        """What catches there, and the end that makes; Ctrl holds it off."""
        near = None
        if not modifiers & Qt.KeyboardModifier.ControlModifier:
            near = caught(at_mm, self._catching(), CATCH_PX / self.canvas.view.px_per_mm)
        place = near.at_mm if near else at_mm
        bench = self.canvas.bench
        sheet = next((each for each in bench.sheets if _holds(each.box, place)), bench.waiting)
        return near, (sheet.id, sheet.from_table.at(place))

    def _catching(self) -> tuple[Edging, ...]:
        bench = self.canvas.bench
        if self._edgings is None or self._edgings[0] is not bench:
            self._edgings = bench, edgings_of(self.canvas.shown.project, bench)
        return self._edgings[1]

    def _on_table(self, end: _End) -> Point:
        return self.canvas.bench.sheet(end[0]).to_table.at(end[1])

    def _is_start(self, end: _End) -> bool:
        if self._start is None:
            return False
        return measured(self._on_table(self._start), self._on_table(end)).length_mm <= SAME_LENGTH_MM

    # Showing

    def look_at(self, project: Project) -> bool:
        """What was measured on a cloth that is gone is gone too."""
        there = {WAITING, *(cloth.id for cloth in project.cloths)}
        if any(end is not None and end[0] not in there for end in (self._start, self._end)):
            self._start = self._end = None
            self._open = False
        self._near = None
        return True

    def area(self) -> QRectF:
        """Around the measure and the mark where it would catch."""
        to_screen, found = self.canvas.view.to_screen, self.measure
        area = QRectF()
        if found is not None:
            area = self._sketch(found, to_screen).area
        if self._start is not None:
            area = area.united(catch_area(to_screen.at(self._on_table(self._start))))
        if self._near is not None:
            area = area.united(catch_area(to_screen.at(self._near.at_mm)))
        return area

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """The measure, its first end while it waits for the second, and where it would catch."""
        to_screen, found = scene.drawing.to_screen, self.measure
        if found is not None:
            self._sketch(found, to_screen).paint(painter)
        elif self._start is not None:
            paint_catch(painter, Caught(self._on_table(self._start), "edge", ""), to_screen)
        if self._near is not None:
            paint_catch(painter, self._near, to_screen)


def _holds(box: Box, at_mm: Point) -> bool:
    """True for a place in the box or on its edge, float dust aside."""
    x, y = at_mm
    across = box.left_mm - SAME_LENGTH_MM <= x <= box.right_mm + SAME_LENGTH_MM
    return across and box.top_mm - SAME_LENGTH_MM <= y <= box.bottom_mm + SAME_LENGTH_MM


def _named(near: Caught | None) -> str:
    return sentence(f"measuring-{near.kind}", {"name": near.name}) if near else ""
