"""A beam over skylines: whole layouts or none, the shortest of those kept at the end, and what it costs."""

from __future__ import annotations

from itertools import combinations

import pytest
from stripping import TILES, TWENTY, strip_job

from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.strips.beam import Promise, search_beam
from coverlayout.layout.strips.kinds import Kinds, Spot, kinds_of

PLAIN = Promise(part_price=4.0, exact_price=2.0, loss_price=1.0)


def kinds(width_mm: float, length_mm: float, sizes: tuple[tuple[float, float], ...], *, turning: bool = False) -> Kinds:
    found = kinds_of(strip_job(width_mm, length_mm, sizes, turning=turning), 0, 0.0, lengthwise=False)
    assert found is not None
    return found


def overlaps(of: Kinds, spots: tuple[Spot, ...]) -> int:
    """How many pairs of pieces share area, in whole numbers."""

    def apart(one: Spot, other: Spot) -> bool:
        return (
            one.left + int(of.width[one.way]) <= other.left
            or other.left + int(of.width[other.way]) <= one.left
            or one.top + int(of.height[one.way]) <= other.top
            or other.top + int(of.height[other.way]) <= one.top
        )

    return sum(not apart(one, other) for one, other in combinations(spots, 2))


def test_a_tiling_is_found_piece_by_piece() -> None:
    of = kinds(305, 380, TILES)
    spots = search_beam(of, 380, 60, PLAIN, Effort(1_000))
    assert spots is not None
    assert sorted(spot.way for spot in spots) == list(range(len(TILES)))
    assert overlaps(of, spots) == 0
    assert max(spot.top + int(of.height[spot.way]) for spot in spots) == 380
    assert max(spot.left + int(of.width[spot.way]) for spot in spots) == 305


def test_one_unit_less_is_refused_at_once_by_area() -> None:
    assert search_beam(kinds(305, 380, TILES), 379, 60, PLAIN, Effort(20)) is None


def test_of_all_that_are_kept_at_the_end_the_shortest_is_taken() -> None:
    """Three of 3 x 5 on 11 across, which may turn: side by side they are 5 long, one below another up to 9."""
    of = kinds(11, 30, ((3, 5), (3, 5), (3, 5), (2, 1)), turning=True)
    spots = search_beam(of, 15, 60, PLAIN, Effort(1_000))
    assert spots is not None
    assert max(spot.top + int(of.height[spot.way]) for spot in spots) == 5


def test_a_wider_beam_finds_what_a_narrow_one_misses() -> None:
    """Published pieces that tile 20 x 20 (source beside the table)."""
    of = kinds(20, 20, TWENTY, turning=True)
    assert search_beam(of, 20, 1, PLAIN, Effort(2_000)) is None
    assert search_beam(of, 20, 200, PLAIN, Effort(2_000)) is not None


def test_the_same_asked_again_gives_the_same() -> None:
    of = kinds(20, 21, TWENTY, turning=True)
    assert search_beam(of, 21, 60, PLAIN, Effort(2_000)) == search_beam(of, 21, 60, PLAIN, Effort(5_000))


def test_each_piece_costs_steps() -> None:
    with pytest.raises(OutOfSteps):
        search_beam(kinds(305, 380, TILES), 380, 60, PLAIN, Effort(14 * 8 - 1))
