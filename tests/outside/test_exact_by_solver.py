"""The exhaustive search against a constraint solver: small random jobs with locks, links, flaws, holes and gaps.

All measures are whole millimetres, so for upright rectangles without a gap there is a layout exactly when there is one
on whole millimetres, and the solver knows. Its gaps count across or along alone, so with a gap only its "yes" binds.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pytest
from laying import faults
from ortools.sat.python import cp_model
from second_judge import broken_rules

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.exact.deciding import Exact
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

Whole = tuple[int, int]
Vars = tuple[Any, Any, Any, Any]
TURNS = ((0,), (0, 90), (0, 180), (0, 90, 180, 270))


@dataclass(frozen=True)
class Job:
    """Whole millimetres: pieces as (width, height, turns, margins not seen), flaws as (box, seen only, spoiled)."""

    size: Whole
    pieces: tuple[tuple[Whole, tuple[int, ...], tuple[int, int, int, int]], ...]
    flaws: tuple[tuple[tuple[int, int, int, int], bool, bool], ...]
    lattice: tuple[Whole, Whole] | None
    locks: tuple[tuple[int, Whole, Whole], ...]
    links: tuple[tuple[tuple[int, ...], Whole], ...]
    gap: int

    def question(self) -> Question:
        width, length = self.size
        print_id = None if self.lattice is None else "p"
        lattice = None if self.lattice is None else Lattice(*self.lattice)
        ground = Ground("g", Region.of(rectangle(width, length)), print_id, 0.0, lattice, shift(0.0, 0.0))
        keep_outs = tuple(
            KeepOut(f"f{k}", "f", Region.of(rectangle(w, h, x, y)), seen_only, spoiled)
            for k, ((x, y, w, h), seen_only, spoiled) in enumerate(self.flaws)
        )
        pieces = tuple(_asked(k, *piece) for k, piece in enumerate(self.pieces))
        locks = tuple(Lock(f"p{k}", point, place) for k, point, place in self.locks)
        links = tuple(_link(members, step) for members, step in self.links)
        on = ClothAsked("c", "c", rectangle(width, length), (ground,), keep_outs)
        return Question(pieces, (on,), float(self.gap), locks, links)


def _link(members: tuple[int, ...], step: Whole) -> Link:
    names = tuple(f"p{k}" for k in members)
    return Link(names, ((0.0, 0.0),) * len(names), (step,) * (len(names) - 1))


def _asked(number: int, size: Whole, turns: tuple[int, ...], margins: tuple[int, int, int, int]) -> PieceAsked:
    (width, height), (left, top, right, bottom) = size, margins
    seen = rectangle(width - left - right, height - top - bottom, left, top)
    return PieceAsked(f"p{number}", rectangle(width, height), (0.0, 0.0), tuple(map(float, turns)), seen_mm=seen)


def job_of(seed: int) -> Job:
    """A job of two to seven pieces, about as often possible as not."""
    chance = random.Random(seed)
    width, length = chance.randint(60, 140), chance.randint(60, 140)
    pieces: list[Any] = []
    for _ in range(chance.randint(2, 6)):
        size = chance.randint(12, min(70, width)), chance.randint(12, min(70, length))
        one = size, chance.choice(TURNS), tuple(chance.randint(0, 4) for _ in range(4))
        pieces += [one] * chance.choice((1, 1, 1, 2))
    pieces = pieces[:7]
    flaws = tuple(
        (
            (chance.randint(0, width - 5), chance.randint(0, length - 5), chance.randint(3, 30), chance.randint(3, 30)),
            kind == "seen",
            kind == "hole",
        )
        for kind in chance.choices(("plain", "seen", "hole"), k=chance.choice((0, 0, 1, 2, 3)))
    )
    across = chance.randint(8, 40), chance.choice((0, 0, chance.randint(3, 12)))
    lattice = chance.choice((None, (across, (0, chance.randint(8, 40)))))
    locks: list[Any] = []
    links: list[Any] = []
    if lattice and chance.random() < 0.25:
        # Pieces that are all alike, in links that hold them alike.
        pieces = [pieces[0]] * chance.choice((4, 5, 6))
        numbers = chance.sample(range(len(pieces)), len(pieces))
        links = [(tuple(numbers[:2]), (0, 0)), (tuple(numbers[2:]), (0, 0))]
    elif lattice:
        for k in range(len(pieces)):
            if chance.random() < 0.35:
                point, place = ((chance.randint(0, most), chance.randint(0, most)) for most in (5, 30))
                locks.append((k, point, place))
        if chance.random() < 0.6:
            step = chance.choice(((0, 0), (chance.randint(-5, 5), chance.randint(-5, 5))))
            links = [(tuple(chance.sample(range(len(pieces)), chance.choice((2, 2, min(3, len(pieces)))))), step)]
    gap = chance.choice((0, 0, 0, 3))
    return Job((width, length), tuple(pieces), flaws, lattice, tuple(locks), tuple(links), gap)


def turned(vector: Whole, turn_deg: int) -> Whole:
    x, y = vector
    return {0: (x, y), 90: (-y, x), 180: (-x, -y), 270: (y, -x)}[turn_deg]


class Solver:
    """The same job in whole numbers: for every piece its anchor, and a turn chosen from those it allows."""

    def __init__(self, job: Job) -> None:
        self.job, self.model = job, cp_model.CpModel()
        self.anchors = [(self._number(-200, 400), self._number(-200, 400)) for _ in job.pieces]
        self.turns = [{turn: self.model.new_bool_var("") for turn in turns} for _, turns, _ in job.pieces]
        for chosen in self.turns:
            self.model.add_exactly_one(chosen.values())
        width, length = job.size
        boxes = [self._box(k, (0, 0, 0, 0)) for k in range(len(job.pieces))]
        seen = [self._box(k, margins) for k, (_, _, margins) in enumerate(job.pieces)]
        for left, top, right, bottom in boxes:
            self.model.add(left >= 0)
            self.model.add(top >= 0)
            self.model.add(right <= width)
            self.model.add(bottom <= length)
        for one, other in itertools.combinations(boxes, 2):
            self._apart(one, other, job.gap)
        for (x, y, w, h), seen_only, spoiled in job.flaws:
            for box in seen if seen_only else boxes:
                self._apart(box, (x, y, x + w, y + h), job.gap if spoiled else 0)
        for k, point, place in job.locks:
            for turn, chosen in self.turns[k].items():
                self._on_lattice(self._way(turned(point, turn), self.anchors[k], place), [chosen])
        for (first, *others), step in job.links:
            for other in others:
                self._linked(first, other, step)

    def _number(self, low: int, high: int) -> Any:
        return self.model.new_int_var(low, high, "")

    def _box(self, k: int, margins: tuple[int, int, int, int]) -> Vars:
        (w, h), _, _ = self.job.pieces[k]
        left, top, right, bottom = margins
        found = [self._number(-10, 400) for _ in range(4)]
        for turn, chosen in self.turns[k].items():
            corners = turned((left, top), turn), turned((w - right, h - bottom), turn)
            for axis, end in itertools.product((0, 1), (0, 1)):
                edge = (min, max)[end](corner[axis] for corner in corners)
                self.model.add(found[2 * end + axis] == self.anchors[k][axis] + edge).only_enforce_if(chosen)
        return found[0], found[1], found[2], found[3]

    def _apart(self, one: Sequence[Any], other: Sequence[Any], gap: int) -> None:
        ways = []
        for before, after, axis in ((one, other, 0), (other, one, 0), (one, other, 1), (other, one, 1)):
            way = self.model.new_bool_var("")
            self.model.add(before[2 + axis] + gap <= after[axis]).only_enforce_if(way)
            ways.append(way)
        self.model.add_bool_or(ways)

    def _way(self, ahead: Whole, anchor: tuple[Any, Any], place: tuple[Any, Any]) -> tuple[Any, Any]:
        return anchor[0] + ahead[0] - place[0], anchor[1] + ahead[1] - place[1]

    def _on_lattice(self, way: tuple[Any, Any], when: list[Any]) -> None:
        assert self.job.lattice is not None
        i, k = self._number(-60, 60), self._number(-120, 120)
        a, b = self.job.lattice
        for axis in (0, 1):
            self.model.add(way[axis] == i * a[axis] + k * b[axis]).only_enforce_if(when)

    def _linked(self, i: int, j: int, step: Whole) -> None:
        for turn in TURNS[-1]:
            mine, theirs = self.turns[i].get(turn), self.turns[j].get(turn)
            if mine is not None and theirs is not None:
                self.model.add(mine == theirs)
                ahead = turned(step, turn)
                self._on_lattice(self._way((-ahead[0], -ahead[1]), self.anchors[j], self.anchors[i]), [mine])
            elif mine is not None or theirs is not None:
                self.model.add((mine if theirs is None else theirs) == 0)

    def fits(self) -> bool | None:
        """None when it does not know in time."""
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.max_time_in_seconds = 20
        status = solver.solve(self.model)
        return {cp_model.FEASIBLE: True, cp_model.OPTIMAL: True, cp_model.INFEASIBLE: False}.get(status)


def exact_says(question: Question) -> str:
    judge = Judge(question)

    def passes(placed: tuple[Placed, ...]) -> bool:
        report = judge.report(placed)
        return not report.breaches and not report.waiting

    exact = Exact.of(question, passes)
    if exact is None:
        return "no seat"
    try:
        decided = exact.decide(Effort(400_000))
    except OutOfSteps:
        return "out of steps"
    if decided.says == "yes":
        assert faults(question, decided.placed) == []
        assert broken_rules(question, decided.placed) == set()
    return decided.says


def disagreement(seed: int) -> str | None:
    job = job_of(seed)
    said, fits = exact_says(job.question()), Solver(job).fits()
    right = {True: {"yes"}, False: {"no", "no seat"} | ({"yes", "open"} if job.gap else set())}
    return None if fits is None or said in right[fits] else f"seed {seed}: the search says {said}, the solver {fits}"


def test_small_jobs_are_decided_as_the_solver_decides_them() -> None:
    assert [found for seed in range(40) if (found := disagreement(seed))] == []


def test_the_jobs_are_of_every_kind() -> None:
    jobs = [job_of(seed) for seed in range(40)]
    said = [exact_says(job.question()) for job in jobs[:20]]
    assert {"yes", "no"} <= set(said)
    for kind in ("flaws", "locks", "links", "gap"):
        assert sum(bool(getattr(job, kind)) for job in jobs) >= 5
    flaws = [flaw for job in jobs for flaw in job.flaws]
    assert {(seen, hole) for _, seen, hole in flaws} == {(False, False), (True, False), (False, True)}


@pytest.mark.slow
@pytest.mark.long
@pytest.mark.parametrize("start", range(1000, 1300, 50))
def test_many_small_jobs_are_decided_as_the_solver_decides_them(start: int) -> None:
    assert [found for seed in range(start, start + 50) if (found := disagreement(seed))] == []


@pytest.mark.slow
def test_the_whole_decision_never_refuses_what_the_solver_lays() -> None:
    wrong = []
    for seed in range(2000, 2060):
        job = job_of(seed)
        verdict = first_layout(job.question()).verdict
        if verdict == "does not fit" and Solver(job).fits():
            wrong.append(seed)
    assert wrong == []
