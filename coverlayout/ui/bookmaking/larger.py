"""Both pictures of a book, large, in a window of their own that follows the book while it is worked on."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.units import LengthStyle

__all__ = ["LargerPictures", "drawn"]


def drawn(book: Book, volume: Volume) -> tuple[Picture | None, Picture | None]:
    """The cut through a volume and its cover laid flat; None for what cannot be drawn as the book now is."""
    made: list[Picture | None] = []
    for draw in (cut_through, flat_plan):
        try:
            made.append(draw(book, volume))
        except CoverlayoutError:
            made.append(None)
    return made[0], made[1]


class LargerPictures(QDialog):
    """The cut above, the plan below; it stays open beside the work and goes by Escape or its button."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Pictures of the book")
        self.cut = BookPicture("A cut through the book", large=True)
        self.plan = BookPicture("The cover laid flat", large=True)
        buttons = QDialogButtonBox()
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 12)
        column.setSpacing(8)
        column.addWidget(self.cut, 4)
        column.addWidget(self.plan, 5)
        column.addWidget(buttons)
        self.resize(*self._size())

    def show_book(self, book: Book, volume: Volume, style: LengthStyle) -> None:
        """Draw this book; what cannot be drawn keeps its last good picture."""
        cut, plan = drawn(book, volume)
        self.cut.show_picture(cut, style)
        self.plan.show_picture(plan, style)

    def point_at(self, name: str) -> None:
        """Pick out a measure in both pictures; empty picks out nothing."""
        self.cut.point_at(name)
        self.plan.point_at(name)

    def _size(self) -> tuple[int, int]:
        """Large, but within the screen."""
        room = self.screen().availableGeometry()
        return min(900, room.width() - 80), min(800, room.height() - 80)
