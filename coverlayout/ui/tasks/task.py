"""A task: what the hand does on the canvas instead of moving pieces, by pointer and by keys alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QPainter

from coverlayout.document.project import Project
from coverlayout.geometry.frames import Point
from coverlayout.ui.painting.layers import Scene

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Task"]


class Task:
    """One task on one canvas, from `canvas.work.begin(task)` until it is left.

    Places are table mm; `canvas.bench.sheet_at(at).from_table` leads to the cloth. `down` comes for a press of the
    pointer and for Enter at the crosshair, so that everything can be done by keys; `up` only for a pointer that moved
    while it was pressed. A second `down` at the place of the last one is `accept`, and so is a double click. A task
    changes the project through `canvas.do(edit)`, once: one task, one step of undo.
    """

    title = ""
    """What is being done, in two or three words: it stands at the top of the canvas."""
    cursor = Qt.CursorShape.CrossCursor
    ends_twice = True
    """A second `down` at the place of the last one is `accept`; False where one spot is pressed again and again."""

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas

    @property
    def guide(self) -> str:
        """What to do next, in one sentence; call `canvas.work.changed.emit()` when it changes."""
        return ""

    @property
    def can_accept(self) -> bool:
        """True when the task offers Done: `accept` would do something now."""
        return False

    def zero(self) -> Point:
        """Where typed places are counted from, in table mm: the top left, as seen, of the cloth rulers count from."""
        box = self.canvas.shown.measured_sheet().box
        return box.left_mm, box.top_mm

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """Pressed there."""

    def over(self, at_mm: Point, *, held: bool) -> None:
        """The pointer or the crosshair is there now; `held`: the pointer is pressed. Comes at most once a frame."""

    def up(self, at_mm: Point) -> None:
        """Let go there, after a movement."""

    def accept(self) -> None:
        """Done: make the edit, and leave by `canvas.work.leave()` if the task is over."""

    def back(self) -> bool:
        """Take the last thing back (Backspace); False when there is nothing to take back, and the task is left."""
        return False

    def key(self, event: QKeyEvent) -> bool:
        """A key that is none of those every task has; True when it was of use."""
        del event
        return False

    def look_at(self, project: Project) -> bool:
        """The project changed; False when the task has lost what it was about, and is left."""
        del project
        return True

    def area(self) -> QRectF | None:
        """The pixels the task paints now, so that no more is painted anew; None: anywhere."""
        return None

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """Paint what the task shows, over everything else."""

    def end(self) -> None:
        """The task is left, done or given up."""
