"""The two pictures of the book step, one at a time: a cut through the book, and its cover laid flat."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QPoint, QTimer
from PySide6.QtWidgets import QApplication, QHBoxLayout, QTabBar, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.errors import CoverlayoutError
from coverlayout.ui.bookmaking.larger import LargerPictures
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.fields.rows import area_around, button
from coverlayout.units import MM_PER_INCH, LengthStyle, Unit

__all__ = ["BookViews", "example_of"]

_VIEWS: tuple[tuple[str, Callable[[Book, Volume], Picture]], ...] = (
    ("Cut through", cut_through),
    ("Laid flat", flat_plan),
)
# The page and block of a book that is drawn before the maker's own is known: A5, or half a letter sheet.
_EXAMPLE_MM = (148.0, 210.0, 12.0)
_EXAMPLE_IN_MM = (5.5 * MM_PER_INCH, 8.5 * MM_PER_INCH, 0.5 * MM_PER_INCH)
_EXAMPLE = "An example of this structure, until the size and thickness of yours are known."


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
        self.example = label(_EXAMPLE, role="muted")
        self.example.setVisible(False)
        self._book: tuple[Book, Volume, LengthStyle] | None = None
        self._drawn: list[object] = [None for _ in _VIEWS]
        # The structure of the last good picture of the maker's own book; an example gives way to any.
        self._structures = ["" for _ in _VIEWS]
        self._is_example = [False for _ in _VIEWS]
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
        column.addWidget(self.example)
        self.tabs.currentChanged.connect(self._turn)
        self._turn(0)

    def show_book(self, book: Book, volume: Volume, style: LengthStyle) -> None:
        """Draw this book, in the view that is open; the other catches up when it is opened."""
        self._book = (book, volume, style)
        self._draw(self.tabs.currentIndex())
        self._say_example()
        if self._large is not None and self._is_large:
            self._large.show_book(*self._shown)

    def open_larger(self) -> None:
        """Show both pictures large, beside the work."""
        if self._large is None:
            self._large = LargerPictures(self.window())
        if self._book is not None:
            self._large.show_book(*self._shown)
        self._large.show()
        self._large.activateWindow()

    def point_at(self, name: str) -> None:
        """Pick out a measure by its name or its rule's, in the other view where only that has it; empty: nothing."""
        if name and not self._is_large and not self._has(self.tabs.currentIndex(), name):
            other = 1 - self.tabs.currentIndex()
            if self._has(other, name):
                self._turn_in_place(other)
        for picture in self.pictures:
            picture.point_at(name)
        if self._large is not None:
            self._large.point_at(name)

    @property
    def _is_large(self) -> bool:
        return self._large is not None and self._large.isVisible()

    def _has(self, at: int, name: str) -> bool:
        """True where a view of the book as it is now has that measure."""
        self._draw(at)
        picture = self.pictures[at].picture
        return picture is not None and picture.measured(name) is not None

    def _turn_in_place(self, at: int) -> None:
        """Open the other view; the field that has the keys stays where it is, however high that view is."""
        field, area = QApplication.focusWidget(), area_around(self)
        if field is None or area is None or not area.isAncestorOf(field):
            self.tabs.setCurrentIndex(at)
            return
        bar, before = area.verticalScrollBar(), field.mapTo(area, QPoint()).y()
        self.tabs.setCurrentIndex(at)

        def stay() -> None:
            bar.setValue(bar.value() + field.mapTo(area, QPoint()).y() - before)

        # Once it is laid out.
        QTimer.singleShot(0, field, stay)

    @property
    def _shown(self) -> tuple[Book, Volume, LengthStyle]:
        """The book, or the example of it that is drawn while it cannot be."""
        assert self._book is not None
        book, volume, style = self._book
        if self.example.isHidden():
            return self._book
        example = example_of(book, volume, style.unit)
        return example, example.volumes[0], style

    def _turn(self, at: int) -> None:
        for number, picture in enumerate(self.pictures):
            picture.setVisible(number == at)
        self._draw(at)
        self._say_example()

    def _say_example(self) -> None:
        """Whether the view that is open shows an example."""
        self.example.setVisible(self._is_example[self.tabs.currentIndex()])

    def _draw(self, at: int) -> None:
        if self._book is None or self._drawn[at] == self._book:
            return
        book, volume, style = self._book
        picture, example = _drawn(_VIEWS[at][1], book, volume), None
        if picture is None and book.structure != self._structures[at]:
            example = example_of(book, volume, style.unit)
            picture = _drawn(_VIEWS[at][1], example, example.volumes[0])
        if picture is not None:
            self._structures[at] = "" if example else book.structure
            self._is_example[at] = example is not None
        self.pictures[at].show_picture(picture, style)
        self._drawn[at] = self._book


def example_of(book: Book, volume: Volume, unit: Unit) -> Book:
    """The book with a plausible size and thickness in place of what is not known yet, so that it can be drawn.

    >>> example_of(Book("", "", "flat-case"), Volume(1), "mm").block_mm
    (148.0, 210.0, 12.0)
    """
    width_mm, height_mm, thickness_mm = _EXAMPLE_IN_MM if unit == "in" else _EXAMPLE_MM
    if all(given is None for given in (book.page_mm, book.board_mm, book.block_mm, book.paper)):
        return replace(
            book, block_mm=(width_mm, height_mm, thickness_mm), volumes=(replace(volume, thickness_mm=None),)
        )
    return replace(book, volumes=(replace(volume, thickness_mm=thickness_mm),))


def _drawn(draw: Callable[[Book, Volume], Picture], book: Book, volume: Volume) -> Picture | None:
    """One picture, None for a book that cannot be drawn."""
    try:
        return draw(book, volume)
    except CoverlayoutError:
        return None
