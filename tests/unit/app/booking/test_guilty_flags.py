"""What cannot be bound is told by the flag that mends it, in one sentence, and nothing is written."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import coverlayout.book
from coverlayout.app.booking.book_flags import BOOK_FLAGS
from coverlayout.app.booking.guilty_flags import _BY_CODE, _BY_FIGURE, blamed
from coverlayout.app.command_line import main
from coverlayout.app.flags import Given
from coverlayout.errors import BadInput

SWATCH = ("--structure", "separate-boards", "--page", "114.3x152.4mm")
CASE = ("--structure", "flat-case", "--block", "148x210x10mm")
QUARTER = ("--structure", "quarter-case", "--block", "148x210x10mm")
HALF = ("--structure", "half-case", "--block", "148x210x10mm")
LIMP = ("--structure", "limp-wrap", "--block", "148x210x4mm")
SIDE = ("--structure", "side-sewn", "--block", "148x210x10mm")
BOX = ("--structure", "slipcase", "--block", "148x210x30mm")
PAPER = ("--structure", "separate-boards", "--paper", "9x12in", "--sheets", "16", "--cut", "2x1")

# What is typed, how the sentence begins, what it says.
CANNOT: list[tuple[tuple[str, ...], str, str]] = [
    # The page and the paper, both given.
    ((*PAPER, "--page", "4x6in"), "--page:", "the paper makes pages of 114.3 mm x 152.4 mm; leave one of the two out"),
    ((*PAPER, "--block", "4x6x1in"), "--block:", "leave one of the two out"),
    ((*SWATCH, "--board-size", "5x7in"), "--page and --board-size disagree", ""),
    # Combinations.
    ((*SWATCH, "--turn-in", "57.2mm"), "--turn-in:", "wider than half the board; 57.15 mm or less"),
    ((*SWATCH, "--turn-in", "15x80x15x15mm"), "--turn-in:", "80 mm at the tail is wider than half"),
    (("--structure", "separate-boards", "--page", "20x30mm"), "--turn-in:", "10 mm or less can be turned in"),
    ((*SWATCH, "--liner-inset", "58mm"), "--liner-inset:", "leaves nothing of the liner"),
    ((*SWATCH, "--board-setback", "100mm", "--page-trim", "0mm"), "--turn-in:", "wider than half the board"),
    (("--structure", "flat-case", "--block", "90x210x10mm", "--joint", "87mm"), "--joint:", "must be 86.5 mm or less"),
    ((*CASE, "--board-setback", "100mm", "--block", "90x210x10mm"), "--block stands twice", ""),
    (("--structure", "flat-case", "--block", "90x210x10mm", "--board-setback", "90mm"), "--board-setback:", "less"),
    ((*CASE, "--spine-width", "3.9mm"), "--spine-width:", "wider than 4 mm"),
    ((*CASE, "--spine-allowance", "-10.5mm"), "--spine-allowance:", "does not cover the two boards"),
    ((*CASE, "--spine-allowance", "-11mm", "--spine-piece", "strip"), "--spine-allowance:", "nothing of the spine"),
    (("--structure", "rounded-case", "--block", "90x120x10mm", "--spine-rise", "6mm"), "--spine-rise:", "rounder"),
    ((*QUARTER, "--spine-on-board", "150mm"), "--spine-on-board:", "leaves nothing to the sides"),
    ((*QUARTER, "--spine-on-board", "3mm", "--side-lap", "3mm"), "--spine-on-board:", "let it reach further"),
    ((*HALF, "--spine-on-board", "36mm", "--corner-leg", "109mm"), "--corner-leg:", "108 mm or less keeps them apart"),
    ((*HALF, "--corner-leg", "3mm"), "--corner-leg:", "they must reach more than"),
    ((*SIDE, "--hinge", "147mm"), "--hinge:", "make the hinge strip narrower"),
    ((*LIMP, "--turned-in-flap", "149mm"), "--turned-in-flap:", "148 mm or less"),
    ((*BOX, "--turn-in", "3mm", "--liner-inset", "3mm"), "--turn-in:", "lap further"),
    ((*BOX, "--liner-inset", "15mm"), "--liner-inset:", "lap further"),
    ((*CASE, "--label", "size=150x20mm"), "--label:", "does not lie within the front board"),
    ((*CASE, "--label", "size=60x25mm from-head=200mm"), "--label:", "move it inward"),
    # Thickness that nothing tells.
    (("--structure", "flat-case", "--page", "148x210mm"), "--page:", "give --block 6x9x1in in its place"),
    (("--structure", "flat-case", "--board-size", "148x210mm"), "--board-size:", "give --volumes 12mm as well"),
    ((*PAPER[2:], "--structure", "limp-wrap"), "--paper:", "give --sheet-thickness 0.12mm as well"),
    (("--structure", "flat-case", "--page", "148x210mm", "--pages", "80"), "--pages:", "--sheet-thickness"),
    (("--structure", "flat-case", "--paper", "A4", "--gsm", "80"), "--paper:", "give --sheets 16 or --pages 120"),
    (("--structure", "slipcase"), "--structure slipcase needs --block", ""),
    (("--structure", "limp-wrap"), "the book has no size", "--paper 9x12in"),
    # Ranges.
    ((*CASE, "--square", "60mm"), "--square 60 mm", "from 0 mm to 50 mm"),
    ((*CASE, "--tail-square", "60mm"), "--tail-square 60 mm", "from 0 mm to 50 mm"),
    ((*CASE, "--joint", "101mm"), "--joint 101 mm", "from 0 mm to 100 mm"),
    ((*CASE, "--board-setback", "101mm"), "--board-setback 101 mm", "from 0 mm to 100 mm"),
    ((*CASE, "--board-thickness", "13mm"), "--board-thickness 13 mm", "from 0.2 mm to 12 mm"),
    ((*CASE, "--spine-allowance", "51mm"), "--spine-allowance 51 mm", "from -50 mm to 50 mm"),
    ((*CASE, "--turn-in", "301mm"), "--turn-in 301 mm", "from 0 mm to 300 mm"),
    ((*CASE, "--liner-inset", "101mm"), "--liner-inset 101 mm", "from 0 mm to 100 mm"),
    ((*QUARTER, "--side-lap", "51mm"), "--side-lap 51 mm", "from 0 mm to 50 mm"),
    ((*QUARTER, "--spine-on-board", "0.5mm"), "--spine-on-board 0.5 mm", "from 1 mm"),
    ((*HALF, "--corner-leg", "0.5mm"), "--corner-leg 0.5 mm", "from 1 mm"),
    ((*SIDE, "--hinge", "2mm"), "--hinge 2 mm", "from 3 mm to 200 mm"),
    ((*LIMP, "--flap", "2001mm"), "--flap 2001 mm", "from 0 mm to 2000 mm"),
    ((*LIMP, "--turned-in-flap", "2001mm"), "--turned-in-flap 2001 mm", "from 0 mm to 2000 mm"),
    ((*BOX, "--clearance", "31mm"), "--clearance 31 mm", "from 0 mm to 30 mm"),
    ((*SWATCH, "--station-end", "1001mm"), "--station-end 1001 mm", "from 0 mm to 1000 mm"),
    ((*SWATCH, "--hole-distance", "201mm"), "--hole-distance 201 mm", "from 0 mm to 200 mm"),
    ((*SWATCH, "--books", "0"), "--books 0", "up to 500"),
    ((*SWATCH, "--volumes", "0mm"), "--volumes 0mm", "above 0"),
    ((*SWATCH, "--volumes", " ".join(["9mm"] * 501)), "--volumes 501", "up to 500"),
    # Paper.
    ((*PAPER, "--sheet-thickness", "6mm"), "--sheet-thickness 6mm", "from 0.01mm to 5mm"),
    ((*PAPER, "--gsm", "2"), "--gsm 2", "5"),
    ((*PAPER, "--gsm", "80", "--bulk", "9"), "--bulk 9", "0.3"),
    ((*PAPER, "--swell", "4mm"), "--swell 4mm", "from 0mm to 3mm"),
    ((*PAPER, "--per-section", "33"), "--per-section:", "take 17 sheets or more"),
    ((*PAPER, "--per-section", "201"), "--per-section 201", "from 1 to 200"),
    ((*PAPER, "--page-trim", "114mm"), "--page-trim:", "trim less"),
    (("--structure", "separate-boards", "--paper", "A4", "--sheets", "0"), "--sheets 0", "above 0"),
    (("--structure", "separate-boards", "--paper", "A4", "--pages", "0"), "--pages 0", "above 0"),
    (("--structure", "separate-boards", "--paper", "10x10mm", "--sheets", "4"), "--paper 10mm", "20mm"),
    (("--structure", "separate-boards", "--page", "8x9mm", "--sheets", "4"), "--page: the paper for it, 16mm", "20mm"),
    (("--structure", "accordion", "--paper", "A3", "--sheets", "4", "--page-trim", "0x0x2mm"), "--page-trim:", "folds"),
    # Sewing.
    ((*SWATCH, "--stations", "pairs 5"), "--stations:", "give an even number"),
    ((*SWATCH, "--stations", "200mm"), "--stations:", "off the page"),
    ((*SWATCH, "--stations", "20 20mm"), "--stations:", "two stations lie at 20 mm"),
    ((*SWATCH, "--stations", "pairs 20"), "--stations:", "leaves no room"),
    ((*SWATCH, "--station-end", "80mm"), "--station-end:", "leaves no room"),
    ((*PAPER, "--thread", "red=9"), "--thread:", "and there are 8"),
]


@pytest.mark.parametrize(("words", "begins", "says"), CANNOT, ids=lambda part: part if isinstance(part, str) else None)
def test_the_flag_that_mends_it_is_named(
    words: tuple[str, ...],
    begins: str,
    says: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "z.coverlayout", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.startswith(begins)
    assert says in err
    assert "Book" not in err
    assert list(tmp_path.iterdir()) == []


def _codes_of_the_book() -> set[str]:
    """Every code of a BadInput that the package of books may raise."""
    found: set[str] = set()
    (folder,) = coverlayout.book.__path__
    for file in Path(folder).rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "BadInput":
                inside = [one for arg in node.args for one in ast.walk(arg) if isinstance(one, ast.Constant)]
                found |= {str(one.value) for one in inside}
    return found


# Refused before the book is made, told by the figure's name, of job files and own pieces, or never met by command.
_NOT_BY_CODE = {
    *("figure-range", "paper-length-range", "paper-figure-range", "paper-figure-above", "count-out-of-range"),
    *("copies-count", "volume-number-twice", "book-one-size", "parts-board", "part-nothing-left", "paper-price"),
    *("piece-without-name", "piece-ids-count", "outline-not-finite", "structure-not-built", "mitre-gapes"),
    *("picture-no-book", "no-sheets", "no-pages", "sheets-and-pages", "no-sheets-no-pages", "sheet-unknown"),
    *("basis-weight-unreadable", "basis-weight-kind", "basis-weight-needs-size", "book-thickness-needed"),
}


def test_every_fault_of_a_book_has_a_flag() -> None:
    codes = _codes_of_the_book()
    assert set(_BY_CODE) <= codes
    assert codes - set(_BY_CODE) <= _NOT_BY_CODE


def test_every_flag_that_is_named_is_there() -> None:
    known = {flag.name for flag in BOOK_FLAGS}
    assert {flag for flags in (*_BY_CODE.values(), *_BY_FIGURE.values()) for flag in flags} <= known


def test_the_flag_that_was_typed_is_named_before_the_likeliest() -> None:
    fault = BadInput("spine-too-thin", book="Book", spine_exact_mm=3.0, least_exact_mm=4.0)
    typed = Given("a", {"--spine-allowance": ("-12mm",)})
    assert str(blamed(fault, typed, "flat-case")).startswith("--spine-allowance: ")
    assert str(blamed(fault, Given("a"), "flat-case")).startswith("--spine-width: ")


def test_a_fault_that_no_flag_mends_keeps_its_words() -> None:
    told = blamed(BadInput("nothing-to-make"), Given("a"), "flat-case")
    assert str(told).startswith("--structure: there is nothing to make")
