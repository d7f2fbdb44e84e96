"""Changing what was drawn, point by point: grips at the points, smaller ones between them that make a new point."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPainterPath, QPolygonF

from coverlayout.cloth.outlines import checked_points, remove_point
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring, shift
from coverlayout.geometry.shapes import bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.painting.names import BREACH, CHOSEN, INK, paint_chip
from coverlayout.ui.table.bench import Sheet
from coverlayout.ui.tasks.drawn import Drawn, all_drawn, drawn_at, drawn_of, outline_of
from coverlayout.ui.tasks.task import Task
from coverlayout.ui.theme import halo, pen

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["ChangePoints"]

# How near the pointer must be to a grip, and how large grips are: points, and the middles between them.
_NEAR_PX = 9.0
_POINT_PX, _MIDDLE_PX = 4.5, 3.0
_BESIDE_PX = 150.0
_WHOLE = -1


class ChangePoints(Task):
    """Press a grip and drag it; or pick it up (a click, Enter) and set it down where it shall lie.

    Each point set down is one step of undo; Escape leaves. Without a target the first press chooses what is changed.
    """

    title = "Change points"
    ends_twice = False

    def __init__(self, canvas: Canvas, target: Drawn | None = None) -> None:
        super().__init__(canvas)
        self.target = target
        self.held: int | None = None
        """The point picked up, counted in `trial`; below 0 the whole."""
        self.trial: Ring = target.points if target else ()
        self._from: Point = (0.0, 0.0)
        self._can_be = True
        self._measure()

    def _measure(self) -> None:
        self.canvas.shown.measured_id = self.target.cloth.id if self.target else ""
        self.canvas.update()

    @property
    def _sheet(self) -> Sheet:
        return self.canvas.bench.sheet(self.target.cloth.id if self.target else "")

    @property
    def guide(self) -> str:
        """What a press does now."""
        if self.target is None:
            return "Press the flaw, the zone or the cloth whose points you want to change. A goes from one to the next."
        if self.held is not None:
            return f"{self.target.name}: set it down, or type its place such as 120, 45. Backspace puts it back."
        how = "drag a point; a small one between makes a new one. N next, Delete removes, A another."
        return f"{self.target.name}: {how}"

    @property
    def can_accept(self) -> bool:
        """Done, once there is something that was changed."""
        return self.target is not None and self.held is None

    def accept(self) -> None:
        """Everything is made already."""
        self.canvas.work.leave()

    # What the hand does

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """Set down what is held; else take hold of a grip, of the whole, or of something else that was drawn."""
        del modifiers
        if self.held is not None:
            self._carry(at_mm)
            self._set_down()
            return
        if self.target is not None and self._take_hold(at_mm):
            return
        sheet = self.canvas.bench.sheet_at(at_mm)
        found = None if sheet.cloth is None else drawn_at(sheet.cloth, sheet.from_table.at(at_mm))
        if found is None:
            return
        if self.target is None or (found.kind, found.id) != (self.target.kind, self.target.id):
            self._choose(found)
        elif found.kind != "outline":
            self._hold(_WHOLE, found.points, sheet.from_table.at(at_mm))

    def _choose(self, found: Drawn) -> None:
        self.target, self.trial, self.held = found, found.points, None
        self._measure()

    def _take_hold(self, at_mm: Point) -> bool:
        """Take the nearest grip under the pointer; a middle becomes a point. False when none is near."""
        assert self.target is not None
        grip = self._grip_at(at_mm)
        if grip is None:
            return False
        at, is_middle, place = grip
        points = self.target.points
        if is_middle:
            self._hold(at + 1, (*points[: at + 1], place, *points[at + 1 :]), place)
        else:
            self._hold(at, points, place)
        return True

    def _hold(self, at: int, points: Ring, start: Point) -> None:
        self.held, self.trial, self._from, self._can_be = at, points, start, True

    def _grip_at(self, at_mm: Point) -> tuple[int, bool, Point] | None:
        near_mm = _NEAR_PX / self.canvas.view.px_per_mm
        at = self._sheet.from_table.at(at_mm)
        grips = self.target.grips() if self.target else []
        near = [grip for grip in grips if math.dist(grip[2], at) <= near_mm]
        return min(near, key=lambda grip: (math.dist(grip[2], at), grip[1]), default=None)

    def over(self, at_mm: Point, *, held: bool) -> None:
        """What is held lies there now."""
        del held
        if self.held is not None:
            self._carry(at_mm)

    def _carry(self, at_mm: Point) -> None:
        assert self.target is not None
        assert self.held is not None
        to = self._sheet.from_table.at(at_mm)
        if self.held == _WHOLE:
            self.trial = shift(to[0] - self._from[0], to[1] - self._from[1]).ring(self.target.points)
        else:
            self.trial = (*self.trial[: self.held], to, *self.trial[self.held + 1 :])
        try:
            checked_points(self.trial, closed=self.target.closed, where=self.target.name)
            self._can_be = True
        except BadInput:
            self._can_be = False

    def up(self, at_mm: Point) -> None:
        """A grip that was dragged is set down."""
        if self.held is not None:
            self._carry(at_mm)
            self._set_down()

    def _set_down(self) -> None:
        assert self.target is not None
        points, self.held, self._can_be = self.trial, None, True
        self.trial = self.target.points
        self._try(points)

    def _try(self, points: Ring) -> None:
        """Make the edit; what is refused is told, and everything stays as it was."""
        assert self.target is not None
        edit = self.target.edit(points)
        try:
            self.canvas.with_edit(edit)
        except BadInput as refused:
            self._tell(refused)
            return
        self.canvas.do(edit)

    def _tell(self, refused: BadInput) -> None:
        self.canvas.hint.emit(self.canvas.shown.project.preferences.length_style.said(refused.remark))

    def back(self) -> bool:
        """Put back what is held."""
        if self.held is None or self.target is None:
            return False
        self.held, self.trial, self._can_be = None, self.target.points, True
        return True

    def key(self, event: QKeyEvent) -> bool:
        """N goes from grip to grip, A from thing to thing (Shift: back); Delete removes the point at the crosshair."""
        go = {Qt.Key.Key_N: self._step, Qt.Key.Key_A: self._other}.get(Qt.Key(event.key()))
        if go is not None and self.held is None:
            go(-1 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1)
            return True
        if event.key() == Qt.Key.Key_Delete:
            self._remove()
            return True
        return False

    def _step(self, by: int) -> None:
        """Bring the crosshair to the next grip; without a target, to the next thing that was drawn."""
        work = self.canvas.work
        if self.target is None:
            self._choose_first()
        if self.target is None:
            return
        places = [self._sheet.to_table.at(place) for _, _, place in self.target.grips()]
        here = next((at for at, place in enumerate(places) if math.dist(place, work.at_mm) <= SAME_LENGTH_MM), None)
        at = (0 if by > 0 else -1) if here is None else (here + by) % len(places)
        work.show_crosshair(places[at])

    def _other(self, by: int) -> None:
        """Take up the next thing that was drawn, on whichever cloth, with the crosshair at its first point."""
        things, target = all_drawn(self.canvas.shown.project), self.target
        if not things:
            return
        names = [(each.cloth.id, each.kind, each.id) for each in things]
        if target is None:
            found = things[0 if by > 0 else -1]
        else:
            found = things[(names.index((target.cloth.id, target.kind, target.id)) + by) % len(things)]
        self._choose(found)
        self.canvas.work.show_crosshair(self._sheet.to_table.at(found.points[0]))

    def _choose_first(self) -> None:
        """The thing under the crosshair, else the outline of the first cloth."""
        sheets = self.canvas.bench.sheets
        sheet = self.canvas.bench.sheet_at(self.canvas.work.at_mm)
        if sheet.cloth is None and sheets:
            sheet = sheets[0]
        if sheet.cloth is not None:
            found = drawn_at(sheet.cloth, sheet.from_table.at(self.canvas.work.at_mm))
            self._choose(found or outline_of(sheet.cloth))

    def _remove(self) -> None:
        if self.target is None:
            return
        at = self.held
        if at is None:
            grip = self._grip_at(self.canvas.work.at_mm)
            at = grip[0] if grip is not None and not grip[1] else None
        if at is None or at == _WHOLE:
            return
        taken = len(self.trial) > len(self.target.points)
        self.back()
        if taken:
            return
        try:
            points = remove_point(self.target.points, at, closed=self.target.closed, where=self.target.name)
        except BadInput as refused:
            self._tell(refused)
            return
        self._try(points)

    def look_at(self, project: Project) -> bool:
        """The project changed: the points may be others now."""
        if self.target is None:
            return True
        found = drawn_of(project, self.target.kind, self.target.cloth.id, self.target.id)
        if found is None:
            return False
        self._choose(found)
        return True

    def end(self) -> None:
        """Rulers count from where they did."""
        self.canvas.shown.measured_id = ""
        self.canvas.update()

    # What is seen

    def area(self) -> QRectF | None:
        """The pixels of the outline and its grips."""
        if self.target is None:
            return QRectF()
        by = self._sheet.to_table.then(self.canvas.view.to_screen)
        box = bounds(by.ring((*self.trial, *self.target.points)))
        return QRectF(box.left_mm, box.top_mm, box.width_mm, box.height_mm).adjusted(
            -_BESIDE_PX, -_BESIDE_PX, _BESIDE_PX, _BESIDE_PX
        )

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """The outline as it would be, its grips, and the place of the point that is held."""
        if self.target is None:
            return
        theme = scene.drawing.theme
        by = self._sheet.to_table.then(scene.drawing.to_screen)
        color = CHOSEN if self._can_be else BREACH
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        path = QPainterPath()
        seen = [QPointF(*by.at(point)) for point in self.trial]
        path.addPolygon(QPolygonF([*seen, seen[0]] if self.target.closed else seen))
        painter.strokePath(path, halo("board", theme))
        painter.strokePath(path, pen("board" if self._can_be else "flaw", color))
        painter.setPen(pen("board", color, 1.5))
        painter.setBrush(theme.color("halo"))
        if self.held is None:
            for _, middle in self.target.edges():
                painter.drawEllipse(QPointF(*by.at(middle)), _MIDDLE_PX, _MIDDLE_PX)
        for at, point in enumerate(seen):
            painter.setBrush(color if at == self.held else theme.color("halo"))
            painter.drawRect(QRectF(point.x() - _POINT_PX, point.y() - _POINT_PX, 2 * _POINT_PX, 2 * _POINT_PX))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if self.held is not None and self.held != _WHOLE:
            x, y = by.at(self.trial[self.held])
            paint_chip(painter, QPointF(x, y - 18), self._place(self.trial[self.held]), INK, theme.color("halo"))

    def _place(self, point: Point) -> str:
        """Where a point lies, as rulers and typed places count: from the left and the top, as seen."""
        style = self.canvas.shown.project.preferences.length_style
        left, top = self.zero()
        x, y = self._sheet.to_table.at(point)
        return f"{style.number(x - left)}, {style.show(y - top)}"
