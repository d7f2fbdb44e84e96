"""Two layouts beside each other on the canvas: the one worked on, and another to look at, at the same scale."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from coverlayout.document.layouts.comparing import LayoutFigures, differences, figures_of, lying_elsewhere
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.geometry.frames import Ring
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.layouts.figures_strip import FiguresStrip
from coverlayout.ui.layouts.leftovers import Leftovers
from coverlayout.ui.layouts.marks import GhostMarks
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.theme import Theme

__all__ = ["Comparing"]


# The other canvas follows so long after a picture of the one worked on.
_NEXT_PICTURE_MS = 8


class Comparing(QObject):
    """Compares the layout worked on with `other_id`, empty while nothing is compared. `changed`: begun or ended.

    `second` is the canvas of the other layout with its figures; `first_strip` and `foot` belong under the canvas worked
    on, and under both.
    """

    changed = Signal()
    wanted = Signal(str)

    def __init__(self, session: Session, canvas: Canvas, leftovers: Leftovers, theme: Theme) -> None:
        super().__init__(canvas)
        self._session, self._canvas, self._theme = session, canvas, theme
        self.other_id = ""
        self._other: Canvas | None = None
        self._other_session = Session()
        self._ghosts, self._other_ghosts = GhostMarks(), GhostMarks()
        # What the other canvas shows next: it is painted in a turn of its own.
        self._to_show: tuple[tuple[str, Ring], ...] = ()
        self._figures: tuple[LayoutFigures, LayoutFigures] | None = None
        self._leftovers = leftovers
        leftovers.changed.connect(self._show_figures)
        self._sync = QTimer(self, singleShot=True, interval=_NEXT_PICTURE_MS)
        self._sync.timeout.connect(self._see_alike)
        self.first_strip, self._second_strip = FiguresStrip(theme, in_hand=True), FiguresStrip(theme, in_hand=False)
        self._second_strip.wanted.connect(lambda: self.wanted.emit(self.other_id))
        self.second, self.foot, self.words = QWidget(), QWidget(), label()
        self._column = QVBoxLayout()
        self._arrange()
        canvas.layers.over.append(self._ghosts)
        canvas.overlays.append(self._follow)
        canvas.installEventFilter(self)

    def _arrange(self) -> None:
        line = QWidget()
        line.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        line.setProperty("role", "line")
        line.setFixedWidth(4)
        beside = QHBoxLayout(self.second)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        beside.addWidget(line)
        beside.addLayout(self._column, 1)
        self._column.setSpacing(0)
        self._column.addWidget(self._second_strip)
        row = QHBoxLayout(self.foot)
        row.setContentsMargins(16, 6, 12, 6)
        row.addWidget(self.words, 1)
        row.addWidget(button("End comparing", self.end, tip="See only the layout worked on (Escape)."))
        for widget in (self.first_strip, self.second, self.foot):
            widget.hide()

    @property
    def under_way(self) -> bool:
        """True while two layouts are seen."""
        return bool(self.other_id)

    @property
    def other_canvas(self) -> Canvas | None:
        """The canvas of the layout looked at, None while nothing is compared."""
        return self._other

    def begin(self, other_id: str) -> None:
        """See another layout beside the one worked on."""
        self.other_id = other_id
        self._other_session.replace_all(self._other_project(), self._session.pictures, None)
        if self._other is None:
            self._other = self._made_canvas()
        for widget in (self.first_strip, self.second, self.foot):
            widget.show()
        self.first_strip.name.setText(self._session.project.layout.name)
        self._second_strip.name.setText(self._other_project().layout.name)
        self.words.setText("…")
        self._leftovers.look_beside(self._other_project())
        self._canvas.sight.fit()
        self._sync.start()
        self.changed.emit()

    def end(self) -> None:
        """See only the layout worked on."""
        if not self.under_way:
            return
        self.other_id = ""
        self._leftovers.look_beside(None)
        self._ghosts.show((), self._canvas)
        if self._other is not None:
            self._other.hide()
            self._other.deleteLater()
            self._other = None
        for widget in (self.first_strip, self.second, self.foot):
            widget.hide()
        self._canvas.update()
        self._canvas.setFocus()
        self.changed.emit()

    def look_at(self, old: Project, new: Project) -> None:
        """The project changed: the other layout follows at once, the figures once the hand rests, with what is left."""
        if not self.under_way or old is new:
            return
        ids = [layout.id for layout in new.layouts]
        if new.layout_id == self.other_id:
            # The one looked at is worked on now, so the one worked on before is looked at.
            self.other_id = old.layout_id
        if self.other_id not in ids or self.other_id == new.layout_id:
            self.end()
            return
        self._other_session.replace_all(self._other_project(), self._session.pictures, None)
        self._leftovers.look_beside(self._other_project())

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._theme = theme
        for strip in (self.first_strip, self._second_strip):
            strip.dress(theme)
        if self._other is not None:
            self._other.set_theme(theme)

    def _other_project(self) -> Project:
        return replace(self._session.project, layout_id=self.other_id)

    def _made_canvas(self) -> Canvas:
        """A canvas to look at: neither mouse nor keys reach it."""
        made = Canvas(self._other_session, self._theme)
        made.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        made.setAccessibleName(Remark("layouts-other-canvas").text())
        made.layers.over.append(self._other_ghosts)
        # Its first picture comes after the one of the canvas worked on, which is narrower now: never both in one go.
        made.setUpdatesEnabled(False)
        self._column.insertWidget(0, made, 1)
        return made

    def _show_figures(self) -> None:
        project, style = self._session.project, self._session.project.preferences.length_style
        if not self.under_way or self._leftovers.old:
            return
        try:
            first, second = figures_of(project, project.layout_id), figures_of(project, self.other_id)
            told = [style.said(each) for each in differences(project, first, second)]
            moved = lying_elsewhere(project, project.layout_id, self.other_id)
            self._ghosts.show(_outlines(project, self.other_id, moved), self._canvas)
            self._to_show = _outlines(project, project.layout_id, moved)
            self._sync.start()
        except CoverlayoutError as fault:
            self.words.setText(style.said(fault.remark))
            return
        self.first_strip.show_figures(first, style)
        self._second_strip.show_figures(second, style)
        if moved:
            told.append(Remark("layouts-ghosts").text())
        self.words.setText(". ".join(told) + ".")

    # The same scale, the same place

    def _follow(self, painter: QPainter, scene: Scene) -> None:
        """The canvas worked on is painted: where it looks elsewhere than the other, that one follows."""
        del painter, scene
        if self._other is not None and self._other.view != self._canvas.view and not self._sync.isActive():
            self._sync.start()

    def _see_alike(self) -> None:
        if self._other is not None:
            self._other_ghosts.show(self._to_show, self._other)
            self._other.sight.pan_to(self._canvas.view)
            self._other.setUpdatesEnabled(True)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Escape ends the comparing when the canvas has nothing else to let go of."""
        kind = event.type()
        if self.under_way and kind in (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress):
            assert isinstance(event, QKeyEvent)
            canvas = self._canvas
            idle = canvas.gesture is None and canvas.work.task is None and not canvas.chosen
            if event.key() == Qt.Key.Key_Escape and idle:
                if kind == QEvent.Type.KeyPress:
                    self.end()
                event.accept()
                return True
        return super().eventFilter(watched, event)


def _outlines(project: Project, layout_id: str, pieces: tuple[str, ...]) -> tuple[tuple[str, Ring], ...]:
    """Where pieces lie in a layout."""
    judge = judge_for(project)
    placed = placed_now(replace(project, layout_id=layout_id))
    return tuple(
        (each.cloth, outline_on_cloth(judge.pieces[each.piece], each)) for each in placed if each.piece in pieces
    )
