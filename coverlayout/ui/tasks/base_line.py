"""The task of setting the base line: a motif, the same motif again far away, and what they tell of the print."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from coverlayout.cloth.base_line import LineFound, nearest_readings
from coverlayout.cloth.cloth import BaseLine, Cloth
from coverlayout.document.measuring.base_lines import laid_at, line_found, set_base_line
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, sentence
from coverlayout.exporting.measuring.by_line import Side, seen_deg
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds
from coverlayout.ui.painting.cloths import rect_of
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.seeing.base_lines import paint_line
from coverlayout.ui.table.bench import Sheet
from coverlayout.ui.tasks.task import Task
from coverlayout.units import turn_words

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["BaseLineTask", "found_words", "repeats_words"]

# A press this near to an end takes that end in hand.
_GRIP_PX = 10.0
_READINGS = 6
_REACH_PX = 12.0


class BaseLineTask(Task):
    """Two presses set the ends; an end can be dragged, or set again; R reads the number of repeats another way.

    On a cloth without a print (or with plain stripes) the line is only measured from. `lines` are the ends chosen so
    far, in the frame of the cloth.
    """

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self.title = sentence("task-base-line", {})
        self.ends: list[Point] = []
        self._cloth_id = ""
        self._held: int | None = None
        self._pointed: Point | None = None
        self._reading = 0

    # What it works on

    @property
    def _project(self) -> Project:
        return self.canvas.shown.project

    def _sheet(self) -> Sheet:
        return self.canvas.bench.sheet(self._cloth_id)

    @property
    def line(self) -> BaseLine | None:
        """The line as it would be set now, None until both ends are there."""
        if len(self.ends) < 2:
            return None
        readings = self._readings()
        repeats = readings[self._reading % len(readings)] if readings else (0, 0)
        cloth = self._project.cloth(self._cloth_id)
        measured = cloth.base_line is None or cloth.base_line.measured_from
        return BaseLine(self.ends[0], self.ends[1], repeats, measured_from=measured and not readings)

    def _readings(self) -> tuple[tuple[int, int], ...]:
        """How many repeats may lie between the ends, the likeliest first; none where no print tells."""
        cloth: Cloth = self._project.cloth(self._cloth_id)
        _, laid = laid_at(cloth, self.ends[0])
        if laid is None:
            return ()
        lattice = self._project.print_of(laid.print_id).lattice
        if lattice.b_mm is None:
            return ()
        found = nearest_readings(cloth, laid, lattice, (self.ends[0], self.ends[1]), _READINGS)
        # Where nothing can be, the likeliest is shown with the reason.
        return tuple(filter(self._can_be, found)) or found[:1]

    def _can_be(self, repeats: tuple[int, int]) -> bool:
        try:
            line_found(self._project, self._cloth_id, BaseLine(self.ends[0], self.ends[1], repeats))
        except BadInput:
            return False
        return True

    def _found(self) -> LineFound | None:
        """What the line tells of the print, None where it only serves to measure from. BadInput when it cannot be."""
        line = self.line
        if line is None:
            return None
        if not self._readings():
            set_base_line(self._cloth_id, line, lay=False).change(self._project)
            return None
        return line_found(self._project, self._cloth_id, line)

    # What it says

    @property
    def guide(self) -> str:
        """The next end, then what was found."""
        if len(self.ends) < 2:
            return sentence("task-base-line-end" if self.ends else "task-base-line-start", {})
        try:
            found = self._found()
        except BadInput as refused:
            return self._project.preferences.length_style.said(refused.remark)
        line = self.line
        if found is None or line is None:
            return sentence("task-base-line-plain", {})
        side = self._project.preferences.side
        words = {"repeats": repeats_words(line.repeats), "found": found_words(found, side)}
        return sentence("task-base-line-found", words)

    @property
    def can_accept(self) -> bool:
        """True when both ends are there and make a line."""
        try:
            self._found()
        except BadInput:
            return False
        return self.line is not None

    def zero(self) -> Point:
        """Typed places count from the top left, as seen, of the cloth the line lies on."""
        if not self._cloth_id:
            return super().zero()
        box = self._sheet().box
        return box.left_mm, box.top_mm

    # Hands and keys

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """Set the next end, or take one in hand; with both there, the nearer one comes here."""
        del modifiers
        if not self.ends:
            sheet = self.canvas.bench.sheet_at(at_mm)
            if sheet.cloth is None:
                self.canvas.hint.emit(sentence("task-base-line-beside", {}))
                return
            self._cloth_id = sheet.id
        here = self._sheet().from_table.at(at_mm)
        near = [math.dist(here, end) * self.canvas.view.px_per_mm for end in self.ends]
        if len(self.ends) == 2:
            self._held = near.index(min(near))
            if min(near) > _GRIP_PX:
                self._set(self._held, here)
        elif near and near[0] <= _GRIP_PX:
            self._held = 0
        else:
            self.ends.append(here)
            self._held, self._reading = len(self.ends) - 1, 0

    def _set(self, at: int, to_mm: Point) -> None:
        self.ends[at], self._reading = to_mm, 0

    def over(self, at_mm: Point, *, held: bool) -> None:
        """An end in hand goes along; else the line is shown to where it would end."""
        here = self._sheet().from_table.at(at_mm) if self._cloth_id else at_mm
        self._pointed = here
        if held and self._held is not None and self._held < len(self.ends):
            self._set(self._held, here)

    def up(self, at_mm: Point) -> None:
        """Let the end go."""
        self.over(at_mm, held=True)
        self._held = None

    def key(self, event: QKeyEvent) -> bool:
        """R: another number of repeats between the ends."""
        if event.key() != Qt.Key.Key_R or len(self.ends) < 2:
            return False
        self._reading += 1
        self.canvas.work.changed.emit()
        return True

    def back(self) -> bool:
        """Take the last end back."""
        if not self.ends:
            return False
        self.ends.pop()
        self._held, self._reading = None, 0
        if not self.ends:
            self._cloth_id = ""
        return True

    def area(self) -> QRectF | None:
        """The line, and what it is led to."""
        if not self.ends:
            return None
        by = self._sheet().to_table.then(self.canvas.view.to_screen)
        seen = by.ring((*self.ends, self._pointed or self.ends[0]))
        return rect_of(bounds(seen)).adjusted(-_REACH_PX, -_REACH_PX, _REACH_PX, _REACH_PX)

    def accept(self) -> None:
        """Set the line, and lay the print by it where it tells of one: one step."""
        line = self.line
        if line is None or not self.can_accept:
            return
        cloth = self._project.cloth(self._cloth_id)
        edit = set_base_line(cloth.id, line, lay=bool(self._readings()), name=cloth.name)
        self.canvas.work.leave()
        self.canvas.do(edit)

    def look_at(self, project: Project) -> bool:
        """Without its cloth the task is over."""
        return not self._cloth_id or any(cloth.id == self._cloth_id for cloth in project.cloths)

    # Painting

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """The line, as far as it is known, and both motifs at its ends."""
        if not self.ends or not self._cloth_id:
            return
        by = scene.drawing.sheet_map(self._sheet())
        end = self.ends[1] if len(self.ends) == 2 else self._pointed or self.ends[0]
        paint_line(painter, scene.drawing.theme, by.at(self.ends[0]), by.at(end))


def repeats_words(repeats: tuple[int, int]) -> str:
    """How many repeats lie between the ends, both ways.

    >>> repeats_words((4, -1)), repeats_words((1, 0))
    ('4 repeats across and -1 along', '1 repeat across and 0 along')
    """
    code = "base-line-repeat" if abs(repeats[0]) == 1 else "base-line-repeats"
    return sentence(code, {"first": repeats[0], "second": repeats[1]})


def found_words(found: LineFound, side: Side) -> str:
    """By how much the print is turned, as seen from that side, and larger or smaller than it was laid."""
    code = "base-line-larger" if found.stretch_percent >= 0 else "base-line-smaller"
    turned = turn_words(seen_deg(found.turned_deg, side))
    return sentence(code, {"turned": turned, "percent": f"{abs(found.stretch_percent):.2f}"})
