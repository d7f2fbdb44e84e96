"""Every file on the shelf of spoiled ones, given to the commands: one sentence, exit 2, nothing written."""

from __future__ import annotations

from pathlib import Path

import pytest

from coverlayout.app.command_line import main

SHELF = Path(__file__).parent.parent / "spoiled"
PROJECTS = sorted(SHELF.glob("*.coverlayout"))
PICTURES = sorted(path for path in (SHELF / "pictures").iterdir() if path.suffix != ".md")


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "Traceback" not in err
    assert "fault of its own" not in err
    return err


def test_the_shelf_is_not_empty() -> None:
    assert len(PROJECTS) > 10
    assert len(PICTURES) > 3


@pytest.mark.parametrize("project", PROJECTS, ids=lambda path: path.stem)
@pytest.mark.parametrize("verb", ["check", "lay", "sheet"])
def test_a_spoiled_project_is_named(
    verb: str, project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    more = {"check": (), "lay": ("--save", "saved.coverlayout"), "sheet": ("--out", "papers")}[verb]
    assert project.name in refused(capsys, verb, str(project), *more)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("picture", PICTURES, ids=lambda path: path.name)
def test_a_spoiled_picture_makes_no_project(
    picture: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    words = ("--print", str(picture), "--repeat", "64x96mm", "--cloth", "12x12in")
    assert picture.name in refused(capsys, "new", "a.coverlayout", *words)
    assert list(tmp_path.iterdir()) == []
