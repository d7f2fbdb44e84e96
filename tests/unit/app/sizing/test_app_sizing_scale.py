"""`scale`: what is said to people and to programs, prices, exit codes, bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main
from coverlayout.settings import cut_table_path

PATCHES = ("--piece", "name=patch size=60x40mm count=2 turns=none")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    patches = [{"id": f"patch-{k}", "width_mm": 60, "height_mm": 40, "print": "dots"} for k in (1, 2)]
    job = {
        "format": "packing-instance-1",
        "cloth": {"width_mm": 130, "length_mm": 50},
        "prints": {"dots": {"a_mm": [50, 0], "b_mm": [0, 50]}},
        "pieces": patches,
        "phase_links": [{"pieces": ["patch-1", "patch-2"]}],
    }
    Path("job.json").write_text(json.dumps(job), "utf-8")
    assert main(["new", "a.coverlayout", "--job", "job.json"]) == 0
    capsys.readouterr()
    return tmp_path


def scaled(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    code = main(["scale", "a.coverlayout", "--json", *words])
    return code, json.loads(capsys.readouterr().out)


def test_programs_read_every_scale_the_best_first(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = scaled(capsys)
    assert code == 0
    assert len(told["scales"]) >= 50
    assert {"scale_percent", "verdict", "spare_mm", "wishes_met"} <= set(told["scales"][0])
    verdicts = {one["scale_percent"]: one["verdict"] for one in told["scales"]}
    # Alike 60 to 70 apart: one repeat of 50 mm at 120 to 140 %, two at 60 to 70 %; 100 % and 94 % cannot.
    held = {percent for percent, verdict in verdicts.items() if verdict == "fits, tight"}
    assert held == {60, 62, 64, 66, 68, 70, 120, 124, 128, 132, 136, 140}
    assert verdicts[94] == verdicts[100] == "does not fit"
    assert told["best"] == told["scales"][0]["scale_percent"]
    assert (told["wishes"], told["scales"][0]["wishes_met"]) == (1, 1)


def test_people_read_the_best_and_a_table(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["scale", "a.coverlayout", "--seconds", "60"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("The best scale: ")
    assert lines[1].split() == ["scale", "verdict", "room", "wishes", "met"]
    assert lines[2].endswith("1 of 1")


def test_the_best_are_priced(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = cut_table_path()
    table.parent.mkdir(parents=True)
    table.write_text('cut = [{ name = "strip", width = "140 mm", length = "60 mm", price = 3.5 }]', "utf-8")
    _, told = scaled(capsys)
    assert {(one["least_cut"], one["price"]) for one in told["scales"][:3]} == {("strip", 3.5)}
    assert told["scales"][-1]["price"] is None
    assert main(["scale", "a.coverlayout"]) == 0
    assert "3.50" in capsys.readouterr().out


def test_no_scale_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = json.loads(Path("job.json").read_text("utf-8"))
    job["cloth"]["width_mm"] = 90
    Path("job.json").write_text(json.dumps(job), "utf-8")
    assert main(["new", "a.coverlayout", "--replace", "--job", "job.json"]) == 0
    capsys.readouterr()
    code, told = scaled(capsys)
    assert (code, told["best"]) == (3, None)
    assert main(["scale", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.startswith("No scale was found")


def test_nothing_to_scale_is_one_sentence(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "b.coverlayout", "--cloth", "100x70mm", *PATCHES]) == 0
    capsys.readouterr()
    assert main(["scale", "b.coverlayout", "--json"]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "nothing to scale" in err
