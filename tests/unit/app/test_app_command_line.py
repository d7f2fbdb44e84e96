"""The command itself: which verb, which window, and every fault one sentence and exit 2."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from coverlayout import __version__
from coverlayout.app import command_line, desktop, faults
from coverlayout.app.command_line import main
from coverlayout.app.flags import Given


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """The one sentence on stderr of a command that must be refused."""
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    return err.strip()


@pytest.mark.parametrize("words", [["--help"], ["-h"]])
def test_help_names_every_verb(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 0
    shown = capsys.readouterr().out
    assert all(verb in shown for verb in ("new", "lay", "check", "cuts", "sheet"))


@pytest.mark.parametrize("verb", ["new", "lay", "check", "cuts", "sheet"])
def test_every_verb_tells_its_flags(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([verb, "--help"]) == 0
    assert "--json" in capsys.readouterr().out


def test_the_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"coverlayout {__version__}\n"


def test_verbs_to_come_and_slips_are_told_apart(capsys: pytest.CaptureFixture[str]) -> None:
    assert "not to be had yet" in told(capsys, "suggest", "a.coverlayout")
    assert "no verb" in told(capsys, "lya", "a.coverlayout")
    assert "no such file" in told(capsys, "lya")
    assert "no such file" in told(capsys, "x" * 300)
    assert "\x1b" not in told(capsys, "\x1b[31mlya")
    assert "--frob" in told(capsys, "--frob")


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Path | None, bool]]:
    """The windows that were asked for, instead of opened."""
    asked: list[tuple[Path | None, bool]] = []

    def run(path: Path | None = None, *, first_paint: bool = False) -> int:
        asked.append((path, first_paint))
        return 0

    monkeypatch.setattr(desktop, "run", run)
    return asked


def test_without_a_verb_the_window_opens(windows: list[tuple[Path | None, bool]], tmp_path: Path) -> None:
    file = tmp_path / "a.coverlayout"
    file.write_bytes(b"")
    assert main([]) == 0
    assert main([str(file)]) == 0
    assert main(["--first-paint", str(file)]) == 0
    assert windows == [(None, False), (file, False), (file, True)]


def test_an_unexpected_fault_is_one_sentence_and_a_log(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def broken(_words: list[str]) -> int:
        raise ZeroDivisionError("no cloth\nat all")

    monkeypatch.setattr(command_line, "_run", broken)
    monkeypatch.setattr(faults, "user_log_path", lambda *_names, **_more: tmp_path)
    said = told(capsys, "check", "a")
    assert "ZeroDivisionError" in said
    log = tmp_path / "unexpected.log"
    assert str(log) in said
    assert "no cloth" in log.read_text("utf-8")

    def refused(*_names: object, **_more: object) -> Path:
        raise PermissionError("no")

    monkeypatch.setattr(faults, "user_log_path", refused)
    assert "nowhere" in told(capsys, "check", "a")


def test_the_keyboard_ends_it_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(_words: list[str]) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(command_line, "_run", stopped)
    assert main(["check", "a"]) == 130
    assert "keyboard" in capsys.readouterr().err


def test_a_reader_that_goes_away_is_no_fault() -> None:
    command = [sys.executable, "-m", "coverlayout", "new", "--help"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == b""
        assert program.wait() == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a disk that is always full is a thing of Linux")
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_an_answer_that_cannot_be_written_is_said_in_one_sentence(unbuffered: str) -> None:
    command = [sys.executable, "-m", "coverlayout", "--help"]
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = subprocess.run(
            command,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
        )
    assert done.returncode == 2
    assert done.stderr.startswith("the answer could not be written")
    assert done.stderr.count("\n") == 1


def test_words_come_from_the_shell_when_none_are_given(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "argv", ["coverlayout", "--version"])
    assert main() == 0
    assert "coverlayout" in capsys.readouterr().out


def test_a_check_loads_no_window_and_no_paper() -> None:
    code = (
        "import sys; from coverlayout.app.command_line import main; main(['check', 'nothing']);"
        "import json; print(json.dumps(sorted(m for m in sys.modules if m.split('.')[0] in ('PySide6', 'reportlab'))))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert json.loads(done.stdout) == []
    assert Given("x").operand == "x"
