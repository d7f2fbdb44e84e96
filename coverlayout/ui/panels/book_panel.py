"""Step 3: the book. How it is bound, what is known of its size, and in folds everything else; pieces of one's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Signal

from coverlayout.book.book import Book
from coverlayout.book.materials.plan import plan
from coverlayout.book.rules.belonging import belongs, new_book
from coverlayout.document.asking.matching import apart_on_prints
from coverlayout.document.edits.books import add_book, remove_book, set_copies, set_volumes
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, CoverlayoutError, sentence
from coverlayout.ui.binding.boards import BoardsPart, SidesPart
from coverlayout.ui.binding.copies import CopiesPart, volume_choices
from coverlayout.ui.binding.knowing import Knowing, Known, known_of
from coverlayout.ui.binding.linings import LabelPart, LinersPart
from coverlayout.ui.binding.paper import PaperPart
from coverlayout.ui.binding.part import Part
from coverlayout.ui.binding.sewing import SewingPart
from coverlayout.ui.binding.wraps import FlapsPart, SlipcasePart
from coverlayout.ui.bookmaking.cut_list_view import CutListPart
from coverlayout.ui.bookmaking.drafting import STILL_TO_COME, changed, edit_of, sized_by, what_it_lacks
from coverlayout.ui.bookmaking.saying import cut_words, notes_of, summed_up
from coverlayout.ui.bookmaking.tally_view import TallyPart
from coverlayout.ui.bookmaking.views import BookViews
from coverlayout.ui.cloths.sources import Sources
from coverlayout.ui.fields.entry import Field, label, warning
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.parts.own_pieces import OwnPieces
from coverlayout.ui.ruled.shown import Shown
from coverlayout.units import Unit

__all__ = ["BookPanel"]

# What says how large a book is.
_SIZES = ("page_mm", "board_mm", "block_mm", "paper")


class BookPanel(Panel):
    """The fields of step 3.

    A book that lacks something, such as the thickness that a case needs, is kept here as a draft: the fields show it, a
    sentence says what is missing, and the project keeps the last book that could be made. `act_asked` carries the name
    of an action of the window.
    """

    title = "Book"
    act_asked = Signal(str)

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._book_id = ""
        self._draft: Book | None = None
        self._draft_of: Book | None = None
        self._wanted: Known | None = None
        # The size as it was said before a first sheet was put in, for as long as that sheet is nobody's own.
        self._before_sheet: dict[str, Any] | None = None
        self.chooser = self.choose("Book shown here", (), self._choose_book, tip="Which book these fields are about.")
        self.drawing = BookViews()
        self._volume_number = 0
        self.volume_drawn = self.choose(
            "Volume drawn",
            (),
            self._choose_volume,
            tip="Which volume of the set the pictures show, and the figures that follow from its thickness.",
        )
        self.knowing = Knowing(self, self._choose_known, self._give_copies)
        self.structure = self.knowing.structure
        self.sized_by = self.knowing.sized_by
        self.size_entry = self.knowing.size_entry
        self.copies = self.knowing.copies
        self.thickness = self.knowing.thickness
        self.first = self.size_entry.field
        self.waits = warning()
        self.notes = label(role="muted")
        self._make_parts()
        self.own = OwnPieces(self)
        self.sources = Sources(self)
        self.another = button(
            "Add another book", self._add_another, tip="Books of another size from the same cloth.", role="more"
        )
        self.remove = button(
            "Remove this book", self._remove, tip="Its pieces go with it; Undo brings them back.", role="more"
        )
        self.add(self.chooser, self.knowing, self.waits, self.volume_drawn, self.drawing, self.notes)
        for part in self.parts:
            self.add(part)
            if part is self.label:
                # Where the pieces come from follows what pieces there are.
                self.add(self.sources)
        self.add(self.own, side_by_side(self.another, self.remove))

    def _make_parts(self) -> None:
        self.paper = PaperPart(self, "Paper", tip="The sheet, how it is cut and folded, and what that makes.")
        self.boards = BoardsPart(self, "Cover", tip="Board, square, joint, spine and turn-ins.")
        self.sides = SidesPart(self, "Sides and corners", tip="Cloth of the spine, corners, and what covers the rest.")
        self.flaps = FlapsPart(self, "Flaps", tip="A flap that closes over the fore-edge, or flaps turned in.")
        self.slipcase = SlipcasePart(self, "Box", tip="How the slipcase is built and how much room the book has.")
        self.liners = LinersPart(self, "Liners and endpapers", tip="What lies inside the boards.")
        self.label = LabelPart(self, "Label", tip="A piece for a title on the front board.")
        self.sewing = SewingPart(self, "Sewing", tip="Stations, holes and thread.")
        self.volumes = CopiesPart(self, self._give_volumes)
        self.cut_list = CutListPart(self, "What to cut", tip="Everything the books are made of, with sizes and grain.")
        self.tally = TallyPart(self, "What is made", tip="How far each volume is, and what it costs.")
        self.parts: tuple[Part, ...] = (
            self.paper,
            self.boards,
            self.sides,
            self.flaps,
            self.slipcase,
            self.liners,
            self.label,
            self.sewing,
            self.volumes,
            self.cut_list,
            self.tally,
        )

    # What the fields are about

    @property
    def book(self) -> Book | None:
        """The book of the project that is shown, None when it has none."""
        found: Book | None = chosen_of(self.session.project.books, self._book_id)
        return found

    @property
    def shown_book(self) -> Book:
        """The book in the fields: a draft that waits, else the project's, else a new one without a size."""
        if self._draft is not None and self._draft_of is self.book:
            return self._draft
        return self.book or new_book("Book", "separate-boards", self._unit)

    @property
    def _unit(self) -> Unit:
        return self.style_of_lengths.unit

    def points_at(self, entry: Field, name: str) -> None:
        """The picture picks out what a field means as long as it has the keys."""
        entry.entered.connect(lambda: self.drawing.point_at(name))
        entry.left.connect(lambda: self.drawing.point_at(""))

    def ask_act(self, name: str) -> None:
        """Do an action of the window, by its name."""
        self.act_asked.emit(name)

    def begin_anew(self) -> None:
        """Another project was opened: a book that waited, and which one was chosen, are of the last one."""
        super().begin_anew()
        self._book_id, self._volume_number = "", 0
        self._draft = self._draft_of = self._wanted = self._before_sheet = None
        self.show_project(self.session.project)

    def _choose_book(self, book_id: Any) -> None:
        self._book_id, self._volume_number = book_id, 0
        self._wanted = None
        self.show_project(self.session.project)

    def _choose_volume(self, number: int) -> None:
        self._volume_number = number
        self.show_project(self.session.project)

    # From the maker to the project

    def change(self, **fields: Any) -> None:
        """Change the book shown; one that still lacks something waits as a draft until that is given."""
        self._take(changed(self.shown_book, self._unit, **fields))

    def change_part(self, part: str, **fields: Any) -> None:
        """Change its paper, sewing or label."""
        now = getattr(self.shown_book, part)
        if now is None:
            return
        wanted = changed(self.shown_book, self._unit, **{part: replace(now, **fields)})
        if part == "sewing" and self.book is not None:
            # Nothing is cut by the sewing, so no edit refuses it.
            plan(wanted)
        self._take(wanted, sheet_named=part == "paper")

    def trying(self, act: Callable[[], None]) -> None:
        """Do something from a button: what is wrong is said above the cloth."""
        try:
            act()
        except CoverlayoutError as fault:
            self.complain(fault)

    def _take(self, wanted: Book, *, sheet_named: bool = False) -> None:
        """Make the book this one, as one step; a draft when something is still missing.

        A first sheet counts once it is `sheet_named`, or anything else is said of the paper.
        """
        book = self.book
        if self.sheet_is_unasked and not sheet_named:
            self._wait(wanted)
            return
        edit = add_book(wanted) if book is None else edit_of(book, wanted)
        try:
            if edit is not None:
                self.do(edit)
        except BadInput as fault:
            if fault.remark.code not in STILL_TO_COME:
                raise
            self._before_sheet = None
            self._wait(wanted)
            return
        had_draft = self._draft is not None
        self._draft = self._draft_of = self._wanted = self._before_sheet = None
        if edit is None or had_draft:
            self.show_project(self.session.project)

    def _wait(self, wanted: Book) -> None:
        """Keep the book as a draft."""
        self._draft, self._draft_of = wanted, self.book
        self.show_project(self.session.project)

    @property
    def sheet_is_unasked(self) -> bool:
        """True while the draft's paper is the sheet to begin with, which nobody has chosen or said anything about."""
        return self._before_sheet is not None and self._draft is not None and self._draft_of is self.book

    def _choose_known(self, known: Known) -> None:
        """What the size is worked out from: what is known already is carried over; a first sheet waits to be named."""
        self._wanted = known
        before = self.shown_book
        if self.sheet_is_unasked and self._before_sheet is not None:
            before = replace(before, **self._before_sheet)
        self._before_sheet = None
        wanted = changed(before, self._unit, **sized_by(before, known, self._unit, self.book))
        if known == "paper" and before.paper is None:
            self._before_sheet = {field: getattr(before, field) for field in _SIZES}
            self._wait(wanted)
        else:
            self._take(wanted)
        if known == "paper":
            # The sheet comes next, and stands at the top.
            self.paper.open(in_view=False)

    def _give_copies(self, copies: int) -> None:
        if self.book is not None:
            self.do(set_copies(self.book.id, copies))

    def _give_volumes(self, thicknesses_mm: tuple[float, ...]) -> None:
        book = self.book
        if book is not None:
            self.do(set_volumes(book.id, thicknesses_mm or (None,) * len(book.volumes)))

    def _remove(self) -> None:
        if self.book is not None:
            self.attempt(remove_book(self.book.id))

    def _add_another(self) -> None:
        book = self.book
        if book is not None:
            name = f"Book {len(self.session.project.books) + 1}"
            self.attempt(add_book(replace(book, id="", name=name, volumes=book.volumes[:1], unknown=())))
            self._choose_book(self.session.project.books[-1].id)

    # From the project to the fields

    def summary(self, project: Project) -> str:
        """How it is bound, how many sections and pages, or how large."""
        book = chosen_of(project.books, self._book_id)
        own = sum(piece.count for piece in project.own_pieces)
        extra = f", {own} of your own" if own else ""
        if book is None:
            return f"{own} piece{'s' if own > 1 else ''} of your own" if own else "Give the page size of the book"
        copies = "" if len(book.volumes) == 1 else f", {len(book.volumes)} books"
        more = f" and {len(project.books) - 1} more" if len(project.books) > 1 else ""
        words = summed_up(book, project.preferences.length_style)
        return f"{words}{copies}{extra}{more}"

    def show_project(self, project: Project) -> None:
        """Show the book; parts that its structure lacks are not there."""
        if self._draft_of is not self.book:
            self._draft = None
        book, there = self.shown_book, self.book is not None
        shown = Shown(project, book, self.style_of_lengths, self._volume_number)
        self.chooser.set_choices(tuple((each.id, each.name) for each in project.books))
        self.chooser.show_value(self.book.id if self.book else None)
        self.chooser.setVisible(len(project.books) > 1)
        self.knowing.show_book(shown, self._known_shown(book), there=there, sheet_given=not self.sheet_is_unasked)
        for part in self.parts:
            has = self.has(part, book)
            part.setVisible(has)
            if has:
                part.look_at(shown)
        self.another.setVisible(there)
        self.remove.setVisible(there)
        self.own.show_pieces(project.own_pieces)
        self.sources.show_project(project, self.book)
        self.volume_drawn.setVisible(len({volume.thickness_mm for volume in book.volumes}) > 1)
        self.volume_drawn.set_choices(volume_choices(shown))
        self.volume_drawn.show_value(shown.volume.number)
        self.drawing.show_book(book, shown.volume, self.style_of_lengths)
        self._show_notes(project, self.book)
        self._show_waiting()

    def _known_shown(self, book: Book) -> Known:
        is_open = book.page_mm is None and book.board_mm is None and book.block_mm is None and book.paper is None
        return self._wanted if is_open and self._wanted else known_of(book)

    def has(self, part: Part, book: Book) -> bool:
        """True when such a book has that part of the step."""
        has = {
            self.paper: book.paper is not None,
            self.boards: book.structure != "parts",
            self.sides: belongs("sides", book.structure),
            self.flaps: belongs("fore_edge_flap_mm", book.structure),
            self.slipcase: belongs("slipcase_of", book.structure),
            self.liners: belongs("liners", book.structure),
            self.label: belongs("label", book.structure),
            self.sewing: belongs("sewing", book.structure),
            self.volumes: self.book is not None,
            self.cut_list: self.book is not None,
            self.tally: self.book is not None,
        }
        return has[part]

    def _show_waiting(self) -> None:
        """What a draft still lacks."""
        why = ""
        if self.sheet_is_unasked:
            why = sentence("waits-sheet", {})
        elif self._draft is not None:
            why = what_it_lacks(self._draft)
        self.waits.setText(why)
        self.waits.setVisible(bool(why))

    def _show_notes(self, project: Project, book: Book | None) -> None:
        """The sizes that will be cut, and what is worth knowing of this book; nothing of the last one below a draft."""
        style = self.style_of_lengths
        prints = (style.said(note) for note in apart_on_prints(project))
        lines = [cut_words(project, style), *prints, *notes_of(book, style)]
        self.notes.setText("" if self._draft is not None else "\n".join(line for line in lines if line))
        self.notes.setVisible(bool(self.notes.text()))
