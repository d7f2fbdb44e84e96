"""How many sheets a job of boards takes, held against a constraint solver that shares nothing with the program.

Sizes are whole millimetres, so that the solver's whole numbers are exact.
"""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import laid_on_stock

Size = tuple[int, int]
# What a board of that grain may do on a sheet whose grain runs along its length.
WAYS = {"head to tail": (False,), "across": (True,), "any": (False, True)}
_SECONDS = 4.0


def fits(sheet: Size, items: list[CutItem], sheets: int) -> bool | None:
    """Whether all pieces go on so many sheets; None when the solver ran out of time.

    The sheets stand side by side on one long strip; a piece has its place on it in one of its turns.
    """
    model = cp_model.CpModel()
    width, length = sheet
    across, along = [], []
    for item in [one for one in items for _ in range(one.count)]:
        turns = []
        for number in range(sheets):
            for turned in WAYS[item.grain]:
                w, h = (
                    (int(item.height_mm), int(item.width_mm)) if turned else (int(item.width_mm), int(item.height_mm))
                )
                if w > width or h > length:
                    continue
                here = model.new_bool_var("")
                x = model.new_int_var(number * width, (number + 1) * width - w, "")
                y = model.new_int_var(0, length - h, "")
                across.append(model.new_optional_fixed_size_interval_var(x, w, here, ""))
                along.append(model.new_optional_fixed_size_interval_var(y, h, here, ""))
                turns.append(here)
        model.add_exactly_one(turns)
    model.add_no_overlap_2d(across, along)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = _SECONDS
    solver.parameters.random_seed = 1
    status = solver.solve(model)
    return {cp_model.OPTIMAL: True, cp_model.FEASIBLE: True, cp_model.INFEASIBLE: False}.get(status)


def job(seed: int) -> tuple[Size, list[CutItem]]:
    """A sheet and a few kinds of boards, most of them near a half or a third of it, where it is tight."""
    rng = random.Random(seed)
    sheet = rng.randint(300, 700), rng.randint(400, 1000)
    items = []
    for number in range(rng.randint(1, 3)):
        width, height = (side // rng.randint(1, 3) + rng.randint(-30, 8) for side in sheet)
        size = min(width, sheet[0], sheet[1]), min(height, sheet[0], sheet[1])
        grain = rng.choice(["head to tail", "across", "any"])
        items.append(CutItem(f"board {number}", "board", float(size[0]), float(size[1]), rng.randint(1, 4), grain))  # type: ignore[arg-type] # one of GrainArrow
    return sheet, items


@pytest.mark.parametrize("seed", range(12))
def test_as_few_sheets_as_the_solver_needs(seed: int) -> None:
    sheet, items = job(seed)
    stock = Stock(
        "stock-1", "board", "board", float(sheet[0]), float(sheet[1]), grain="long" if sheet[1] >= sheet[0] else "short"
    )
    laid = laid_on_stock(Project(stocks=(stock,)), items, "board")
    assert fits(sheet, items, laid.count), "the solver finds none on so many"
    if laid.count > 1:
        fewer = fits(sheet, items, laid.count - 1)
        assert fewer is not True, "the solver needs fewer"
        assert laid.proved
        assert fewer is False
