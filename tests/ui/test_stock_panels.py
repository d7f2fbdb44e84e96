"""A cloth larger than its backing: into which panels it is cut, drawn over the cloth, taken in one step or left."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import change_cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.stocks import change_stock, remove_stock
from coverlayout.document.paneling.panels import PanelsAsked, PanelsFound, panels_for
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import all_on_stock, items_of
from coverlayout.errors import Remark, sentence
from coverlayout.geometry.shapes import Box
from coverlayout.ui.painting.names import CHOSEN
from coverlayout.ui.proposing.panel_lines import lines_between
from coverlayout.ui.stock.dialog import StockDialog, open_stock
from coverlayout.ui.window import Window

WEB = Stock("stock-1", "iron-on web", "web", 430.0, 300.0, price=1.5)
# Covers of 130 x 170 on a cloth that takes two sheets of web beside each other.
START = Project(
    cloths=(Cloth("cloth-1", "Yard", 580.0, 300.0, backing="web"),),
    books=(Book("book-1", "Ledger", board_mm=(100.0, 140.0), liners="none"),),
    stocks=(WEB,),
    next_number=9,
)
WORDS = "Into which panels must the cloth be cut?"


@cache
def found() -> PanelsFound:
    return panels_for(PanelsAsked(START, "cloth-1"))


@pytest.fixture
def window(qtbot: QtBot, opened: Callable[[Project], Window]) -> Window:
    window = opened(START)
    qtbot.waitUntil(window.isActiveWindow)
    window.asking.begin()
    return window


@pytest.fixture
def told(window: Window, port) -> Window:
    """Asked, and answered."""
    window.asides.ask("panels")
    port.tell("done", found())
    return window


def test_the_question_is_asked_of_the_cloth_that_is_too_large(window: Window, port) -> None:
    row = window.opened.asks.rows["panels"]
    window.asides.ask("panels")
    assert port.asked[-1][1:] == ("panels", (START, "cloth-1"))
    assert row.isVisible()
    assert row.words.text() == sentence("ask-looking", {})
    port.tell("done", found())
    assert row.words.text().startswith("Cut Yard into 2 panels along the lines. ")
    assert "2 sheets of iron-on web." in row.words.text()
    assert row.show_it.isVisible()


def test_where_no_cloth_is_too_large_the_question_is_not_there_and_says_why(window: Window, port, hands) -> None:
    window.session.do(change_stock("stock-1", width_mm=900.0, length_mm=600.0))
    window.opened.show_asks()
    assert not window.opened.asks.rows["panels"].isVisible()
    assert window.opened.asks.rows["count"].isVisible()
    count = len(port.asked)
    window.menus.do("ask-panels")
    assert window.banner.sentence.text() == sentence("ask-no-panels", {})
    assert [kind for _, kind, _ in port.asked[count:]].count("panels") == 0


def test_without_a_cloth_or_a_book_nothing_can_be_asked(window: Window) -> None:
    window.session.do(remove_stock("stock-1"))
    assert window.questions.why_not("panels") == sentence("ask-no-panels", {})
    assert window.questions.why_not("count") == ""


def test_it_is_shown_over_the_whole_cloth_and_the_project_stays_as_it_is(told: Window) -> None:
    told.questions.show("panels")
    shown = told.proposing.walk
    assert shown is not None
    assert shown.shown.cut is not None
    assert shown.shown.cut.panels == found().panels
    proposal = told.canvas.shown.proposal
    assert proposal is not None
    assert [sheet.id for sheet in proposal.sheets] == ["cloth-1"]
    assert {lying.piece.id for lying in proposal.on("cloth-1")} == {"front-1", "back-1"}
    assert told.session.project == START
    assert told.proposal_strip.words.text().startswith("Cut Yard into 2 panels along the lines.")


def test_the_lines_are_painted_where_they_would_be_cut(told: Window, qtbot: QtBot) -> None:
    canvas = told.canvas
    told.questions.show("panels")
    ((start, end),) = lines_between(found().panels)
    for side in ("print", "back"):
        told.session.do(change_preferences(side=side))
        sheet = canvas.shown.seen.sheet("cloth-1")
        by = canvas.scene().drawing.sheet_map(sheet)
        assert _near(canvas, by.at(start), by.at(end)), side
    told.proposing.escape()
    sheet = canvas.shown.seen.sheet("cloth-1")
    by = canvas.scene().drawing.sheet_map(sheet)
    assert not _near(canvas, by.at(start), by.at(end))


def _near(canvas, start: tuple[float, float], end: tuple[float, float]) -> bool:
    """True when most of the way is painted in the colour of proposals."""
    image = canvas.grab().toImage()
    steps = [k / 60 for k in range(6, 55)]
    places = [(start[0] + (end[0] - start[0]) * k, start[1] + (end[1] - start[1]) * k) for k in steps]
    colors = [QColor(image.pixel(round(x), round(y))) for x, y in places]
    return sum(abs(color.hue() - CHOSEN.hue()) < 12 and color.lightness() < 130 for color in colors) > 25


def test_taking_it_is_one_step(told: Window, qtbot: QtBot) -> None:
    told.questions.show("panels")
    qtbot.keyClick(told.proposal_strip.take, Qt.Key.Key_Return)
    project = told.session.project
    assert [cloth.name for cloth in project.cloths] == ["Yard, panel 1", "Yard, panel 2"]
    assert len(project.layout.placements) == 2
    assert told.proposing.walk is None
    assert told.session.undo_name == "Cut into 2 panels"
    told.session.undo()
    assert told.session.project == START


def test_leaving_it_changes_nothing(told: Window) -> None:
    told.questions.show("panels")
    told.proposing.escape()
    assert told.session.project == START
    assert told.canvas.shown.proposal is None


def test_another_stock_or_another_backing_makes_the_answer_forgotten(told: Window, port) -> None:
    assert "panels" in told.questions.told
    told.session.do(change_stock("stock-1", width_mm=440.0))
    assert "panels" not in told.questions.told
    assert told.questions.why_not("panels") == ""
    told.session.do(change_cloth("cloth-1", backing="none"))
    assert told.questions.why_not("panels") == sentence("ask-no-panels", {})


def test_panels_that_hold_nothing_are_told_and_not_shown(window: Window, port) -> None:
    window.asides.ask("panels")
    none = replace(
        found(), verdict="not found", reason=Remark.of("panels-not-found", tried=40), answer=None, placed=(), backing=()
    )
    port.tell("done", none)
    row = window.opened.asks.rows["panels"]
    assert row.words.text().startswith("2 panels. Of 40 ways to cut it into panels none holds every piece")
    assert not row.show_it.isVisible()


def test_trouble_is_told_where_it_was_asked(window: Window, port) -> None:
    window.asides.ask("panels")
    port.tell("trouble", trouble=Remark.of("panels-cloth-cut", cloth="Yard"))
    assert window.opened.asks.rows["panels"].words.text().startswith("Pieces were cut from Yard already")


def test_the_list_of_stock_leads_to_the_question(window: Window, port, qtbot: QtBot) -> None:
    dialog = open_stock(window)
    _, kind, project = port.asked[-1]
    assert kind == "stock"
    port.tell("done", all_on_stock(project, items_of(project)))
    part = next(part for part in dialog.needed.parts if "Web, Yard" in part.words.text())
    part.act.click()
    assert window.findChild(StockDialog) is None or not dialog.isVisible()
    assert port.asked[-1][1] == "panels"
    assert window.opened.isVisible()


# The lines


def test_lines_lie_between_panels_only() -> None:
    four = tuple(Box(x, y, 40.0, 30.0) for x in (0.0, 40.0) for y in (0.0, 30.0))
    assert set(lines_between(four)) == {
        ((40.0, 0.0), (40.0, 30.0)),
        ((40.0, 30.0), (40.0, 60.0)),
        ((0.0, 30.0), (40.0, 30.0)),
        ((40.0, 30.0), (80.0, 30.0)),
    }


def test_lines_of_uneven_panels_end_where_they_meet_another() -> None:
    """One panel the whole way down at the left, two at the right that part lower than the middle."""
    uneven = (Box(0.0, 0.0, 30.0, 90.0), Box(30.0, 0.0, 50.0, 70.0), Box(30.0, 70.0, 50.0, 20.0))
    assert set(lines_between(uneven)) == {((30.0, 0.0), (30.0, 90.0)), ((30.0, 70.0), (80.0, 70.0))}
