"""From the figures of a book to measurements, by commands alone, as a maker would type them."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

BOOK = ("--structure", "separate-boards", "--page", "4.5x6in", "--turn-in", "15mm", "--liner-inset", "3mm")
SWATCH = ("--cloth", "12x12in", "--cover-turns", "none")


def typed(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own, without a display."""
    without_display = {name: value for name, value in os.environ.items() if "DISPLAY" not in name}
    command = [sys.executable, "-m", "coverlayout", *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, env=without_display, check=False)


def answer(folder: Path, *words: str) -> tuple[int, Any]:
    done = typed(folder, *words, "--json")
    assert done.stderr == ""
    return done.returncode, json.loads(done.stdout)


def test_a_book_from_a_swatch_fits_tight_with_the_room_that_is_known(tmp_path: Path) -> None:
    # Common practice, no source: covers 144.3 x 182.4, liners 108.3 x 146.4; 4.7 mm to spare with turned liners.
    assert typed(tmp_path, "new", "a.coverlayout", *BOOK, *SWATCH, "--liner-turns", "quarter").returncode == 0
    code, laid = answer(tmp_path, "lay", "a.coverlayout")
    assert (code, laid["verdict"], laid["spare_proved"]) == (0, "fits, tight", True)
    assert laid["spare_mm"] == pytest.approx(4.7, abs=0.05)


@pytest.mark.parametrize(
    ("more", "spare_mm"), [(("--web-short", "3mm"), 2.7), (("--change", "-3%", "--change", "-1.5%"), 0.17)]
)
def test_a_short_web_or_a_wash_takes_the_room(more: tuple[str, ...], spare_mm: float, tmp_path: Path) -> None:
    # Common practice, no source: 2.7 mm with a web 3 mm short, 0.17 mm after -3 % washing and -1.5 % bonding.
    typed(tmp_path, "new", "a.coverlayout", *BOOK, *SWATCH, "--liner-turns", "quarter", *more)
    code, laid = answer(tmp_path, "lay", "a.coverlayout")
    assert (code, laid["verdict"], laid["spare_proved"]) == (0, "fits, tight", True)
    assert laid["spare_mm"] == pytest.approx(spare_mm, abs=0.02)


def test_with_upright_liners_the_swatch_is_proved_too_small(tmp_path: Path) -> None:
    typed(tmp_path, "new", "a.coverlayout", *BOOK, *SWATCH, "--liner-turns", "none")
    code, laid = answer(tmp_path, "lay", "a.coverlayout")
    assert (code, laid["verdict"], laid["proved"]) == (3, "does not fit", True)
    assert laid["proof"] is not None


def test_on_a_fat_quarter_the_same_job_is_easy(tmp_path: Path) -> None:
    typed(tmp_path, "new", "a.coverlayout", *BOOK, "--cloth", "22x18in", "--cover-turns", "none")
    code, laid = answer(tmp_path, "lay", "a.coverlayout")
    assert (code, laid["verdict"]) == (0, "fits")


def test_what_is_laid_is_checked_and_measured_for_both_sides(tmp_path: Path) -> None:
    typed(tmp_path, "new", "a.coverlayout", *BOOK, *SWATCH, "--liner-turns", "quarter")
    assert typed(tmp_path, "lay", "a.coverlayout", "--save", "b.coverlayout").returncode == 0
    code, report = answer(tmp_path, "check", "b.coverlayout")
    assert (code, report["verdict"], report["waiting"]) == (0, "valid, tight", [])
    rows = {}
    for side in ("print", "back"):
        assert answer(tmp_path, "sheet", "b.coverlayout", "--out", side, "--side", side)[0] == 0
        table = io.StringIO((tmp_path / side / "placement.csv").read_text("utf-8"))
        rows[side] = {row["piece"]: row for row in csv.DictReader(table)}
    for piece in report["pieces"]:
        front, back = rows["print"][piece["piece"]], rows["back"][piece["piece"]]
        assert float(front["left_mm"]) == pytest.approx(piece["x_mm"], abs=0.0051)
        # Seen from the back: the cloth's width less the far edge seen from the print side.
        far_mm = float(front["left_mm"]) + float(front["width_mm"])
        assert float(back["left_mm"]) == pytest.approx(304.8 - far_mm, abs=0.011)
        assert back["top_mm"] == front["top_mm"]


# Fifty-eight cuts, each proved: some seven seconds of work; a short ladder is walked in the tests of the verb.
@pytest.mark.slow
def test_the_ladder_names_the_least_cut_and_its_neighbours(tmp_path: Path) -> None:
    typed(tmp_path, "new", "a.coverlayout", *BOOK, *SWATCH, "--liner-turns", "quarter")
    code, ladder = answer(tmp_path, "cuts", "a.coverlayout")
    assert code == 0
    cuts = ladder["cuts"]
    names = [cut["name"] for cut in cuts]
    areas = [cut["width_mm"] * cut["length_mm"] for cut in cuts]
    assert areas == sorted(areas), "least first"
    fitting = [cut["name"] for cut in cuts if cut["verdict"].startswith("fits")]
    assert ladder["least"] == fitting[0]
    assert ladder["least_with_room"] == next(cut["name"] for cut in cuts if cut["verdict"] == "fits")
    for cut in cuts[: names.index(ladder["least"])]:
        assert cut["verdict"] in ("does not fit", "not found")
        assert cut["proved"] == (cut["verdict"] == "does not fit")


def test_a_fault_is_one_sentence_and_leaves_nothing(tmp_path: Path) -> None:
    for words in (
        ("new", "z.coverlayout", "--cloth", "0x12in", *BOOK),
        ("new", "z.coverlayout", "--cloth", "1000000000mm x 12in", *BOOK),
        ("lay", "z.coverlayout"),
        ("sheet", "z.coverlayout", "--out", "papers"),
        ("frob", "z.coverlayout"),
    ):
        done = typed(tmp_path, *words)
        assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1), words
        assert "Traceback" not in done.stderr
        assert "fault of its own" not in done.stderr
    assert list(tmp_path.iterdir()) == []
