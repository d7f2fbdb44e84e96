"""Runs every benchmark `bench_*.py` beside this file, each in a process of its own, and compares with the goals.

A benchmark has one function, `figures(shared: Path | None) -> dict[str, dict]`: name -> {"value": x, "goal": y}.
Smaller is better unless an entry also says "more_is_better": true. `shared`: a folder with prints and packing jobs, or
None.
Exit 0 when all goals are met, 1 when one is missed or a benchmark broke.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import math
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

__all__ = ["is_met", "main", "measure", "table"]

HERE = Path(__file__).resolve().parent
Figures = dict[str, dict[str, Any]]


def main(arguments: Sequence[str] | None = None) -> int:
    """Measure what was asked for and print it."""
    parser = argparse.ArgumentParser(prog="run.py", allow_abbrev=False)
    parser.add_argument("--json", action="store_true", help="one JSON object and nothing else on standard output")
    parser.add_argument("--shared", type=Path, help="a folder with prints and packing jobs to measure with")
    parser.add_argument("--only", metavar="NAME", help="one benchmark, like window_start")
    wish = parser.parse_args(arguments)
    names = sorted(path.stem.removeprefix("bench_") for path in HERE.glob("bench_*.py"))
    if wish.only is not None and wish.only not in names:
        parser.error(f"--only {wish.only}: there is no such benchmark; there are {', '.join(names)}")
    figures, broken = Figures(), list[str]()
    for name in [wish.only] if wish.only else names:
        print(f"measuring {name} ...", file=sys.stderr, flush=True)
        found = measure(name, wish.shared)
        if found is None:
            broken.append(name)
        else:
            figures.update(found)
    if wish.json:
        print(json.dumps({name: _told(entry) for name, entry in figures.items()}, allow_nan=False))
    else:
        print(table(figures))
    for name in broken:
        print(f"{name} broke and has no figures; what it said stands above", file=sys.stderr)
    return 0 if not broken and all(is_met(entry) for entry in figures.values()) else 1


def measure(name: str, shared: Path | None, folder: Path = HERE) -> Figures | None:
    """The figures of one benchmark, taken in a fresh process; None when it broke."""
    command = [sys.executable, __file__, "--figures-of", str(folder / f"bench_{name}.py"), str(shared or "")]
    with tempfile.TemporaryDirectory() as state:
        # Work left by a program that was ended would be looked at while the figures are taken.
        environment = {**os.environ, "XDG_STATE_HOME": state}
        done = subprocess.run(
            command, stdout=subprocess.PIPE, text=True, stdin=subprocess.DEVNULL, check=False, env=environment
        )
    lines = done.stdout.splitlines()
    return json.loads(lines[-1]) if done.returncode == 0 and lines else None


def is_met(entry: dict[str, Any]) -> bool:
    """True when the value reaches its goal."""
    if entry.get("more_is_better"):
        return bool(entry["value"] >= entry["goal"])
    return bool(entry["value"] <= entry["goal"])


def _told(entry: dict[str, Any]) -> dict[str, float | None]:
    """Value and goal; null for a value that was never reached, as JSON has no infinity."""
    return {"value": entry["value"] if math.isfinite(entry["value"]) else None, "goal": entry["goal"]}


def table(figures: Figures) -> str:
    """All figures, one a row."""
    wide = max([len(name) for name in figures] + [4])
    rows = [f"{'name':<{wide}}  {'value':>10}  {'goal':>10}  goal"]
    for name, entry in figures.items():
        verdict = "met" if is_met(entry) else "MISSED"
        rows.append(f"{name:<{wide}}  {entry['value']:>10.4g}  {entry['goal']:>10.4g}  {verdict}")
    return "\n".join(rows)


def _figures_of(path: Path, shared: Path | None) -> Figures:
    """Load one benchmark and let it measure."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    bench = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = bench
    spec.loader.exec_module(bench)
    found: Figures = bench.figures(shared)
    return found


if __name__ == "__main__":
    if sys.argv[1:2] == ["--figures-of"]:
        print(json.dumps(_figures_of(Path(sys.argv[2]), Path(sys.argv[3]) if sys.argv[3] else None)))
    else:
        sys.exit(main())
