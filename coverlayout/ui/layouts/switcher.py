"""The named layouts as a row of tabs over the canvas; shown once there is more than one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QMenu, QTabBar, QWidget

from coverlayout.document.project import Project
from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.fields.rows import button

__all__ = ["Switcher"]


class Switcher(QWidget):
    """Tabs in the order of the project. `wanted` names the layout to work on; `moved` one to be put elsewhere.

    `menu` fills the menu of the tab under the pointer, which is the one worked on by then.
    """

    wanted = Signal(str)
    moved = Signal(str, int)
    compared = Signal()

    def __init__(self, fill_menu: Callable[[QMenu], object]) -> None:
        super().__init__()
        self._fill_menu = fill_menu
        self._ids: list[str] = []
        self.tabs = QTabBar()
        self.tabs.setAccessibleName("Layouts")
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        self.tabs.setMovable(True)
        self.tabs.setElideMode(Qt.TextElideMode.ElideRight)
        self.tabs.setUsesScrollButtons(True)
        set_tip(self.tabs, "The layouts of this project: several ways to lay the same pieces. Drag a tab to move it.")
        self.tabs.currentChanged.connect(self._switch)
        self.tabs.tabMoved.connect(self._move)
        self.tabs.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.tabs.customContextMenuRequested.connect(self._menu_at)
        self.compare = button(
            "Compare …", self.compared.emit, tip="See two layouts beside each other with their figures.", role="quiet"
        )
        self.more = button("More …", self._menu_below, tip="New, copy, rename, remove.", role="quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 8, 2)
        row.setSpacing(4)
        row.addWidget(self.tabs, 1)
        row.addWidget(self.compare)
        row.addWidget(self.more)
        self.hide()

    def show_project(self, project: Project) -> None:
        """Show the layouts there are, the one worked on chosen; nothing is shown while there is only one."""
        ids = [layout.id for layout in project.layouts]
        with QSignalBlocker(self.tabs):
            while self.tabs.count() > len(ids):
                self.tabs.removeTab(self.tabs.count() - 1)
            while self.tabs.count() < len(ids):
                self.tabs.addTab("")
            for at, layout in enumerate(project.layouts):
                # An ampersand would underline a letter and vanish.
                self.tabs.setTabText(at, layout.name.replace("&", "&&"))
                self.tabs.setTabToolTip(at, layout.name)
            self.tabs.setCurrentIndex(ids.index(project.layout_id))
        self._ids = ids
        self.setVisible(len(ids) > 1)

    def _switch(self, at: int) -> None:
        if 0 <= at < len(self._ids):
            self.wanted.emit(self._ids[at])

    def _move(self, start: int, end: int) -> None:
        self._ids.insert(end, self._ids.pop(start))
        self.moved.emit(self._ids[end], end)

    def _menu_at(self, at: QPoint) -> None:
        tab = self.tabs.tabAt(at)
        if tab >= 0:
            self.tabs.setCurrentIndex(tab)
        self._pop_up(self.tabs.mapToGlobal(at))

    def _menu_below(self) -> None:
        self._pop_up(self.more.mapToGlobal(QPoint(0, self.more.height())))

    def _pop_up(self, at: QPoint) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._fill_menu(menu)
        menu.popup(at)
