"""Step 3: the book from page or board, its measures, liners, copies and own pieces, through the fields."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Paper, TurnIns
from coverlayout.document.edits.books import add_book, change_book
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.ui.panels.book_panel import BookPanel
from coverlayout.units import LengthStyle


@pytest.fixture
def ledger(panel: BookPanel, hands) -> BookPanel:
    hands.type(panel.size_entry, "4.5 x 6 in")
    for part in panel.parts:
        part.open()
    return panel


def test_a_page_size_makes_a_book_with_four_pieces(ledger: BookPanel, session: Session) -> None:
    pieces = planned_pieces(session.project)
    assert [piece.id for piece in pieces] == ["front-1", "back-1", "liner-front-1", "liner-back-1"]
    # Common practice, no source: 114.3 + 2 x 15, 152.4 + 2 x 15; liners 114.3 - 2 x 3, 152.4 - 2 x 3.
    assert [pieces[0].width_mm, pieces[0].height_mm] == pytest.approx([144.3, 182.4])
    assert [pieces[2].width_mm, pieces[2].height_mm] == pytest.approx([108.3, 146.4])
    assert "To be cut: covers 144.5\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}182.5, liners" in ledger.notes.text()
    assert ledger.summary(session.project) == "Separate boards, page 114.3 × 152.4 mm"


def test_a_board_size_instead_of_a_page(panel: BookPanel, session: Session, hands) -> None:
    hands.choose(panel.sized_by, "board size")
    hands.type(panel.size_entry, "100 x 140")
    assert session.project.books[0].board_mm == (100.0, 140.0)
    hands.choose(panel.sized_by, "page size")
    assert (session.project.books[0].page_mm, session.project.books[0].board_mm) == ((100.0, 140.0), None)


def test_measures_of_the_boards(ledger: BookPanel, session: Session, hands) -> None:
    boards = ledger.boards
    hands.type(boards.thickness, "2.5mm")
    hands.type(boards.figures["square_mm"], "3")
    hands.type(boards.turn_in, "18")
    hands.type(ledger.liners.inset, "1/8 in")
    (book,) = session.project.books
    assert (book.board_thickness_mm, book.square_mm, book.liner_inset_mm) == (2.5, 3.0, 3.175)
    assert book.turn_ins == TurnIns.all_round(18.0)
    hands.type(boards.turn_ins.each["spine"], "10")
    assert session.project.books[0].turn_ins == TurnIns(18.0, 18.0, 10.0, 18.0)
    assert boards.turn_in.line.text() == ""
    assert "they differ" in boards.turn_ins.head.text()


@pytest.mark.parametrize(("field", "text"), [("turn_in", "-1"), ("inset", "80"), ("thickness", "0"), ("square", "-1")])
def test_a_measure_that_cannot_be_is_refused(ledger: BookPanel, session: Session, hands, field: str, text: str) -> None:
    before, boards = session.project, ledger.boards
    entries = {"turn_in": boards.turn_in, "thickness": boards.thickness, "inset": ledger.liners.inset}
    entry = entries.get(field) or boards.figures["square_mm"]
    hands.type(entry, text)
    assert session.project is before
    assert entry.trouble.text()
    assert entry.trouble.text().count("\n") == 0


def test_liners_of_paper_or_none_are_no_pieces(ledger: BookPanel, session: Session, hands) -> None:
    hands.choose(ledger.liners.liners, "paper")
    assert [piece.id for piece in planned_pieces(session.project)] == ["front-1", "back-1"]
    assert ledger.liners.inset.isEnabled()
    hands.choose(ledger.liners.liners, "none")
    assert not ledger.liners.inset.isEnabled()
    assert ledger.liners.head.text().endswith(": none")


def test_what_a_button_cannot_do_is_said_in_the_unit_shown(ledger: BookPanel, session: Session, hands) -> None:
    session.do(change_preferences(length_style=LengthStyle("in", inch_parts=16)))
    ledger.attempt(change_book(session.project.books[0].id, liner_inset_mm=101.6))
    ((told, trouble),) = hands.said
    assert "liner inset 4.0" in told
    assert trouble


def test_copies_and_turns(ledger: BookPanel, session: Session, hands) -> None:
    hands.type(ledger.copies, "3")
    hands.choose(ledger.boards.cover_turns, "none")
    hands.choose(ledger.liners.liner_turns, "quarter")
    (book,) = session.project.books
    assert len(book.volumes) == 3
    assert ledger.summary(session.project) == "Separate boards, page 114.3 × 152.4 mm, 3 books"
    assert (book.cover_turns, book.liner_turns) == ("none", "quarter")
    hands.type(ledger.copies, "0")
    assert "whole number from 1" in ledger.copies.trouble.text()


def test_own_pieces(ledger: BookPanel, session: Session, hands) -> None:
    ledger.own.rows.add_button.click()
    (own,) = session.project.own_pieces
    assert ledger.summary(Project(own_pieces=(own,))) == "1 piece of your own"
    assert ledger.summary(Project(own_pieces=(replace(own, count=2),))) == "2 pieces of your own"
    row = ledger.own.rows.row(own.id)
    hands.type(row.name, "pocket")
    hands.type(row.size_entry, "50 x 80")
    hands.type(row.count, "2")
    hands.choose(row.turns, "any angle")
    (own,) = session.project.own_pieces
    assert (own.name, own.width_mm, own.height_mm, own.count, own.turns) == ("pocket", 50.0, 80.0, 2, "free")
    assert "2 of your own" in ledger.summary(session.project)
    row.remove.click()
    assert session.project.own_pieces == ()


def test_the_drawing_points_at_the_measure_being_typed(qtbot: QtBot, ledger: BookPanel) -> None:
    ledger.drawing.resize(280, 300)
    plain = ledger.drawing.grab().toImage()
    ledger.boards.figures["square_mm"].entered.emit()
    pointed = ledger.drawing.grab().toImage()
    assert pointed != plain
    ledger.boards.turn_in.entered.emit()
    assert ledger.drawing.grab().toImage() not in (plain, pointed)


def test_another_book_is_added_and_chosen(ledger: BookPanel, session: Session, hands) -> None:
    ledger.another.click()
    hands.type(ledger.size_entry, "80 x 100")
    assert [book.page_mm for book in session.project.books] == [(114.3, 152.4), (80.0, 100.0)]
    assert "and 1 more" in ledger.summary(session.project)


def test_a_book_is_removed_and_brought_back(ledger: BookPanel, session: Session) -> None:
    ledger.remove.click()
    assert session.project.books == ()
    assert ledger.remove.isHidden()
    session.undo()
    assert len(session.project.books) == 1


def test_a_name_picked_out_in_the_drawing_is_plain_again_when_its_field_is_left(
    qtbot: QtBot, ledger: BookPanel
) -> None:
    ledger.drawing.resize(280, 300)
    plain = ledger.drawing.grab().toImage()
    ledger.boards.thickness.entered.emit()
    assert ledger.drawing.grab().toImage() != plain
    ledger.boards.thickness.left.emit()
    assert ledger.drawing.grab().toImage() == plain


def test_grain_against_the_spine_is_told_under_the_pictures(panel: BookPanel, session: Session) -> None:
    # 9 x 12 in cut in half and folded once: the sheet's longer side is the page's height, so this grain lies across.
    across = Paper((228.6, 304.8), grain="short", sheets=16, cut=(2, 1), per_section=4)
    session.do(add_book(Book("", "Ledger", paper=across)))
    assert "across" in panel.notes.text()
    session.do(change_book(session.project.books[0].id, paper=replace(across, grain="long")))
    assert "across" not in panel.notes.text()
