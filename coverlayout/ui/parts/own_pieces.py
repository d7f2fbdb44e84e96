"""Pieces of the maker's own, one row each: name, size, how many, which turns."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.book.book import OwnPiece
from coverlayout.document.edits.books import add_own_piece, change_own_piece, remove_own_piece
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.figures import read_count
from coverlayout.ui.fields.rows import Fold, RowList, button, side_by_side

__all__ = ["TURNS", "OwnPieceRow", "OwnPieces"]

TURNS = (
    (None, "by the print"),
    ("none", "none"),
    ("half", "half"),
    ("quarter", "quarter"),
)


class OwnPieceRow(QWidget):
    """One piece of the maker's own."""

    def __init__(self, owner: Owner, own_id: str) -> None:
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


class OwnPieces(Fold):
    """All pieces of the maker's own."""

    def __init__(self, owner: Owner) -> None:
        super().__init__(
            "Pieces of your own", tip="A pocket, a label, a slipcase wall: anything else cut from this cloth."
        )
        self._owner = owner
        self._count = 0
        self.rows = RowList(
            lambda own_id: OwnPieceRow(owner, own_id),
            "Add a piece",
            self._add,
            tip="It starts as 60 × 90 mm; then give it its name and size.",
        )
        self.body.addWidget(self.rows)

    def _add(self) -> None:
        self._owner.attempt(add_own_piece(OwnPiece("", f"piece {self._count + 1}", 60.0, 90.0)))

    def show_pieces(self, pieces: tuple[OwnPiece, ...]) -> None:
        """Show these pieces."""
        self._count = len(pieces)
        self.rows.show_values({own.id: own for own in pieces})
        self.set_note(str(len(pieces)) if pieces else "none")
