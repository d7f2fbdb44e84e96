"""Flags are understood or refused in one sentence; each mode asks for what it needs and starts the right thing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from source_tree import ROOT
from starting import Stop, modes, system
from starting.modes import Wish, read_flags


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> dict[str, Any]:
    """What a start would do, told instead of done."""
    told: dict[str, Any] = {"display": None, "lets_us_in": True}
    (tmp_path / "sample_prints").mkdir()
    (tmp_path / "sample_prints/ledgers.coverlayout").touch()
    monkeypatch.setattr(modes, "ROOT", tmp_path)
    monkeypatch.setattr(modes, "answering_display", lambda: told["display"])
    monkeypatch.setattr(modes, "lets_us_in", lambda display: told["lets_us_in"])
    monkeypatch.setattr(system, "provide", lambda parts: told.update(parts=list(parts)))
    monkeypatch.setattr(modes, "prepare", lambda root, *, with_tests: told.update(with_tests=with_tests))
    monkeypatch.setattr(modes.gates, "run_all", lambda python, root, steps: told.update(ran="gates") or 0)
    monkeypatch.setattr(os, "execv", lambda program, command: told.update(ran=command[1:]))
    monkeypatch.setattr(os, "chdir", lambda folder: None)
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setenv("QT_QPA_PLATFORM", "")
    return told


def test_flags_are_read(tmp_path: Path) -> None:
    assert read_flags([]) == Wish("demo")
    assert read_flags(["--test"]) == Wish("test")
    assert read_flags(["--setup"]) == Wish("setup")
    assert read_flags(["--help"]) == Wish("help")
    assert read_flags(["--bench"]) == Wish("bench")
    assert read_flags(["--bench", "--shared", str(tmp_path), "--json"]).bench_flags == (
        "--shared",
        str(tmp_path),
        "--json",
    )
    assert read_flags(["--bench", f"--shared={tmp_path}"]).bench_flags == ("--shared", str(tmp_path))


@pytest.mark.parametrize(
    ("flags", "named"),
    [
        (["--nope"], "--nope"),
        (["FILE"], "FILE"),
        (["--test", "--json"], "--json"),
        (["--setup", "x"], "x"),
        (["--bench", "--fast"], "--fast"),
        (["--bench", "--shared"], "--shared"),
        (["--bench", "--shared", "/no/such/folder"], "/no/such/folder"),
    ],
)
def test_a_flag_that_does_not_fit_is_named(flags: list[str], named: str) -> None:
    with pytest.raises(Stop, match=named) as stopped:
        read_flags(flags)
    assert "\n" not in str(stopped.value)


def test_without_a_display_the_demo_runs_to_its_end(started: dict[str, Any]) -> None:
    modes.main([])
    assert started["ran"] == ["-m", "coverlayout.app.demo"]
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
    assert not started["with_tests"]
    assert not set(started["parts"]) & {*system.WINDOW, system.XVFB}


def test_with_a_display_the_demo_opens(started: dict[str, Any]) -> None:
    started["display"] = "x11"
    modes.main([])
    assert started["ran"][:2] == ["-m", "coverlayout"]
    assert started["ran"][2].endswith("ledgers.coverlayout")
    assert set(system.WINDOW) < set(started["parts"])


def test_wayland_asks_for_its_libraries(started: dict[str, Any]) -> None:
    started["display"] = "wayland"
    modes.main([])
    assert set(system.WAYLAND) < set(started["parts"])


def test_a_display_that_turns_us_away_falls_back_to_paper(
    started: dict[str, Any], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    started.update(display="x11", lets_us_in=False)
    monkeypatch.setenv("DISPLAY", ":64999")
    modes.main([])
    assert started["ran"] == ["-m", "coverlayout.app.demo"]
    assert "cannot be opened" in capsys.readouterr().err


def test_setup_asks_for_all_and_runs_nothing(started: dict[str, Any]) -> None:
    assert modes.main(["--setup"]) == 0
    assert {*system.OFFSCREEN, *system.WINDOW, system.XVFB} <= set(started["parts"])
    assert started["with_tests"]
    assert "ran" not in started


def test_the_tests_and_the_benchmarks_are_started(started: dict[str, Any]) -> None:
    assert modes.main(["--test"]) == 0
    assert started["ran"] == "gates"
    modes.main(["--bench", "--json"])
    assert started["ran"] == ["tests/performance/run.py", "--json"]


def test_a_missing_demo_is_one_sentence(started: dict[str, Any], capsys: pytest.CaptureFixture[str]) -> None:
    started["display"] = "x11"
    (modes.ROOT / "sample_prints/ledgers.coverlayout").unlink()
    assert modes.main([]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_stop_by_hand_is_told(started: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(root: Path, *, with_tests: bool) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(modes, "prepare", stopped)
    assert modes.main([]) == 130


def test_the_script_itself_refuses_an_unknown_flag() -> None:
    done = subprocess.run(
        [sys.executable, "resources/start.py", "--nope"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)


def test_the_script_tells_its_flags() -> None:
    done = subprocess.run(
        [sys.executable, "resources/start.py", "--help"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert "--setup" in done.stdout


def test_an_older_python_gets_one_sentence() -> None:
    """The script is run with a version that pretends; its own text must also be readable for an older Python."""
    code = (
        "import runpy, sys; sys.version_info = (3, 9, 2); sys.argv = ['start.py'];"
        "runpy.run_path('resources/start.py', run_name='__main__')"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr.startswith("Coverlayout needs Python 3.11, 3.12 or 3.13 and this is 3.9;")
    compile((ROOT / "resources/start.py").read_text(encoding="utf-8"), "start.py", "exec", dont_inherit=True)
