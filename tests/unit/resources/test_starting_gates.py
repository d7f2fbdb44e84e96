"""The gates of `--test`: all run, the table tells, one failure fails the whole."""

from __future__ import annotations

import doctest
import sys
from pathlib import Path

import pytest
from source_tree import ROOT
from starting import gates
from starting.gates import Gate


def test_a_failed_gate_fails_the_whole_and_the_later_ones_still_run(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    steps = [
        Gate("first", ("-c", "print('one')")),
        Gate("second", ("-c", "raise SystemExit(3)")),
        Gate("third", ("-c", "import os; print(os.environ['QT_QPA_PLATFORM'])")),
    ]
    assert gates.run_all(Path(sys.executable), tmp_path, steps) == 1
    out = capfd.readouterr().out
    assert "offscreen" in out
    assert [line.split()[::2] for line in out.splitlines()[-3:]] == [
        ["first", "yes"],
        ["second", "NO"],
        ["third", "yes"],
    ]


def test_what_was_compiled_is_kept_for_the_next_start(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    asked = Gate("asked", ("-c", "import sys; print('kept:', not sys.dont_write_bytecode)"))
    assert gates.run_all(Path(sys.executable), tmp_path, [asked]) == 0
    assert "kept: True" in capfd.readouterr().out


def test_all_well_is_zero(tmp_path: Path) -> None:
    assert gates.run_all(Path(sys.executable), tmp_path, [Gate("one", ("-c", "pass"))]) == 0


def test_the_gates_are_style_types_tests_and_both_floors() -> None:
    said = [" ".join(gate.arguments) for gate in gates.gates(processes=2)]
    assert [any(word in line for line in said) for word in ("ruff check", "ruff format --check", "mypy", "pytest")]
    assert any("--fail-under=95" in line and "--omit=coverlayout/ui/*" in line for line in said)
    assert any("--fail-under=85" in line and "--include=coverlayout/ui/*" in line for line in said)


def test_every_folder_of_tests_is_run_once() -> None:
    parts, whole = [gate.arguments for gate in gates.gates(processes=2) if "pytest" in gate.arguments]
    assert parts[:3] == ("-m", "coverage", "run")
    counted = [word for word in parts if (ROOT / word).is_dir()]
    assert {"tests/unit", "tests/ui", "coverlayout"} <= set(counted)
    assert "tests" in whole, "what is added beside the counted ones is run as well"
    assert [word.removeprefix("--ignore=") for word in whole if word.startswith("--ignore=")] == counted


def test_examples_in_the_text_run() -> None:
    assert doctest.testmod(gates).failed == 0
