"""Jobs on several cloths against a constraint solver: pieces bound to one cloth, to either of two, and pieces that lie.

All measures are whole millimetres and there is no gap, so there is a layout exactly when there is one on whole
millimetres, and the solver knows.
"""

from __future__ import annotations

import random
from typing import Any

import pytest
from laying import faults
from ortools.sat.python import cp_model
from second_judge import broken_rules

from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.lay import first_layout
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Placed, Question

ANY = (0.0, 90.0, 180.0, 270.0)


def job_of(seed: int, most: int = 8) -> Question:
    """Two or three cloths with about as much room as the pieces need; some pieces lie there for good."""
    chance = random.Random(f"several cloths {seed}")
    count = chance.choice((2, 2, 3))
    sizes = [(chance.randint(60, 120), chance.randint(60, 120)) for _ in range(count)]
    ids = [f"c{k}" for k in range(count)]
    cloths = []
    for cloth_id, (width, length) in zip(ids, sizes, strict=True):
        fixed = [_lying(chance, cloth_id, width, length)] if chance.random() < 0.5 else []
        ground = Ground("g", Region.of(rectangle(width, length)))
        cloths.append(ClothAsked(cloth_id, cloth_id, rectangle(width, length), (ground,), fixed=tuple(fixed)))
    room = sum(width * length for width, length in sizes) - sum(_area(one) for c in cloths for one, _ in c.fixed)
    wanted, pieces = room * chance.uniform(0.35, 0.75), list[PieceAsked]()
    while len(pieces) < most and sum(map(_area, pieces)) < wanted:
        size = chance.randint(18, 75), chance.randint(18, 75)
        may = chance.choice(((), (), (chance.choice(ids),), tuple(chance.sample(ids, 2))))
        turns = chance.choice(((0.0,), (0.0, 180.0), ANY, ANY))
        for _ in range(chance.choice((1, 1, 2))):
            pieces.append(PieceAsked(f"p{len(pieces)}", rectangle(*size), (0.0, 0.0), turns, None, may))
    return Question(tuple(pieces[:most]), tuple(cloths))


def _lying(chance: random.Random, cloth_id: str, width: int, length: int) -> tuple[PieceAsked, Placed]:
    w, h = chance.randint(10, width // 2), chance.randint(10, length // 2)
    piece = PieceAsked(f"cut-{cloth_id}", rectangle(w, h), (0.0, 0.0))
    return piece, Placed(piece.id, cloth_id, float(chance.randint(0, width - w)), float(chance.randint(0, length - h)))


def _area(piece: PieceAsked) -> float:
    box = bounds(piece.outline_mm)
    return box.width_mm * box.height_mm


def solved(question: Question, seconds: float = 20.0) -> bool | None:
    """Whether there is a layout on whole millimetres; None when the solver does not know in time."""
    model = cp_model.CpModel()
    spans: dict[str, list[tuple[Any, Any]]] = {cloth.id: [] for cloth in question.cloths}
    for cloth in question.cloths:
        for fixed, placed in cloth.fixed:
            box = bounds(outline_on_cloth(fixed, placed))
            spans[cloth.id].append(
                (
                    model.new_fixed_size_interval_var(round(box.left_mm), round(box.width_mm), ""),
                    model.new_fixed_size_interval_var(round(box.top_mm), round(box.height_mm), ""),
                )
            )
    for piece in question.pieces:
        box = bounds(piece.outline_mm)
        w, h = round(box.width_mm), round(box.height_mm)
        chosen = []
        for cloth in question.cloths:
            ground = cloth.grounds[0].usable.bounds
            for across, along in {(w, h), (h, w)} if len(piece.turns_deg or ()) > 2 else {(w, h)}:
                here = (not piece.cloth_ids or cloth.id in piece.cloth_ids) and across <= ground.width_mm
                if here and along <= ground.height_mm:
                    lies = model.new_bool_var("")
                    x = model.new_int_var(0, round(ground.width_mm) - across, "")
                    y = model.new_int_var(0, round(ground.height_mm) - along, "")
                    wide = model.new_optional_fixed_size_interval_var(x, across, lies, "")
                    spans[cloth.id].append((wide, model.new_optional_fixed_size_interval_var(y, along, lies, "")))
                    chosen.append(lies)
        model.add_exactly_one(chosen) if chosen else model.add_bool_or([])
    for own in spans.values():
        if own:
            model.add_no_overlap_2d([x for x, _ in own], [y for _, y in own])
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 1
    says = solver.solve(model)
    return {cp_model.OPTIMAL: True, cp_model.FEASIBLE: True, cp_model.INFEASIBLE: False}.get(says)


@pytest.mark.parametrize("seed", range(20))
def test_several_cloths_are_settled_as_the_solver_says(seed: int) -> None:
    question = job_of(seed)
    answer = first_layout(question)
    if answer.placed:
        assert faults(question, answer.placed) == []
        assert not broken_rules(question, answer.placed)
    says = solved(question)
    if says is not None:
        assert answer.verdict == ("fits" if says else "does not fit") or (says and answer.verdict == "fits, tight")
