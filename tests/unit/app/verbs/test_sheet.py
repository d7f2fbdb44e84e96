"""`sheet`: the papers of what is placed, for the side that will be marked."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from coverlayout.app.command_line import main


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    assert main(["new", "a.coverlayout", "--cloth", "200x100mm", "--piece", "name=pocket size=60x80mm"]) == 0
    assert main(["lay", "a.coverlayout", "--save", "b.coverlayout"]) == 0
    capsys.readouterr()
    return tmp_path


def test_the_papers_are_written_and_named(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "b.coverlayout", "--out", "papers", "--side", "back", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["side"] == "back"
    assert told["papers"] == [str(Path("papers/placement.csv")), str(Path("papers/placement.pdf"))]
    assert Path("papers/placement.pdf").read_bytes().startswith(b"%PDF")
    assert ",back," in Path("papers/placement.csv").read_text("utf-8")


def test_the_print_side_is_usual(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "b.coverlayout", "--out", "papers"]) == 0
    assert capsys.readouterr().out.splitlines() == [str(Path("papers") / n) for n in ("placement.csv", "placement.pdf")]
    assert ",print," in Path("papers/placement.csv").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("b.coverlayout",), "--out"),
        (("b.coverlayout", "--out", "papers", "--side", "top"), "--side top"),
        (("a.coverlayout", "--out", "papers"), "nothing lies on the cloth"),
        (("b.coverlayout", "--out", "b.coverlayout"), "b.coverlayout"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_written(
    words: tuple[str, ...], named: str, bench: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheet", *words]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert named in err
    assert not Path("papers").exists()
