"""`check`: judges what is placed and never searches."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main
from coverlayout.document.edits.placements import place
from coverlayout.document.file import load, save
from coverlayout.layout.question import Placed

FILE = "a.coverlayout"


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    words = ["--cloth", "200x100mm", "--piece", "name=pocket size=60x80mm count=2 turns=none", "--spare", "5mm"]
    assert main(["new", FILE, *words]) == 0
    capsys.readouterr()
    return tmp_path


def put(*middles: tuple[float, float]) -> None:
    """Lay the pockets by the middle of their boxes, which is their anchor."""
    loaded = load(Path(FILE))
    placed = tuple(Placed(f"pocket-{n}", "cloth-1", x, y) for n, (x, y) in enumerate(middles, 1))
    save(Path(FILE), place(placed).change(loaded.project), loaded.pictures)


def checked(capsys: pytest.CaptureFixture[str]) -> tuple[int, Any]:
    code = main(["check", FILE, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_nothing_placed_is_incomplete(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, report = checked(capsys)
    assert code == 3
    assert report == {
        "verdict": "incomplete",
        "breaches": [],
        "waiting": ["pocket-1", "pocket-2"],
        "used_percent": 0.0,
        "clearance_mm": None,
        "pieces": [],
    }


def test_a_project_without_pieces_has_nothing_to_check(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", FILE, "--replace", "--cloth", "200x100mm"]) == 0
    capsys.readouterr()
    assert main(["check", FILE]) == 2
    assert "no piece to check" in capsys.readouterr().err


def test_room_all_round_is_valid(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put((40.0, 50.0), (110.0, 50.0))
    code, report = checked(capsys)
    assert (code, report["verdict"], report["waiting"], report["breaches"]) == (0, "valid", [], [])
    assert report["clearance_mm"] == pytest.approx(10.0)
    assert report["used_percent"] == pytest.approx(48.0)
    assert report["pieces"][0] == {
        "piece": "pocket-1",
        "cloth": "cloth-1",
        "x_mm": 10.0,
        "y_mm": 10.0,
        "width_mm": 60.0,
        "height_mm": 80.0,
        "turn_deg": 0.0,
    }


def test_little_room_is_tight_and_still_a_yes(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put((32.0, 50.0), (110.0, 50.0))
    code, report = checked(capsys)
    assert (code, report["verdict"], report["clearance_mm"]) == (0, "valid, tight", 2.0)


def test_an_overlap_is_told_with_its_amount(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put((40.0, 50.0), (97.0, 50.0))
    code, report = checked(capsys)
    assert (code, report["verdict"]) == (3, "not valid")
    assert report["breaches"] == [{"rule": "overlap", "pieces": ["pocket-1", "pocket-2"], "amount_mm": 3.0}]
    assert main(["check", FILE]) == 3
    assert "pocket-1 lies 3.0 mm over pocket-2" in capsys.readouterr().out


def test_people_read_what_waits_and_what_reaches_out(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put((25.0, 50.0))
    assert main(["check", FILE]) == 3
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("not valid; used 24.0 %")
    assert "pocket-1 reaches 5.0 mm" in lines[1]
    assert "pocket-2" in lines[2]
    assert lines[-1].split() == ["pocket-1", "-5.0", "mm", "10.0", "mm", "60.0", "mm", "80.0", "mm", "0°"]
