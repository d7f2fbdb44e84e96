"""The task under way on the canvas, if any: the pointer, the keys and the painting go to it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QDeadlineTimer, QObject, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPen, QRegion

from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.tasks.task import Task

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["ARROWS", "STEPS_MM", "Work", "step_mm"]

# A hand trembles: within this many pixels a press is a click, and a second click is a double one.
_STILL_PX = 3.0
_CROSS_PX = 12.0
STEPS_MM = (1.0, 10.0, 0.1)
"""How far an arrow key goes: by itself, with Shift, with Ctrl or Alt."""
ARROWS: dict[int, Point] = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}
"""Where each arrow key leads, as seen."""
# How the table is looked at may change during any task: these letters stay with their acts.
_LOOKING = (Qt.Key.Key_B, Qt.Key.Key_F, Qt.Key.Key_L, Qt.Key.Key_O)
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
# A hand that presses Return once more than it takes presses it within this time after the task ended.
_AFTER_MS = 600


def step_mm(modifiers: Qt.KeyboardModifier) -> float:
    """How far an arrow key goes with these modifiers held."""
    usual, far, fine = STEPS_MM
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return far
    return fine if modifiers & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier) else usual


class Work(QObject):
    """Holds the task of one canvas. `changed` tells that the task, or what it says, is another.

    `typed` carries a digit, sign or point that was typed while a task is under way: a place is given by number.
    """

    changed = Signal()
    typed = Signal(str)

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self._canvas = canvas
        self.task: Task | None = None
        self.covered_px: float = RULER_PX
        """So much at the top of the canvas is covered by the ruler and by what is said of the task."""
        # The crosshair: the place that keys move, and where the pointer was last.
        self.at_mm: Point = (0.0, 0.0)
        self._by_keys = False
        self._pressed_px: Point | None = None
        self._moved = False
        self._last_down: Point | None = None
        self._touched = QRegion()
        # Until then a further Return is still meant for the task it ended.
        self._ending = QDeadlineTimer(0)
        self._tick = QTimer(self, singleShot=True, interval=0)
        self._tick.timeout.connect(self._over)

    def begin(self, task: Task) -> None:
        """Leave what is under way and begin this."""
        self.leave()
        self._canvas.leave_gesture()
        self.task = task
        self.at_mm = self._canvas.view.mm_at(self._canvas.sight.room_px.middle)
        self._by_keys, self._pressed_px, self._last_down = False, None, None
        self._canvas.setFocus()
        self._canvas.hand.show_pointer()
        self._canvas.update()
        self.changed.emit()

    def leave(self) -> None:
        """Leave the task; nothing happens when there is none."""
        task, self.task = self.task, None
        if task is not None:
            self._tick.stop()
            task.end()
            self._canvas.hand.show_pointer()
            self._canvas.update()
            self.changed.emit()

    def cover(self, to_px: float) -> None:
        """The top of the canvas is covered down to there; the table makes way for it, and comes back."""
        before_px, self.covered_px = self.covered_px, to_px
        if to_px != before_px:
            self._canvas.sight.make_way(before_px, to_px)
            self._canvas.update()

    def look_at(self, project: Project) -> None:
        """The project changed."""
        if self.task is not None and not self.task.look_at(project):
            self.leave()
        elif self.task is not None:
            self._canvas.update()
            self.changed.emit()

    # Pointer

    def press(self, event: QMouseEvent) -> bool:
        """A press of the left button; False when there is no task."""
        if self.task is None or event.button() != Qt.MouseButton.LeftButton:
            return False
        self._pressed_px, self._moved, self._by_keys = _place(event), False, False
        self.at_mm = self._canvas.view.mm_at(self._pressed_px)
        self.set_point(self.at_mm, event.modifiers(), near_mm=_STILL_PX / self._canvas.view.px_per_mm)
        return True

    def move(self, event: QMouseEvent) -> bool:
        """The pointer is there now; False when there is no task, or the hand moves the table."""
        if self.task is None or self._canvas.hand.holds:
            return False
        at_px = _place(event)
        if self._pressed_px is not None and math.dist(at_px, self._pressed_px) >= _STILL_PX:
            self._moved = True
        self.at_mm, self._by_keys = self._canvas.view.mm_at(at_px), False
        self._soon()
        return True

    def release(self, event: QMouseEvent) -> bool:
        """The pointer was let go; False when the press was not the task's."""
        if self.task is None or self._pressed_px is None or event.button() != Qt.MouseButton.LeftButton:
            return False
        self._pressed_px = None
        if self._moved:
            self.at_mm = self._canvas.view.mm_at(_place(event))
            self.task.up(self.at_mm)
            self._last_down = self.at_mm
            self.show()
        return True

    def set_point(self, at_mm: Point, modifiers: Qt.KeyboardModifier, *, near_mm: float = 0.0) -> None:
        """`down` at a place in table mm; `accept` where the last one was within `near_mm` of it."""
        task = self.task
        if task is None:
            return
        again = self._last_down is not None and math.dist(at_mm, self._last_down) <= near_mm
        self._last_down = at_mm
        if again and task.ends_twice and task.can_accept:
            task.accept()
        else:
            task.down(at_mm, modifiers)
        self.show()

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """Do what a key asks of the task; False when it has no use for it."""
        task, key = self.task, event.key()
        if task is None:
            return self._is_ending(event)
        if task.key(event):
            self.show()
        elif key in ARROWS:
            self._step(ARROWS[key], step_mm(event.modifiers()))
        elif key in _ENTER:
            self._enter(event)
        elif key == Qt.Key.Key_Escape or (key == Qt.Key.Key_Backspace and not task.back()):
            self.leave()
        elif key == Qt.Key.Key_Backspace:
            self._last_down = None
            self.show()
        elif event.text() and event.text() in "0123456789-+.,":
            self.typed.emit(event.text())
        else:
            return False
        return True

    def wants(self, event: QKeyEvent) -> bool:
        """True for a key that is the task's own, whatever else it stands for in the window."""
        held = event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
        plain = held == Qt.KeyboardModifier.NoModifier
        if self.task is None:
            return plain and self._is_ending(event)
        own = event.key() not in _LOOKING and (bool(event.text()) or event.key() in ARROWS)
        return plain and own

    def _enter(self, event: QKeyEvent) -> None:
        """A point at the crosshair, or the end at the last one; a key held down says it once."""
        if not event.isAutoRepeat():
            self.set_by_key(self.at_mm, event.modifiers())

    def set_by_key(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """`set_point` for a press of Return: when it ends the task, another that follows at once goes nowhere."""
        self.set_point(at_mm, modifiers)
        if self.task is None:
            self._ending.setRemainingTime(_AFTER_MS)

    def _is_ending(self, event: QKeyEvent) -> bool:
        """True for a Return that comes so soon after the one that ended a task that it can mean nothing else."""
        return event.key() in _ENTER and not self._ending.hasExpired()

    def _step(self, towards: Point, by_mm: float) -> None:
        self.show_crosshair((self.at_mm[0] + towards[0] * by_mm, self.at_mm[1] + towards[1] * by_mm))

    def show_crosshair(self, at_mm: Point) -> None:
        """Bring the crosshair to a place in table mm, and show it."""
        self.at_mm, self._by_keys = at_mm, True
        self._over()

    # Showing

    def _soon(self) -> None:
        if not self._tick.isActive():
            self._tick.start()

    def _over(self) -> None:
        if self.task is not None:
            self.task.over(self.at_mm, held=self._pressed_px is not None)
            self.show(words=False)

    def show(self, *, words: bool = True) -> None:
        """Paint the task anew; `words`: what it says may be another too."""
        task = self.task
        if task is None:
            return
        now = self._area_now(task)
        if now is None:
            self._canvas.update()
        else:
            before, self._touched = self._touched, now
            self._canvas.update(self._touched.united(before))
        if words:
            self.changed.emit()

    def _area_now(self, task: Task) -> QRegion | None:
        """What the task and the crosshair paint now; None for anywhere."""
        area = task.area()
        if area is None:
            return None
        at_px = self._canvas.view.to_screen.at(self.at_mm)
        cross = QRectF(at_px[0] - _CROSS_PX, at_px[1] - _CROSS_PX, 2 * _CROSS_PX, 2 * _CROSS_PX)
        return QRegion(area.united(cross).toAlignedRect().adjusted(-2, -2, 2, 2))

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """What the task shows, and the crosshair while keys move it."""
        if self.task is None:
            return
        self.task.paint(painter, scene)
        # Whatever made the canvas paint (a pan, a zoom), what is painted here now is to go at the next step.
        self._touched = self._touched.united(self._area_now(self.task) or QRegion())
        if self._by_keys:
            x, y = scene.drawing.to_screen.at(self.at_mm)
            for color, width in (("panel", 3.5), ("ink", 1.5)):
                painter.setPen(QPen(scene.drawing.theme.color(color), width))
                painter.drawLine(round(x - _CROSS_PX), round(y), round(x + _CROSS_PX), round(y))
                painter.drawLine(round(x), round(y - _CROSS_PX), round(x), round(y + _CROSS_PX))


def _place(event: QMouseEvent) -> Point:
    return event.position().x(), event.position().y()
