"""A plan as plain values: every key, whole numbers whole, null where nothing tells, equal rows counted."""

import json
from dataclasses import replace
from typing import Any

import pytest

from coverlayout.book.book import Book, Label, Paper, PartOfBook, Sewing, ThreadColour, Turns, Volume
from coverlayout.book.materials.plan import plan
from coverlayout.book.materials.record import as_record
from coverlayout.book.pieces import Piece
from coverlayout.errors import Remark

PAD = Paper((228.6, 304.8), sheets=17, cut=(2, 1), per_section=4)
LEDGER = Book("b", "Ledger", paper=PAD, volumes=(Volume(1), Volume(2)))


def _half(piece: Piece) -> Turns:
    return piece.turns or "half"


def _record(book: Book) -> dict[str, Any]:
    """As another program reads it."""
    read: dict[str, Any] = json.loads(json.dumps(as_record(plan(book), _half), allow_nan=False))
    return read


def test_the_usual_book_from_its_paper() -> None:
    record = _record(LEDGER)
    assert record["leaf_mm"] == pytest.approx([228.6, 152.4])
    assert record["page_mm"] == pytest.approx([114.3, 152.4])
    figures = ("sections", "pages", "blank_pages", "leaves", "sheets", "leftover_sheets", "needles")
    assert [record[name] for name in figures] == [8, 128, 0, 64, 16, 1, 1]
    assert all(isinstance(record[name], int) for name in figures)
    assert record["block_mm"] == [pytest.approx(114.3), pytest.approx(152.4), None]
    assert record["thread_mm"] == pytest.approx(1524.0)


def test_pieces_and_boards_count_over_the_volumes() -> None:
    record = _record(LEDGER)
    assert record["pieces"][0] == {
        "name": "front cover",
        "kind": "cover",
        "width_mm": pytest.approx(144.3),
        "height_mm": pytest.approx(182.4),
        "count": 2,
        "turns": "half",
        "grain": "head to tail",
        "matches": ["back cover"],
    }
    assert [piece["count"] for piece in record["pieces"]] == [2, 2, 2, 2]
    board = record["boards"][0]
    assert (board["name"], board["count"], board["material"], board["grain"]) == (
        "cover board",
        4,
        "board",
        "head to tail",
    )
    assert (board["width_mm"], board["height_mm"], board["thickness_mm"]) == pytest.approx((114.3, 152.4, 2.0))
    assert [volume["number"] for volume in record["volumes"]] == [1, 2]


def test_pieces_that_differ_between_volumes_stay_apart() -> None:
    case = Book(
        "b", "Set", "flat-case", page_mm=(148.0, 210.0), volumes=(Volume(1, 12.0), Volume(2, 25.0)), liners="none"
    )
    record = _record(case)
    assert [(piece["width_mm"], piece["count"]) for piece in record["pieces"]] == [
        (pytest.approx(2 * 144.5 + 15.5 + 20 + 30), 1),
        (pytest.approx(2 * 144.5 + 28.5 + 20 + 30), 1),
    ]
    assert (record["spine_mm"], record["gap_mm"]) == (15.5, 35.5)
    assert [volume["spine_mm"] for volume in record["volumes"]] == [15.5, 28.5]
    assert [volume["block_mm"] for volume in record["volumes"]] == [[148.0, 210.0, 12.0], [148.0, 210.0, 25.0]]


def test_without_paper_its_figures_are_null() -> None:
    record = _record(replace(LEDGER, paper=None, page_mm=(114.3, 152.4)))
    for name in ("leaf_mm", "sections", "pages", "blank_pages", "leaves", "sheets", "leftover_sheets", "thread_mm"):
        assert record[name] is None
    assert record["page_mm"] == [114.3, 152.4]
    assert record["thread_in_words"] == [
        "Ledger: the thread cannot be measured before the number of sections is known."
    ]


def test_boards_alone_tell_no_page() -> None:
    record = _record(Book("b", "Ledger", board_mm=(114.3, 152.4)))
    assert (record["page_mm"], record["block_mm"], record["spine_mm"]) == (None, [None, None, None], None)


def test_the_sewing() -> None:
    sewing = Sewing("own", own_mm=(20.0, 132.4), hole_from_spine_mm=7.0, colours=(ThreadColour("red", 8),))
    record = _record(replace(LEDGER, sewing=sewing, square_mm=3.0))
    assert record["stations_mm"] == [20.0, 132.4]
    assert record["stations_from_tail_mm"] == pytest.approx([20.0, 132.4])
    assert record["holes"][0] == {"board": "front", "from_spine_edge_mm": 7.0, "from_head_mm": 23.0}
    assert len(record["holes"]) == 4
    assert record["thread_by_colour"] == [{"name": "red", "length_mm": pytest.approx(1524.0)}]
    assert record["thread_rule"] == "sections and two"


def test_the_cut_list_gives_a_thread_a_length_and_says_its_notes() -> None:
    rows = {row["name"]: row for row in _record(LEDGER)["cut_list"]}
    assert rows["thread"]["length_mm"] == pytest.approx(1524.0)
    assert (rows["thread"]["width_mm"], rows["thread"]["height_mm"], rows["thread"]["count"]) == (None, None, 2)
    assert rows["text paper"]["note"] == "Whole sheets, as they are bought."
    assert (rows["front cover"]["length_mm"], rows["front cover"]["note"]) == (None, "")
    assert (rows["cover board"]["volumes"], rows["cover board"]["thickness_mm"]) == ([1, 2], 2.0)


def test_a_slipcase_holds_a_book_and_has_no_page() -> None:
    record = _record(Book("b", "Case", "slipcase", block_mm=(120.0, 180.0, 20.0)))
    assert record["page_mm"] is None
    assert record["block_mm"] == [120.0, 180.0, 20.0]
    assert (record["stations_mm"], record["thread_mm"], record["needles"]) == ([], None, None)


def test_a_list_of_parts_has_pieces_alone() -> None:
    book = Book("b", "Set", "parts", board_mm=(100.0, 150.0), parts=(PartOfBook("cover", 2, 15.0, "none"),))
    record = _record(book)
    assert (record["page_mm"], record["block_mm"], record["boards"], record["gap_mm"]) == (None, None, [], None)
    assert [(piece["name"], piece["count"], piece["turns"]) for piece in record["pieces"]] == [("cover", 2, "none")]


def test_remarks_are_put_into_the_words_asked_for() -> None:
    noted = replace(LEDGER, liner_inset_mm=12.0)

    def shout(remark: Remark) -> str:
        return remark.code.upper()

    assert "LINER-INSET-WIDE" in as_record(plan(noted), _half, shout)["notes"]
    assert any("leave raw edges" in note for note in _record(noted)["notes"])


@pytest.mark.parametrize(("opens", "left_mm"), [("left", 12.0), ("right", 100 - 12.0 - 40)])
def test_where_the_label_lies_on_the_front_board(opens: str, left_mm: float) -> None:
    """From the left edge of the front seen from outside, whose spine edge is at the left or at the right."""
    title = Label(40.0, 25.0, "window", from_head_mm=30.0, from_spine_mm=12.0)
    book = Book("b", "Ledger", page_mm=(100.0, 150.0), label=title, opens=opens)  # type: ignore[arg-type]  # of two words
    assert _record(book)["label_mm"] == [left_mm, 30.0, 40.0, 25.0]
    assert _record(replace(book, label=None))["label_mm"] is None
