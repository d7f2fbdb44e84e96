"""What stands around the canvas: the layouts' tabs over it, a second layout or what is left beside it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QInputDialog, QLineEdit, QMenu, QVBoxLayout, QWidget

from coverlayout.document.checks.figures import free_name
from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.document.cutting.remnants import make_remnant
from coverlayout.document.cutting.rows import Rows, add_piece_there, seat_in
from coverlayout.document.edits.placements import place
from coverlayout.document.history import Edit
from coverlayout.document.layouts.named import (
    add_layout,
    copy_name,
    duplicate_layout,
    move_layout,
    new_name,
    remove_layout,
    rename_layout,
    switch_layout,
)
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.layouts.comparing import Comparing
from coverlayout.ui.layouts.left_list import LeftList
from coverlayout.ui.layouts.leftovers import Leftovers
from coverlayout.ui.layouts.marks import LeftMarks, size_of
from coverlayout.ui.layouts.rows_dialog import RowsDialog
from coverlayout.ui.layouts.switcher import Switcher
from coverlayout.ui.panels.panel import Say
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.bar import FigureView

__all__ = ["Around"]


class Around(QWidget):
    """Holds the `bench` (the canvas with what lies over it), tabs above and columns beside it."""

    def __init__(self, session: Session, canvas: Canvas, bench: QWidget, theme: Theme, say: Say) -> None:
        super().__init__()
        self._session, self._canvas, self._say = session, canvas, say
        self.leftovers = Leftovers(session, canvas)
        self.comparing = Comparing(session, canvas, self.leftovers, theme)
        self.left_list = LeftList(session, self.leftovers)
        self.switcher = Switcher(self._fill_menu)
        canvas.overlays.append(LeftMarks(self._drawn))
        self._arrange(bench)
        self.switcher.wanted.connect(self.switch)
        self.switcher.moved.connect(lambda layout_id, at: self._do(move_layout(layout_id, at)))
        self.switcher.compared.connect(self.compare)
        self.comparing.wanted.connect(self.switch)
        self.leftovers.changed.connect(canvas.update)
        self.left_list.asked.connect(self.ask_what)
        self.left_list.closed.connect(self.close_list)

    def _arrange(self, bench: QWidget) -> None:
        first = QVBoxLayout()
        first.setSpacing(0)
        first.addWidget(bench, 1)
        first.addWidget(self.comparing.first_strip)
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addLayout(first, 1)
        row.addWidget(self.comparing.second, 1)
        row.addWidget(self.left_list)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.switcher)
        column.addLayout(row, 1)
        column.addWidget(self.comparing.foot)

    def look_at(self, old: Project, new: Project) -> None:
        """The project changed."""
        self.switcher.show_project(new)
        self.leftovers.look_at(old, new)
        self.comparing.look_at(old, new)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self.comparing.dress(theme)

    def show_figure(self, figure: FigureView) -> None:
        """Tell the largest piece left over; nothing new is said while it is worked out anew."""
        found = self.leftovers.found
        style = self._session.project.preferences.length_style
        figure.show_figure(size_of(found[0], style) if found else "–")

    def _drawn(self) -> tuple[tuple[LeftOver, bool], ...]:
        left = self.leftovers
        chosen = None if left.chosen is None else left.found[left.chosen]
        return tuple((each, each is chosen) for each in left.drawn)

    @property
    def _project(self) -> Project:
        return self._session.project

    def _do(self, edit: Edit) -> bool:
        """Make an edit; what it refuses is said, and False."""
        try:
            self._session.do(edit)
        except CoverlayoutError as fault:
            self._say(self._project.preferences.length_style.said(fault.remark), True)
            self.switcher.show_project(self._project)
            return False
        return True

    # What is left

    @property
    def list_open(self) -> bool:
        """True while the list of what is left is shown."""
        return self.left_list.isVisibleTo(self)

    def toggle_list(self) -> None:
        """Show or close the list of what is left."""
        if self.list_open:
            self.close_list()
        else:
            # There is room for the list or for a second layout.
            self.comparing.end()
            self.left_list.open()

    def close_list(self) -> None:
        """Close the list; what it drew goes with it, unless all are to be drawn."""
        self.left_list.hide()
        self.leftovers.choose(None)
        self._canvas.setFocus()

    def toggle_all(self) -> None:
        """Draw everything that is left on the cloth, or no more."""
        self.leftovers.draw_all(not self.leftovers.all_drawn)

    def why_nothing_left(self) -> str:
        """Why there is nothing to ask about, empty when there is."""
        return "" if self.leftovers.old or self.leftovers.found else Remark("left-none").text()

    def ask_what(self) -> None:
        """What could be cut from the chosen rectangle, or from the largest."""
        self.leftovers.when_known(self._ask_what)

    def _ask_what(self) -> None:
        found = self.leftovers.found
        if not found:
            self._say(Remark("left-none").text(), False)
            return
        left = found[self.leftovers.chosen or 0]
        dialog = RowsDialog(self._project, left, self.window())
        dialog.lay.connect(partial(self._lay_there, left))
        dialog.own_cloth.connect(lambda: self._do(make_remnant(left.cloth_id, left.rectangle.ring())))
        dialog.own_piece.connect(lambda: self._do(add_piece_there(left, self._name_of_rest())))
        self._open(dialog)

    def _open(self, dialog: QDialog) -> None:
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setWindowModality(Qt.WindowModality.WindowModal)
        dialog.show()

    def _lay_there(self, left: LeftOver, kind: Rows) -> None:
        placed, held = seat_in(self._project, left, kind.waiting[0], kind.turn_deg)
        if self._do(place((placed,), kind.name)):
            self._canvas.choose((placed.piece,))
            if not held:
                words = Remark.of("left-laid-off", piece=kind.name).text()
                self._say(words[:1].upper() + words[1:], False)

    def _name_of_rest(self) -> str:
        return free_name("rest piece", (own.name for own in self._project.own_pieces))

    # Named layouts

    def switch(self, layout_id: str) -> None:
        """Work on another layout."""
        if layout_id != self._project.layout_id:
            self._do(switch_layout(layout_id))

    def step(self, by: int) -> None:
        """Work on the next layout of the row (-1: the one before); after the last comes the first."""
        ids = [layout.id for layout in self._project.layouts]
        self.switch(ids[(ids.index(self._project.layout_id) + by) % len(ids)])

    def shift(self, by: int) -> None:
        """Put the layout worked on farther to the right in the row (-1: to the left)."""
        ids = [layout.id for layout in self._project.layouts]
        at = ids.index(self._project.layout_id) + by
        if 0 <= at < len(ids):
            self._do(move_layout(self._project.layout_id, at))

    def new(self) -> None:
        """Start an empty layout."""
        self._do(add_layout(new_name(self._project)))

    def duplicate(self) -> None:
        """Start a layout with everything where it lies in this one."""
        project = self._project
        self._do(duplicate_layout(project.layout_id, copy_name(project, project.layout_id)))

    def rename(self) -> None:
        """Give the layout worked on another name."""
        present = self._project.layout
        name, given = QInputDialog.getText(
            self.window(), "Rename the layout", "Name of the layout", QLineEdit.EchoMode.Normal, present.name
        )
        if given:
            self._do(rename_layout(present.id, name))

    def remove(self) -> None:
        """Remove the layout worked on; Undo brings it back."""
        gone = self._project.layout
        if self._do(remove_layout(gone.id)):
            self._say(Remark.of("layout-removed", name=gone.name).text(), False)

    def why_only_one(self) -> str:
        """Why nothing can be done with another layout, empty when there is another."""
        return "" if len(self._project.layouts) > 1 else Remark("layouts-only-one").text()

    def compare(self, other_id: str = "") -> None:
        """See another layout beside this one; without a name the next of the row. While it goes on: end it."""
        if self.comparing.under_way and other_id in ("", self.comparing.other_id):
            self.comparing.end()
            return
        ids = [layout.id for layout in self._project.layouts]
        if len(ids) > 1:
            if self.list_open:
                self.close_list()
            at = ids.index(self._project.layout_id)
            self.comparing.begin(other_id or ids[(at + 1) % len(ids)])

    def _fill_menu(self, menu: QMenu) -> None:
        """The menu of the layout worked on."""
        for words, act in (
            ("New layout", self.new),
            ("Copy this layout", self.duplicate),
            ("Rename this layout …", self.rename),
            ("Remove this layout", self.remove),
        ):
            menu.addAction(words, act)
