"""Prices of cloth, sheets and rolls."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder_in_use
from coverlayout.document.making import prices as prices_module
from coverlayout.document.making.prices import cloth_price, price_per_mm2
from coverlayout.document.project import Price, Project, Stock

QUARTER = Cloth("cloth-1", "Quarter", 558.8, 457.2, cut_name="fat quarter, 44 in")


def test_its_own_price_comes_before_that_of_its_cut(monkeypatch: pytest.MonkeyPatch) -> None:
    priced = Project(prices=(Price("half yard, 44 in", 9.0), Price("fat quarter, 44 in", 5.0)))
    assert cloth_price(priced, replace(QUARTER, price=4.0)) == 4.0
    assert cloth_price(priced, QUARTER) == 5.0
    assert cloth_price(priced, replace(QUARTER, cut_name=None)) is None
    assert cloth_price(priced, replace(QUARTER, cut_name="remnant")) is None
    (known,) = (cut for cut in ladder_in_use() if cut.name == QUARTER.cut_name)
    assert cloth_price(Project(), QUARTER) == known.price
    table = (Cut("fat quarter, 44 in", 558.8, 457.2, price=6.5),)
    monkeypatch.setattr(prices_module, "ladder_in_use", lambda: table)
    assert cloth_price(Project(), QUARTER) == 6.5
    assert cloth_price(priced, QUARTER) == 5.0


def test_a_sheet_by_its_area_and_a_roll_by_its_metre() -> None:
    board = Stock("s", "grey board", "board", 700.0, 1000.0, price=4.2)
    assert price_per_mm2(board) == pytest.approx(4.2 / 700_000)
    assert price_per_mm2(Stock("s", "web", "web", 430.0, price=3.0)) == pytest.approx(3.0 / 430_000)
    assert price_per_mm2(replace(board, price=None)) is None
    assert price_per_mm2(Stock("s", "thread", "thread", price=0.2)) is None
    assert price_per_mm2(replace(board, price=0.0)) == 0.0
