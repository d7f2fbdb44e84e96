"""The fewest sheets: what is found, what is proved impossible and why, and what a stopped search still says."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Stock
from coverlayout.document.stocking import fewest as fewest_module
from coverlayout.document.stocking.fewest import Asked, fewest_sheets, shortest_length
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Proof
from coverlayout.layout.question import Question

GREY = Stock("stock-1", "grey board", "board", 700.0, 1000.0, grain="long")


def asked(*items: CutItem, stock: Stock = GREY, steps: int = 20_000) -> Asked:
    return Asked(stock, "board", None, items, steps)


def board(width_mm: float, height_mm: float, count: int, grain: str = "head to tail") -> CutItem:
    return CutItem("board", "board", width_mm, height_mm, count, grain)  # type: ignore[arg-type] # one of GrainArrow


def test_fewer_is_refused_by_area() -> None:
    """24 x 144.5 x 216 = 7490.9 cm2, a sheet is 7000 cm2."""
    found = fewest_sheets(asked(board(144.5, 216.0, 24)))
    assert (found.count, found.least, found.proved) == (2, 2, True)
    assert found.why is not None
    assert found.why.text() == "one sheet less would not do: the pieces take 7491 cm², and there would be 7000 cm²"


def test_fewer_is_refused_by_whole_rows() -> None:
    """4 across and 4 along: 16 on a sheet, though by area 22 would go; 120 need 8, by area alone 6."""
    found = fewest_sheets(asked(board(144.5, 216.0, 120)))
    assert (found.count, found.least, found.proved) == (8, 8, True)
    assert found.why is not None
    words = "one sheet less would not do: in whole rows a sheet gives 16 pieces as large as board, and 120 are needed"
    assert found.why.text() == words
    # Turned they go 3 x 6 = 18 on a sheet.
    across = fewest_sheets(asked(board(144.5, 216.0, 120, "across")))
    assert (across.count, across.proved) == (math.ceil(120 / 18), True)


def test_larger_pieces_count_in_the_rows_too() -> None:
    """Of 240 x 500 there go 2 x 2 on a sheet; those of 300 x 600 take one of such places each."""
    found = fewest_sheets(asked(board(240.0, 500.0, 3), replace(board(300.0, 500.0, 2), name="wall")))
    assert (found.count, found.proved) == (2, True)
    assert found.why is not None
    assert dict(found.why.figures)["needed"] == 5


def test_pieces_that_turn_are_refused_by_proof_alone() -> None:
    found = fewest_sheets(asked(board(510.0, 505.0, 3, "any")))
    assert (found.count, found.proved, found.why) == (3, True, Remark.of("stock-fewer-proved", fewer=2))


def test_one_sheet_needs_no_reason() -> None:
    found = fewest_sheets(asked(board(144.5, 216.0, 2)))
    assert (found.count, found.least, found.proved, found.why) == (1, 1, True, None)


def test_the_bound_is_halved_in_where_one_number_stays_open(monkeypatch: pytest.MonkeyPatch) -> None:
    """Six boards need six sheets, by area three. Were 4 and 5 left open and 1 to 3 refused, 4 is the least known."""
    asks: list[int] = []
    real = fewest_module.first_layout

    def some(question: Question, watch: object) -> Answer:
        sheets = len(question.cloths)
        asks.append(sheets)
        if sheets >= 6:
            return real(question)
        if sheets <= 3:
            return Answer("does not fit", True, Remark("lay-no-area"), Proof("exhaustive"))
        return Answer("not found", False, Remark("lay-not-found"))

    monkeypatch.setattr(fewest_module, "first_layout", some)
    found = fewest_sheets(asked(board(510.0, 505.0, 6, "any")))
    assert (found.count, found.least, found.proved) == (6, 4, False)
    assert asks == [4, 6, 5, 2, 3, 4]


def test_a_number_that_is_open_keeps_the_area_as_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    """By area 5 of 600 x 400 need 1.7 sheets; 1 is refused, 2 open, 3 found."""
    real = fewest_module.first_layout

    def some(question: Question, watch: object) -> Answer:
        if len(question.cloths) == 2:
            return Answer("not found", False, Remark("lay-not-found"))
        return real(question)

    monkeypatch.setattr(fewest_module, "first_layout", some)
    found = fewest_sheets(asked(board(600.0, 400.0, 5, "any")))
    assert (found.count, found.least, found.proved) == (3, 2, False)
    assert [remark.text() for remark in found.said][1] == "whether 2 would do was not found out"


def test_stopped_after_the_first_layout_it_says_what_it_has() -> None:
    items = [board(101.0 + 17.0 * k, 203.0 + 29.0 * k, 3, "any") for k in range(12)]
    whole = fewest_sheets(asked(*items))
    calls = 0

    def stop(share: float) -> bool:
        nonlocal calls
        calls += 1
        return calls > 1

    found = fewest_sheets(asked(*items), stop)
    assert found.cut_short
    assert found.count in (0, *range(whole.count, 40))
    assert not found.proved or found.count == whole.count


def test_many_pieces_still_get_a_layout() -> None:
    found = fewest_sheets(asked(board(144.5, 216.0, 400), replace(board(13.5, 216.0, 200), name="spine piece")))
    assert (found.count, found.proved) == (25, True)


def test_a_length_off_a_roll() -> None:
    roll = replace(GREY, length_mm=None, width_mm=300.0)
    found = shortest_length(asked(board(150.0, 200.0, 5), stock=roll))
    # Two beside each other, three rows of 200.
    assert (found.length_mm, found.proved, found.count) == (pytest.approx(600.0, abs=0.01), True, 1)
    assert found.least_mm == pytest.approx(600.0, abs=0.3)
    stopped = shortest_length(
        asked(*[board(61.0 + k, 83.0 + 7 * k, 9, "any") for k in range(9)], stock=roll), lambda _: True
    )
    assert stopped.cut_short
