"""The gates of `--test`: all run, the table tells, one failure fails the whole."""

from __future__ import annotations

import doctest
import sys
from pathlib import Path

import pytest
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


def test_all_well_is_zero(tmp_path: Path) -> None:
    assert gates.run_all(Path(sys.executable), tmp_path, [Gate("one", ("-c", "pass"))]) == 0


def test_the_gates_are_style_types_tests_and_both_floors() -> None:
    said = [" ".join(gate.arguments) for gate in gates.gates(processes=2)]
    assert [any(word in line for line in said) for word in ("ruff check", "ruff format --check", "mypy", "pytest")]
    assert any("--fail-under=95" in line and "--omit=coverlayout/ui/*" in line for line in said)
    assert any("--fail-under=85" in line and "--include=coverlayout/ui/*" in line for line in said)


def test_examples_in_the_text_run() -> None:
    assert doctest.testmod(gates).failed == 0
