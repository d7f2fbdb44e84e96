"""The row of a piece of the maker's own: name, size, how many, which turns."""

from __future__ import annotations

from typing import Any, Protocol

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.book.book import OwnPiece
from coverlayout.document.edits.books import change_own_piece, remove_own_piece
from coverlayout.document.history import Edit
from coverlayout.ui.fields.entry import Choice, Entry
from coverlayout.ui.fields.figures import read_count
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.units import LengthStyle

__all__ = ["TURNS", "OwnPieceRow", "OwnPieceRowOwner"]

TURNS = (
    (None, "by the print"),
    ("none", "none"),
    ("half", "half"),
    ("quarter", "quarter"),
)


class OwnPieceRowOwner(Protocol):
    """What a row needs of its panel."""

    @property
    def style_of_lengths(self) -> LengthStyle:
        """How lengths are shown."""

    def do(self, edit: Edit) -> None:
        """Make an edit; BadInput goes through."""

    def attempt(self, edit: Edit) -> None:
        """Make an edit; what is wrong is said above the cloth."""

    def length_pair(self, title: str, give: Any, *, tip: str, like: str) -> Entry:
        """A field for width x height."""


class OwnPieceRow(QWidget):
    """One piece of the maker's own."""

    def __init__(self, owner: OwnPieceRowOwner, own_id: str) -> None:
        super().__init__()
        self.name = Entry(
            "Name",
            str.strip,
            str,
            lambda name: owner.do(change_own_piece(own_id, name=name)),
            tip="Its pieces are called by it: pocket-1, pocket-2.",
        )
        self.size_entry = owner.length_pair(
            "Width × height",
            lambda size: owner.do(change_own_piece(own_id, width_mm=size[0], height_mm=size[1], outline_mm=None)),
            tip="The size to cut, head up.",
            like="60 x 90 mm",
        )
        self.count = Entry(
            "How many",
            read_count("How many"),
            str,
            lambda count: owner.do(change_own_piece(own_id, count=count)),
            tip="How many of this piece.",
        )
        turns = (*TURNS, ("free", "any angle"))
        self.turns = Choice(
            "May turn",
            turns,
            lambda value: owner.do(change_own_piece(own_id, turns=value)),
            tip="Which ways it may lie, counted from the print's up.",
        )
        self.remove = button(
            "Remove",
            lambda: owner.attempt(remove_own_piece(own_id)),
            tip="Take this piece out of the job.",
            role="more",
        )
        self._owner = owner
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.setSpacing(4)
        column.addWidget(side_by_side(self.name, self.size_entry))
        column.addWidget(side_by_side(self.count, self.turns, self.remove))

    def show_value(self, own: OwnPiece) -> None:
        """Show the piece."""
        self.name.show_value(own.name)
        self.size_entry.show_value((own.width_mm, own.height_mm), self._owner.style_of_lengths.unit)
        self.count.show_value(own.count)
        self.turns.show_value(own.turns)
