"""From the paper in the drawer to boards and cloth, by commands alone, with figures added up by hand."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.booking.structure_flags import STRUCTURES
from coverlayout.app.command_line import main

INCH = 25.4
Size = tuple[float, float]
PAD = ("--structure", "separate-boards", "--paper", "9x12in", "--cut", "2x1", "--folds", "1", "--per-section", "4")


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """What a command answers in this process; a fault is one sentence, and then nothing is answered."""
    capsys.readouterr()
    code = main(words)
    out, err = capsys.readouterr()
    assert (err.count("\n"), out == "") == ((1, True) if code == 2 else (0, False)), (words, err)
    assert "fault of its own" not in err, words
    return code, err if code == 2 else out


def book(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    assert told(capsys, "new", "b.coverlayout", "--replace", *words)[0] == 0
    code, out = told(capsys, "book", "b.coverlayout", "--json")
    assert code == 0
    found: dict[str, Any] = json.loads(out)
    return found


def sizes(rows: list[dict[str, Any]]) -> dict[str, Size]:
    return {row["name"]: (row["width_mm"], row["height_mm"]) for row in rows}


def test_a_pad_of_paper_becomes_a_book_in_a_process_of_its_own(tmp_path: Path) -> None:
    without_display = {name: value for name, value in os.environ.items() if "DISPLAY" not in name}
    figures = ("--sheets", "16", "--turn-in", "15mm", "--liner-inset", "3mm", "--cloth", "22x18in")
    for words in (("new", "b.coverlayout", *PAD, *figures), ("book", "b.coverlayout", "--json")):
        command = [sys.executable, "-m", "coverlayout", *words]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, env=without_display, check=True)
        assert done.stderr == ""
    found = json.loads(done.stdout)
    # 9 x 12 in cut in two: leaves of 9 x 6; folded once: pages of 4.5 x 6. 16 sheets: 32 pieces, 4 to a section.
    assert found["leaf_mm"] == pytest.approx([9 * INCH, 6 * INCH])
    assert found["page_mm"] == pytest.approx([114.3, 152.4])
    assert (found["sections"], found["pages"], found["blank_pages"]) == (8, 128, 0)
    # Boards as large as the page (common practice, no source).
    cloth = sizes(found["pieces"])
    assert cloth["front cover"] == cloth["back cover"] == pytest.approx((144.3, 182.4))
    assert cloth["front liner"] == cloth["back liner"] == pytest.approx((108.3, 146.4))


def test_pages_wanted_become_sheets_to_buy(capsys: pytest.CaptureFixture[str]) -> None:
    found = book(capsys, *PAD, "--pages", "120")
    # 120 pages are 30 folded pieces; eight sections of four hold 32, which are 128 pages of 16 sheets.
    assert (found["sections"], found["pages"], found["blank_pages"], found["sheets"]) == (8, 128, 8, 16)
    assert any("the last 8 stay blank" in note for note in found["notes"])


def test_a_flat_case_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    """A school manual of 1912: a book 6 x 9 x 1 in, squares and joints of 1/8 in, turn-ins of 3/4 in."""
    found = book(
        capsys,
        *("--structure", "flat-case", "--block", "6x9x1in", "--board-setback", "0mm", "--square", "1/8in"),
        *("--joint", "1/8in", "--spine-piece", "none", "--turn-in", "3/4in"),
    )
    assert sizes(found["boards"]) == {"cover board": pytest.approx((6 * INCH, 9.25 * INCH))}
    assert found["boards"][0]["count"] == 2
    assert sizes(found["pieces"])["cover"] == pytest.approx((14.75 * INCH, 10.75 * INCH))
    assert (found["spine_mm"], found["gap_mm"]) == (None, pytest.approx(1.25 * INCH))


def test_a_flat_case_in_millimetres(capsys: pytest.CaptureFixture[str]) -> None:
    """A printing firm's article on hard covers, June 2012: a block 148 x 210 x 10, a gap of 10, a turn-in of 17."""
    found = book(
        capsys,
        *("--structure", "flat-case", "--block", "148x210x10mm", "--board-thickness", "2mm"),
        *("--board-setback", "3.5mm", "--square", "3mm", "--joint", "10mm", "--spine-allowance", "-0.5mm"),
        *("--turn-in", "17mm"),
    )
    assert sizes(found["boards"]) == {"cover board": (144.5, 216.0), "spine piece": (13.5, 216.0)}
    assert sizes(found["pieces"])["cover"] == pytest.approx((356.5, 250.0))
    assert (found["page_mm"], found["block_mm"]) == ([148.0, 210.0], [148.0, 210.0, 10.0])


def test_the_core_case_in_inches_leaves_a_third_of_half_an_inch(capsys: pytest.CaptureFixture[str]) -> None:
    """5/8 in of turn-in and 1/8 in of inset on a swatch of 12 x 12 in: how much room there is follows by arithmetic."""
    page, turn_in, inset, swatch = (4.5, 6.0), 0.625, 0.125, 12.0
    cover = (page[0] + 2 * turn_in, page[1] + 2 * turn_in)
    liner = (page[0] - 2 * inset, page[1] - 2 * inset)
    # Upright covers beside each other, turned liners below them: three gaps across and three down.
    across = (swatch - 2 * max(cover[0], liner[1])) / 3
    down = (swatch - cover[1] - liner[0]) / 3
    assert (
        told(
            capsys,
            *("new", "b.coverlayout", "--structure", "separate-boards", "--page", "4.5x6in", "--turn-in", "5/8in"),
            *("--liner-inset", "1/8in", "--cloth", "12x12in", "--cover-turns", "none", "--liner-turns", "quarter"),
        )[0]
        == 0
    )
    code, out = told(capsys, "lay", "b.coverlayout", "--json")
    answer = json.loads(out)
    assert (code, answer["verdict"], answer["spare_proved"]) == (0, "fits, tight", True)
    assert answer["spare_mm"] == pytest.approx(min(across, down) * INCH, abs=0.01)
    assert answer["spare_mm"] == pytest.approx(4.23, abs=0.01)


def test_a_page_and_a_paper_that_disagree_are_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, said = told(capsys, "new", "b.coverlayout", *PAD, "--sheets", "16", "--page", "5x7in")
    assert code == 2
    assert said.startswith("--page:")
    assert list(tmp_path.iterdir()) == []


# Fit and unfit values, among them some of every kind that flags take.
LENGTHS = ("0mm", "2mm", "1/8in", "10mm", "40mm", "-1mm", "1000mm", "nan", "½in")
VALUES: dict[str, tuple[str, ...]] = {
    "--turn-in": ("15mm", "3/4in", "15x15x20x15mm", "90mm", "0mm", "1x2mm"),
    "--liners": ("cloth", "paper", "none"),
    "--label": ("size=60x25mm kind=window", "size=500x500mm", "size=10x10mm kind=inset material=paper"),
    "--stations": ("5", "pairs 6", "pairs 5", "ends", "20 60 110mm", "999mm"),
    "--thread": ("red=1", "red=4 black=4", "red"),
    "--spine-piece": ("board", "strip", "none"),
    "--sides": ("cloth", "paper"),
    "--slipcase-of": ("boards", "scored"),
    "--volumes": ("12mm 18mm", "0mm", "1/2in"),
    "--backing": ("web", "web-and-tissue", "none"),
    "--board-sheet": ("700x1000mm", "100x100mm", "700mm"),
    "--web-sheet": ("430mm", "230x430mm", "20x20mm"),
    **dict.fromkeys(("--square", "--joint", "--board-setback", "--liner-inset", "--board-thickness"), LENGTHS),
    **dict.fromkeys(("--spine-width", "--spine-allowance", "--corner-leg", "--hinge", "--flap"), LENGTHS),
    **dict.fromkeys(("--station-end", "--hole-distance", "--clearance", "--side-lap", "--spine-rise"), LENGTHS),
}


def any_book(chance: random.Random, structure: str) -> list[str]:
    words = ["--structure", structure, "--block", chance.choice(("148x210x10mm", "4.5x6x1/2in", "60x40x3mm"))]
    for flag in chance.sample(sorted(VALUES), chance.randint(0, 3)):
        words += [flag, chance.choice(VALUES[flag])]
    return [*words, "--cloth", chance.choice(("22x18in", "600x400mm", "fat quarter, 44in"))]


@pytest.mark.parametrize("structure", STRUCTURES)
def test_any_flags_make_a_book_that_every_verb_takes_or_one_sentence(
    structure: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    chance, made = random.Random(structure), 0
    for _ in range(24):
        words = any_book(chance, structure)
        code, said = told(capsys, "new", "b.coverlayout", "--replace", *words)
        assert code in (0, 2)
        if code == 2:
            assert "--" in said, (words, said)
            assert made or list(tmp_path.iterdir()) == []
            continue
        made += 1
        _, out = told(capsys, "book", "b.coverlayout", "--json")
        rows = [row for row in json.loads(out)["cut_list"] if row["material"] != "thread"]
        assert all(row["width_mm"] > 0 and row["height_mm"] > 0 and row["count"] > 0 for row in rows), words
        assert told(capsys, "book", "b.coverlayout")[0] == 0
        assert told(capsys, "check", "b.coverlayout")[0] in (0, 3)
        if made < 4:
            assert told(capsys, "lay", "b.coverlayout", "--seconds", "0.2")[0] in (0, 3)
    assert made >= 2
