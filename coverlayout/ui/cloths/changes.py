"""What a cloth went through: its changes in size, one row each, and how much smaller it may still come out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.edits.cloths import add_change, change_cloth, remove_change
from coverlayout.geometry.frames import Point
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_number, read_percent
from coverlayout.ui.fields.rows import Fold, RowList, button, side_by_side
from coverlayout.units import LengthStyle

__all__ = ["ChangeRow", "Changes"]

_WAYS = (("shrinks", "shrinks by"), ("grows", "grows by"))
_DOUBT_SAYS = {
    "measured": "",
    "to-buy": "1 % is taken for cloth still to buy, until you type your own figure.",
    "to-order": "1 % is taken for cloth still to order, until you type your own figure.",
}


class ChangeRow(QWidget):
    """One change in size: its name, whether the cloth shrinks or grows and by how many percent, and what that leaves.

    A number is typed without a sign; a minus always means shrinking.
    """

    def __init__(self, owner: ClothOwner, at: int) -> None:
        super().__init__()
        self.owner = owner
        self._at = at
        self._ways = {"across_percent": "shrinks", "along_percent": "shrinks"}
        self.name = Entry(
            "What happened", str.strip, str, lambda name: self._give(name=name), tip="Washing, bonding, pressing …"
        )
        self.remove = button("Remove", self._remove, tip="Take this change back.", role="more")
        self.across_way, self.across = self._pair("across", "across_percent")
        self.along_way, self.along = self._pair("along", "along_percent")
        self.leaves = label(role="muted")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.setSpacing(4)
        column.addWidget(side_by_side(self.name, self.remove, shares=(3, 1)))
        column.addWidget(side_by_side(self.across_way, self.across))
        column.addWidget(side_by_side(self.along_way, self.along))
        column.addWidget(self.leaves)

    def _pair(self, word: str, field: str) -> tuple[Choice, Entry]:
        way = Choice(
            f"{word.capitalize()}, the cloth",
            _WAYS,
            lambda chosen: self._choose_way(field, chosen),
            tip=f"Whether the cloth gets smaller or larger {word}.",
        )
        percent = Entry(
            f"Percent {word}",
            read_percent(f"Percent {word}"),
            lambda value: exact_number(abs(value), 3),
            lambda value: self._give_percent(field, value),
            tip=f"By how many percent it changes {word}: 3 means 3 in 100.",
            unit="%",
        )
        return way, percent

    def _change(self) -> Change | None:
        cloth = self.owner.cloth
        return cloth.changes[self._at] if cloth is not None and self._at < len(cloth.changes) else None

    def _choose_way(self, field: str, way: str) -> None:
        self._ways[field] = way
        change = self._change()
        if change is not None:
            percent = abs(getattr(change, field))
            self._give(**{field: _signed(percent, way)})

    def _give_percent(self, field: str, typed: float) -> None:
        if typed < 0:
            self._ways[field] = "shrinks"
        self._give(**{field: _signed(abs(typed), self._ways[field])})

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

    def show_value(self, value: tuple[Change, Point | None]) -> None:
        """Show the change, and the width and length of the cloth after it (None: they were measured after it)."""
        change, left_mm = value
        self.name.show_value(change.name)
        for field, way, percent in (
            ("across_percent", self.across_way, self.across),
            ("along_percent", self.along_way, self.along),
        ):
            figure = getattr(change, field)
            if figure:
                self._ways[field] = "shrinks" if figure < 0 else "grows"
            way.show_value(self._ways[field])
            percent.show_value(figure)
        self.leaves.setText(_left_words(left_mm, self.owner.style_of_lengths))


class Changes(Fold):
    """The changes of a cloth, and the doubt about its size."""

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__(
            "Changes in size", tip="Washing and bonding make cloth smaller. Enter each once, per direction."
        )
        self._owner = owner
        self.rows = RowList(
            lambda at: ChangeRow(owner, at),
            "Add a change",
            self._add,
            tip="Washing, then bonding: each shrinks (or grows) what the one before it left.",
        )
        self.doubt = Entry(
            "May come out smaller by",
            read_percent("Doubt"),
            lambda value: exact_number(value, 2),
            self._give_doubt,
            tip="How much smaller the cloth may turn out than the figures say: 0 for cloth measured in hand, 1 % usual "
            "for a cut still to buy. A layout lost by that much is called tight.",
            unit="%",
        )
        self.doubt_says = label(role="muted")
        for part in (self.rows, self.doubt, self.doubt_says):
            self.body.addWidget(part)

    def _add(self) -> None:
        """The change most makers enter next: washing, then bonding, 0 % until it is typed."""
        cloth = self._owner.cloth
        if cloth is not None:
            name = "bonding" if cloth.changes else "washing"
            self._owner.attempt(add_change(cloth.id, Change(name, 0.0, 0.0)))

    def _give_doubt(self, percent: float) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            self._owner.do(change_cloth(cloth.id, doubt_percent=percent))

    def show_cloth(self, cloth: Cloth) -> None:
        """Show the changes and the doubt of this cloth, and where a doubt that nobody typed comes from."""
        self.rows.show_values(
            {at: (change, _left_mm(cloth, at)) for at, change in enumerate(cloth.changes)},
        )
        self.doubt.show_value(cloth.doubt)
        says = _DOUBT_SAYS[cloth.state] if cloth.doubt_percent is None else ""
        self.doubt_says.setText(says)
        self.doubt_says.setVisible(bool(says))
        self.set_note(str(len(cloth.changes)) if cloth.changes else "none")


def _signed(percent: float, way: str) -> float:
    """The percent as the cloth records it, minus for shrinking; never a minus before a nought."""
    return (-percent if way == "shrinks" else percent) + 0.0


def _left_mm(cloth: Cloth, at: int) -> Point | None:
    """Width and length of the cloth after the change at that place, None when they were measured after it."""
    if at < cloth.outline_changes_in:
        return None
    return size_now_mm(replace(cloth, changes=cloth.changes[: at + 1]))


def _left_words(left_mm: Point | None, style: LengthStyle) -> str:
    if left_mm is None:
        return "The outline was measured after it."
    return f"Leaves {style.show(left_mm[0], 'down')} across, {style.show(left_mm[1], 'down')} along."
