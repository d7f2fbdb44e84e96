"""The top of the book step: structure, what is known of the size, and a book that waits for what it still lacks."""

from __future__ import annotations

import pytest

from coverlayout.book.book import Book, PartOfBook, TurnIns, Volume
from coverlayout.document.edits.books import add_book, change_book
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Pictures, Session
from coverlayout.errors import BadInput
from coverlayout.ui.binding.knowing import STRUCTURES, read_block, read_sheet
from coverlayout.ui.bookmaking.drafting import changed, sized_by
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.units import LengthStyle

IN_INCHES = LengthStyle("in", inch_parts=16)


@pytest.fixture
def inches(session: Session, panel: BookPanel) -> BookPanel:
    session.do(change_preferences(length_style=IN_INCHES))
    return panel


def test_the_structure_comes_before_the_size_and_the_thickness_before_the_case(
    panel: BookPanel, session: Session, hands
) -> None:
    hands.choose(panel.structure, "Flat-back case")
    assert session.project.books == ()
    assert "Give the size" in panel.waits.text()
    hands.type(panel.size_entry, "148 x 210")
    assert session.project.books == ()
    assert "thickness" in panel.waits.text()
    hands.type(panel.thickness, "10")
    (book,) = session.project.books
    assert (book.structure, book.page_mm, book.volumes[0].thickness_mm) == ("flat-case", (148.0, 210.0), 10.0)
    assert panel.waits.isHidden()
    assert [piece.id for piece in planned_pieces(session.project)] == ["cover-1", "liner-front-1", "liner-back-1"]
    assert panel.summary(session.project) == "Flat-back case, page 148 × 210 mm"


def test_the_last_book_stays_while_another_structure_waits(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    before = session.project
    hands.choose(panel.structure, "Limp wrap, no boards")
    assert session.project is before
    assert panel.structure.value == "limp-wrap"
    assert not panel.flaps.isHidden()
    hands.choose(panel.structure, "Accordion")
    assert session.project.books[0].structure == "accordion"
    session.undo()
    assert session.project == before
    assert panel.structure.value == "separate-boards"


def test_a_draft_is_dropped_when_its_book_changes_elsewhere(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.choose(panel.structure, "Flat-back case")
    session.do(change_book(session.project.books[0].id, liner_inset_mm=4.0))
    assert panel.structure.value == "separate-boards"
    assert panel.waits.isHidden()


def test_every_structure_says_itself_in_a_line_and_shows_only_its_parts(
    panel: BookPanel, session: Session, hands
) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.type(panel.thickness, "12")
    for structure, words, says in STRUCTURES:
        hands.choose(panel.structure, words)
        assert session.project.books[0].structure == structure
        assert panel.knowing.structure_says.text() == says
        assert panel.sides.isHidden() == (structure not in ("quarter-case", "half-case", "slipcase"))
        assert panel.flaps.isHidden() == (structure != "limp-wrap")
        assert panel.slipcase.isHidden() == (structure != "slipcase")
        assert panel.sewing.isHidden() == (structure in ("accordion", "slipcase"))
        assert panel.label.isHidden() == (structure in ("limp-wrap", "slipcase"))
        assert planned_pieces(session.project)


def test_each_change_is_one_step_of_undo(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    first = session.project
    hands.choose(panel.structure, "Flat-back case")
    hands.type(panel.thickness, "12")
    session.undo()
    assert session.project == first


def test_page_paper_block_and_board_follow_from_each_other(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.type(panel.thickness, "12")
    hands.choose(panel.sized_by, "block size")
    (book,) = session.project.books
    assert (book.page_mm, book.block_mm, book.volumes[0].thickness_mm) == (None, (148.0, 210.0, 12.0), None)
    assert panel.thickness.isHidden()
    assert panel.size_entry.line.text() == "148 × 210 × 12"
    hands.type(panel.size_entry, "6 x 9 x 1 in")
    assert session.project.books[0].block_mm == (152.4, 228.6, 25.4)
    hands.choose(panel.sized_by, "page size")
    (book,) = session.project.books
    assert (book.page_mm, book.block_mm, book.volumes[0].thickness_mm) == ((152.4, 228.6), None, 25.4)
    hands.choose(panel.sized_by, "the paper")
    hands.type(panel.knowing.sheet, "A4")
    (book,) = session.project.books
    assert (book.page_mm, book.paper.sheet_name if book.paper else "") == (None, "A4")
    assert book.volumes[0].thickness_mm == 25.4
    assert panel.size_entry.isHidden()
    assert panel.paper.head.isChecked()
    hands.choose(panel.sized_by, "board size")
    (book,) = session.project.books
    # An A4 sheet folded once: pages of 148.5 x 210 mm (ISO 216), boards as large without squares.
    assert (book.board_mm, book.paper is None) == ((148.5, 210.0), False)


def test_a_sheet_put_in_to_begin_with_waits_to_be_named(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.sized_by, "block size")
    hands.type(panel.size_entry, "148 x 210 x 15")
    before = session.project
    assert "To be cut" in panel.notes.text()
    hands.choose(panel.sized_by, "the paper")
    assert session.project is before
    assert (panel.knowing.sheet.line.text(), panel.knowing.sheet.line.placeholderText()) == ("", "A4")
    assert "Name the sheet" in panel.waits.text()
    assert panel.notes.isHidden(), "nothing of the old plan stands under the new paper"
    assert panel.thickness.line.text() == "15", "what was measured stays"
    hands.choose(panel.structure, "Accordion")
    assert session.project is before
    hands.choose(panel.structure, "Separate boards, spine open")
    hands.type(panel.knowing.sheet, "A4")
    (book,) = session.project.books
    assert (book.paper.sheet_name if book.paper else "", book.volumes[0].thickness_mm) == ("A4", 15.0)
    assert (panel.waits.isHidden(), panel.knowing.sheet.line.text()) == (True, "A4")
    assert "To be cut" in panel.notes.text()


def test_a_sheet_nobody_named_leaves_the_size_alone(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "120 x 180")
    before = session.project
    hands.choose(panel.sized_by, "the paper")
    hands.choose(panel.sized_by, "board size")
    assert session.project.books[0].board_mm == (120.0, 180.0)
    session.undo()
    hands.choose(panel.sized_by, "the paper")
    hands.choose(panel.sized_by, "page size")
    assert session.project == before
    assert panel.waits.isHidden()


def test_the_thickness_says_what_it_is_measured_over(panel: BookPanel, hands) -> None:
    for structure, words, _ in STRUCTURES:
        hands.choose(panel.structure, words)
        asked = {"slipcase": "Thickness of the book", "exposed-spine-wrap": "Thickness with boards"}
        assert panel.thickness.title.text() == asked.get(structure, "Block thickness")
    hands.type(panel.thickness, "thick")
    assert panel.thickness.trouble.text().startswith("Thickness of the book")


def test_a_wrap_waits_for_its_thickness_with_boards(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.choose(panel.structure, "One wrap, spine open")
    assert "with both boards" in panel.waits.text()
    hands.type(panel.thickness, "16")
    (book,) = session.project.books
    assert (book.structure, book.volumes[0].thickness_mm) == ("exposed-spine-wrap", 16.0)
    assert "with both boards" in panel.thickness.toolTip() + panel.thickness.field.toolTip()
    hands.choose(panel.sized_by, "block size")
    assert session.project.books[0].block_mm == (148.0, 210.0, 16.0), "as it was measured"


def test_a_block_of_no_thickness_yet_waits_for_it(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.choose(panel.sized_by, "block size")
    assert session.project.books[0].page_mm == (148.0, 210.0)
    assert panel.size_entry.line.text() == ""
    hands.choose(panel.sized_by, "page size")
    assert session.project.books[0].page_mm == (148.0, 210.0)
    assert panel.size_entry.line.text() == "148 × 210"


def test_the_thickness_is_the_papers_until_it_is_measured(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.sized_by, "the paper")
    hands.type(panel.paper.amount, "8")
    hands.type(panel.paper.thickness, "0.1")
    by_paper = panel.thickness.line.placeholderText()
    assert by_paper
    assert panel.thickness.line.text() == ""
    hands.type(panel.thickness, "9")
    assert session.project.books[0].volumes[0].thickness_mm == 9.0
    hands.type(panel.thickness, "")
    assert session.project.books[0].volumes[0].thickness_mm is None
    assert panel.thickness.line.placeholderText() == by_paper


def test_in_inches_a_new_book_has_nice_numbers(inches: BookPanel, session: Session, hands) -> None:
    hands.type(inches.size_entry, "4 1/2 x 6")
    (book,) = session.project.books
    # 5/8 in and 1/8 in: the table of rules.
    assert (book.turn_ins, book.liner_inset_mm) == (TurnIns.all_round(15.875), 3.175)
    hands.type(inches.thickness, "1/2")
    hands.choose(inches.structure, "Flat-back case")
    (book,) = session.project.books
    assert (book.square_mm, book.joint_mm) == (3.175, 9.525)
    inches.boards.open()
    square = inches.boards.figures["square_mm"]
    assert (square.line.text(), square.line.placeholderText()) == ("", "1/8")
    hands.type(square, "1/4")
    assert session.project.books[0].square_mm == 6.35
    hands.type(square, "")
    assert session.project.books[0].square_mm == 3.175
    hands.choose(inches.structure, "Separate boards, spine open")
    assert session.project.books[0].square_mm is None, "nothing of its own stands in the way of the other rule"


def test_a_size_that_cannot_be_read_is_refused_in_its_field(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "large")
    assert panel.size_entry.trouble.text()
    assert session.project.books == ()
    hands.choose(panel.sized_by, "block size")
    hands.type(panel.size_entry, "148 x 210")
    assert panel.size_entry.trouble.text()


def test_the_sheet_is_named_or_measured(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.sized_by, "the paper")
    hands.type(panel.knowing.sheet, "9 x 12 in")
    paper = session.project.books[0].paper
    assert paper is not None
    assert (paper.sheet_name, paper.sheet_mm) == ("9 x 12 in", (228.6, 304.8))
    hands.type(panel.knowing.sheet, "300 x 400")
    assert panel.knowing.sheet.line.text() == "300 × 400 mm"
    hands.type(panel.knowing.sheet, "vellum of old")
    assert panel.knowing.sheet.trouble.text()


@pytest.mark.parametrize("text", ["6 x 9", "6x9x1x1", "a x b x c", ""])
def test_a_block_needs_three_figures(text: str) -> None:
    with pytest.raises(BadInput):
        read_block(text, LengthStyle(), "Block")


def test_a_block_may_mix_its_units() -> None:
    assert read_block("6in x 200mm x 1/2 in", LengthStyle(), "Block") == pytest.approx((152.4, 200.0, 12.7))
    assert read_block("6 x 9 x 1", IN_INCHES, "Block") == pytest.approx((152.4, 228.6, 25.4))


def test_a_bare_size_of_a_sheet_is_in_the_makers_unit() -> None:
    assert read_sheet("100 x 200", LengthStyle())[1] == (100.0, 200.0)
    assert read_sheet("9 x 12", IN_INCHES) == ("9 x 12 in", (228.6, 304.8))


def test_another_book_is_like_this_one(panel: BookPanel, session: Session, hands) -> None:
    hands.type(panel.size_entry, "148 x 210")
    hands.type(panel.copies, "3")
    panel.another.click()
    first, second = session.project.books
    assert (second.page_mm, len(second.volumes), first.id != second.id) == ((148.0, 210.0), 1, True)
    assert panel.shown_book is second
    hands.choose(panel.chooser, "Book")
    assert panel.shown_book is first


def test_a_list_of_parts_has_no_size_here(panel: BookPanel, session: Session, hands) -> None:
    part = Book("", "List", "parts", board_mm=(100.0, 140.0), parts=(PartOfBook("cover", 2, 15.0, "half"),))
    session.do(add_book(part))
    assert panel.size_entry.isHidden()
    assert panel.structure.value is None
    assert panel.boards.isHidden()
    assert panel.summary(session.project) == "A list of parts, board 100 × 140 mm"
    hands.choose(panel.structure, "Accordion")
    (book,) = session.project.books
    assert (book.structure, book.parts, book.board_mm) == ("accordion", (), (100.0, 140.0))


def test_what_is_known_of_a_book_is_carried_over() -> None:
    case = Book("b", "L", "flat-case", page_mm=(100.0, 150.0), volumes=(Volume(1, 8.0), Volume(2, 9.0)))
    block = sized_by(case, "block", "mm")
    assert block["block_mm"] == (100.0, 150.0, 8.0)
    assert [volume.thickness_mm for volume in block["volumes"]] == [None, 9.0]
    bare = Book("b", "L")
    assert sized_by(bare, "page", "mm", like=case)["page_mm"] == (100.0, 150.0)
    paper = sized_by(bare, "paper", "in")["paper"]
    assert paper.sheet_mm == pytest.approx((215.9, 279.4))


def test_a_limp_wrap_made_a_case_gets_a_board_again() -> None:
    limp = Book("b", "L", "limp-wrap", page_mm=(100.0, 150.0), volumes=(Volume(1, 8.0),))
    assert changed(limp, "in", structure="flat-case").board_thickness_mm == pytest.approx(25.4 * 3 / 32)


def test_a_case_of_paper_asks_for_the_sheets_first(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.structure, "Flat-back case")
    hands.choose(panel.sized_by, "the paper")
    assert "how many sheets" in panel.waits.text()
    panel.paper.open()
    hands.type(panel.paper.amount, "8")
    hands.type(panel.paper.weight, "100")
    assert panel.waits.isHidden()
    assert session.project.books[0].structure == "flat-case"


@pytest.mark.parametrize(
    ("structure", "summary"),
    [
        ("Limp wrap, no boards", "1 section, 8 pages"),
        ("Accordion", "2 strips, 8 pages"),
    ],
)
def test_sections_are_counted_in_words(panel: BookPanel, session: Session, hands, structure: str, summary: str) -> None:
    hands.choose(panel.structure, structure)
    hands.choose(panel.sized_by, "the paper")
    panel.paper.open()
    hands.type(panel.paper.amount, "2")
    hands.type(panel.paper.thickness, "0.1")
    assert panel.summary(session.project).endswith(summary)
    assert panel.paper.head.text().endswith(summary)
    assert ("thread" in panel.paper.answers.text()) == (structure != "Accordion")


def test_leaves_without_a_fold_are_counted_as_leaves(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.structure, "Side-sewn, hinged boards")
    hands.choose(panel.sized_by, "the paper")
    panel.paper.open()
    hands.type(panel.paper.folds, "0")
    for amount, counted in (("40", "40 leaves, 80 pages"), ("1", "1 leaf, 2 pages")):
        hands.type(panel.paper.amount, amount)
        assert panel.summary(session.project).endswith(counted)
        assert panel.paper.head.text().endswith(counted)
        assert counted.replace(",", ":") in panel.paper.answers.text()
        assert "section" not in panel.paper.answers.text()


def test_a_slipcase_begins_with_the_size_of_the_finished_book(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.structure, "Slipcase")
    assert panel.sized_by.value == "block"
    hands.type(panel.size_entry, "150 x 200 x 20")
    (book,) = session.project.books
    assert (book.structure, book.block_mm) == ("slipcase", (150.0, 200.0, 20.0))
    assert panel.summary(session.project) == "Slipcase, book 150 × 200 mm"
    assert panel.size_entry.title.text() == "Book, with its boards: w × h × thickness"
    hands.choose(panel.sized_by, "its face only")
    assert panel.thickness.field.accessibleName() == "Thickness of the book"
    assert panel.size_entry.title.text() == "Face, with its boards"


def test_three_figures_have_a_row_of_their_own(panel: BookPanel, hands) -> None:
    panel.resize(280, 1200)
    panel.show()
    beside = panel.size_entry.width()
    hands.choose(panel.sized_by, "block size")
    panel.layout().activate()
    panel.knowing.layout().activate()
    assert panel.size_entry.width() > 2 * beside
    hands.choose(panel.sized_by, "page size")
    panel.knowing.layout().activate()
    assert panel.size_entry.width() == beside


def test_what_was_half_said_is_forgotten_with_its_project(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.structure, "Flat-back case")
    hands.type(panel.size_entry, "large")
    session.replace_all(Project(), Pictures(), None)
    panel.begin_anew()
    assert panel.structure.value == "separate-boards"
    assert (panel.size_entry.line.text(), panel.size_entry.trouble.text()) == ("", "")
    assert panel.waits.isHidden()
