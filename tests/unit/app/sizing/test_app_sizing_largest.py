"""`largest`: what is said to people and to programs, what is kept, exit codes, bad input."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main

BOOK = ("--structure", "separate-boards", "--page", "60x90mm", "--cover-turns", "none", "--liners", "none")


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    made(capsys, "--cloth", "307x250mm", *BOOK)
    return tmp_path


def made(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    assert main(["new", "a.coverlayout", "--replace", *words]) == 0
    capsys.readouterr()


def grown(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    code = main(["largest", "a.coverlayout", "--json", *words])
    return code, json.loads(capsys.readouterr().out)


def test_programs_read_the_board_unrounded_but_to_a_thousandth(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = grown(capsys)
    # Side by side 2 (w + 30) <= 307.
    assert (code, told["board_width_mm"], told["board_height_mm"], told["proved"]) == (0, 123.5, 185.25, True)
    assert 123.5 < told["bound_mm"] <= 123.6
    assert {one["piece"] for one in told["pieces"]} == {"front-1-1", "back-1-1"}
    assert told["pieces"][0]["width_mm"] == pytest.approx(153.5)


@pytest.mark.parametrize(("keep", "board"), [("height", (277.0, 90.0)), ("width", (60.0, 220.0))])
def test_a_side_is_kept(bench: Path, capsys: pytest.CaptureFixture[str], keep: str, board: tuple[float, float]) -> None:
    _, told = grown(capsys, "--keep", keep)
    assert (told["board_width_mm"], told["board_height_mm"]) == board


def test_people_read_it_to_a_hundredth(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["largest", "a.coverlayout"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "The largest board: 123.5 mm x 185.25 mm"
    assert lines[1] == "A tenth of a millimetre more cannot be had"
    assert any(line.startswith("front-1-1 ") for line in lines)


def test_what_is_not_ruled_out_is_said(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["largest", "a.coverlayout", "--seconds", "0.000001"]) in (0, 3)
    assert "limit of time" in capsys.readouterr().out


def test_none_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, "--cloth", "25x300mm", *BOOK)
    code, told = grown(capsys)
    assert (code, told["board_width_mm"], told["board_height_mm"], told["pieces"]) == (3, None, None, [])
    assert main(["largest", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.startswith("Not even the smallest board")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--keep", "depth"), "--keep depth: give one of shape, height, width"),
        (("--book", "Thick"), "--book Thick: there is no such book"),
    ],
)
def test_bad_flags_are_one_sentence(
    bench: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    assert main(["largest", "a.coverlayout", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert said in err


def test_without_a_book_one_sentence(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(capsys, "--cloth", "80x300mm", "--piece", "name=pocket size=60x90mm")
    assert main(["largest", "a.coverlayout"]) == 2
    assert "there is no book whose board could grow" in capsys.readouterr().err
