"""Pieces near another, against a look at every one."""

from __future__ import annotations

import math
import random

import pytest
from laying import cloth, piece

from coverlayout.layout.measuring.nearby import Nearby
from coverlayout.layout.placing import ClothReady, Laid
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort

ON = ClothReady(cloth(2000, 2000))


def scattered(count: int) -> list[Laid]:
    rng = random.Random(7)
    return [
        Laid(piece(f"p-{k}", 30, 20), Placed(f"p-{k}", "c", rng.uniform(0, 2000), rng.uniform(0, 2000)), ON)
        for k in range(count)
    ]


@pytest.mark.parametrize("count", [0, 5, 24, 300])
@pytest.mark.parametrize("reach_mm", [0.0, 40.0, math.inf])
def test_none_that_is_near_is_left_out_and_their_order_is_kept(count: int, reach_mm: float) -> None:
    laid = scattered(count)
    nearby = Nearby(laid)
    for one in scattered(320)[-10:]:
        found = nearby.within(one.shape, reach_mm)
        assert found == [other for other in laid if other in found]
        assert {id(other) for other in laid if one.shape.apart_mm(other.shape) <= reach_mm} <= {id(o) for o in found}
        if count == 300 and reach_mm == 0.0:
            assert len(found) < 10


def test_many_pieces_are_judged_as_few_are() -> None:
    pieces = tuple(piece(f"p-{k}", 30, 20) for k in range(60))
    placed = [Placed(f"p-{k}", "c", 20.0 + 33.0 * (k % 10), 15.0 + 24.0 * (k // 10)) for k in range(60)]
    report = Judge(Question(pieces, (cloth(400, 400),), gap_mm=3.5)).report(placed)
    # Columns are 3 mm apart, 0.5 too few: nine pairs in each of six rows; rows are 4 mm apart.
    assert [breach.rule for breach in report.breaches] == ["gap"] * 54
    assert {round(breach.amount_mm, 6) for breach in report.breaches} == {0.5}
    assert report.clearance_mm == 3.0
    assert report.used_percent == pytest.approx(100 * 60 * 600 / 160_000)
    moved = [*placed[:59], Placed("p-59", "c", 317.0 - 10.0, 15.0 + 24.0 * 5)]
    overlaps = Judge(Question(pieces, (cloth(400, 400),))).report(moved).breaches
    assert [(breach.rule, breach.pieces) for breach in overlaps] == [("overlap", ("p-58", "p-59"))]


def test_a_long_judgement_can_be_ended() -> None:
    pieces = tuple(piece(f"p-{k}", 3, 3) for k in range(300))
    placed = [Placed(f"p-{k}", "c", 10.0 + 4.0 * (k % 20), 10.0 + 4.0 * (k // 20)) for k in range(300)]
    looks: list[int] = []
    judge = Judge(Question(pieces, (cloth(100, 100),)))
    assert judge.report(placed, lambda: looks.append(1)) == judge.report(placed)
    assert len(looks) == 5

    def end() -> None:
        raise CutShort

    with pytest.raises(CutShort):
        judge.report(placed, end)
