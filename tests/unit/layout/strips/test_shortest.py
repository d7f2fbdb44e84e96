"""Ever shorter layouts: the bound is reached where pieces tile, and the search ends by itself where it cannot be."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from stripping import FORTY, TILES, TWENTY, Size, strip_job, wrong

from coverlayout.geometry.shapes import Box
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.filling import Filled
from coverlayout.layout.search.sheets import Block, RectangularJob
from coverlayout.layout.strips.shortest import shorten


def lengths(job: RectangularJob, bound_mm: float, steps: int = 10_000, rounds: int = 5) -> list[float]:
    """The length of each layout handed over; every one is looked at."""
    found: list[float] = []

    def taken(filled: Filled) -> None:
        assert wrong(job, filled) == []
        found.append(max(seat.top_mm + seat.pose.height_mm for seat in filled) - job.sheets[0].box.top_mm)

    shorten(job, Effort(steps), taken, bound_mm=bound_mm, rounds=rounds)
    return found


@pytest.mark.parametrize(
    ("width_mm", "sizes", "turning", "least_mm"),
    [(20, TWENTY, True, 20.0), (40, FORTY, True, 40.0), (305, TILES, False, 380.0)],
    ids=["published 20", "published 40", "own"],
)
def test_pieces_that_tile_reach_the_length_by_area(
    width_mm: float, sizes: Sequence[Size], turning: bool, least_mm: float
) -> None:
    job = strip_job(width_mm, 5000, sizes, turning=turning, at=(3.0, 11.0))
    found = lengths(job, sum(w * h for w, h in sizes) / width_mm)
    assert found[-1] == pytest.approx(least_mm, abs=1e-9)
    assert min(found) == found[-1]


def test_where_the_bound_is_out_of_reach_the_rounds_end() -> None:
    """Upright, five of 60 x 40 on 100 across lie one below the other; two turned beside three fill 100 x 120."""
    found = lengths(strip_job(100, 1000, [(60.0, 40.0)] * 5), 120.0)
    assert found[-1] == 200.0
    assert lengths(strip_job(100, 1000, [(60.0, 40.0)] * 5, turning=True), 120.0)[-1] == 120.0


def test_the_gap_counts_between_rows_and_not_at_the_ends() -> None:
    found = lengths(strip_job(100, 1000, [(49.0, 20.0)] * 6, gap_mm=2.0), 58.8)
    assert found[-1] == pytest.approx(64.0)


def test_nothing_is_handed_over_where_nothing_fits_or_something_is_in_the_way() -> None:
    assert lengths(strip_job(100, 39, [(60.0, 40.0)] * 2), 10.0) == []
    assert lengths(strip_job(50, 1000, [(60.0, 40.0)] * 2), 10.0) == []
    assert lengths(strip_job(100, 1000, ()), 0.0) == []
    stain = Block(Box(10, 10, 5, 5), neighbour=False)
    assert lengths(strip_job(100, 1000, [(60.0, 40.0)], blocks=(stain,)), 10.0) == []


def test_effort_ends_it_after_what_was_found() -> None:
    seen: list[Filled] = []
    job = strip_job(305, 5000, TILES)
    with pytest.raises(OutOfSteps):
        shorten(job, Effort(150), seen.append, bound_mm=300.0)
    assert seen
