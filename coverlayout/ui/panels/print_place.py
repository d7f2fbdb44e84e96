"""Where a print lies on its cloth: origin and turn by number, a quarter turn by button, or by dragging."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import lay_print
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.fields.entry import Entry, label, set_tip
from coverlayout.ui.fields.figures import exact_number, read_angle
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of

__all__ = ["PrintPlace"]


class PrintPlace(Panel):
    """Part of step 1, shown once the print lies on a cloth. `drag_print`: dragging on the cloth moves the print."""

    drag_print = Signal(bool)

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self.print_id = ""
        self._cloth_id = ""
        self.chooser = self.choose(
            "On which cloth", (), self._choose_cloth, tip="A print lies on each cloth its own way."
        )
        self.column.setContentsMargins(0, 8, 0, 0)
        tip = "Where the top left corner of one tile lies, from the cloth's left and top edges, print side up."
        self.origin_x = self.length("From the left", lambda x: self._lay(0, x), tip=tip, like="12mm", least="any")
        self.origin_y = self.length("From the top", lambda y: self._lay(1, y), tip=tip, like="12mm", least="any")
        self.turn = Entry(
            "Turned, clockwise",
            read_angle("Turn"),
            lambda value: exact_number(value, 3),
            lambda value: self._change(turn_deg=value % 360.0),
            tip="How the print is turned on the cloth: 90 for cloth laid sideways, 1.5 for a swatch cut crooked.",
            unit="°",
        )
        self.quarter = button("Turn by 90°", self._turn_quarter, tip="Turn the print a quarter, clockwise.")
        self.drag = QPushButton("Drag the print")
        self.drag.setCheckable(True)
        set_tip(self.drag, "While this is on, dragging on the cloth moves the print under the pieces.")
        self.drag.toggled.connect(self.drag_print)
        self.unknown_origin = label(
            "Where the print falls on cloth still to buy is not known; the place here is only for looking.", "hint"
        )
        self.add(
            label("Where it lies on the cloth", "title"),
            self.chooser,
            self.unknown_origin,
            side_by_side(self.origin_x, self.origin_y),
            side_by_side(self.turn, self.quarter),
            self.drag,
        )

    def _bearing(self) -> list[Cloth]:
        """The cloths that bear this print."""
        return [cloth for cloth in self.session.project.cloths if cloth.laid and cloth.laid.print_id == self.print_id]

    def _choose_cloth(self, cloth_id: Any) -> None:
        self._cloth_id = cloth_id
        self.show_project(self.session.project)

    def _laid(self) -> tuple[str, LaidPrint] | None:
        """The cloth shown of those that bear this print, and how it lies there."""
        cloth = chosen_of(self._bearing(), self._cloth_id)
        return (cloth.id, cloth.laid) if cloth is not None else None

    def _lay(self, axis: int, value_mm: float) -> None:
        found = self._laid()
        if found is not None:
            x, y = found[1].origin_mm
            self._change(origin_mm=(value_mm, y) if axis == 0 else (x, value_mm))

    def _change(self, **fields: Any) -> None:
        found = self._laid()
        if found is None:
            raise BadInput("print-on-no-cloth")
        self.do(lay_print(found[0], replace(found[1], **fields)))

    def _turn_quarter(self) -> None:
        found = self._laid()
        if found is not None:
            self.attempt(lay_print(found[0], replace(found[1], turn_deg=(found[1].turn_deg + 90.0) % 360.0)))

    def show_project(self, project: Project) -> None:
        """Show how the print lies; nothing to see when it lies nowhere."""
        found = self._laid()
        self.setVisible(found is not None)
        if found is None:
            self.drag.setChecked(False)
            return
        bearing = self._bearing()
        self.chooser.set_choices(tuple((cloth.id, cloth.name) for cloth in bearing))
        self.chooser.show_value(found[0])
        self.chooser.setVisible(len(bearing) > 1)
        unit = project.preferences.length_style.unit
        self.unknown_origin.setVisible(not found[1].origin_known)
        self.origin_x.show_value(found[1].origin_mm[0], unit)
        self.origin_y.show_value(found[1].origin_mm[1], unit)
        self.turn.show_value(found[1].turn_deg)
