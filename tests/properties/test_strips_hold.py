"""Whatever rectangles are asked for: a layout in a strip is right and comes again the same; tilings are found."""

from __future__ import annotations

import contextlib
import random

from hypothesis import given, settings
from hypothesis import strategies as st
from stripping import Size, strip_job, wrong

from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.filling import Filled
from coverlayout.layout.search.sheets import RectangularJob
from coverlayout.layout.strips.shortest import shorten
from coverlayout.layout.strips.strip import lay_in_strip

sides = st.floats(8.0, 90.0, allow_nan=False)


@settings(deadline=None)
@given(
    sizes=st.lists(st.tuples(sides, sides), min_size=1, max_size=14),
    turning=st.booleans(),
    gap_mm=st.sampled_from([0.0, 1.7]),
    room_mm=st.sampled_from([0.0, 2.3]),
    length_mm=st.floats(60.0, 500.0),
)
def test_a_layout_found_is_right_and_comes_again(
    sizes: list[Size], turning: bool, gap_mm: float, room_mm: float, length_mm: float
) -> None:
    job = strip_job(160.0, length_mm, sizes, turning=turning, gap_mm=gap_mm, at=(-7.0, 3.5))
    found = _laid(job, room_mm)
    if found is not None:
        assert wrong(job, found, room_mm=room_mm, within_mm=2e-3) == []
        assert _laid(job, room_mm) == found


def _laid(job: RectangularJob, room_mm: float) -> Filled | None:
    try:
        return lay_in_strip(job, 0, Effort(600), room_mm=room_mm)
    except OutOfSteps:
        return None


@settings(deadline=None, max_examples=12)
@given(seed=st.integers(0, 10**6), count=st.integers(9, 16), turning=st.booleans())
def test_pieces_cut_from_one_sheet_come_within_a_twentieth_of_it(seed: int, count: int, turning: bool) -> None:
    """Guillotine cuts through 240 x 300, the pieces shuffled and, where they may turn, turned at random."""
    rng = random.Random(seed)
    sizes = _cut(rng, 240, 300, count)
    rng.shuffle(sizes)
    if turning:
        sizes = [size[:: rng.choice((1, -1))] for size in sizes]
    job = strip_job(240.0, 3000.0, sizes, turning=turning)
    lengths: list[float] = []

    def taken(filled: Filled) -> None:
        assert wrong(job, filled) == []
        lengths.append(max(seat.top_mm + seat.pose.height_mm for seat in filled))

    with contextlib.suppress(OutOfSteps):
        shorten(job, Effort(20_000), taken, bound_mm=300.0)
    assert lengths[-1] <= 315.0


def _cut(rng: random.Random, width: int, height: int, count: int) -> list[Size]:
    """A rectangle cut across its longer side into so many pieces."""
    if count == 1:
        return [(width, height)]
    long = max(width, height)
    at = rng.randint(long // 4, long - long // 4)
    few = max(1, min(count - 1, round(count * at / long)))
    if height >= width:
        return _cut(rng, width, at, few) + _cut(rng, width, height - at, count - few)
    return _cut(rng, at, height, few) + _cut(rng, width - at, height, count - few)
