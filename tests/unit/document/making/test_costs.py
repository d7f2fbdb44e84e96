"""What the books cost: every line by hand, wholes that add up to what was paid, and nothing silently free."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Paper, PartOfBook, Sewing, ThreadColour, Volume
from coverlayout.book.materials.cut_list import cut_list
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.placements import place
from coverlayout.document.making.costs import BookCost, CostLine, Costs, costs
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import all_on_stock, items_of
from coverlayout.layout.question import Placed

COVER = PartOfBook("cover", 1, 15.0, "none")
# A list of parts: cloth alone. 100 x 150 twice, 50 x 60 once.
ONE = Book("book-1", "One", "parts", board_mm=(70.0, 120.0), parts=(COVER,), volumes=(Volume(1), Volume(2)))
TWO = Book("book-2", "Two", "parts", board_mm=(20.0, 30.0), parts=(COVER,), volumes=(Volume(3),))
YARD = Cloth("cloth-1", "Yard", 500.0, 400.0, price=20.0)
START = Project(cloths=(YARD,), books=(ONE, TWO), next_volume_number=4)
LAID = place(
    (
        Placed("cover-1-1", "cloth-1", 100.0, 100.0),
        Placed("cover-2-1", "cloth-1", 300.0, 100.0),
        Placed("cover-3-1", "cloth-1", 450.0, 100.0),
    )
).change(START)
GREY = Stock("stock-1", "grey board", "board", 400.0, 500.0, price=4.0)
# Two volumes sewn on separate boards, of sixteen sheets each.
PAPER = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.12, price=0.5)
SEWN = Book(
    "book-3",
    "Sewn",
    paper=PAPER,
    liners="none",
    endpapers="none",
    volumes=(Volume(4), Volume(5)),
    sewing=Sewing(colours=(ThreadColour("red", 5, price=0.4), ThreadColour("blue", 3))),
)


def by_material(book: BookCost) -> dict[str, CostLine]:
    assert len({line.material for line in book.lines}) == len(book.lines)
    return {line.material: line for line in book.lines}


def texts(found: Costs) -> list[str]:
    return [remark.text() for remark in found.missing]


def test_cloth_by_the_area_of_what_is_cut_and_whole() -> None:
    """20.00 for 200 000 mm2: 30 000 mm2 are 3.00, and of all 33 000 mm2 that are cut they are 30/33."""
    found = costs(LAID)
    one, two = found.books
    assert one.lines == (CostLine("cloth", "Yard", pytest.approx(3.0), pytest.approx(20.0 * 30 / 33)),)
    assert two.lines == (CostLine("cloth", "Yard", pytest.approx(0.3), pytest.approx(20.0 * 3 / 33)),)
    assert found.whole_price == pytest.approx(20.0)
    assert found.share_price == pytest.approx(3.3)
    assert (one.copies, one.whole_price_each) == (2, pytest.approx(10.0 * 30 / 33))
    assert (one.share_price, two.name, found.is_known) == (pytest.approx(3.0), "Two", True)


def test_what_waits_and_what_has_no_price_is_named() -> None:
    waiting = costs(START)
    assert texts(waiting) == [
        "2 pieces lie on no cloth yet, so their cloth is not in the sum",
        "1 piece lies on no cloth yet, so its cloth is not in the sum",
    ]
    assert (waiting.whole_price, waiting.is_known) == (0.0, False)
    unpriced = costs(replace(LAID, cloths=(replace(YARD, price=None),)))
    assert texts(unpriced) == ["Yard has no price, so it is not in the sum"]
    free = costs(replace(LAID, cloths=(replace(YARD, price=0.0),)))
    assert (free.whole_price, free.is_known) == (0.0, True)


def test_own_pieces_bear_their_part() -> None:
    with_own = replace(LAID, own_pieces=(OwnPiece("own-1", "pocket", 30.0, 100.0),))
    found = costs(place((Placed("pocket-1", "cloth-1", 100.0, 300.0),)).change(with_own))
    own = found.books[-1]
    assert (own.book_id, own.name, own.copies) == (None, "", 1)
    assert own.whole_price == pytest.approx(20.0 * 3 / 36)
    assert found.whole_price == pytest.approx(20.0)


def test_backing_goes_with_the_cloth() -> None:
    """Web of 494 x 394 mm for the yard, off a roll 500 mm wide at 5.00 a metre."""
    roll = Stock("stock-2", "web", "web", 500.0, price=5.0)
    backed = replace(LAID, cloths=(replace(YARD, web_short_mm=3.0),), stocks=(roll,))
    laid, missing = all_on_stock(backed, items_of(backed))
    assert missing == ()
    found = costs(backed, laid)
    web = by_material(found.books[0])["web"]
    per_mm2 = 5.0 / 500_000
    assert web.share_price == pytest.approx(494.0 * 394.0 * per_mm2 * 30 / 200)
    # 394 mm have to be cut off the roll, the web lying across.
    assert web.whole_price == pytest.approx(5.0 * 0.394 * 30 / 33, rel=1e-3)
    assert found.is_known
    bare = costs(replace(backed, stocks=()))
    assert texts(bare) == ["web, Yard: no web with a price is in the stock, so it is not in the sum"]


def test_boards_by_their_area_and_by_whole_sheets() -> None:
    """Four boards of 114.3 x 152.4 (pages of half a sheet folded) on one sheet of 400 x 500 at 4.00."""
    project = Project(books=(SEWN,), stocks=(GREY,), next_volume_number=6)
    boards = [item for item in cut_list(SEWN) if item.material == "board"]
    area = sum(item.width_mm * item.height_mm * item.count for item in boards)
    assert area == pytest.approx(4 * 114.3 * 152.4)
    laid, _ = all_on_stock(project, items_of(project))
    line = by_material(costs(project, laid).books[0])["board"]
    assert line.name == "grey board"
    assert line.share_price == pytest.approx(4.0 * area / 200_000)
    assert line.whole_price == pytest.approx(4.0)
    unlaid = costs(project)
    line = by_material(unlaid.books[0])["board"]
    assert (line.share_price, line.whole_price) == (pytest.approx(4.0 * area / 200_000),) * 2
    assert "grey board was not laid on its sheets, so only what is used of it is in the sum, not what is lost" in texts(
        unlaid
    )


def test_boards_of_several_books_share_their_sheets() -> None:
    """Two books of equal boards, four and two: of one sheet at 4.00 they bear two thirds and one."""
    other = replace(SEWN, id="book-4", name="Other", volumes=(Volume(6),))
    project = Project(books=(SEWN, other), stocks=(GREY,), next_volume_number=7)
    laid, _ = all_on_stock(project, items_of(project))
    (boards,) = laid
    assert boards.count == 1
    found = [by_material(book)["board"].whole_price for book in costs(project, laid).books]
    assert found == pytest.approx([4.0 * 2 / 3, 4.0 / 3])


def test_paper_by_the_sheet() -> None:
    project = Project(books=(SEWN,), next_volume_number=6)
    assert by_material(costs(project).books[0])["paper"].whole_price == pytest.approx(2 * 16 * 0.5)
    unpriced = replace(SEWN, paper=replace(PAPER, price=None))
    found = costs(replace(project, books=(unpriced,)))
    assert "text paper of Sewn has no price, so it is not in the sum" in texts(found)


def test_thread_by_its_length_and_colour() -> None:
    """Chain sewing takes one height for each section and two more: 7 heights of red, 5 of blue, of 152.4 mm, twice."""
    project = Project(books=(SEWN,), next_volume_number=6)
    found = costs(project)
    (red,) = (line for line in found.books[0].lines if line.material == "thread")
    assert (red.name, red.whole_price) == ("thread, red", pytest.approx(2 * 7 * 0.1524 * 0.4))
    assert "thread, blue of Sewn has no price, so it is not in the sum" in texts(found)
    # One thread in stock does for every colour without a price; of two, the one of that name.
    linen = Stock("stock-3", "linen", "thread", price=0.1)
    lines = {line.name: line.whole_price for line in costs(replace(project, stocks=(linen,))).books[0].lines}
    assert lines["thread, blue"] == pytest.approx(2 * 5 * 0.1524 * 0.1)
    both = (linen, Stock("stock-4", "blue", "thread", price=0.3), Stock("stock-5", "white", "thread"))
    lines = {line.name: line.whole_price for line in costs(replace(project, stocks=both)).books[0].lines}
    assert lines["thread, blue"] == pytest.approx(2 * 5 * 0.1524 * 0.3)
    green = replace(both[1], name="green")
    told = texts(costs(replace(project, stocks=(linen, green))))
    assert "thread, blue of Sewn has no price, so it is not in the sum" in told


def test_a_stock_without_a_price_is_named_too() -> None:
    project = Project(books=(SEWN,), stocks=(replace(GREY, price=None),), next_volume_number=6)
    laid, _ = all_on_stock(project, items_of(project))
    for found in (costs(project), costs(project, laid)):
        assert any("no board with a price is in the stock" in text for text in texts(found))
        assert all(line.material != "board" for line in found.books[0].lines)


def test_an_empty_project_costs_nothing_and_lacks_nothing() -> None:
    found = costs(Project())
    assert (found.books, found.whole_price, found.missing, found.is_known) == ((), 0.0, (), True)
