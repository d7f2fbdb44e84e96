"""`count`: what is said to people and to programs, exit codes, bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main

BOOK = ("--structure", "separate-boards", "--page", "60x90mm", "--cover-turns", "none", "--liner-turns", "quarter")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    made(capsys, "--cloth", "300x230mm", *BOOK)
    return tmp_path


def made(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    assert main(["new", "a.coverlayout", "--replace", *words]) == 0
    capsys.readouterr()


def counted(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    code = main(["count", "a.coverlayout", "--json", *words])
    return code, json.loads(capsys.readouterr().out)


def test_programs_read_books_and_places(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = counted(capsys)
    # Covers 90 x 120 upright, liners 54 x 84: two books need 40 mm more than 300 in a row of four covers.
    assert (code, told["books"], told["proved_most"], told["counted"]) == (0, 1, True, "books")
    assert {one["piece"] for one in told["pieces"]} == {
        *("front-1-1", "back-1-1", "liner-front-1-1", "liner-back-1-1"),
    }
    assert set(told["pieces"][0]) == {"piece", "cloth", "x_mm", "y_mm", "width_mm", "height_mm", "turn_deg"}


def test_people_read_that_no_more_can_be_had_and_why(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["count", "a.coverlayout", "--seconds", "60"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["1 book fits", "No more can be had from this cloth"]
    assert any(line.startswith("front-1-1 ") for line in lines)


def test_several_books_and_sets_of_pieces(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, "--cloth", "400x300mm", *BOOK)
    assert main(["count", "a.coverlayout"]) == 0
    assert " books fit" in capsys.readouterr().out
    made(capsys, "--cloth", "300x100mm", "--piece", "name=pocket size=60x90mm count=2 turns=none")
    code, told = counted(capsys)
    assert (code, told["books"], told["counted"]) == (0, 2, "sets of pieces")
    assert [one["piece"] for one in told["pieces"]] == ["pocket-1-1", "pocket-1-2", "pocket-2-1", "pocket-2-2"]
    assert main(["count", "a.coverlayout"]) == 0
    assert capsys.readouterr().out.startswith("2 sets of the pieces fit")


def test_none_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, "--cloth", "80x300mm", *BOOK)
    code, told = counted(capsys)
    assert (code, told["books"], told["proved_most"], told["pieces"]) == (3, 0, True, [])
    assert main(["count", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.startswith("Not one book fits")


def test_bad_input_is_one_sentence(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, "--cloth", "80x300mm")
    assert main(["count", "a.coverlayout", "--json"]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "a.coverlayout: there is neither a book nor a piece" in err


def test_a_job_that_asks_for_books(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = {
        "format": "packing-instance-1",
        "question": "count",
        "cloth": {"width_mm": 210, "length_mm": 310},
        "book": {"board_mm": [70, 120], "pieces": [{"name": "cover", "count": 2, "grow_mm": 15}]},
    }
    Path("job.json").write_text(json.dumps(job), "utf-8")
    assert main(["new", "b.coverlayout", "--job", "job.json"]) == 0
    assert "answered by the verb count" in capsys.readouterr().out
    assert main(["count", "b.coverlayout", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    # 100 x 150: two beside each other, two rows.
    assert (told["books"], told["proved_most"]) == (2, True)
    assert [one["piece"] for one in told["pieces"]] == ["cover-1-1", "cover-1-2", "cover-2-1", "cover-2-2"]
