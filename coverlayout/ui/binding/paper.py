"""The paper of the book: the sheet, how it is cut and folded, how many there are, and what comes of it in sentences."""

from __future__ import annotations

import re
from dataclasses import replace

from coverlayout.book.book import Book, Paper
from coverlayout.book.paper.block import BlockMade, block_of
from coverlayout.book.paper.folding import Folded, folded, pieces_in_section
from coverlayout.book.paper.grain import grain_notes
from coverlayout.book.paper.thickness import paper_thickness_mm, swell_of_section_mm
from coverlayout.book.paper.weight import thickness_said, weight_said
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput, CoverlayoutError
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_length, exact_number, read_count
from coverlayout.ui.fields.rows import side_by_side
from coverlayout.ui.ruled.entries import Ruled, read_number, rule_tip, ruled, ruled_number
from coverlayout.ui.ruled.pairs import Pairs
from coverlayout.ui.ruled.shown import Shown, size_words, worded
from coverlayout.units import LengthStyle

__all__ = ["PaperPart", "block_or_none", "counted_words", "paper_answers", "read_cut"]

_GRAINS = (("unknown", "not known"), ("long", "its longer side"), ("short", "its shorter side"))
_SPINES = ((None, "as usual"), ("longer", "its longer side"), ("shorter", "its shorter side"))
_AMOUNTS = (("sheets", "sheets I have"), ("pages", "pages wanted"))


class PaperPart(Part):
    """From the sheet in the drawer to pages and sections."""

    def make(self) -> None:
        """The fields, in the order of the work: the sheet, how many, cut and fold, how thick, trims."""
        give = self.owner.change_part
        self.grain = Choice(
            "Grain runs along",
            _GRAINS,
            lambda value: give("paper", grain=value),
            tip="Paper bends and tears more readily along its grain. It should run from head to tail of the book.",
        )
        self.amount_of = Choice(
            "What is counted",
            _AMOUNTS,
            self._choose_amount,
            tip="The sheets there are, or the pages the book must have.",
        )
        self.amount = Entry(
            "How many",
            read_count("How many", 1, 100_000),
            str,
            lambda count: give("paper", **{self.amount_of.value or "sheets": count}),
            tip="How many sheets are in the drawer, or how many pages the book needs: two to a leaf.",
        )
        self.cut = Entry(
            "Cut each sheet into",
            read_cut,
            lambda cut: f"{cut[0]} × {cut[1]}",
            lambda cut: give("paper", cut=cut),
            tip="Parts along its longer side × parts along its shorter: 1 × 1 leaves it whole, 2 × 1 halves it.",
        )
        self.folds = Entry(
            "Fold it",
            read_count("Folds", 0, 6),
            str,
            lambda folds: give("paper", folds=folds),
            tip="How often each cut piece is folded in half; the last fold is the spine. 1 makes two leaves of it.",
            unit="times",
        )
        self._make_sections()
        self._make_thickness()
        self.trims = {edge: self._trim(edge) for edge in ("head", "tail", "fore_edge")}
        self.price = ruled_number(
            "Price of a sheet",
            read_number,
            lambda price: give("paper", price=price),
            tip="In your own currency, for what a book costs. Empty: not counted.",
        )
        self.answers = label()
        self.notes = label(role="muted")
        self.pairs = Pairs(
            (self.grain, self.amount_of, self.amount, self.cut, self.folds, self.spine, self.per_section,
             self.thickness, self.weight, self.bulk, self.swell)
        )  # fmt: skip
        self.body.addWidget(self.pairs)
        self.body.addWidget(side_by_side(*self.trims.values()))
        self.body.addWidget(self.price)
        self.body.addWidget(self.answers)
        self.body.addWidget(self.notes)

    def _make_sections(self) -> None:
        give = self.owner.change_part
        self.spine = Choice(
            "Spine along",
            _SPINES,
            lambda value: give("paper", spine_along=value),
            tip="Of the piece folded last, or of a single leaf. As usual a fold halves the longer side and a leaf "
            "stands upright; turn it for an album that lies sideways, or for tall narrow pages.",
        )
        self.per_section = ruled_number(
            "Pieces to a section",
            read_count("Pieces to a section", 1, 200),
            lambda count: give("paper", per_section=count),
            tip="How many cut pieces are folded into each other to make one section, also called a signature.",
        )

    def _make_thickness(self) -> None:
        give = self.owner.change_part
        self.thickness = Ruled(
            "Thickness of a sheet",
            self._read_thickness,
            lambda value: exact_length(value, self.owner.style_of_lengths),
            lambda value: give("paper", thickness_mm=value),
            tip="",
            unit=self.owner.style_of_lengths.unit,
        )
        self.weight = Ruled(
            "Weight",
            lambda text: weight_said(text, where="Weight") if text.strip() else None,
            lambda gsm: exact_number(gsm, 1),
            lambda gsm: give("paper", gsm=gsm),
            tip="In g/m², or as a basis weight with the kind of paper: 20 lb bond, 80 lb text. With the bulk it tells "
            "how thick a sheet is.",
            unit="g/m²",
        )
        self.bulk = ruled_number("Bulk", read_number, lambda value: give("paper", bulk=value), tip="")
        self.swell = ruled(self.owner, "Swell of a section", lambda value: give("paper", swell_mm=value), like="0.2mm")

    def _read_thickness(self, text: str) -> float | None:
        unit = self.owner.style_of_lengths.unit
        return thickness_said(text, unit, where="Thickness of a sheet") if text.strip() else None

    def _trim(self, edge: str) -> Entry:
        words = edge.replace("_", "-")
        return self.owner.length(
            "Trim, head" if edge == "head" else words.capitalize(),
            lambda value: self.owner.change_part("paper", **{f"trim_{edge}_mm": value}),
            tip=f"What is cut off the folded section at the {words}.",
            like="3mm",
        )

    def _choose_amount(self, which: str) -> None:
        """Sheets in hand become the pages they make, and back, so that nothing else changes."""
        paper = None if self._shown is None else self._shown.book.paper
        if self._shown is None or paper is None:
            return
        made = block_or_none(self._shown.book)
        if which == "pages":
            self.owner.change_part("paper", sheets=None, pages=made.pages if made else 64)
        else:
            self.owner.change_part("paper", pages=None, sheets=made.sheets_needed if made else 8)

    def summed_up(self, shown: Shown) -> str:
        """The pages, or the sheet."""
        made = block_or_none(shown.book)
        if made is not None:
            return worded("paper-summed", shown.style, **counted_words(made, shown.book))
        paper = shown.book.paper
        return "" if paper is None else paper.sheet_name or size_words(paper.sheet_mm, shown.style)

    def show_book(self, shown: Shown) -> None:
        """Show the paper and what comes of it."""
        paper, structure, unit = shown.book.paper, shown.book.structure, shown.style.unit
        if paper is None:
            return
        self.grain.show_value(paper.grain)
        self.amount_of.show_value("pages" if paper.pages is not None else "sheets")
        self.amount.show_value(paper.sheets if paper.pages is None else paper.pages)
        self.cut.show_value(paper.cut)
        self.folds.show_value(paper.folds)
        self.spine.show_value(paper.spine_along)
        self.per_section.show_ruled(paper.per_section, _per_section(shown.book))
        self.thickness.show_ruled(paper.thickness_mm, _by_weight_mm(shown.book), unit)
        self.thickness.explain(worded("paper-thickness-tip", shown.style))
        self.weight.show_value(paper.gsm)
        self.bulk.show_ruled(paper.bulk, rule("bulk", structure).value)
        self.bulk.explain(rule_tip("bulk", shown))
        self.swell.show_ruled(paper.swell_mm, swell_of_section_mm(replace(paper, swell_mm=None), structure), unit)
        self.swell.explain(rule_tip("swell", shown))
        for edge, entry in self.trims.items():
            entry.show_value(getattr(paper, f"trim_{edge}_mm"), unit)
        self.price.show_value(paper.price)
        answers, notes = paper_answers(shown.book, shown.style)
        self.answers.setText("\n".join(answers))
        self.notes.setText("\n".join(notes))
        self.notes.setVisible(bool(notes))


def paper_answers(book: Book, style: LengthStyle) -> tuple[list[str], list[str]]:
    """What the paper makes, a sentence each, then what was assumed and how its grain lies.

    What cannot be told is left out, what is wrong is said.
    """
    if book.paper is None:
        return [], []
    try:
        lines = [_page_words(folded(book.paper, book.structure), style)]
        if book.paper.sheets is None and book.paper.pages is None:
            return [*lines, worded("paper-count-it", style)], []
        block = block_of(book.paper, book.structure)
        notes = (*block.notes, *grain_notes(book.paper, book.structure))
        # What is left over is told in the answer.
        said = [style.said(note) for note in notes if note.code != "paper-left-over"]
        return [*lines, *_block_words(book.paper, block, book, style)], said
    except CoverlayoutError as fault:
        return [style.said(fault.remark)], []


def _page_words(made: Folded, style: LengthStyle) -> str:
    return worded("paper-page", style, leaf=size_words(made.leaf_mm, style), page=size_words(made.page_mm, style))


def counted_words(block: BlockMade, book: Book) -> dict[str, str]:
    """How many sections (of an accordion strips, without a fold leaves) and pages there are, each with its word."""
    pages = _counted(block.pages, "page")
    if book.structure == "accordion":
        return {"sections": _counted(block.sections, "strip"), "pages": pages}
    if _is_folded(book):
        return {"sections": _counted(block.sections, "section"), "pages": pages}
    return {"sections": "1 leaf" if block.leaves == 1 else f"{block.leaves} leaves", "pages": pages}


def _is_folded(book: Book) -> bool:
    return book.paper is None or book.paper.folds > 0


def _block_words(paper: Paper, block: BlockMade, book: Book, style: LengthStyle) -> list[str]:
    pieces, counted = _counted(block.pieces_per_section, "piece"), counted_words(block, book)
    if book.structure == "accordion" or not _is_folded(book):
        lines = [worded("paper-alone", style, **counted)]
    else:
        lines = [worded("paper-block", style, pieces=pieces, **counted)]
    if paper.pages is not None:
        lines.append(worded("paper-buy", style, sheets=_counted(block.sheets_needed, "sheet")))
    if block.blank_pages:
        lines.append(worded("paper-blank", style, pages=_counted(block.blank_pages, "page")))
    if block.leftover_sheets:
        lines.append(worded("paper-left", style, sheets=_counted(block.leftover_sheets, "sheet")))
    if block.leftover_pieces:
        lines.append(worded("paper-left-pieces", style, pieces=_counted(block.leftover_pieces, "cut piece")))
    if block.thickness_mm is not None:
        # As finely as the field of the thickness shows it.
        thickness, swell = style.show_exactly(block.thickness_mm), style.show_exactly(block.swell_mm)
        code = "paper-thick" if block.swell_mm > 0 else "paper-thick-alone"
        lines.append(worded(code, style, thickness=thickness, swell=swell))
    return lines


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def block_or_none(book: Book) -> BlockMade | None:
    """What the paper makes, None while it is not counted or cannot be used."""
    if book.paper is None or (book.paper.sheets is None and book.paper.pages is None):
        return None
    try:
        return block_of(book.paper, book.structure)
    except CoverlayoutError:
        return None


def _per_section(book: Book) -> int | None:
    try:
        return None if book.paper is None else pieces_in_section(book.paper, book.structure)
    except CoverlayoutError:
        return None


def _by_weight_mm(book: Book) -> float | None:
    """What weight and bulk make of the thickness."""
    if book.paper is None or book.paper.gsm is None:
        return None
    try:
        return paper_thickness_mm(replace(book.paper, thickness_mm=None), book.structure)
    except CoverlayoutError:
        return None


def read_cut(text: str) -> tuple[int, int]:
    """Parts along the longer side and along the shorter: `2 x 1`, or `2` for `2 x 1`.

    >>> read_cut("2x1"), read_cut("3 × 2"), read_cut("2")
    ((2, 1), (3, 2), (2, 1))
    """
    match = re.fullmatch(r"\s*(\d{1,4})\s*(?:[x×*]\s*(\d{1,4})\s*)?", text.lower())
    if match is None:
        raise BadInput("cut-unreadable", found=text.strip()[:40])
    return int(match[1]), int(match[2] or 1)
