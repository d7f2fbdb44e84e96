"""`length`: what is said to people and to programs, the width asked for, exit codes, bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main

PIECES = (
    *("--piece", "name=a size=60x40mm turns=none"),
    *("--piece", "name=b size=50x90mm turns=quarter"),
    *("--piece", "name=c size=40x50mm turns=none"),
)


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "a.coverlayout", "--cloth", "100x70mm", *PIECES]) == 0
    capsys.readouterr()
    return tmp_path


def shortest(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    code = main(["length", "a.coverlayout", "--json", *words])
    return code, json.loads(capsys.readouterr().out)


def test_programs_read_the_length_of_the_cloths_width(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = shortest(capsys)
    # b turned alone in a row, 50; a and c in the other, 50.
    assert (code, told["proved"]) == (0, True)
    assert told["length_mm"] == pytest.approx(100.0, abs=0.02)
    assert told["bound_mm"] == pytest.approx(100.0, abs=0.1)
    assert {one["piece"] for one in told["pieces"]} == {"a-1", "b-1", "c-1"}
    assert max(one["y_mm"] + one["height_mm"] for one in told["pieces"]) <= told["length_mm"] + 0.01
    assert "bolts" not in told


def test_or_of_the_width_asked_for(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, told = shortest(capsys, "--width", "150mm")
    assert told["length_mm"] == pytest.approx(90.0, abs=0.02)


def test_people_read_one_sentence_and_the_places(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["length", "a.coverlayout", "--seconds", "60"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("The least length to have cut, 100.0 mm wide: 100.")
    assert any(line.startswith("b-1 ") for line in lines)
    assert any("1 % smaller" in line for line in lines)


def test_a_piece_too_wide_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = shortest(capsys, "--width", "45mm")
    assert (code, told["length_mm"], told["bound_mm"], told["proved"], told["pieces"]) == (3, None, None, True, [])
    assert main(["length", "a.coverlayout", "--width", "45mm"]) == 3
    assert "45.0 mm wide" in capsys.readouterr().out


def test_what_is_not_proved_is_said_with_its_bound(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    many = ("--piece", "name=p size=17x31mm count=9 turns=quarter", "--piece", "name=q size=23x29mm count=9")
    assert main(["new", "b.coverlayout", "--cloth", "97x70mm", *many]) == 0
    capsys.readouterr()
    code = main(["length", "b.coverlayout", "--seconds", "0.05"])
    assert code in (0, 3)
    assert "limit of time" in capsys.readouterr().out


@pytest.mark.parametrize(("words", "said"), [(("--width", "wide"), "--width wide"), (("--width", "0mm"), "above 0")])
def test_bad_widths_are_one_sentence(
    bench: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    assert main(["length", "a.coverlayout", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert said in err


def test_without_a_cloth_the_width_is_needed(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "c.coverlayout", *PIECES]) == 0
    capsys.readouterr()
    assert main(["length", "c.coverlayout"]) == 2
    assert "--width 1400mm" in capsys.readouterr().err
    assert main(["length", "c.coverlayout", "--width", "100mm"]) == 0


def test_a_job_that_asks_for_the_length(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Three squares of 6 on a strip 10 wide lie below each other: common practice, no source.
    job = {
        "format": "packing-instance-1",
        "question": "least_length",
        "cloth": {"width_mm": 10, "length_mm": None},
        "pieces": [{"id": f"six-{k}", "width_mm": 6, "height_mm": 6} for k in range(3)],
    }
    Path("job.json").write_text(json.dumps(job), "utf-8")
    assert main(["new", "d.coverlayout", "--job", "job.json"]) == 0
    assert "answered by the verb length" in capsys.readouterr().out
    assert main(["length", "d.coverlayout", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["length_mm"], told["proved"]) == (pytest.approx(18.0, abs=0.01), True)
