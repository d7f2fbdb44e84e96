"""From a no to a yes by commands alone: what is offered is typed in, and it fits; a little more does not."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

# Common practice, no source: covers 144.3 x 182.4, liners 108.3 x 146.4, on a swatch of 12 x 12 in.
BOOK = ("--structure", "separate-boards", "--page", "4.5x6in", "--liner-inset", "3mm", "--cloth", "12x12in")
UPRIGHT = ("--cover-turns", "none", "--liner-turns", "none")
SQUARES = ("--vectors", "48,0 0,48 mm", "--wish", "back the same as front")


def typed(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own, without a display."""
    without_display = {name: value for name, value in os.environ.items() if "DISPLAY" not in name}
    command = [sys.executable, "-m", "coverlayout", *words]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, env=without_display, check=False)


def laid(folder: Path, *flags: str) -> tuple[int, Any]:
    made = typed(folder, "new", "a.coverlayout", "--replace", *BOOK, *flags)
    assert made.returncode == 0, made.stderr
    done = typed(folder, "lay", "a.coverlayout", "--json")
    assert done.stderr == ""
    return done.returncode, json.loads(done.stdout)


def test_upright_liners_are_turned_and_it_fits(tmp_path: Path) -> None:
    code, no = laid(tmp_path, *UPRIGHT)
    assert (code, no["verdict"], no["proved"]) == (3, "does not fit", True)
    first = no["changes_that_fit"][0]
    assert first["said"].startswith("Turn the liners a quarter: everything fits with")
    code, yes = laid(tmp_path, "--cover-turns", "none", "--liner-turns", "quarter")
    assert (code, yes["verdict"], yes["changes_that_fit"]) == (0, "fits, tight", [])
    assert yes["spare_mm"] == pytest.approx(first["spare_mm"])


def test_covers_alike_on_48_mm_squares_get_smaller_turn_ins(tmp_path: Path) -> None:
    turned = ("--cover-turns", "none", "--liner-turns", "quarter", *SQUARES)
    code, no = laid(tmp_path, "--turn-in", "15mm", *turned)
    assert code == 3
    offered = {change["kind"]: change for change in no["changes_that_fit"]}
    # 48 x 3 = 144 = 114.3 + 2 x 14.85.
    assert offered["two turn-ins"]["amount_mm"] == 14.85
    assert "side turn-ins, at the spine and the fore-edge, 14.85 mm" in offered["two turn-ins"]["said"]
    assert "“back the same as front”" in offered["drop a wish"]["said"]
    assert laid(tmp_path, "--turn-in", f"{offered['turn-in']['amount_mm']}mm", *turned)[0] == 0
    assert laid(tmp_path, "--turn-in", "14.9mm", *turned)[0] == 3


def test_a_gap_is_made_as_small_as_it_must_be(tmp_path: Path) -> None:
    turned = ("--cover-turns", "none", "--liner-turns", "quarter")
    code, no = laid(tmp_path, "--gap", "20mm", *turned)
    assert code == 3
    gap = no["changes_that_fit"][0]
    # Between the pieces alone 14.1 mm are to be had, and 14.2 are refused (common practice, no source).
    assert (gap["kind"], gap["amount_mm"]) == ("gap", pytest.approx(14.1))
    assert laid(tmp_path, "--gap", f"{gap['amount_mm']}mm", *turned)[0] == 0
    assert laid(tmp_path, "--gap", "14.15mm", *turned)[0] == 3
