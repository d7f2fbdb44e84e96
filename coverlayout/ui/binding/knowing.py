"""How a book is bound, and what is known of its size: the top of the book step."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QPixmap, QShowEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from coverlayout.book.book import Book, Paper, Structure, Volume
from coverlayout.book.measures import as_measured_mm
from coverlayout.book.paper.sheets import sheet_named
from coverlayout.errors import BadInput
from coverlayout.ui.fields.choice import PICTURE_PX, Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_length, read_count, read_length
from coverlayout.ui.picturing.colours import theme_of
from coverlayout.ui.picturing.icons import structure_pixmap
from coverlayout.ui.ruled.entries import Ruled
from coverlayout.ui.ruled.owner import BookOwner
from coverlayout.ui.ruled.shown import Shown, size_words, worded
from coverlayout.units import LengthStyle, Unit, parse_lengths, parse_size, split_parts

__all__ = ["STRUCTURES", "Knowing", "Known", "known_of", "read_block", "structure_words"]

Known = Literal["page", "paper", "block", "board"]

_TOP = Qt.AlignmentFlag.AlignTop

# Structure, its name in the list, one line for someone who never heard of it.
STRUCTURES: tuple[tuple[Structure, str, str], ...] = (
    ("separate-boards", "Separate boards, spine open", "Two covered boards sewn on with the pages; the sewing shows."),
    (
        "exposed-spine-wrap",
        "One wrap, spine open",
        "One cloth over both boards and the spine between; the sewing goes through it.",
    ),
    ("flat-case", "Flat-back case", "Boards and spine in one cloth, made apart and glued to the block."),
    ("rounded-case", "Round-back case", "Boards and a round spine that bends, in one cloth; made apart and glued on."),
    ("quarter-case", "Quarter cloth", "Cloth over the spine, another print or paper on the boards."),
    ("half-case", "Half cloth, with corners", "Cloth over spine and corners, another print or paper between."),
    ("limp-wrap", "Limp wrap, no boards", "Cloth alone around one section, with or without flaps."),
    (
        "side-sewn",
        "Side-sewn, hinged boards",
        "Holes through the side of a pile of leaves; the boards turn on a hinge.",
    ),
    ("accordion", "Accordion", "A strip folded to and fro between two covered boards."),
    ("slipcase", "Slipcase", "A box, open at one side, for a book that is finished."),
)
_KNOWN: tuple[tuple[Known, str], ...] = (
    ("page", "page size"),
    ("paper", "the paper"),
    ("block", "block size"),
    ("board", "board size"),
)
# A size as it may be typed, in the maker's unit.
_LIKE: dict[Unit, dict[Known, str]] = {
    "mm": {"page": "148 x 210 mm", "paper": "A4", "block": "148 x 210 x 10 mm", "board": "148 x 216 mm"},
    "in": {"page": "4.5 x 6 in", "paper": "letter", "block": "6 x 9 x 1 in", "board": "4.5 x 6 in"},
}
_SIZE_TITLES: dict[Known, str] = {
    "page": "Width × height",
    "paper": "Width × height",
    "block": "Width × height × thickness",
    "board": "Width × height",
}
# What a slipcase is made for has its boards on.
_BOOK_TITLES: dict[Known, str] = {"page": "Face, with its boards", "block": "Book, with its boards: w × h × thickness"}
# Over both boards the cloth of such a wrap goes, and so it is measured.
_WITH_BOARDS: tuple[Structure, ...] = ("exposed-spine-wrap",)
_THICKNESS_TITLES: dict[Structure, str] = {
    "slipcase": "Thickness of the book",
    "exposed-spine-wrap": "Thickness with boards",
}


def structure_words(structure: Structure) -> str:
    """What a structure is called.

    >>> structure_words("flat-case"), structure_words("parts")
    ('Flat-back case', 'A list of parts')
    """
    return next((words for name, words, _ in STRUCTURES if name == structure), "A list of parts")


def known_of(book: Book) -> Known:
    """What the book's size is worked out from."""
    if book.board_mm is not None:
        return "board"
    if book.block_mm is not None:
        return "block"
    if book.page_mm is None and book.paper is not None:
        return "paper"
    # What a slipcase is made for is a whole book, that has three sides to measure.
    return "block" if book.page_mm is None and book.structure == "slipcase" else "page"


def read_block(text: str, style: LengthStyle, where: str) -> tuple[float, float, float]:
    """Width, height and thickness; one unit at the end counts for all that have none.

    >>> read_block("6 x 9 x 1 in", LengthStyle(), "Block"), read_block("148x210x10", LengthStyle(), "Block")
    ((152.4, 228.6, 25.4), (148.0, 210.0, 10.0))
    """
    like = _LIKE[style.unit]["block"]
    parts = split_parts(text, 3, where=where, like=like)
    width_mm, height_mm, thickness_mm = parse_lengths(parts, style.unit, where=where, like=like, least="above 0")
    return width_mm, height_mm, thickness_mm


class Knowing(QWidget):
    """The structure, what is known, the size, how many and how thick."""

    def __init__(
        self, owner: BookOwner, choose_known: Callable[[Known], None], give_copies: Callable[[int], None]
    ) -> None:
        super().__init__()
        self._owner = owner
        self.structure = Choice(
            "Structure",
            tuple((name, words) for name, words, _ in STRUCTURES),
            lambda value: owner.change(structure=value),
            tip="How the book is bound. What you have given stays wherever it still belongs.",
        )
        self.structure.set_pictures(self._picture_of)
        self.structure_says = label(role="muted")
        self.sized_by = Choice(
            "What you know",
            _KNOWN,
            choose_known,
            tip="Start from the paper in the drawer, from a trimmed page, from a block you can measure, or from boards "
            "that are cut already.",
        )
        self.size_entry = Entry(
            "Width × height",
            self._read_size,
            self._size_text,
            lambda size: owner.change(**{f"{self._known}_mm": size}),
            tip="",
            unit=owner.style_of_lengths.unit,
        )
        self.sheet = Entry(
            "Sheet",
            lambda text: read_sheet(text, owner.style_of_lengths),
            str,
            lambda sheet: owner.change_part("paper", sheet_name=sheet[0], sheet_mm=sheet[1]),
            tip="By its name (A4, letter, 9 x 12 in) or by its size. The rest is in Paper below.",
        )
        self.copies = Entry(
            "Books",
            read_count("Books", 1, 500),
            str,
            give_copies,
            tip="How many of this book, all alike. Volumes of different thickness are in Copies and volumes below.",
        )
        self.thickness = Ruled(
            "Block thickness",
            self._read_thickness,
            lambda value: exact_length(value, owner.style_of_lengths),
            self._give_thickness,
            tip="",
            unit=owner.style_of_lengths.unit,
        )
        owner.points_at(self.thickness, "thickness")
        self._known: Known = "page"
        self._is_box = False
        self._volumes: tuple[Volume, ...] = ()
        self._drawn: dict[tuple[Structure, int, str, float], QPixmap] = {}
        self._arrange()

    def _arrange(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.structure)
        column.addWidget(self.structure_says)
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(8)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        grid.addWidget(self.sized_by, 0, 0, _TOP)
        grid.addWidget(self.size_entry, 0, 1, _TOP)
        grid.addWidget(self.sheet, 0, 1, _TOP)
        grid.addWidget(self.copies, 2, 0, _TOP)
        grid.addWidget(self.thickness, 2, 1, _TOP)
        self._grid = grid
        column.addLayout(grid)
        self.sheet.hide()

    def _place_size(self, known: Known) -> None:
        """Three figures do not fit beside what is known: they have a row of their own."""
        wanted = (1, 0, 1, 2) if known == "block" else (0, 1, 1, 1)
        if self._grid.getItemPosition(self._grid.indexOf(self.size_entry)) != wanted:
            self._grid.removeWidget(self.size_entry)
            self._grid.addWidget(self.size_entry, *wanted, _TOP)

    def _picture_of(self, structure: Structure, width_px: int) -> QPixmap:
        theme, ratio = theme_of(self.palette()), self.devicePixelRatioF()
        key = structure, width_px, theme.name, ratio
        if key not in self._drawn:
            self._drawn[key] = structure_pixmap(structure, theme, width_px=width_px, ratio=ratio)
        return self._drawn[key]

    def showEvent(self, event: QShowEvent) -> None:
        """The pictures of the list are drawn one by one while nothing else is to be done, so that it opens at once."""
        super().showEvent(event)
        if not self._drawn:
            QTimer.singleShot(0, self, lambda: self._draw_ahead(0))

    def _draw_ahead(self, at: int) -> None:
        self._picture_of(STRUCTURES[at][0], PICTURE_PX.width())
        if at + 1 < len(STRUCTURES):
            QTimer.singleShot(0, self, lambda: self._draw_ahead(at + 1))

    def _read_size(self, text: str) -> tuple[float, ...]:
        style = self._owner.style_of_lengths
        if self._known == "block":
            return read_block(text, style, "Book" if self._is_box else "Block")
        return parse_size(text, style.unit, where=_SIZE_TITLES[self._known], like=_LIKE[style.unit][self._known])

    def _size_text(self, size: tuple[float, ...]) -> str:
        return " × ".join(exact_length(side, self._owner.style_of_lengths) for side in size)

    def _give_thickness(self, thickness_mm: float | None) -> None:
        """The same thickness for every volume."""
        volumes = tuple(replace(volume, thickness_mm=thickness_mm) for volume in self._volumes)
        self._owner.change(volumes=volumes)

    def _read_thickness(self, text: str) -> float | None:
        read = read_length(self.thickness.title.text(), "12mm", lambda: self._owner.style_of_lengths)
        return read(text) if text.strip() else None

    def show_book(self, shown: Shown, known: Known, *, there: bool, sheet_given: bool = True) -> None:
        """Show what is known; `there` tells that the project has this book.

        A sheet that is not `sheet_given` but only put in to begin with stands in its field as what is usual does.
        """
        book, unit = shown.book, shown.style.unit
        self._known, self._volumes = known, book.volumes
        self._is_box = book.structure == "slipcase"
        self.structure.show_value(book.structure)
        self.structure_says.setText(next((says for name, _, says in STRUCTURES if name == book.structure), ""))
        in_list = book.structure != "parts"
        self.sized_by.setVisible(in_list)
        self.sized_by.set_choices(_choices(book.structure))
        self.sized_by.show_value(known)
        self.size_entry.setVisible(in_list and known != "paper")
        self.sheet.setVisible(in_list and known == "paper")
        self._place_size(known)
        self._name_size(book, known, unit)
        self.size_entry.show_value(_size(book, known), unit)
        sheet = _sheet_text(book.paper, shown.style)
        self.sheet.show_value(sheet if sheet_given else None)
        self.sheet.line.setPlaceholderText("" if sheet_given else sheet or "")
        self.copies.setEnabled(there)
        self.copies.show_value(len(book.volumes))
        self._show_thickness(shown, known)

    def _name_size(self, book: Book, known: Known, unit: Unit) -> None:
        title = _BOOK_TITLES.get(known, _SIZE_TITLES[known]) if self._is_box else _SIZE_TITLES[known]
        self.size_entry.rename(title)
        what = {"page": "a trimmed page", "paper": "a page", "block": "the block", "board": "a board"}[known]
        if self._is_box:
            what = "the finished book, boards and all"
        elif known == "block" and book.structure in _WITH_BOARDS:
            what = "the block, its thickness with both boards"
        self.size_entry.explain(f"{_SIZE_TITLES[known]} of {what}, head up: {_LIKE[unit][known]}.")

    def _show_thickness(self, shown: Shown, known: Known) -> None:
        book = shown.book
        figures = {volume.thickness_mm for volume in book.volumes}
        self.thickness.setVisible(known != "block" and book.structure not in ("parts",))
        over_boards = book.structure in _WITH_BOARDS
        self.thickness.rename(_THICKNESS_TITLES.get(book.structure, "Block thickness"))
        measured = shown.measured
        by_paper = (
            None if book.paper is None or measured is None or figures != {None} else as_measured_mm(book, shown.volume)
        )
        by_ruler = (
            "thickness-of-book" if self._is_box else "thickness-over-boards" if over_boards else "thickness-by-ruler"
        )
        self.thickness.explain(
            worded("thickness-differs", shown.style)
            if len(figures) > 1
            else worded("thickness-by-paper" if book.paper is not None and not over_boards else by_ruler, shown.style)
        )
        self.thickness.show_ruled(figures.pop() if len(figures) == 1 else None, by_paper, shown.style.unit)


def _choices(structure: Structure) -> tuple[tuple[Known, str], ...]:
    if structure == "slipcase":
        return (("block", "whole book"), ("page", "its face only"))
    if structure == "limp-wrap":
        return tuple(each for each in _KNOWN if each[0] != "board")
    return _KNOWN


def _size(book: Book, known: Known) -> tuple[float, ...] | None:
    if known == "paper":
        return None
    size: tuple[float, ...] | None = getattr(book, f"{known}_mm")
    return size


def _sheet_text(paper: Paper | None, style: LengthStyle) -> str | None:
    if paper is None:
        return None
    return paper.sheet_name or size_words(paper.sheet_mm, style)


def read_sheet(text: str, style: LengthStyle) -> tuple[str, tuple[float, float]]:
    """The name ("" for none) and the size of a sheet; a size without a unit is in the maker's.

    >>> read_sheet("a4", LengthStyle()), read_sheet("9 x 12", LengthStyle("in"))
    (('A4', (210.0, 297.0)), ('9 x 12 in', (228.6, 304.8)))
    """
    plain = text.strip()
    try:
        split_parts(plain, 2, where="Sheet", like="9x12in")
        bare = plain[-1:].isdigit()
    except BadInput:
        bare = False
    found = sheet_named(f"{plain} {style.unit}" if bare else plain, where="Sheet")
    return found.name, found.size_mm
