"""Step 3: the book. From page or board to covers and liners, and pieces of the maker's own."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from coverlayout.book.book import Book, TurnIns
from coverlayout.book.structures import notes
from coverlayout.document.edits.books import add_book, change_book, remove_book, set_copies
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import Point
from coverlayout.ui.cloths.sources import Sources
from coverlayout.ui.fields.drawing import EdgeDrawing
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import read_count
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.parts.own_pieces import TURNS, OwnPieces
from coverlayout.ui.parts.turn_ins import TurnInsOneByOne
from coverlayout.units import LengthStyle

__all__ = ["BookPanel"]

_LINERS = (("cloth", "cloth"), ("paper", "paper"), ("none", "none"))


class BookPanel(Panel):
    """The fields of step 3."""

    title = "Book"

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._book_id = ""
        self._sized_by = "page"
        self.chooser = self.choose("Book shown here", (), self._choose_book, tip="Which book these fields are about.")
        self.drawing = EdgeDrawing()
        self.notes = label(role="muted")
        self._fields_of_size()
        self._fields_of_boards()
        self._fields_of_pieces()
        self.another = button(
            "Add another book", self._add_another, tip="Books of another size from the same cloth.", role="more"
        )
        self.remove = button(
            "Remove this book", self._remove, tip="Its pieces go with it; Undo brings them back.", role="more"
        )
        self.add(
            self.chooser,
            side_by_side(self.sized_by, self.size_entry, shares=(4, 5)),
            side_by_side(self.copies, self.thickness),
            self.drawing,
            side_by_side(self.square, self.turn_in),
            self.turn_ins,
            side_by_side(self.liners, self.inset),
            self.notes,
            side_by_side(self.cover_turns, self.liner_turns),
            self.own,
            self.sources,
            side_by_side(self.another, self.remove),
        )

    def _fields_of_size(self) -> None:
        self.sized_by = self.choose(
            "What you know",
            (("page", "page size"), ("board", "board size")),
            self._choose_size,
            tip="Give the size of a trimmed page, and the boards follow; or the size of the boards themselves.",
        )
        self.size_entry = self.length_pair(
            "Width × height",
            self._give_size,
            tip="Width × height of a page (or board), head up: 4.5 x 6 in, 114.3 × 152.4 mm.",
            like="4.5 x 6 in",
        )
        self.first = self.size_entry.field
        self.copies = Entry(
            "Books",
            read_count("Books", 1, 500),
            str,
            self._give_copies,
            tip="How many of this book, all alike. Each has two covers, and two liners where they are of cloth.",
        )

    def _fields_of_boards(self) -> None:
        self.thickness = self._measure(
            "Board thickness",
            "board_thickness_mm",
            "board",
            "Thickness of the board under the cloth; 2 mm is usual.",
            "2mm",
        )
        self.square = self._measure(
            "Square",
            "square_mm",
            "square",
            "How far the board stands out past the pages at head, tail and fore-edge. With an open spine it is often "
            "0; 3 mm is usual for cased books.",
            "3mm",
        )
        self.turn_in = self.length(
            "Turn-in",
            lambda value: self._change(turn_ins=TurnIns.all_round(value)),
            tip="How much cloth folds over the board's edge, measured on the cloth from the edge, so the board's "
            "thickness is part of it. 15 mm is usual.",
            like="15mm",
        )
        self._points_at(self.turn_in, "turn-in")
        self.turn_ins = TurnInsOneByOne(self, lambda turn_ins: self._change(turn_ins=turn_ins))
        self.liners = self.choose(
            "Liners",
            _LINERS,
            lambda value: self._edit(liners=value),
            tip="What covers the inside of each board. Liners of cloth are cut from this cloth as well.",
        )
        self.inset = self._measure(
            "Liner inset",
            "liner_inset_mm",
            "inset",
            "How far the liner stays back from the board's edges; 3 mm is usual.",
            "3mm",
        )

    def _fields_of_pieces(self) -> None:
        self.cover_turns = self.choose(
            "Covers may turn",
            TURNS,
            lambda value: self._edit(cover_turns=value),
            tip="Counted from the print's up. By the print: as step 1 says. A quarter turn lays a motif on its side.",
        )
        self.liner_turns = self.choose(
            "Liners may turn",
            TURNS,
            lambda value: self._edit(liner_turns=value),
            tip="Liners are seen less: turning them often saves cloth.",
        )
        self.own = OwnPieces(self)
        self.sources = Sources(self)

    def _measure(self, title: str, field: str, points_at: str, tip: str, like: str) -> Entry:
        entry = self.length(title, lambda value: self._change(**{field: value}), tip=tip, like=like)
        self._points_at(entry, points_at)
        return entry

    def _points_at(self, entry: Entry, what: str) -> None:
        """The drawing picks out what a field means as long as it has the keys."""
        entry.entered.connect(lambda: self.drawing.point_at(what))
        entry.left.connect(lambda: self.drawing.point_at(""))

    # What the fields are about

    @property
    def book(self) -> Book | None:
        """The book shown, None when the project has none."""
        found: Book | None = chosen_of(self.session.project.books, self._book_id)
        return found

    def _choose_book(self, book_id: Any) -> None:
        self._book_id = book_id
        self.show_project(self.session.project)

    # From the maker to the project

    def _edit(self, **fields: Any) -> Edit | None:
        book = self.book
        return None if book is None else change_book(book.id, **fields)

    def _change(self, **fields: Any) -> None:
        edit = self._edit(**fields)
        if edit is not None:
            self.do(edit)

    def _choose_size(self, kind: Any) -> None:
        book = self.book
        self._sized_by = kind
        if book is not None and _size_of(book)[1] is not None:
            size = _size_of(book)[1]
            fields = {"page_mm": None, "board_mm": None, "block_mm": None, f"{kind}_mm": size}
            self.do(change_book(book.id, **fields))

    def _give_size(self, size: Point) -> None:
        book = self.book
        if book is None:
            made = Book("", "Book", **{f"{self._sized_by}_mm": size})  # type: ignore[arg-type]  # page_mm or board_mm
            self.do(add_book(made))
            return
        kind = _size_of(book)[0]
        self.do(change_book(book.id, **{f"{kind}_mm": size}))

    def _give_copies(self, copies: int) -> None:
        book = self.book
        if book is not None:
            self.do(set_copies(book.id, copies))

    def _remove(self) -> None:
        if self.book is not None:
            self.attempt(remove_book(self.book.id))

    def _add_another(self) -> None:
        book = self.book
        if book is not None:
            name = f"Book {len(self.session.project.books) + 1}"
            self.attempt(add_book(Book("", name, page_mm=book.page_mm, board_mm=book.board_mm, turn_ins=book.turn_ins)))
            self._choose_book(self.session.project.books[-1].id)

    # From the project to the fields

    def summary(self, project: Project) -> str:
        """How many, how large, how lined."""
        book = chosen_of(project.books, self._book_id)
        own = sum(piece.count for piece in project.own_pieces)
        extra = f", {own} of your own" if own else ""
        if book is None:
            return f"{own} piece{'s' if own > 1 else ''} of your own" if own else "Give the page size of the book"
        kind, size = _size_of(book)
        words = f"{self.size_entry.words(size)} {project.preferences.length_style.unit}" if size else ""
        copies = "1 book" if len(book.volumes) == 1 else f"{len(book.volumes)} books"
        liners = {"cloth": "lined with cloth", "paper": "lined with paper", "none": "not lined"}[book.liners]
        more = f" and {len(project.books) - 1} more" if len(project.books) > 1 else ""
        return f"{copies}, {kind} {words}, {liners}{extra}{more}"

    def show_project(self, project: Project) -> None:
        """Show the book; fields that need one sleep until there is one."""
        book = self.book
        unit = project.preferences.length_style.unit
        self.chooser.set_choices(tuple((each.id, each.name) for each in project.books))
        self.chooser.show_value(book.id if book else None)
        self.chooser.setVisible(len(project.books) > 1)
        asleep: tuple[QWidget, ...] = (
            self.copies,
            self.thickness,
            self.square,
            self.turn_in,
            self.liners,
            self.inset,
            self.cover_turns,
            self.liner_turns,
        )
        for part in asleep:
            part.setEnabled(book is not None)
        self.another.setVisible(book is not None)
        self.remove.setVisible(book is not None)
        shown = book or Book("", "")
        kind, size = _size_of(shown)
        self.sized_by.show_value(kind if book else self._sized_by)
        self.size_entry.show_value(size, unit)
        self.copies.show_value(len(shown.volumes))
        self._show_measures(shown, unit)
        self.cover_turns.show_value(shown.cover_turns)
        self.liner_turns.show_value(shown.liner_turns)
        self.own.show_pieces(project.own_pieces)
        self.sources.show_project(project, book)
        self._show_notes(project, book)

    def _show_measures(self, book: Book, unit: str) -> None:
        self.drawing.show_book(book, self.style_of_lengths)
        self.thickness.show_value(book.board_thickness_mm, unit)
        self.square.show_value(book.square_mm, unit)
        self.inset.show_value(book.liner_inset_mm, unit)
        self.inset.setEnabled(book.liners != "none" and self.book is not None)
        self.liners.show_value(book.liners)
        self.turn_ins.show_turn_ins(book.turn_ins)
        self.turn_in.show_value(self.turn_ins.alike_mm, unit)

    def _show_notes(self, project: Project, book: Book | None) -> None:
        """The sizes that will be cut, and what is worth knowing of this book."""
        lines = [_cut_words(project, self.style_of_lengths), *_notes_of(book, self.style_of_lengths)]
        self.notes.setText("\n".join(line for line in lines if line))
        self.notes.setVisible(bool(self.notes.text()))


def _size_of(book: Book) -> tuple[str, Point | None]:
    """What the book's size was given as, and the size."""
    if book.board_mm is not None:
        return "board", book.board_mm
    return "page", book.page_mm


def _cut_words(project: Project, style: LengthStyle) -> str:
    """The cut size of each kind of piece once: covers 144.5 x 182.5."""
    try:
        pieces = planned_pieces(project)
    except CoverlayoutError:
        return ""
    sizes: dict[str, str] = {}
    for piece in pieces:
        sizes.setdefault(piece.kind, f"{style.show(piece.width_mm, 'up')} × {style.show(piece.height_mm, 'up')}")
    words = {"cover": "Covers are cut", "liner": "liners"}
    return ", ".join(f"{words[kind]} {size}" for kind, size in sizes.items() if kind in words)


def _notes_of(book: Book | None, style: LengthStyle) -> list[str]:
    try:
        return [style.said(remark) for remark in notes(book)] if book is not None else []
    except CoverlayoutError:
        return []
