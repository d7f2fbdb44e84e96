"""The list of what is left beside the cloth: sizes, largest first; one of them drawn on the cloth, or all."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import Remark
from coverlayout.geometry.frames import IDENTITY, cloth_to_back
from coverlayout.geometry.shapes import bounds
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.fields.figures import exact_number
from coverlayout.ui.fields.rows import button, tick
from coverlayout.ui.layouts.leftovers import Leftovers
from coverlayout.ui.layouts.marks import size_of
from coverlayout.ui.theme import figures_font

__all__ = ["LeftList", "place_words"]

_WIDTH_PX = 264


class LeftList(QWidget):
    """A column beside the canvas. `asked`: what could be cut from the chosen row; `closed`: it is done with."""

    asked = Signal()
    closed = Signal()

    def __init__(self, session: Session, leftovers: Leftovers) -> None:
        super().__init__()
        self._session, self._leftovers = session, leftovers
        self.setFixedWidth(_WIDTH_PX)
        self.setAccessibleName("What is left")
        self.none = label(Remark("left-none").text(), "hint")
        self.rows = _Rows()
        self.rows.setAccessibleName("What is left, largest first")
        self.rows.setFont(figures_font())
        set_tip(self.rows, Remark("left-list-tip").text())
        self.place = label(role="muted")
        self.all = tick("Draw all on the cloth", leftovers.draw_all, tip="Every row of the list, not only the chosen.")
        self.ask = button(
            "What could I cut from this?", self.asked.emit, tip=Remark("left-ask-tip").text(), role="first"
        )
        self._arrange()
        self.rows.currentRowChanged.connect(leftovers.choose)
        self.rows.itemActivated.connect(lambda _item: self.asked.emit())
        self.rows.left.connect(self.closed)
        leftovers.changed.connect(self.show_left)
        self.hide()

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(label("What is left", "title"), 1)
        head.addWidget(button("Close", self.closed.emit, tip="Close this list (Escape).", role="quiet"))
        column = QVBoxLayout(self)
        column.setContentsMargins(16, 12, 12, 12)
        column.setSpacing(8)
        column.addLayout(head)
        for widget in (self.none, self.rows, self.place, self.all, self.ask):
            column.addWidget(widget)
        column.addStretch(1)

    def show_left(self) -> None:
        """Show the list as it is now; rows that stay keep the choice."""
        if self.isHidden():
            return
        project, found = self._session.project, self._leftovers.found
        with QSignalBlocker(self.rows):
            self.rows.clear()
            for each in found:
                item = QListWidgetItem(_row_words(project, each))
                item.setToolTip(f"{size_of(each, project.preferences.length_style)}\n{place_words(project, each)}")
                self.rows.addItem(item)
            self.rows.setCurrentRow(-1 if self._leftovers.chosen is None else self._leftovers.chosen)
        self.rows.setFixedHeight(max(len(found), 1) * (self.rows.sizeHintForRow(0) if found else 0) + 6)
        for widget in (self.rows, self.all, self.ask, self.place):
            widget.setVisible(bool(found))
        self.none.setVisible(not found)
        self.all.setChecked(self._leftovers.all_drawn)
        chosen = self._leftovers.chosen
        self.ask.setEnabled(chosen is not None)
        self.place.setText(Remark("left-choose").text() if chosen is None else place_words(project, found[chosen]))

    def open(self) -> None:
        """Show the list with its first row chosen as soon as it is known, ready for the keys."""
        self.show()
        self.show_left()
        self.rows.setFocus()
        self._leftovers.when_known(self._choose_first)

    def _choose_first(self) -> None:
        if not self.isHidden() and self._leftovers.chosen is None:
            self._leftovers.choose(0)


class _Rows(QListWidget):
    """Rows of the list; `left`: Escape was pressed."""

    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the list; Enter asks what could be cut."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)


def _row_words(project: Project, left: LeftOver) -> str:
    """Size, and which cloth it is on when there is more than one."""
    style = project.preferences.length_style
    if len(project.cloths) == 1:
        return size_of(left, style)
    # The cloth's name is the longer the better read; the unit stands in the line below.
    width, height = (style.number(side_mm, "down") for side_mm in (left.rectangle.width_mm, left.rectangle.height_mm))
    return f"{width} × {height}, {project.cloth(left.cloth_id).name}"


def place_words(project: Project, left: LeftOver) -> str:
    """Where on its cloth a rectangle begins, as seen on the side shown, and how its sides run.

    Which cloth and which print is said too.
    """
    cloth = project.cloth(left.cloth_id)
    to_seen = cloth_to_back(size_now_mm(cloth)[0]) if project.preferences.side == "back" else IDENTITY
    box = bounds(to_seen.ring(left.rectangle.ring()))
    a_print = None if left.print_id is None else project.print_of(left.print_id)
    code = "left-place" if a_print is None else "left-place-print"
    style = project.preferences.length_style
    words = style.said(
        Remark.of(
            code,
            cloth=cloth.name,
            print=a_print.name if a_print else "",
            left_mm=box.left_mm,
            top_mm=box.top_mm,
        )
    )
    if left.rectangle.turn_deg:
        words += ". " + Remark.of("left-turned", turn=exact_number(left.rectangle.turn_deg, 2)).text()
    return words
