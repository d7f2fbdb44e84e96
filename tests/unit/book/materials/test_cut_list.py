"""The cut list: every material in its order, equal pieces of volumes in one row, paper where it takes cloth's place."""

from dataclasses import replace
from typing import Any

import pytest

from coverlayout.book.book import Book, Grain, Label, Paper, PartOfBook, Sewing, ThreadColour, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.cut_list import cut_list, grouped, sections_of
from coverlayout.errors import BadInput, sentence

PAD = Paper((228.6, 304.8), grain="long", sheets=16, cut=(2, 1), per_section=4, thickness_mm=0.12)
LEDGER = Book("b", "Ledger", paper=PAD)
SET = replace(LEDGER, paper=None, page_mm=(114.3, 152.4), volumes=(Volume(1), Volume(2), Volume(5)))


def _rows(book: Book) -> dict[str, CutItem]:
    rows = cut_list(book)
    assert len({row.name for row in rows}) == len(rows)
    return {row.name: row for row in rows}


def test_everything_of_a_book_from_its_paper() -> None:
    rows = _rows(LEDGER)
    assert list(rows) == [
        "front cover",
        "back cover",
        "front liner",
        "back liner",
        "cover board",
        "text paper",
        "thread",
    ]
    assert [row.material for row in rows.values()] == ["cloth"] * 4 + ["board", "paper", "thread"]
    assert (rows["front cover"].width_mm, rows["front cover"].height_mm) == pytest.approx((144.3, 182.4))
    assert (rows["front liner"].width_mm, rows["front liner"].height_mm) == pytest.approx((108.3, 146.4))
    board = rows["cover board"]
    assert (board.width_mm, board.height_mm, board.thickness_mm, board.count) == pytest.approx((114.3, 152.4, 2.0, 2))


def test_text_paper_is_counted_in_whole_sheets_with_its_grain() -> None:
    paper = _rows(LEDGER)["text paper"]
    assert (paper.width_mm, paper.height_mm, paper.count, paper.grain) == (228.6, 304.8, 16, "head to tail")
    assert sentence(paper.note, {}) == "Whole sheets, as they are bought."


@pytest.mark.parametrize(
    ("sheet_mm", "grain", "arrow"),
    [
        ((228.6, 304.8), "short", "across"),
        ((304.8, 228.6), "long", "across"),
        ((304.8, 228.6), "short", "head to tail"),
        ((228.6, 304.8), "unknown", "any"),
    ],
)
def test_the_grain_arrow_of_a_sheet_lies_as_the_sheet_does(
    sheet_mm: tuple[float, float], grain: Grain, arrow: str
) -> None:
    book = replace(LEDGER, paper=replace(PAD, sheet_mm=sheet_mm, grain=grain))
    assert _rows(book)["text paper"].grain == arrow


def test_thread_is_a_row_by_its_length() -> None:
    """8 sections and two more, 152.4 mm each."""
    thread = _rows(LEDGER)["thread"]
    assert (thread.width_mm, thread.height_mm, thread.count) == (0.0, pytest.approx(1524.0), 1)


def test_threads_of_colours_and_pairs() -> None:
    """Red 2 and two more sections of 152.4, grey 6 and two more, each shared out among the two pairs."""
    colours = (ThreadColour("red", 2), ThreadColour("grey", 0))
    rows = _rows(replace(LEDGER, sewing=Sewing("ends", colours=colours)))
    assert (rows["thread, red"].height_mm, rows["thread, red"].count) == (pytest.approx(4 * 152.4 / 2), 2)
    assert (rows["thread, grey"].height_mm, rows["thread, grey"].count) == (pytest.approx(8 * 152.4 / 2), 2)


def test_thread_that_is_not_known_or_not_needed_has_no_row() -> None:
    assert "thread" not in _rows(SET)
    all_red = Sewing(colours=(ThreadColour("red", 8), ThreadColour("grey", 0)))
    rows = _rows(replace(LEDGER, sewing=all_red))
    assert "thread, red" in rows
    assert "thread, grey" not in rows


def test_equal_pieces_of_volumes_share_a_row_that_names_them() -> None:
    rows = _rows(SET)
    assert (rows["front cover"].count, rows["front cover"].volumes) == (3, (1, 2, 5))
    assert (rows["cover board"].count, rows["cover board"].volumes) == (6, (1, 2, 5))


def test_volumes_of_different_thickness_differ_only_where_it_counts() -> None:
    volumes = (Volume(1, 12.0), Volume(2, 18.0), Volume(3, 12.0))
    case = Book("b", "Set", "flat-case", page_mm=(148.0, 210.0), volumes=volumes)
    spines = [row for row in cut_list(case) if row.name == "spine piece"]
    assert [(row.width_mm, row.count, row.volumes) for row in spines] == [(15.5, 2, (1, 3)), (21.5, 1, (2,))]
    linings = [(row.width_mm, row.volumes) for row in cut_list(case) if row.material == "lining"]
    assert linings == [(12.0, (1, 3)), (18.0, (2,))]
    assert [row.count for row in cut_list(case) if row.name == "cover board"] == [6]


def test_liners_of_paper_are_as_large_as_those_of_cloth() -> None:
    cloth, paper = _rows(SET), _rows(replace(SET, liners="paper"))
    for name in ("front liner", "back liner"):
        assert paper[name] == replace(cloth[name], material="paper")
    assert not any("liner" in name for name in _rows(replace(SET, liners="none")))


def test_sides_of_paper_leave_only_the_spine_and_corners_to_the_cloth() -> None:
    half = Book("b", "Ledger", "half-case", block_mm=(148.0, 210.0, 10.0), sides="paper")
    rows = cut_list(half)
    assert {row.material for row in rows if row.name.endswith("side")} == {"paper"}
    assert {row.material for row in rows if "corner" in row.name} == {"cloth"}
    assert {row.note for row in rows if "corner" in row.name} == {"cut-corner"}
    assert {row.note for row in rows if row.name.endswith("side")} == {""}
    as_cloth = {row.name: row for row in cut_list(replace(half, sides="cloth"))}
    for row in rows:
        assert (row.width_mm, row.height_mm) == (as_cloth[row.name].width_mm, as_cloth[row.name].height_mm)


def test_pieces_that_may_be_turned_have_no_arrow() -> None:
    rows = _rows(replace(SET, cover_turns="none", liner_turns="quarter"))
    assert (rows["front cover"].grain, rows["front liner"].grain) == ("head to tail", "any")


def test_a_list_of_parts_tells_only_of_cloth() -> None:
    parts = (PartOfBook("cover", 2, 15.0, "none"), PartOfBook("liner", 2, -3.0, "half"))
    book = Book(
        "b", "Set", "parts", board_mm=(100.0, 150.0), parts=parts, liners="paper", volumes=(Volume(1), Volume(2))
    )
    rows = _rows(book)
    assert {row.material for row in rows.values()} == {"cloth"}
    assert (rows["cover"].count, rows["liner"].count) == (4, 4)
    assert (rows["liner"].width_mm, rows["liner"].height_mm) == (94.0, 144.0)


def test_rows_that_differ_stay_apart() -> None:
    one = CutItem("cover", "cloth", 100.0, 150.0, volumes=(1,))
    others = (
        replace(one, name="liner"),
        replace(one, width_mm=100.1),
        replace(one, material="paper"),
        replace(one, note="cut-corner"),
    )
    assert grouped((one, *others)) == (one, *others)


def test_dust_of_adding_keeps_no_rows_apart_and_a_volume_is_named_once() -> None:
    one = CutItem("cover", "cloth", 0.1 + 0.2, 150.0, count=2, volumes=(1,))
    made = grouped((one, replace(one, width_mm=0.3), replace(one, volumes=(2,))))
    assert [(row.count, row.volumes) for row in made] == [(6, (1, 2))]


def test_sections_come_from_the_paper_alone() -> None:
    assert sections_of(LEDGER) == 8
    assert sections_of(SET) is None


def test_what_cannot_be_made_is_refused() -> None:
    with pytest.raises(BadInput):
        cut_list(replace(LEDGER, sewing=Sewing("pairs", count=3)))


def test_a_case_is_lined_and_has_two_endpapers_a_volume() -> None:
    case = Book("b", "Set", "flat-case", page_mm=(148.0, 210.0), volumes=(Volume(1, 12.0), Volume(2, 12.0)))
    rows = _rows(case)
    ends = rows["endpaper"]
    assert (ends.width_mm, ends.height_mm, ends.count, ends.grain) == (296.0, 210.0, 4, "head to tail")
    assert (rows["spine lining"].width_mm, rows["spine lining"].count) == (12.0, 2)


@pytest.mark.parametrize(
    ("given", "row", "note"),
    [
        ({"structure": "slipcase", "slipcase_of": "one scored board"}, "scored board", "cut-scored"),
        ({"label": Label(40.0, 25.0, "window")}, "cover board", "cut-window"),
        ({"label": Label(40.0, 25.0, "inset")}, "cover board", "cut-recess"),
        ({"label": Label(40.0, 25.0, "on top")}, "cover board", ""),
        ({"label": Label(40.0, 25.0, "window"), "structure": "flat-case"}, "spine piece", ""),
        ({}, "cover board", ""),
    ],
)
def test_what_is_done_to_a_board_besides_cutting_it_out(given: dict[str, Any], row: str, note: str) -> None:
    book = Book("b", "Ledger", **({"block_mm": (148.0, 210.0, 10.0)} | given))
    found = _rows(book)[row]
    assert found.note == note
    assert not note or sentence(note, {})
