"""The rows of a cloth's lists: one change in size, one flaw."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Protocol

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.cloth.cloth import Change, Cloth, Flaw
from coverlayout.document.edits.cloths import change_cloth, change_flaw, remove_change, remove_flaw
from coverlayout.document.history import Edit
from coverlayout.ui.fields.entry import Entry, PointsEntry
from coverlayout.ui.fields.figures import (
    exact_length,
    exact_number,
    points_text,
    read_length,
    read_percent,
    read_points,
)
from coverlayout.ui.fields.rows import button, side_by_side, tick
from coverlayout.units import LengthStyle

__all__ = ["ChangeRow", "ClothOwner", "FlawRow", "new_change", "new_flaw"]


class ClothOwner(Protocol):
    """What a row needs of its panel."""

    @property
    def cloth(self) -> Cloth | None:
        """The cloth the row is about."""

    @property
    def style_of_lengths(self) -> LengthStyle:
        """How lengths are shown."""

    def do(self, edit: Edit) -> None:
        """Make an edit; BadInput goes through."""

    def attempt(self, edit: Edit) -> None:
        """Make an edit; what is wrong is said above the cloth."""


def new_change(cloth: Cloth) -> Change:
    """The change most makers enter next: washing, then bonding, 0 % until it is typed."""
    return Change("washing" if not cloth.changes else "bonding", 0.0, 0.0)


def new_flaw(cloth: Cloth) -> Flaw:
    """A short line across the middle of the cloth, to be moved by its numbers."""
    box = cloth.outline_now_mm()
    x = sum(point[0] for point in box) / len(box)
    y = sum(point[1] for point in box) / len(box)
    points = ((x - 20.0, y), (x + 20.0, y))
    name = f"flaw {len(cloth.flaws) + 1}"
    return Flaw("", name, points, line_width_mm=4.0, changes_in=len(cloth.changes))


def _text_entry(title: str, give: Any, tip: str) -> Entry:
    return Entry(title, str.strip, str, give, tip=tip)


class _Row(QWidget):
    def __init__(self, owner: ClothOwner) -> None:
        super().__init__()
        self.owner = owner
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 8)
        self.column.setSpacing(4)

    def points_read(self) -> Any:
        return read_points("Points", lambda: self.owner.style_of_lengths)


class ChangeRow(_Row):
    """One change in size: its name, percent across and along."""

    def __init__(self, owner: ClothOwner, at: int) -> None:
        super().__init__(owner)
        self._at = at
        self.name = _text_entry("What happened", lambda name: self._give(name=name), "Washing, bonding, pressing …")
        self.across = self._percent("Across", "across_percent")
        self.along = self._percent("Along", "along_percent")
        self.remove = button("Remove", self._remove, tip="Take this change back.", role="more")
        self.column.addWidget(self.name)
        self.column.addWidget(side_by_side(self.across, self.along, self.remove))

    def _percent(self, title: str, field: str) -> Entry:
        tip = f"Percent the cloth changed {title.lower()}: -3 for 3 % smaller, 2 for 2 % larger."
        return Entry(
            title,
            read_percent(title),
            lambda value: exact_number(value, 3),
            lambda value: self._give(**{field: value}),
            tip=tip,
            unit="%",
        )

    def _give(self, **fields: Any) -> None:
        cloth = self.owner.cloth
        if cloth is not None:
            changes = list(cloth.changes)
            changes[self._at] = replace(changes[self._at], **fields)
            self.owner.do(change_cloth(cloth.id, changes=tuple(changes)))

    def _remove(self) -> None:
        cloth = self.owner.cloth
        if cloth is not None:
            self.owner.attempt(remove_change(cloth.id, self._at))

    def show_value(self, change: Change) -> None:
        """Show the change."""
        self.name.show_value(change.name)
        self.across.show_value(change.across_percent)
        self.along.show_value(change.along_percent)


class FlawRow(_Row):
    """One flaw: its name, its points, the width of a line, and whether it may lie where it is hidden."""

    def __init__(self, owner: ClothOwner, flaw_id: str) -> None:
        super().__init__(owner)
        self._flaw_id = flaw_id

        def style() -> LengthStyle:
            return owner.style_of_lengths

        self.name = _text_entry("Name", lambda name: self._give(name=name), "Stain, crease, hole: what you call it.")
        self.points = PointsEntry(
            "Where it lies, across,down",
            self.points_read(),
            lambda points: points_text(points, style()),
            lambda points: self._give(points_mm=points or ()),
            tip="From the cloth's left and top edges, one point a line: corners of an area, or points of a line.",
            lines=3,
        )
        self.width_entry = Entry(
            "Width of the line",
            read_length("Width of the line", "4mm", style, "0"),
            lambda value: exact_length(value, style()),
            lambda value: self._give(line_width_mm=value),
            tip="Above 0: the points are a line this wide, like a crease. 0: they are the corners of an area.",
            unit=style().unit,
        )
        self.hidden = tick(
            "fine where hidden",
            lambda on: self._attempt(fine_where_hidden=on),
            tip="Only what stays visible on the finished book must keep clear of it; under a liner it does no harm.",
        )
        self.remove = button("Remove", self._remove, tip="Take this flaw away.", role="more")
        for part in (side_by_side(self.name, self.width_entry), self.points, side_by_side(self.hidden, self.remove)):
            self.column.addWidget(part)

    def _edit(self, **fields: Any) -> Edit | None:
        cloth = self.owner.cloth
        return None if cloth is None else change_flaw(cloth.id, self._flaw_id, **fields)

    def _give(self, **fields: Any) -> None:
        edit = self._edit(**fields)
        if edit is not None:
            self.owner.do(edit)

    def _attempt(self, **fields: Any) -> None:
        edit = self._edit(**fields)
        if edit is not None:
            self.owner.attempt(edit)

    def _remove(self) -> None:
        cloth = self.owner.cloth
        if cloth is not None:
            self.owner.attempt(remove_flaw(cloth.id, self._flaw_id))

    def show_value(self, flaw: Flaw) -> None:
        """Show the flaw."""
        self.name.show_value(flaw.name)
        self.points.show_value(flaw.points_mm)
        self.width_entry.show_value(flaw.line_width_mm, self.owner.style_of_lengths.unit)
        self.hidden.setChecked(flaw.fine_where_hidden)
