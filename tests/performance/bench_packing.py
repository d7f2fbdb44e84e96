"""Every packing job with a known answer through the program, beside a constraint solver and a packing library.

With a folder of shared papers its jobs are read and the whole table with the references is printed (on stderr); without
one the same jobs are taken from those carried over, and the references are asked only where a figure needs them. A
question that the program cannot answer yet counts as one that was missed.
"""

from __future__ import annotations

import json
import math
import statistics
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from packing_asking import Said, ask, decided, standing
from packing_families import LAY, make
from references import Reference, by_library, by_solver
from wide_jobs import wide_figures

Json = dict[str, Any]
Figures = dict[str, dict[str, float]]
CARRIED = Path(__file__).resolve().parents[1] / "outside" / "data" / "packing_jobs.json"
SECONDS = 10.0
PUBLISHED = {"c1-p1": 20, "c1-p2": 20, "c1-p3": 20, "n1": 40, "n2": 50, "n3": 50, "kendall-13": 140}
# Fresh jobs for the families; those of a dozen held pieces take the solver too long to settle.
SEEDS = range(21, 23)
FRESH = [family for family in LAY if family != "many-held"]
SOLVER_SECONDS = 3.0


@dataclass(frozen=True)
class Row:
    """One job with what is true of it, what the program says, and the references."""

    job: Json
    truth: Json
    said: Said
    solver: Reference | None = None
    library: Reference | None = None

    @property
    def stands(self) -> tuple[str, float]:
        """Right, short of the truth by a share, or wrong."""
        return standing(self.job, self.truth, self.said)

    @property
    def count(self) -> int:
        """How many pieces the answer that is true has."""
        if "book" not in self.job:
            return len(self.job["pieces"])
        return sum(part["count"] for part in self.job["book"]["pieces"]) * int(self.truth.get("books", 1))


def figures(shared: Path | None) -> Figures:
    """All figures of the packing jobs; with the shared folder the table with the references as well."""
    rows = [_row(job, truth, shared is not None) for job, truth in _jobs(shared)]
    if shared is not None:
        _print_table(rows)
    found = _small(rows) | _no_waste(rows) | _published(rows)
    found |= _settled("packing_held", [(row.job, row.truth) for row in rows if "fits" in row.truth and row.count <= 12])
    found |= _settled("packing_families", _fresh())
    return found | wide_figures()


def _jobs(shared: Path | None) -> Iterable[tuple[Json, Json]]:
    folder = None if shared is None else shared / "benchmarks" / "packing"
    if folder is None or not folder.is_dir():
        for entry in json.loads(CARRIED.read_text("utf-8"))["jobs"]:
            yield entry["job"], entry["truth"]
        return
    truth = json.loads((folder / "truth.json").read_text("utf-8"))
    for name in truth:
        yield json.loads((folder / f"{name}.json").read_text("utf-8")), truth[name]


def _row(job: Json, truth: Json, everything: bool) -> Row:
    said = ask(job, SECONDS)
    row = Row(job, truth, said)
    if everything or row.count <= 8:
        return Row(job, truth, said, by_solver(job), by_library(job) if everything else None)
    return row


def _small(rows: list[Row]) -> Figures:
    """Up to eight pieces: at the known optimum and proved, how long that takes, and how it compares with the solver."""
    small = [row for row in rows if row.count <= 8 and "fits" not in row.truth]
    right = [row.stands[0] == "right" for row in small]
    seconds = [row.said.seconds if good else math.inf for row, good in zip(small, right, strict=True)]
    # Only where the solver came to an end: its time limit is no measure.
    both = [(took, row.solver.seconds) for row, took in zip(small, seconds, strict=True) if _proved(row.solver)]
    return {
        "packing_small_proved_percent": {"value": 100 * statistics.mean(right), "goal": 100.0, "more_is_better": True},
        "packing_small_median_s": {"value": statistics.median(seconds), "goal": 0.1},
        "packing_small_worst_s": {"value": max(seconds), "goal": 1.0},
        "packing_small_to_solver_ratio": {
            "value": sum(ours for ours, _ in both) / sum(theirs for _, theirs in both),
            "goal": 1.5,
        },
    }


def _proved(reference: Reference | None) -> bool:
    return reference is not None and reference.proved


def _no_waste(rows: list[Row]) -> Figures:
    """Pieces that leave nothing over: how far above the optimum the length is after ten seconds, in percent."""
    over = [_over_percent(row) for row in rows if row.job["family"] == "zero-waste"]
    return {"packing_no_waste_over_percent": {"value": max(over), "goal": 3.0}}


def _over_percent(row: Row) -> float:
    length_mm = row.said.figures.get("length_mm")
    return math.inf if length_mm is None else 100 * (length_mm / row.truth["length_mm"] - 1)


def _published(rows: list[Row]) -> Figures:
    by_name = {row.job["id"]: row for row in rows}
    found: Figures = {}
    for name, best in PUBLISHED.items():
        length_mm = by_name[name].said.figures.get("length_mm")
        # Touching within the tolerance is as good as touching.
        reached = math.inf if length_mm is None else round(length_mm, 2)
        found[f"packing_{name.replace('-', '_')}_length"] = {"value": reached, "goal": float(best)}
    kendall = by_name["kendall-13"].job
    upright = [{**piece, "turns": [0]} for piece in kendall["pieces"]]
    short = {**kendall, "question": "lay", "pieces": upright, "cloth": {**kendall["cloth"], "length_mm": 139}}
    answer, seconds = decided(short)
    refused = answer.verdict == "does not fit"
    found["packing_kendall_139_refused_s"] = {"value": seconds if refused else math.inf, "goal": 0.2}
    square = by_name["squared-square-21"].said
    laid = square.verdict in ("fits", "fits, tight")
    found["packing_squared_square_s"] = {"value": square.seconds if laid else math.inf, "goal": 60.0}
    return found


def _settled(name: str, jobs: Iterable[tuple[Json, Json]]) -> Figures:
    """Of jobs that fit or do not: the share decided rightly, and the seconds that the decision takes."""
    right, seconds = [], []
    for job, truth in jobs:
        answer, took = decided(job)
        good = (answer.verdict in ("fits", "fits, tight")) == truth["fits"] and answer.verdict != "not found"
        right.append(good)
        seconds.append(took if good else math.inf)
    return {
        f"{name}_settled_percent": {"value": 100 * statistics.mean(right), "goal": 100.0, "more_is_better": True},
        f"{name}_median_s": {"value": statistics.median(seconds), "goal": 0.1},
        f"{name}_worst_s": {"value": max(seconds), "goal": 2.0},
    }


def _fresh() -> Iterable[tuple[Json, Json]]:
    """Jobs of every family at the edge of what is possible, made for this run from fixed seeds."""
    return [pair for family in FRESH for seed in SEEDS for pair in make(family, seed, SOLVER_SECONDS)]


def _print_table(rows: list[Row]) -> None:
    head = ("job", "true", "ours", "stands", "s", "solver", "s", "library", "s")
    lines = ["{:<26}{:>10}{:>10}  {:<6}{:>7}{:>12}{:>7}{:>10}{:>7}".format(*head)]
    for row in rows:
        ours, stands = _value(row.said, row.truth), row.stands[0]
        line = f"{row.job['id']:<26}{_true(row.truth):>10}{ours:>10}  {stands:<6}{row.said.seconds:>7.2f}"
        lines.append(line + _told(row.solver, 12) + _told(row.library, 10))
    sys.stderr.write("\n".join(lines) + "\n")


def _true(truth: Json) -> str:
    if "fits" in truth:
        return "fits" if truth["fits"] else "no"
    value = next(truth[key] for key in ("length_mm", "books", "board_mm", "room_mm") if key in truth)
    return f"{value[0] if isinstance(value, list) else value:g}"


def _value(said: Said, truth: Json) -> str:
    if said.verdict == "bad input":
        return "none yet"
    if "fits" in truth:
        return {"does not fit": "no", "not found": "open"}.get(said.verdict, "fits")
    value = next((figure for figure in said.figures.values() if figure is not None), None)
    value = value[0] if isinstance(value, list) else value
    return "open" if value is None else f"{value:.6g}"


def _told(reference: Reference | None, wide: int) -> str:
    if reference is None:
        return f"{'-':>{wide}}{'':>7}"
    value = "open" if reference.value is None else f"{reference.value:g}{'' if reference.proved else ' ?'}"
    return f"{value:>{wide}}{reference.seconds:>7.2f}"
