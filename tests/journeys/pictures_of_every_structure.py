"""All structures beside each other, for the README: their pictures as the book step paints them, named."""

from __future__ import annotations

from collections.abc import Callable

from books_for_screens import every_structure
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Volume
from coverlayout.book.picturing.shapes import Picture
from coverlayout.ui.binding.knowing import STRUCTURES
from coverlayout.ui.bookmaking.picture import BookPicture
from coverlayout.ui.fields.entry import label
from coverlayout.units import LengthStyle

__all__ = ["every_picture"]

_COLUMNS, _HIGHEST_PX = 4, 260
_EDGE_PX, _BETWEEN_PX, _NAME_PX = 16, 16, 24


def every_picture(draw: Callable[[Book, Volume], Picture], says: str, size_px: tuple[int, int]) -> QWidget:
    """A sheet of that size with the picture of each structure under its name; last, what the sheet `says`."""
    sheet = QWidget()
    sheet.setFixedSize(QSize(*size_px))
    grid = QGridLayout(sheet)
    grid.setContentsMargins(_EDGE_PX, 10, _EDGE_PX, 10)
    grid.setHorizontalSpacing(_BETWEEN_PX)
    grid.setVerticalSpacing(0)
    wide_px = (size_px[0] - 2 * _EDGE_PX - (_COLUMNS - 1) * _BETWEEN_PX) // _COLUMNS
    cells = [
        _cell(draw, book, words, wide_px) for book, (_, words, _) in zip(every_structure(), STRUCTURES, strict=True)
    ]
    for number, cell in enumerate(cells):
        grid.addLayout(cell, number // _COLUMNS, number % _COLUMNS)
    told = label(says, "hint")
    grid.addWidget(told, len(cells) // _COLUMNS, len(cells) % _COLUMNS, 1, -1, Qt.AlignmentFlag.AlignVCenter)
    return sheet


def _cell(draw: Callable[[Book, Volume], Picture], book: Book, words: str, wide_px: int) -> QVBoxLayout:
    picture = BookPicture(words, highest_px=_HIGHEST_PX)
    picture.show_picture(draw(book, book.volumes[0]), LengthStyle())
    picture.setFixedSize(wide_px, picture.heightForWidth(wide_px))
    name = label(words, "title")
    name.setFixedHeight(_NAME_PX)
    cell = QVBoxLayout()
    cell.setSpacing(2)
    cell.addWidget(name)
    cell.addWidget(picture)
    cell.addStretch(1)
    return cell
