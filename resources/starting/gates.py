"""Everything that `--test` runs: style, types, tests, floors of coverage; a table at the end."""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Gate", "Outcome", "gates", "run_all", "table"]

# Branch coverage in percent, below the window and from the window up.
_BELOW_WINDOW_PERCENT = 95
_WINDOW_PERCENT = 85
_WINDOW_FILES = "coverlayout/ui/*,coverlayout/app/*"
# Tests of one part each are counted for coverage; all others, of much at once and for long, run at their full speed.
_COUNTED = ("tests/golden", "tests/spoiled", "tests/ui", "tests/unit", "coverlayout")
# More processes than this only fight for the displays and the disk.
_MOST_PROCESSES = 4


@dataclass(frozen=True)
class Gate:
    """One step: its name, the arguments for the environment's Python and the folder it runs in."""

    name: str
    arguments: tuple[str, ...]
    folder: str = "."


@dataclass(frozen=True)
class Outcome:
    """How a gate went."""

    name: str
    seconds: float
    ok: bool


def gates(processes: int | None = None) -> tuple[Gate, ...]:
    """All gates in their order; tests run in as many `processes` as the machine has, up to 4."""
    count = processes or min(_MOST_PROCESSES, os.cpu_count() or 1)
    pytest = ("-m", "pytest", f"--numprocesses={count}", "--dist=worksteal")
    report = ("-m", "coverage", "report", "--skip-covered", "--show-missing")
    return (
        Gate("style", ("-m", "ruff", "check", ".")),
        Gate("format", ("-m", "ruff", "format", "--check", ".")),
        Gate("types", ("-m", "mypy")),
        Gate(
            "types of start",
            ("-m", "mypy", "--strict", "--config-file=", "--explicit-package-bases", "start.py", "starting"),
            "resources",
        ),
        Gate("forget old coverage", ("-m", "coverage", "erase")),
        Gate("tests of parts", ("-m", "coverage", "run", *pytest, *_COUNTED)),
        Gate("gather coverage", ("-m", "coverage", "combine", "--quiet")),
        Gate(
            f"coverage below ui >= {_BELOW_WINDOW_PERCENT} %",
            (*report, "--include=coverlayout/*", f"--omit={_WINDOW_FILES}", f"--fail-under={_BELOW_WINDOW_PERCENT}"),
        ),
        Gate(
            f"coverage of ui and app >= {_WINDOW_PERCENT} %",
            (*report, f"--include={_WINDOW_FILES}", f"--fail-under={_WINDOW_PERCENT}"),
        ),
        Gate("tests of the whole", (*pytest, "tests", *(f"--ignore={path}" for path in _COUNTED))),
    )


def run_all(python: Path, root: Path, steps: Sequence[Gate]) -> int:
    """Run every gate, also after one that failed, print the table, return 0 only when all are ok."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    # Dozens of tests start the program anew; told to keep no compiled files, each start would compile all of it again.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    outcomes = []
    for gate in steps:
        print(f"\n== {gate.name}", flush=True)
        began = time.monotonic()
        done = subprocess.run(
            [str(python), *gate.arguments],
            cwd=root / gate.folder,
            env=environment,
            stdin=subprocess.DEVNULL,
            check=False,
        )
        outcomes.append(Outcome(gate.name, time.monotonic() - began, done.returncode == 0))
    print(f"\n{table(outcomes)}", flush=True)
    return 0 if all(outcome.ok for outcome in outcomes) else 1


def table(outcomes: Sequence[Outcome]) -> str:
    """The steps with their seconds and whether they are ok.

    >>> print(table([Outcome("style", 0.41, True), Outcome("tests", 75.0, False)]))
    step   seconds  ok
    style      0.4  yes
    tests     75.0  NO
    """
    wide = max(len(outcome.name) for outcome in outcomes)
    rows = [f"{'step':<{wide}}  seconds  ok"]
    rows += [f"{one.name:<{wide}}  {one.seconds:7.1f}  {'yes' if one.ok else 'NO'}" for one in outcomes]
    return "\n".join(rows)
