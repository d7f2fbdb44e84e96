"""What was laid on a stock: its price, what it takes, and what is said of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Stock
from coverlayout.document.stocking.on_stock import OnStock, PieceOnSheet, SheetLaid
from coverlayout.errors import Remark
from coverlayout.geometry.shapes import Box

GREY = Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.0, "long", 4.5)
ROLL = Stock("stock-2", "iron-on web", "web", 430.0, None, price=3.0)
SHEET = SheetLaid(700.0, 1000.0, (PieceOnSheet("board", 1, 1, Box(0.0, 0.0, 350.0, 500.0)),))
ITEM = CutItem("board", "board", 350.0, 500.0)
LAID = OnStock(GREY, "board", 2.0, (ITEM,), (SHEET, SHEET), 2, proved=True)
LENGTH = OnStock(ROLL, "web", None, (ITEM,), (SheetLaid(430.0, 780.0, ()),), 1, proved=True, least_mm=780.0)


def texts(on: OnStock) -> list[str]:
    return [remark.text() for remark in on.said]


def test_sheets_are_paid_in_whole_and_a_roll_by_its_length() -> None:
    assert (LAID.count, LAID.is_roll, LAID.length_mm, LAID.price) == (2, False, None, 9.0)
    assert LAID.bought_mm2 == 2 * 700.0 * 1000.0
    assert (LENGTH.count, LENGTH.is_roll, LENGTH.length_mm) == (1, True, 780.0)
    # 0.78 m at 3.00 a metre.
    assert LENGTH.price == pytest.approx(2.34)
    assert LENGTH.bought_mm2 == 430.0 * 780.0
    assert SHEET.used_percent == pytest.approx(100 * 0.25)


def test_without_a_price_nothing_is_made_up() -> None:
    assert replace(LAID, stock=replace(GREY, price=None)).price is None
    assert replace(LAID, sheets=()).price is None


def test_what_is_said() -> None:
    why = Remark.of("stock-fewer-area", fewer=1, need_cm2=7841, have_cm2=7000)
    assert texts(replace(LAID, why=why)) == [
        "2 sheets of grey board",
        "one sheet less would not do: the pieces take 7841 cm², and there would be 7000 cm²",
    ]
    assert texts(LAID) == ["2 sheets of grey board"]
    assert texts(replace(LAID, sheets=(SHEET,), least=1)) == ["1 sheet of grey board"]
    assert texts(replace(LAID, sheets=(SHEET,) * 4, proved=False, why=why)) == [
        "4 sheets of grey board",
        "whether 2 would do was not found out",
    ]
    assert texts(LENGTH) == ["780 mm of iron-on web off the roll"]
    assert texts(replace(LENGTH, proved=False, least_mm=770.0)) == [
        "780 mm of iron-on web off the roll",
        "whether as little as 770 mm would do was not found out",
    ]
    odd = Remark.of("stock-grain-unknown-roll", name="iron-on web")
    assert texts(replace(LENGTH, notes=(odd,)))[-1].startswith("The grain of iron-on web is not known")
    assert texts(replace(LENGTH, sheets=(), notes=(odd,)))[0].startswith("no way to lay the pieces on iron-on web")
