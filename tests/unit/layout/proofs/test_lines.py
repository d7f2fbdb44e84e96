"""Lines over sheets: the heaviest set by list and by table, and the best weights, against sums by hand."""

from __future__ import annotations

import itertools
import random
import time

import pytest

from coverlayout.layout.proofs import lines
from coverlayout.layout.proofs.lines import Kind, Lines, Stretch, Way
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps


@pytest.fixture(params=[2_000, 0], ids=["listed", "table"])
def listed(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run a test with the sets listed and with the table."""
    monkeypatch.setattr(lines, "_MOST_SETS", request.param)


def kind(count: int, *sizes: tuple[int, int], stretch: int = 0) -> Kind:
    ways = tuple(Way(stretch, 1000 * on_line, 1000 * across, (on_line, across)) for on_line, across in sizes)
    return Kind(tuple(f"{sizes[0]}-{number}" for number in range(count)), ways)


def over(kinds: list[Kind], stretches: list[Stretch], *, enough: bool = False) -> float | None:
    """Loads over what the lines carry, by the best weights."""
    counts = [len(each.pieces) for each in kinds]
    weighing = Lines(kinds, stretches, Effort(10_000)).best(counts, enough=enough)
    return None if weighing is None else weighing.loaded(counts) / max(weighing.carried(stretches), 1)


@pytest.mark.usefixtures("listed")
def test_two_to_a_line() -> None:
    # Five strips of 40 x 30 on lines of 100: 5 x 30 / 2 = 75 over a length of 60.
    strips, sheet = [kind(5, (40, 30))], [Stretch(100_000, 60_000)]
    assert over(strips, sheet) == pytest.approx(75 / 60, rel=1e-3)
    assert over(strips, sheet, enough=True) == pytest.approx(75 / 60, rel=1e-3)
    assert over(strips, [Stretch(100_000, 75_001)], enough=True) is None


@pytest.mark.usefixtures("listed")
def test_weights_that_are_not_the_area() -> None:
    # 60 and 50 do not fit beside each other on 100, nor do two 60s: 2 x 30 + 2 x 20 / 2; areas say far less.
    kinds = [kind(2, (60, 30)), kind(2, (50, 20))]
    assert over(kinds, [Stretch(100_000, 10_000)]) == pytest.approx(8.0, rel=1e-3)


@pytest.mark.usefixtures("listed")
def test_a_piece_takes_the_way_that_helps_it_on_each_sheet() -> None:
    # One upright beside one turned fill a line of 100: a load of 24 is 24 / 40 + 24 / 60 = 1 there; four come to 96.
    free = [kind(4, (60, 40), (40, 60))]
    assert over(free, [Stretch(100_000, 60_000)]) == pytest.approx(96 / 60, rel=1e-3)
    # Two sheets, of which the second holds three beside each other.
    ways = (Way(0, 40_000, 30_000, (40, 30)), Way(1, 40_000, 30_000, (40, 30)))
    both = [Kind(tuple("abcdef"), ways)]
    assert over(both, [Stretch(100_000, 30_000), Stretch(125_000, 30_000)]) == pytest.approx(6 / 5, rel=1e-3)


def test_pieces_thinner_than_the_looseness_weigh_nothing() -> None:
    assert over([kind(3, (40, 0))], [Stretch(100_000, 1_000)]) == 0.0
    assert over([kind(3, (40, 0))], [Stretch(100_000, 1_000)], enough=True) is None


@pytest.mark.parametrize("seed", range(20))
def test_list_and_table_find_the_heaviest_set(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(seed)
    kinds = [kind(rng.randint(1, 3), *((rng.randint(10, 60), 10) for _ in range(rng.randint(1, 2)))) for _ in range(4)]
    weights = [[rng.randint(0, 50) for _ in each.ways] for each in kinds]
    line = rng.randint(60, 120)
    by_list = _heaviest(kinds, weights, line)
    assert by_list == _by_hand(kinds, weights, line)
    monkeypatch.setattr(lines, "_MOST_SETS", 0)
    # The table lets several pieces of one kind take each of their ways: never lighter.
    by_table = _heaviest(kinds, weights, line)
    assert by_table >= by_list
    alone = [Kind((f"{number}",), each.ways) for number, each in enumerate(kinds)]
    assert _heaviest(alone, weights, line) == _by_hand(alone, weights, line)


def _heaviest(kinds: list[Kind], weights: list[list[int]], line: int) -> int:
    over_lines = Lines(kinds, [Stretch(1000 * line, 1000)], Effort(10_000))
    top, counted = over_lines._packers[0].heaviest(weights)
    assert top == sum(count * weights[k][way] for k, way, count in counted)
    assert sum(count * kinds[k].ways[way].on_line for k, way, count in counted) <= 1000 * line
    return top


def _by_hand(kinds: list[Kind], weights: list[list[int]], line: int) -> int:
    choices = [
        [(0, 0), *((way.on_line, weight) for way, weight in zip(each.ways, own, strict=True))]
        for each, own in zip(kinds, weights, strict=True)
        for _ in each.pieces
    ]
    sets = itertools.product(*choices)
    return max(sum(w for _, w in one) for one in sets if sum(room for room, _ in one) <= 1000 * line)


def test_steps_and_the_watch_end_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lines, "_MOST_SETS", 0)
    kinds = [kind(1, (10 + k, 20)) for k in range(12)]
    with pytest.raises(OutOfSteps):
        Lines(kinds, [Stretch(50_000, 1000)], Effort(5)).best([1] * 12, enough=False)
    stopped = Effort(10**9, watch=lambda share: share >= 0.0)
    time.sleep(0.01)
    with pytest.raises(CutShort):
        Lines(kinds, [Stretch(50_000, 1000)], stopped)
