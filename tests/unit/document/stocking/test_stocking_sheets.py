"""The items of a material on the fewest sheets: which stock is taken, what is refused, everything at once."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking import sheets as sheets_module
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.sheets import all_on_stock, items_of, laid_on_stock
from coverlayout.errors import BadInput

GREY = Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.0, "long", 4.5)
WEB = Stock("stock-2", "web", "web", 430.0, None, price=3.0)
# Twelve books: two boards and a spine piece each.
BOARD = CutItem("board", "board", 144.5, 216.0, 24, "head to tail", 2.0, tuple(range(1, 13)))
SPINE = CutItem("spine piece", "board", 13.5, 216.0, 12, "head to tail", 2.0, tuple(range(1, 13)))


def project(*stocks: Stock) -> Project:
    return Project(stocks=stocks)


def check(laid: OnStock) -> None:
    """Every piece once, whole, its grain along the sheet's, none over another or over the edge."""
    sizes = {item.name: (item.width_mm, item.height_mm) for item in laid.items}
    seen: list[tuple[str, int]] = []
    for sheet in laid.sheets:
        for number, piece in enumerate(sheet.pieces):
            box = piece.box
            seen.append((piece.name, piece.number))
            size = sizes[piece.name][::-1] if piece.turned else sizes[piece.name]
            assert (box.width_mm, box.height_mm) == pytest.approx(size)
            assert min(box.left_mm, box.top_mm) >= -0.01
            assert box.right_mm <= sheet.width_mm + 0.01
            assert box.bottom_mm <= sheet.length_mm + 0.01
            for other in sheet.pieces[:number]:
                across = min(box.right_mm, other.box.right_mm) - max(box.left_mm, other.box.left_mm)
                along = min(box.bottom_mm, other.box.bottom_mm) - max(box.top_mm, other.box.top_mm)
                assert across <= 0.01 or along <= 0.01, (piece, other)
    assert sorted(seen) == sorted((item.name, k) for item in laid.items for k in range(1, item.count + 1))


def test_boards_of_a_dozen_books() -> None:
    """By hand: 4 boards across (578 mm) and 4 along (864 mm), so 16 on a sheet; 24 boards and 12 strips need two."""
    laid = laid_on_stock(project(GREY), [BOARD, SPINE], "board", 2.0)
    check(laid)
    assert (laid.count, laid.least, laid.proved, laid.price, laid.cut_short) == (2, 2, True, 9.0, False)
    assert not any(piece.turned for sheet in laid.sheets for piece in sheet.pieces)
    # Two boards and one strip a book: the numbers of each run through the volumes.
    volumes = {(p.name, p.number): p.volume for sheet in laid.sheets for p in sheet.pieces}
    assert (volumes["board", 1], volumes["board", 2], volumes["board", 3]) == (1, 1, 2)
    assert (volumes["board", 24], volumes["spine piece", 12]) == (12, 12)
    assert pickle.loads(pickle.dumps(laid)) == laid
    assert laid_on_stock(project(GREY), [BOARD, SPINE], "board", 2.0) == laid


def test_grain_decides_how_many_sheets() -> None:
    """Head to tail along 400 mm: 2 x 1 boards of 150 x 210; along 300 mm, so turned: 1 x 2; free: 2 + 0 as well."""
    board = CutItem("board", "board", 150.0, 210.0, 4, "head to tail")
    small = Stock("stock-1", "offcuts", "board", 300.0, 400.0, grain="long")
    long = laid_on_stock(project(small), [board], "board")
    assert (long.count, long.proved) == (2, True)
    short = laid_on_stock(project(replace(small, grain="short")), [board], "board")
    assert (short.count, short.proved) == (2, True)
    assert all(piece.turned for sheet in short.sheets for piece in sheet.pieces)
    check(short)
    # 3 x 1 boards of 100 x 300 along the grain, but only 1 x 4 across it.
    strip = CutItem("strip", "board", 100.0, 300.0, 12, "head to tail")
    assert laid_on_stock(project(small), [strip], "board").count == 4
    assert laid_on_stock(project(replace(small, grain="short")), [strip], "board").count == 3
    across = replace(strip, grain="across")
    assert laid_on_stock(project(small), [across], "board").count == 3


def test_pieces_that_fill_a_sheet_to_its_edges_fit() -> None:
    quarter = CutItem("quarter", "board", 350.0, 500.0, 8, "head to tail", 2.0)
    laid = laid_on_stock(project(GREY), [quarter], "board", 2.0)
    check(laid)
    assert (laid.count, laid.proved) == (2, True)
    assert laid.sheets[0].used_percent == pytest.approx(100.0)
    assert laid.sheets[0].offcuts == ()


def test_off_a_roll_the_least_length() -> None:
    """Four of 200 x 300 stand 2 x 2 on 430 mm, and three of 130 x 90 in one row (390 mm) below them: 690 mm.

    Less cannot be: beside two of 200 only 30 mm are left, so the small ones have rows of their own, the lowest 90 high.
    """
    big, small = CutItem("large", "web", 200.0, 300.0, 4, "head to tail"), CutItem("small", "web", 130.0, 90.0, 3)
    laid = laid_on_stock(project(WEB), [big, small], "web")
    check(laid)
    assert laid.length_mm == pytest.approx(690.0, abs=0.3)
    assert laid.proved
    assert laid.price == pytest.approx(3.0 * laid.length_mm / 1000)
    assert (laid.count, laid.why) == (1, None)


def test_the_cheapest_stock_is_taken_and_one_can_be_named() -> None:
    small = Stock("stock-5", "half sheets", "board", 500.0, 700.0, 2.0, "long", 2.0)
    # Sixteen boards: one sheet of 4.50, or two half sheets (3 x 3 each) of 2.00.
    board = replace(BOARD, count=16)
    both = project(GREY, small)
    assert laid_on_stock(both, [board], "board", 2.0).stock == small
    assert laid_on_stock(both, [board], "board", 2.0, stock_id="stock-1").stock == GREY
    # Without all prices by area: 2 x 0.35 m2 and 0.7 m2 are the same, so the first; with 9 boards half a sheet is less.
    dear = project(replace(GREY, price=None), small)
    assert laid_on_stock(dear, [board], "board", 2.0).stock.id == "stock-1"
    assert laid_on_stock(dear, [replace(board, count=9)], "board", 2.0).stock.id == "stock-5"
    with pytest.raises(BadInput, match="stock-9"):
        laid_on_stock(both, [board], "board", 2.0, stock_id="stock-9")


def test_a_stock_too_small_is_passed_over() -> None:
    tiny = Stock("stock-0", "scraps", "board", 100.0, 100.0, price=0.0)
    assert laid_on_stock(project(tiny, GREY), [BOARD], "board", 2.0).stock == GREY
    with pytest.raises(BadInput, match="larger than a sheet of scraps"):
        laid_on_stock(project(tiny), [BOARD], "board", 2.0)
    with pytest.raises(BadInput, match="no board of 2 mm"):
        laid_on_stock(Project(), [BOARD], "board", 2.0)


def test_nothing_and_too_much_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    for items in ([], [replace(BOARD, count=0)], [replace(BOARD, thickness_mm=3.0)], [replace(BOARD, material="card")]):
        with pytest.raises(BadInput, match="nothing of board"):
            laid_on_stock(project(GREY), items, "board", 2.0)
    monkeypatch.setattr(sheets_module, "_MOST_PIECES", 23)
    with pytest.raises(BadInput, match="more than 23 pieces of board"):
        laid_on_stock(project(GREY), [BOARD], "board", 2.0)


def test_a_watch_that_says_stop_at_once_is_told() -> None:
    laid = laid_on_stock(project(GREY), [BOARD], "board", 2.0, watch=lambda share: True)
    assert laid.cut_short
    assert (laid.sheets, laid.proved, laid.price) == ((), False, None)
    assert laid.said[0].code == "stock-not-found"
    roll = laid_on_stock(project(WEB), [CutItem("w", "web", 200.0, 300.0, 40)], "web", watch=lambda share: True)
    assert roll.cut_short


def test_the_share_done_grows() -> None:
    shares: list[float] = []
    both = project(GREY, replace(GREY, id="stock-7", width_mm=600.0))
    laid_on_stock(both, [BOARD], "board", 2.0, watch=lambda share: bool(shares.append(share)))
    assert all(0.0 <= share <= 1.0 for share in shares)
    assert shares[0] < 0.5 <= shares[-1]


def test_everything_at_once_says_what_is_missing() -> None:
    book = Book(
        "book-1",
        "Ledger",
        "flat-case",
        block_mm=(148.0, 210.0, 10.0),
        liners="paper",
        paper=None,
        volumes=(Volume(1), Volume(2)),
    )
    swatch = Cloth("cloth-1", "Swatch", 400.0, 300.0, web_short_mm=3.0)
    there = replace(project(GREY, WEB), books=(book,), cloths=(swatch,))
    items = items_of(there)
    assert ("web", 394.0, 294.0) in [(item.material, item.width_mm, item.height_mm) for item in items]
    laid, missing = all_on_stock(there, items)
    assert {one.material for one in laid} == {"board", "web"}
    assert "there is no paper in the stock yet: say how large a sheet of it is" in [one.text() for one in missing]
    for one in laid:
        check(one)
    boards = next(one for one in laid if one.material == "board")
    assert sum(len(sheet.pieces) for sheet in boards.sheets) == sum(
        item.count for item in items if item.material == "board"
    )


def test_text_paper_is_in_sheets_already() -> None:
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.12)
    book = Book("book-1", "Ledger", "separate-boards", paper=paper, liners="none")
    there = Project(books=(book,), stocks=(GREY, Stock("stock-3", "drawing paper", "paper", 300.0, 400.0)))
    items = items_of(there)
    assert [item.count for item in items if item.name == "text paper"] == [16]
    laid, _ = all_on_stock(there, items)
    assert all(item.name != "text paper" for one in laid for item in one.items)


def test_structures_of_a_newer_program_make_nothing() -> None:
    strange = Book("book-1", "Ledger", "star-book")  # type: ignore[arg-type] # what a newer file may hold
    assert items_of(Project(books=(strange,))) == ()
