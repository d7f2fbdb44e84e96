"""`book`: every structure worked out and told, for people and as JSON, with sizes added up by hand beside them."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.booking.structure_flags import STRUCTURES
from coverlayout.app.command_line import main
from coverlayout.document.edits.stocks import change_stock
from coverlayout.document.file import load, save
from coverlayout.document.project import Preferences, Project
from coverlayout.units import LengthStyle

BLOCK = ("--block", "148x210x10mm")
Size = tuple[float, float]

# A third of a circle over a block T is 2 pi / (3 sqrt 3) T = 1.2092 T long (geometry).
ARC = 12.091996
# Flags; boards; pieces. W 148, H 210, T 10, boards of 2, turn-ins of 15, liners inset by 3, squares of 3 or none,
# joints of 10 beside a spine piece (common practice, no source, but for what the table of rules names).
WORKED_OUT: dict[str, tuple[tuple[str, ...], dict[str, Size], dict[str, Size]]] = {
    "separate-boards": (
        ("--page", "148x210mm"),
        {"cover board": (148, 210)},
        {"front cover": (178, 240), "back cover": (178, 240), "front liner": (142, 204), "back liner": (142, 204)},
    ),
    "exposed-spine-wrap": (
        BLOCK,
        {"cover board": (148, 210)},
        {"cover": (2 * 148 + 10 + 30, 240), "front liner": (142, 204), "back liner": (142, 204)},
    ),
    "flat-case": (
        BLOCK,
        {"cover board": (144.5, 216), "spine piece": (13.5, 216)},
        {"cover": (2 * 144.5 + 33.5 + 30, 246), "front liner": (141.5, 210), "back liner": (141.5, 210)},
    ),
    "rounded-case": (
        BLOCK,
        {"cover board": (148, 216), "spine strip": (ARC, 216)},
        {"cover": (2 * 148 + ARC + 2 * 5 + 30, 246), "front liner": (145, 210), "back liner": (145, 210)},
    ),
    "quarter-case": (
        (*BLOCK, "--liners", "none", "--spine-on-board", "36mm"),
        {"cover board": (144.5, 216), "spine piece": (13.5, 216)},
        {"spine cloth": (33.5 + 72, 246), "front side": (108.5 + 3 + 15, 246), "back side": (108.5 + 3 + 15, 246)},
    ),
    "half-case": (
        (*BLOCK, "--liners", "none", "--spine-on-board", "36mm", "--corner-leg", "40mm"),
        {"cover board": (144.5, 216), "spine piece": (13.5, 216)},
        {
            "spine cloth": (33.5 + 72, 246),
            "front side": (108.5 + 3 + 15, 246),
            "back side": (108.5 + 3 + 15, 246),
            **{f"{side} corner, {end}": (70, 70) for side in ("front", "back") for end in ("head", "tail")},
        },
    ),
    "limp-wrap": (BLOCK, {}, {"cover": (2 * 148 + 10 + 30, 240), "liner": (2 * 148 + 10 - 6, 204)}),
    "side-sewn": (
        BLOCK,
        {"cover board": (151 - 15 - 4, 216), "hinge strip": (15, 216)},
        {"front cover": (181, 246), "back cover": (181, 246), "front liner": (145, 210), "back liner": (145, 210)},
    ),
    "accordion": (
        BLOCK,
        {"cover board": (154, 216)},
        {"front cover": (184, 246), "back cover": (184, 246), "front liner": (148, 210), "back liner": (148, 210)},
    ),
    "slipcase": (
        BLOCK,
        {"side wall": (151.5, 217), "closed side": (13, 217), "head and tail": (13, 149.5)},
        {},
    ),
}
WHOLE_NUMBERS = ("sections", "pages", "blank_pages")


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def new(*words: str) -> None:
    assert main(["new", "a.coverlayout", "--replace", *words]) == 0


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert main(["book", "a.coverlayout", *words]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


def record(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(told(capsys, "--json", *words))
    return found


def sizes(rows: list[dict[str, Any]]) -> dict[str, Size]:
    return {row["name"]: (row["width_mm"], row["height_mm"]) for row in rows}


def saved(change: Any) -> None:
    loaded = load(Path("a.coverlayout"))
    save(Path("a.coverlayout"), change(loaded.project), loaded.pictures)


def test_no_structure_is_left_out() -> None:
    assert set(WORKED_OUT) == set(STRUCTURES)


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_structure_is_told_with_its_sizes(structure: str, capsys: pytest.CaptureFixture[str]) -> None:
    flags, boards, pieces = WORKED_OUT[structure]
    new("--structure", structure, *flags)
    found = record(capsys)
    assert found["structure"] == structure
    told_boards, told_pieces = sizes(found["boards"]), sizes(found["pieces"])
    assert set(told_boards) == set(boards)
    for name, size in boards.items():
        assert told_boards[name] == pytest.approx(size, abs=1e-4), name
    if pieces:
        assert {name.replace(" at the ", ", ") for name in told_pieces} == set(pieces)
    for name, size in told_pieces.items():
        assert pieces.get(name, size) == pytest.approx(size, abs=1e-4), name


@pytest.mark.parametrize("structure", STRUCTURES)
def test_the_json_has_its_keys_and_kinds(structure: str, capsys: pytest.CaptureFixture[str]) -> None:
    paper = () if structure == "slipcase" else ("--sheets", "4", "--sheet-thickness", "0.12mm")
    new("--structure", structure, *WORKED_OUT[structure][0], *paper)
    found = record(capsys)
    keys = ("leaf_mm", "page_mm", *WHOLE_NUMBERS, "block_mm", "boards", "pieces", "cut_list", "stations_mm")
    assert set(found) >= {*keys, "thread_mm", "notes", "panels", "backing", "stock"}
    assert all(type(found[name]) is (type(None) if structure == "slipcase" else int) for name in WHOLE_NUMBERS)
    assert len(found["block_mm"]) == 3
    assert [found[name] and len(found[name]) for name in ("leaf_mm", "page_mm")] == ([2, 2] if paper else [None, None])
    for row in found["boards"]:
        assert set(row) >= {"name", "width_mm", "height_mm", "thickness_mm", "count"}
        assert type(row["count"]) is int
        assert isinstance(row["width_mm"], float)
    for row in found["pieces"]:
        assert set(row) >= {"name", "kind", "width_mm", "height_mm", "count", "turns"}
        assert (type(row["count"]), row["turns"]) == (int, "half")
    assert {row["material"] for row in found["cut_list"]} <= {"cloth", "board", "card", "lining", "paper", "thread"}
    assert all(isinstance(place, float) for place in found["stations_mm"])
    assert isinstance(found["thread_mm"], (float, type(None)))
    assert all(isinstance(note, str) for note in found["notes"])


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_structure_is_told_to_people(structure: str, capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", structure, *WORKED_OUT[structure][0])
    lines = told(capsys).splitlines()
    assert lines[0] == f"Book: {structure}"
    assert ("Boards" in lines) == (structure != "limp-wrap")
    assert "Pieces of cloth" in lines
    assert "" not in (lines[-1], lines[0])
    assert not any(line == "" == after for line, after in pairwise(lines))


def test_a_book_is_chosen_by_its_number(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "separate-boards", "--page", "4.5x6in")

    def with_second(project: Project) -> Project:
        (book,) = project.books
        volumes = tuple(replace(volume, number=2) for volume in book.volumes)
        other = replace(book, id="book-2", name="Ledger", page_mm=(100.0, 150.0), volumes=volumes)
        return replace(project, books=(book, other))

    saved(with_second)
    assert record(capsys, "--book", "2")["page_mm"] == [100.0, 150.0]
    assert [one["book"] for one in record(capsys)["books"]] == ["Book", "Ledger"]
    assert "books" not in record(capsys)["books"][0]
    assert "Book 2 of the project, Ledger, is told with --book 2" in told(capsys)
    for wrong in ("0", "3", "x", "١"):
        assert main(["book", "a.coverlayout", "--book", wrong]) == 2
        assert f"--book {wrong}" in capsys.readouterr().err


def test_a_project_without_a_book_is_told_so(capsys: pytest.CaptureFixture[str]) -> None:
    new("--cloth", "12x12in")
    assert main(["book", "a.coverlayout"]) == 2
    assert "holds no book" in capsys.readouterr().err


def test_boards_lie_on_their_sheets(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "separate-boards", "--page", "148x210mm", "--books", "13", "--board-sheet", "700x1000mm")
    stock = record(capsys)["stock"]
    # 26 boards with the grain upright on 700 x 1000: four beside each other, four rows: 16 to a sheet.
    assert [(one["material"], one["sheets"], one["length_mm"]) for one in stock] == [("board", 2, None)]
    assert sum(len(sheet) for sheet in stock[0]["laid"]) == 26
    assert "2 sheets of board" in told(capsys)


def test_what_has_no_stock_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "flat-case", *BLOCK, "--board-sheet", "700x1000mm")
    missing = record(capsys)["stock_missing"]
    assert any("lining" in said for said in missing)
    # Of what nobody spoke of people hear nothing; what does not fit on the sheets there are is told.
    assert "in the stock yet" not in told(capsys)
    new("--structure", "flat-case", *BLOCK, "--board-sheet", "100x100mm")
    (larger,) = [said for said in record(capsys)["stock_missing"] if "larger than a sheet" in said]
    assert larger in told(capsys)
    new("--structure", "flat-case", *BLOCK)
    assert record(capsys)["stock_missing"] == []


BACKED = ("--structure", "separate-boards", "--page", "4.5x6in", "--cloth", "600x400mm", "--backing", "web")


def test_a_cloth_larger_than_its_web_is_cut_into_panels(capsys: pytest.CaptureFixture[str]) -> None:
    new(*BACKED, "--web-sheet", "430x300mm")
    found = record(capsys)
    (cloth,) = found["panels"]
    assert (cloth["cloth"], cloth["verdict"]) == ("cloth-1", "fits")
    boxes = cloth["panels"]
    assert len(boxes) == 2
    assert all(sorted((box["width_mm"], box["height_mm"])) <= [300, 430] for box in boxes)
    assert sum(box["width_mm"] * box["height_mm"] for box in boxes) == pytest.approx(600 * 400)
    assert [row["name"] for row in found["backing"]] == ["web, Cloth, panel 1", "web, Cloth, panel 2"]
    assert [one["sheets"] for one in found["stock"] if one["material"] == "web"] == [2]
    text = told(capsys)
    assert "Cloth, panel 2: " in text
    assert "2 sheets of web" in text
    assert "larger than web comes" not in text


def test_where_no_panels_do_that_is_told_instead(capsys: pytest.CaptureFixture[str]) -> None:
    new(*BACKED, "--web-sheet", "170x120mm")
    found = record(capsys)
    assert [(one["verdict"], one["stock"]) for one in found["panels"]] == [("does not fit", [])]
    assert [row["name"] for row in found["backing"]] == ["web, Cloth"]
    assert "larger than the largest panel" in told(capsys)
    new(*BACKED, "--web-sheet", "20x20mm")
    assert record(capsys)["panels"] == []
    assert "larger sheets" in told(capsys)


@pytest.mark.parametrize("more", [("--web-sheet", "700mm"), ("--tissue-sheet", "100x100mm"), ()])
def test_no_panels_where_web_is_large_enough_or_none_is_there(
    more: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    new(*BACKED, *more)
    assert record(capsys)["panels"] == []


def test_prices_are_added_up(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "separate-boards", "--page", "148x210mm", "--books", "2", "--board-sheet", "700x1000mm")
    assert record(capsys)["cost"] is None
    saved(lambda project: change_stock("stock-1", price=3.5).change(project))
    cost = record(capsys)["cost"]
    assert (cost["whole"], cost["books"][0]["price_each"], cost["books"][0]["copies"]) == (3.5, 1.75, 2)
    assert [line["material"] for line in cost["books"][0]["lines"]] == ["board"]
    assert cost["missing"]
    assert "1.75 each with what is lost" in told(capsys).replace("  ", " ")


def test_what_was_cut_is_counted(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "separate-boards", "--page", "4.5x6in", "--cloth", "22x18in")
    assert record(capsys)["made"] == [
        {"name": "Book", "number": 1, "planned": 4, "laid": 0, "waiting": 4, "cut": 0, "spoiled": 0}
        | {"spoiled_pieces": []}
    ]


def test_a_project_in_inches_is_told_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    new("--structure", "flat-case", "--block", "6x9x1in", "--spine-piece", "none", "--board-setback", "0mm")
    saved(lambda project: replace(project, preferences=Preferences(LengthStyle("in", inch_parts=16))))
    text = told(capsys)
    assert "Pages 6 in x 9 in" in text
    assert "Block 1 in thick" in text
    assert " mm" not in text
    # The board of 2 mm to a thousandth, as no sixteenth is near it.
    assert "0.079 in" in text
