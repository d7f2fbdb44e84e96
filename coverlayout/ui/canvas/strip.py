"""The strip at the top of the canvas: what is being done there and what comes next, with Done and Leave."""

from __future__ import annotations

from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.tasks.typed_place import TypedPlace
from coverlayout.ui.theme import Theme

__all__ = ["Strip"]


class Strip(QWidget):
    """Shown while a task is under way on the canvas; it lies over the canvas and moves nothing."""

    def __init__(self, canvas: Canvas, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._canvas, self._theme = canvas, theme
        self.title = label(role="title")
        self.guide = label()
        self.guide.setAccessibleName("What to do next")
        self.done = button(
            "Done", self._done, tip="Take it as it is: Return (or a click) once more at the last point.", role="first"
        )
        self.leave = button("Leave", canvas.work.leave, tip="Give it up; nothing changes (Escape).", role="quiet")
        keeps_room = self.done.sizePolicy()
        keeps_room.setRetainSizeWhenHidden(True)
        self.done.setSizePolicy(keeps_room)
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(16, 4, 8, 4)
        self.row.setSpacing(12)
        self.row.addWidget(self.title)
        self.row.addWidget(self.guide, 1)
        self.place = TypedPlace(canvas, self)
        self.row.addWidget(self.place)
        self.row.addWidget(self.done)
        self.row.addWidget(self.leave)
        canvas.work.changed.connect(self.show_task)
        self.hide()

    def _done(self) -> None:
        if self._canvas.work.task is not None:
            self._canvas.work.task.accept()

    def show_task(self) -> None:
        """Say what is under way; nothing is shown while there is none."""
        task = self._canvas.work.task
        self.setVisible(task is not None)
        if task is None:
            self._canvas.work.cover(RULER_PX)
        else:
            self.title.setText(task.title)
            self.guide.setText(task.guide)
            self.done.setVisible(task.can_accept)
            self.raise_()
            self.fit()

    def fit(self) -> None:
        """At the top of the canvas, below the ruler, as wide as the canvas; it never shrinks while a task goes on.

        The table makes way for it: one that changed its height with each of its sentences would make it jump.
        """
        width = self._canvas.width() - RULER_PX
        kept = self.height() if self._canvas.work.covered_px > RULER_PX and width == self.width() else 0
        field = self.place.sizeHint().height() + self.row.contentsMargins().top() + self.row.contentsMargins().bottom()
        height = max(self.row.totalHeightForWidth(width), self.minimumSizeHint().height(), field, kept)
        self.setGeometry(RULER_PX, RULER_PX, width, height)
        if not self.isHidden():
            self._canvas.work.cover(RULER_PX + height)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._theme = theme
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press beside the buttons reaches nothing that lies below."""
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A field with a line below."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self._theme.color("field"))
            painter.setPen(self._theme.color("accent"))
            painter.drawLine(0, self.height() - 1, self.width(), self.height() - 1)
