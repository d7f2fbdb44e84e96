"""The line at the top: menus, what is open and whether it is saved, which side is shown, zoom, undo, redo, lay out."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QAction, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QMenuBar, QPushButton, QSizePolicy, QWidget

from coverlayout.document.session import Session
from coverlayout.errors import sentence
from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.fields.rows import button
from coverlayout.ui.theme import figures_font

__all__ = ["Header", "LayButton"]

# Room for the project's name and for the longest word beside it.
_NAME_PX, _STATE_PX, _BETWEEN_PX = 272, 60, 8
# In a narrow window the name gives way, down to this; then Undo and Redo, which stand in a menu too, then the name.
_LEAST_NAME_PX = 96

_ZOOM_TIP = "Percent of true size. A click shows the cloth as large as it is."


class LayButton(QPushButton):
    """Lay out for me; while the search runs it cancels, and a line at its foot shows how far the search is."""

    def __init__(self, lay_out: Callable[[], None], cancel: Callable[[], None]) -> None:
        super().__init__("Lay out for me")
        self.setProperty("role", "first")
        self._share = -1.0
        self._widest_px = 0
        self._lay_out = lay_out
        self._cancel = cancel
        set_tip(self, "Propose places for every piece, as good as can be. Nothing moves until you take it.")
        self.clicked.connect(lambda _checked=False: self._cancel() if self.running else self._lay_out())

    def sizeHint(self) -> QSize:
        """As wide as the longest of its words yet, so that nothing beside it moves."""
        hint = super().sizeHint()
        self._widest_px = max(self._widest_px, hint.width())
        return QSize(self._widest_px, hint.height())

    def minimumSizeHint(self) -> QSize:
        """Its words are never cut off."""
        return self.sizeHint()

    @property
    def running(self) -> bool:
        """True while it waits for the search."""
        return self._share >= 0

    def show_progress(self, share: float | None) -> None:
        """How far the search is, 0 to 1; None when nothing is being laid."""
        self._share = -1.0 if share is None else share
        self.setText("Cancel" if self.running else "Lay out for me")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The button, and the line of progress."""
        super().paintEvent(event)
        if self.running:
            with QPainter(self) as painter:
                color = self.palette().color(QPalette.ColorRole.HighlightedText)
                painter.fillRect(QRectF(6, self.height() - 6, (self.width() - 12) * min(self._share, 1.0), 2), color)


class _Titles(QWidget):
    """Name and state in a room that only the window's width decides: whatever they say, nothing beside them moves."""

    def __init__(self) -> None:
        super().__init__()
        self.name, self.state = QLabel(), QLabel()
        self.name.setProperty("role", "title")
        self.state.setProperty("role", "muted")
        self._whole = ""
        inside = QHBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(_BETWEEN_PX)
        inside.addWidget(self.name)
        inside.addWidget(self.state)
        inside.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Preferred)

    def show_name(self, name: str) -> None:
        """Show a name, as much of it as there is room for."""
        self._whole = name
        self._fit()

    def _fit(self) -> None:
        room_px = max(self.width() - _BETWEEN_PX - _STATE_PX, 0)
        self.name.setText(self.name.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, room_px))

    def sizeHint(self) -> QSize:
        """Room for a long name."""
        return QSize(_NAME_PX + _BETWEEN_PX + _STATE_PX, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Room for the beginning of a name."""
        return QSize(_LEAST_NAME_PX + _BETWEEN_PX + _STATE_PX, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as much of the name as there is room for now."""
        super().resizeEvent(event)
        self._fit()


class Header(QWidget):
    """The line at the top. `show_side`, `undo`, `redo` and the others are what its buttons do."""

    def __init__(
        self,
        menus: QMenuBar,
        show_side: Callable[[str], None],
        true_size: Callable[[], None],
        steps: tuple[QAction, QAction],
        lay: LayButton,
    ) -> None:
        super().__init__()
        self.setFixedHeight(48)
        self._titles = _Titles()
        self.name, self.state = self._titles.name, self._titles.state
        self._show_side = show_side
        self.sides = QButtonGroup(self)
        self.print_side = self._side("Print side", "print", "See the cloth from the side that is printed.")
        self.back = self._side(
            "Back", "back", "See the cloth from the back, where boards are glued: left and right change."
        )
        self.zoom = button("100 %", true_size, tip=_ZOOM_TIP)
        self.zoom.setFont(figures_font())
        self.zoom.setMinimumWidth(76)
        self._guessed, self._percent = False, 100.0
        self.undo, self.redo = (self._of_action(action) for action in steps)
        self.lay = lay
        self._gives_way: tuple[tuple[QWidget, ...], ...] = ((self.undo, self.redo), (self._titles,))
        self._row = row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 12, 0)
        row.setSpacing(_BETWEEN_PX)
        menus.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        row.addWidget(menus, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addSpacing(12)
        row.addWidget(self._titles)
        row.addStretch(1)
        sides = QHBoxLayout()
        sides.setSpacing(0)
        sides.addWidget(self.print_side)
        sides.addWidget(self.back)
        row.addLayout(sides)
        row.addSpacing(8)
        row.addWidget(self.zoom)
        row.addStretch(1)
        row.addWidget(self.undo)
        row.addWidget(self.redo)
        row.addWidget(self.lay)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """No menu and no button is ever cut off: where there is no room for all, the least needed go."""
        super().resizeEvent(event)
        rooms = [sum(_room_px(each) for each in group) for group in self._gives_way]
        hidden = [room for room, group in zip(rooms, self._gives_way, strict=True) if group[0].isHidden()]
        short_px = self._row.minimumSize().width() + sum(hidden) - self.width()
        for room, group in zip(rooms, self._gives_way, strict=True):
            for each in group:
                each.setVisible(short_px <= 0)
            short_px -= room

    def _side(self, words: str, side: str, tip: str) -> QPushButton:
        made = QPushButton(words)
        made.setCheckable(True)
        set_tip(made, tip)
        made.clicked.connect(lambda _checked=False: self._show_side(side))
        self.sides.addButton(made)
        return made

    def _of_action(self, action: QAction) -> QPushButton:
        made = button(action.text(), action.trigger, tip="", role="quiet")
        made.setEnabled(action.isEnabled())

        def follow() -> None:
            made.setEnabled(action.isEnabled())
            set_tip(made, action.toolTip())

        action.changed.connect(follow)
        return made

    def show_session(self, session: Session) -> None:
        """Show what is open."""
        name = session.project.name
        self._titles.show_name(name)
        where = str(session.path) if session.path else "Not saved to a file yet"
        self.name.setToolTip(f"{name}\n{where}")
        self.state.setText("not saved" if session.unsaved else "saved" if session.path else "new")
        self.zoom.setEnabled(bool(session.project.cloths))
        self.print_side.setChecked(session.project.preferences.side == "print")
        self.back.setChecked(session.project.preferences.side == "back")

    def show_zoom(self, percent: float) -> None:
        """Percent of true size."""
        self._percent = percent
        mark = "≈ " if self._guessed else ""
        self.zoom.setText(f"{mark}{percent:.0f} %" if self.zoom.isEnabled() else "–")

    def show_matched(self, matched: bool) -> None:
        """Say whether true size is known on this screen, or guessed."""
        self._guessed = not matched
        set_tip(self.zoom, _ZOOM_TIP if matched else f"{_ZOOM_TIP} {sentence('true-size-guess', {})}")
        self.show_zoom(self._percent)


def _room_px(widget: QWidget) -> int:
    """The least room a widget of the row takes, with the space beside it."""
    return max(widget.minimumSizeHint().width(), widget.minimumWidth()) + _BETWEEN_PX
