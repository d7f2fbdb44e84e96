"""Sheets and rolls: what there is, added, changed and removed in single steps; what is needed of each beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.books import set_copies
from coverlayout.document.edits.job import change_preferences, rename_project
from coverlayout.document.edits.stocks import add_stock, change_stock, remove_stock
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import all_on_stock, items_of
from coverlayout.errors import Remark
from coverlayout.ui.stock.dialog import StockDialog, open_stock
from coverlayout.ui.stock.needed import MaterialPart, MissingPart
from coverlayout.ui.stock.words import material_words, stock_figures
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle

MM = LengthStyle()
GREY = Stock("stock-1", "grey board", "board", 400.0, 500.0, 2.0, "long", 6.5)
WEB = Stock("stock-2", "iron-on web", "web", 900.0, None, None, "unknown", 3.2)
# Boards of 120 x 160, 2 mm thick, for two ledgers; nothing but boards is cut besides cloth.
BOOK = Book("book-1", "Ledger", page_mm=(120.0, 160.0), square_mm=0.0, liners="none", board_thickness_mm=2.0)
PROJECT = Project(cloths=(Cloth("cloth-1", "Yard", 900.0, 500.0),), books=(BOOK,), stocks=(GREY, WEB), next_number=9)


@pytest.fixture
def window(opened: Callable[[Project], Window]) -> Window:
    made = opened(PROJECT)
    made.asking.begin()
    return made


@pytest.fixture
def dialog(window: Window, qtbot: QtBot) -> Iterator[StockDialog]:
    made = open_stock(window)
    qtbot.waitExposed(made)
    yield made
    made.reject()


def stocks(window: Window) -> tuple[Stock, ...]:
    return window.session.project.stocks


def rows(dialog: StockDialog) -> list[str]:
    return [dialog.shelf.list.item(row).text() for row in range(dialog.shelf.list.count())]


def answered(window: Window, port) -> None:
    """The worker tells what is asked, worked out here."""
    number, kind, project = port.asked[-1]
    assert kind == "stock", f"{number} asks {kind}"
    port.tell("done", all_on_stock(project, items_of(project)))


def texts(part: QWidget) -> str:
    return "\n".join(each.text() for each in part.findChildren(type(part.words)))


# What there is


def test_it_opens_by_its_key_with_what_there_is(window: Window, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    dialog = window.findChild(StockDialog)
    assert rows(dialog) == [
        "Grey board\n400 × 500 mm, grain long, 6.50 a sheet",
        "Iron-on web\nroll, 900 mm wide, 3.20 a metre off the roll",
    ]
    assert open_stock(window) is dialog, "opened once"
    dialog.reject()


def test_the_fields_show_the_one_chosen(dialog: StockDialog) -> None:
    fields = dialog.shelf.fields
    assert (fields.sheet.line.text(), fields.thickness.line.text(), fields.price.line.text()) == (
        "400 × 500",
        "2",
        "6.50",
    )
    assert fields.comes_as.isHidden()
    assert fields.width_entry.isHidden()
    dialog.shelf.list.setCurrentRow(1)
    assert fields.width_entry.line.text() == "900"
    assert fields.sheet.isHidden()
    assert fields.thickness.isHidden()
    assert fields.price.title.text() == "Price of a metre off the roll"


@pytest.mark.parametrize(
    ("field", "typed", "changed"),
    [
        ("sheet", "700 x 1000 mm", {"width_mm": 700.0, "length_mm": 1000.0}),
        ("sheet", "A2", {"width_mm": 420.0, "length_mm": 594.0}),
        ("thickness", "3", {"thickness_mm": 3.0}),
        ("thickness", "", {"thickness_mm": None}),
        ("price", "7,25", {"price": 7.25}),
        ("price", "", {"price": None}),
        ("name", "millboard", {"name": "millboard"}),
    ],
)
def test_a_figure_that_is_typed_is_one_step(
    window: Window, dialog: StockDialog, hands, field: str, typed: str, changed: dict[str, object]
) -> None:
    hands.type(getattr(dialog.shelf.fields, field), typed)
    assert stocks(window)[0] == replace(GREY, **changed)  # type: ignore[arg-type]  # fields by name
    window.session.undo()
    assert stocks(window) == PROJECT.stocks
    assert rows(dialog)[0].startswith("Grey board\n400 × 500 mm")


def test_grain_and_material_are_chosen(window: Window, dialog: StockDialog, hands) -> None:
    hands.choose(dialog.shelf.fields.grain, "along its shorter side")
    hands.choose(dialog.shelf.fields.material, "card")
    assert stocks(window)[0] == replace(GREY, grain="short", material="card")


@pytest.mark.parametrize(
    ("field", "typed"), [("sheet", "wide"), ("price", "much"), ("thickness", "-2"), ("sheet", "0 x 9")]
)
def test_what_cannot_be_is_said_under_its_field_and_changes_nothing(
    window: Window, dialog: StockDialog, hands, field: str, typed: str
) -> None:
    entry = getattr(dialog.shelf.fields, field)
    hands.type(entry, typed)
    assert entry.trouble.isVisible()
    assert stocks(window) == PROJECT.stocks


def test_a_new_stock_waits_for_its_size_and_is_then_one_step(window: Window, dialog: StockDialog, hands) -> None:
    shelf = dialog.shelf
    shelf.add.click()
    assert shelf.fields.waits.isVisible()
    assert shelf.fields.sheet.field.hasFocus()
    hands.type(shelf.fields.price, "4.5")
    hands.type(shelf.fields.thickness, "2.5 mm")
    assert stocks(window) == PROJECT.stocks
    assert rows(dialog)[2] == "2.5 mm board\nnew"
    hands.type(shelf.fields.sheet, "500 x 700")
    new = Stock("stock-9", "2.5 mm board", "board", 500.0, 700.0, 2.5, "unknown", 4.5)
    assert stocks(window) == (*PROJECT.stocks, new)
    assert shelf.stock == new
    assert not shelf.fields.waits.isVisible()
    window.session.undo()
    assert stocks(window) == PROJECT.stocks


def test_a_new_roll_waits_for_its_width(window: Window, dialog: StockDialog, hands) -> None:
    fields = dialog.shelf.fields
    dialog.shelf.begin("web")
    hands.choose(fields.comes_as, "a roll")
    assert fields.width_entry.isVisible()
    assert fields.price.title.text() == "Price of a metre off the roll"
    hands.type(fields.width_entry, "45 cm")
    assert stocks(window)[2] == Stock("stock-9", "fusible web", "web", 450.0)
    assert fields.comes_as.value == "roll"


def test_sheets_become_a_roll_of_their_width_and_back_once_they_have_a_length(
    window: Window, dialog: StockDialog, hands
) -> None:
    window.session.do(add_stock(Stock("", "tissue", "tissue", 500.0, 750.0)))
    dialog.shelf.list.setCurrentRow(2)
    fields = dialog.shelf.fields
    hands.choose(fields.comes_as, "a roll")
    assert stocks(window)[2].length_mm is None
    assert fields.grain.box.itemText(1) == "along the roll"
    hands.choose(fields.comes_as, "sheets")
    assert stocks(window)[2].length_mm is None, "its length is still to come"
    hands.type(fields.sheet, "500 x 700")
    assert stocks(window)[2] == Stock("stock-9", "tissue", "tissue", 500.0, 700.0)


def test_a_roll_made_board_waits_for_its_length(window: Window, dialog: StockDialog, hands) -> None:
    dialog.shelf.list.setCurrentRow(1)
    fields = dialog.shelf.fields
    hands.choose(fields.material, "board")
    assert stocks(window) == PROJECT.stocks
    assert fields.waits.isVisible()
    hands.type(fields.sheet, "900 x 600")
    assert stocks(window)[1] == replace(WEB, material="board", length_mm=600.0)


def test_thread_has_a_price_and_no_size(window: Window, dialog: StockDialog, hands) -> None:
    dialog.shelf.begin("thread")
    assert stocks(window)[2] == Stock("stock-9", "thread", "thread")
    fields = dialog.shelf.fields
    for entry in (fields.sheet, fields.width_entry, fields.thickness, fields.grain, fields.comes_as):
        assert entry.isHidden()
    assert fields.price.title.text() == "Price of a metre"
    hands.type(fields.price, "0.08")
    assert stocks(window)[2].price == 0.08
    assert rows(dialog)[2] == "Thread\n0.08 a metre"


def test_what_has_its_usual_name_keeps_it_when_it_becomes_another(window: Window, dialog: StockDialog, hands) -> None:
    dialog.shelf.begin("board", 2.0)
    hands.type(dialog.shelf.fields.sheet, "500 x 700")
    hands.type(dialog.shelf.fields.thickness, "3")
    assert stocks(window)[2].name == "3 mm board"
    hands.type(dialog.shelf.fields.name, "press board")
    hands.type(dialog.shelf.fields.thickness, "2")
    assert stocks(window)[2].name == "press board"
    hands.type(dialog.shelf.fields.name, " ")
    assert stocks(window)[2].name == "2 mm board"


def test_two_alike_are_told_apart_by_their_names(window: Window, dialog: StockDialog, hands) -> None:
    for size in ("500 x 700", "300 x 400"):
        dialog.shelf.begin("board", 2.0)
        hands.type(dialog.shelf.fields.sheet, size)
    assert [stock.name for stock in stocks(window)[2:]] == ["2 mm board", "2 mm board 2"]


def test_remove_is_one_step_by_button_and_by_key(window: Window, dialog: StockDialog, qtbot: QtBot) -> None:
    dialog.shelf.list.setFocus()
    qtbot.waitUntil(dialog.shelf.list.hasFocus)
    qtbot.keyClick(dialog.shelf.list, Qt.Key.Key_Delete)
    assert stocks(window) == (WEB,)
    assert dialog.shelf.stock == WEB
    dialog.shelf.remove.click()
    assert stocks(window) == ()
    assert not dialog.shelf.fields.isVisible()
    assert dialog.shelf.none.isVisible()
    assert dialog.shelf.add.hasFocus()
    for keys in (1, 2):
        qtbot.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert len(stocks(window)) == keys
    qtbot.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert stocks(window) == (WEB,)


def test_removing_a_draft_only_forgets_it(window: Window, dialog: StockDialog) -> None:
    dialog.shelf.add.click()
    dialog.shelf.remove.click()
    assert stocks(window) == PROJECT.stocks
    assert len(rows(dialog)) == 2


def test_choosing_another_forgets_a_draft(dialog: StockDialog) -> None:
    dialog.shelf.add.click()
    dialog.shelf.list.setCurrentRow(1)
    assert dialog.shelf.stock == WEB
    assert len(rows(dialog)) == 2


def test_a_draft_of_what_changed_meanwhile_is_given_up(window: Window, dialog: StockDialog, hands) -> None:
    dialog.shelf.list.setCurrentRow(1)
    hands.choose(dialog.shelf.fields.material, "board")
    window.session.do(change_stock("stock-2", price=9.0))
    assert dialog.shelf.stock == replace(WEB, price=9.0)
    window.session.do(remove_stock("stock-2"))
    assert dialog.shelf.stock == GREY


def test_return_in_a_field_ends_the_typing_and_presses_nothing(
    window: Window, dialog: StockDialog, qtbot: QtBot
) -> None:
    line = dialog.shelf.fields.price.line
    line.setFocus()
    qtbot.waitUntil(line.hasFocus)
    line.selectAll()
    qtbot.keyClicks(line, "8")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert stocks(window) == (replace(GREY, price=8.0), WEB)
    assert dialog.isVisible()


def test_lengths_are_in_the_unit_of_the_maker(window: Window, dialog: StockDialog) -> None:
    window.session.do(change_preferences(length_style=LengthStyle("in", inch_parts=16), currency="EUR"))
    window.session.do(change_stock("stock-1", width_mm=508.0, length_mm=762.0))
    assert rows(dialog)[0] == "Grey board\n20 × 30 in, grain long, 6.50 EUR a sheet"


# What is needed


def test_it_asks_when_it_opens_and_says_so_until_it_knows(window: Window, dialog: StockDialog, port) -> None:
    assert port.asked[-1][1:] == ("stock", PROJECT)
    state = dialog.needed.state
    assert state.words.text() == "Being worked out, 0 %."
    assert state.stop.isVisible()
    port.tell("progress", share=0.34)
    assert state.words.text() == "Being worked out, 34 %."
    answered(window, port)
    assert state.words.text() == ""
    assert not state.stop.isVisible()
    (part,) = dialog.needed.parts
    assert isinstance(part, MaterialPart)
    assert part.title.text() == "Board, 2 mm"
    assert part.words.text() == "1 sheet of grey board. That costs 6.50."
    assert part.key.text() == "A   2 × cover board, 120.0 × 160.0 mm"


def test_another_stock_makes_it_old_until_it_is_worked_out_anew(
    window: Window, dialog: StockDialog, port, hands, qtbot: QtBot
) -> None:
    answered(window, port)
    hands.type(dialog.shelf.fields.sheet, "130 x 170")
    assert dialog.needed.state.words.text().startswith("What stands below is of before the last change.")
    (part,) = dialog.needed.parts
    assert part.words.text().startswith("1 sheet"), "the old answer stays"
    qtbot.waitUntil(lambda: port.asked[-1][1] == "stock")
    answered(window, port)
    assert dialog.needed.state.words.text() == ""
    assert dialog.needed.parts[0].words.text().startswith("2 sheets of grey board. ")


def test_back_where_it_was_it_is_known_again(window: Window, dialog: StockDialog, port) -> None:
    answered(window, port)
    count = len(port.asked)
    window.session.do(change_stock("stock-1", price=1.0))
    window.session.undo()
    assert window.stock.is_known
    assert dialog.needed.state.words.text() == ""
    window.session.do(rename_project("Other"))
    assert window.stock.is_known, "a name is nothing to lay"
    assert [kind for _, kind, _ in port.asked[count:]].count("stock") == 0


def test_the_newest_question_wins(window: Window, dialog: StockDialog, port, qtbot: QtBot) -> None:
    number = port.asked[-1][0]
    window.session.do(set_copies("book-1", 7))
    qtbot.waitUntil(lambda: port.asked[-1][1] == "stock" and port.asked[-1][0] != number)
    assert len(port.asked[-1][2].books[0].volumes) == 7
    answered(window, port)
    assert dialog.needed.parts[0].key.text().startswith("A   14 × cover board")


def test_it_can_be_stopped_and_begun_again(window: Window, dialog: StockDialog, port) -> None:
    dialog.needed.state.stop.click()
    assert port.cancelled >= 1
    assert dialog.needed.state.words.text() == "This was stopped before it was worked out."
    assert dialog.needed.state.again.isVisible()
    dialog.needed.state.again.click()
    assert port.asked[-1][1] == "stock"
    answered(window, port)
    assert not dialog.needed.state.again.isVisible()


def test_closing_gives_up_what_is_asked(window: Window, port) -> None:
    dialog = open_stock(window)
    cancelled = port.cancelled
    dialog.reject()
    assert port.cancelled == cancelled + 1
    assert not window.stock.is_looking
    assert window.stock.laid is None


def test_what_the_maker_waits_for_goes_first(window: Window, port, qtbot: QtBot) -> None:
    window.asking.hurry()
    dialog = open_stock(window)
    assert port.asked[-1][1] == "lay"
    assert dialog.needed.state.words.text() == "This is worked out after what is asked just now."
    window.asking.cancel()
    qtbot.waitUntil(lambda: port.asked[-1][1] == "stock")
    dialog.reject()


def test_another_job_puts_the_question_off_and_it_is_asked_again(
    window: Window, dialog: StockDialog, port, qtbot: QtBot
) -> None:
    port.tell("progress", share=0.5)
    window.session.do(set_copies("book-1", 2))
    assert dialog.needed.state.words.text() == "Being worked out, 0 %." or window.stock.share == 0.5
    qtbot.waitUntil(lambda: port.asked[-1][1] == "stock" and len(port.asked[-1][2].books[0].volumes) == 2)
    answered(window, port)
    assert window.stock.is_known


def test_trouble_is_said_and_not_asked_again_and_again(window: Window, dialog: StockDialog, port, qtbot: QtBot) -> None:
    port.tell("trouble", trouble=Remark.of("search-fault", kind="KeyError"))
    (part,) = dialog.needed.parts
    assert "KeyError" in part.text()
    count = [kind for _, kind, _ in port.asked].count("stock")
    qtbot.wait(350)
    assert [kind for _, kind, _ in port.asked].count("stock") == count


def test_without_anything_to_cut_that_is_said(opened: Callable[[Project], Window], port) -> None:
    window = opened(Project())
    window.asking.begin()
    dialog = open_stock(window)
    answered(window, port)
    assert dialog.needed.parts[0].text().startswith("Nothing but cloth is to be cut yet")
    assert dialog.shelf.none.isVisible()
    dialog.reject()


def test_what_has_no_stock_leads_to_its_fields(window: Window, dialog: StockDialog, port, hands) -> None:
    window.session.do(remove_stock("stock-1"))
    window.stock.begin()
    answered(window, port)
    (part,) = dialog.needed.parts
    assert isinstance(part, MissingPart)
    assert part.words.text() == "There is no board of 2.0 mm in the stock yet: say how large a sheet of it is."
    assert isinstance(part.act, QPushButton)
    part.act.click()
    fields = dialog.shelf.fields
    assert (fields.material.value, fields.thickness.line.text()) == ("board", "2")
    assert fields.sheet.field.hasFocus()
    hands.type(fields.sheet, "B2")
    assert stocks(window)[-1] == Stock("stock-9", "2 mm board", "board", 500.0, 707.0, 2.0)


def test_a_piece_larger_than_every_sheet_is_told_without_a_button(
    window: Window, dialog: StockDialog, port, hands
) -> None:
    hands.type(dialog.shelf.fields.sheet, "100 x 150")
    window.stock.begin()
    answered(window, port)
    (part,) = dialog.needed.parts
    assert "larger than a sheet of grey board" in part.words.text()
    assert part.act is None


# In words


def test_materials_and_sizes_in_words() -> None:
    assert material_words("lining", None, MM) == "Spine lining"
    assert material_words("card", 0.6, LengthStyle("in")) == "Card, 0.0236 in"
    assert stock_figures(Stock("s", "", "web"), MM, "") == ""
    assert stock_figures(replace(GREY, price=None, grain="unknown"), MM, "") == "400 × 500 mm"


def test_the_book_step_leads_to_both_parts(window: Window) -> None:
    window.open_step(2)
    book = window.panels.book
    for part, act, shown in ((book.cut_list, "sheets", "sheets"), (book.tally, "more", "costs")):
        part.open()
        getattr(part, act).click()
        (dialog,) = [each for each in window.findChildren(StockDialog) if each.isVisible()]
        assert dialog.part == shown
        dialog.reject()


def test_one_that_was_closed_just_now_is_not_opened_again(window: Window, port) -> None:
    closed = open_stock(window)
    closed.reject()
    again = open_stock(window)
    assert again is not closed
    answered(window, port)
    assert len(again.needed.parts) == 1
    again.reject()
