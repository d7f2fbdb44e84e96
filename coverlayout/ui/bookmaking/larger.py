"""Both pictures of a book, large, in a window of their own that follows the book while it is worked on."""

from __future__ import annotations

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.units import LengthStyle

__all__ = ["LargerPictures", "drawn"]

_WIDEST_PX, _HIGHEST_PX, _EDGE_PX = 900, 780, 16
# What it leaves free of the window: the fields at its left, what stands above and below the cloth.
_FIELDS_PX, _HEADER_PX, _BAR_PX = 400, 60, 76


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
        self._is_placed = False

    def show_book(self, book: Book, volume: Volume, style: LengthStyle) -> None:
        """Draw this book; what cannot be drawn keeps its last good picture."""
        cut, plan = drawn(book, volume)
        self.cut.show_picture(cut, style)
        self.plan.show_picture(plan, style)

    def point_at(self, name: str) -> None:
        """Pick out a measure in both pictures; empty picks out nothing."""
        self.cut.point_at(name)
        self.plan.point_at(name)

    def showEvent(self, event: QShowEvent) -> None:
        """The first time it opens over the cloth, beside the fields it follows."""
        super().showEvent(event)
        if not self._is_placed:
            self._is_placed = True
            self._place()

    def _place(self) -> None:
        parent = self.parentWidget()
        around = self.screen().availableGeometry() if parent is None else parent.window().geometry()
        width = min(_WIDEST_PX, max(around.width() - _FIELDS_PX, self.minimumSizeHint().width()))
        height = min(_HIGHEST_PX, max(around.height() - _HEADER_PX - _BAR_PX, self.minimumSizeHint().height()))
        self.resize(width, height)
        self.move(around.right() - width - _EDGE_PX, around.top() + _HEADER_PX)
