"""The two pictures of the book step, one at a time: a cut through the book, and its cover laid flat."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QTabBar, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.bookmaking.larger import LargerPictures
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.ui.fields.entry import set_tip
from coverlayout.ui.fields.rows import button
from coverlayout.units import LengthStyle

__all__ = ["BookViews"]

_VIEWS: tuple[tuple[str, Callable[[Book, Volume], Picture]], ...] = (
    ("Cut through", cut_through),
    ("Laid flat", flat_plan),
)


class BookViews(QWidget):
    """Pictures that follow every figure; a book that cannot be drawn leaves the last good ones."""

    def __init__(self) -> None:
        super().__init__()
        self.tabs = QTabBar()
        self.tabs.setAccessibleName("Picture of the book")
        self.tabs.setDrawBase(False)
        self.tabs.setExpanding(False)
        set_tip(self.tabs, "The book cut across its boards and spine, or its cover laid flat and seen from outside.")
        self.larger = button(
            "Larger …",
            self.open_larger,
            tip="Both pictures in a window of their own that follows the book.",
            role="more",
        )
        self._large: LargerPictures | None = None
        self.pictures = tuple(BookPicture(words, highest_px=260) for words, _ in _VIEWS)
        self._book: tuple[Book, Volume, LengthStyle] | None = None
        self._drawn: list[object] = [None for _ in _VIEWS]
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.tabs)
        row.addStretch(1)
        row.addWidget(self.larger)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        for (words, _), picture in zip(_VIEWS, self.pictures, strict=True):
            self.tabs.addTab(words)
            column.addWidget(picture)
        self.tabs.currentChanged.connect(self._turn)
        self._turn(0)

    def show_book(self, book: Book, volume: Volume, style: LengthStyle) -> None:
        """Draw this book, in the view that is open; the other catches up when it is opened."""
        self._book = (book, volume, style)
        self._draw(self.tabs.currentIndex())
        if self._large is not None and self._large.isVisible():
            self._large.show_book(*self._book)

    def open_larger(self) -> None:
        """Show both pictures large, beside the work."""
        if self._large is None:
            self._large = LargerPictures(self.window())
        if self._book is not None:
            self._large.show_book(*self._book)
        self._large.show()
        self._large.activateWindow()

    def point_at(self, name: str) -> None:
        """Pick out a measure by its name or its rule's; empty picks out nothing."""
        for picture in self.pictures:
            picture.point_at(name)
        if self._large is not None:
            self._large.point_at(name)

    def _turn(self, at: int) -> None:
        for number, picture in enumerate(self.pictures):
            picture.setVisible(number == at)
        self._draw(at)

    def _draw(self, at: int) -> None:
        if self._book is None or self._drawn[at] == self._book:
            return
        book, volume, style = self._book
        self.pictures[at].show_picture(_drawn(_VIEWS[at][1], book, volume), style)
        self._drawn[at] = self._book


def _drawn(draw: Callable[[Book, Volume], Picture], book: Book, volume: Volume) -> Picture | None:
    """One picture, None for a book that cannot be drawn."""
    try:
        return draw(book, volume)
    except CoverlayoutError:
        return None
