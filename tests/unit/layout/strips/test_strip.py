"""Many rectangles on one sheet: published tilings are laid, gap and room are kept, what cannot be is left alone."""

from __future__ import annotations

import pytest
from stripping import FORTY, SQUARES, TILES, TWENTY, Size, strip_job, wrong

from coverlayout.geometry.shapes import Box
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.layout.search.sheets import Block
from coverlayout.layout.strips.strip import lay_in_strip


@pytest.mark.parametrize(
    ("width_mm", "length_mm", "sizes", "turning"),
    [
        (20, 20, TWENTY, True),
        (40, 40, FORTY, True),
        (305, 380, TILES, False),
        (112, 112, SQUARES, False),
    ],
    ids=["published 20", "published 40", "own", "squared square"],
)
def test_pieces_that_tile_the_sheet_are_laid(
    width_mm: float, length_mm: float, sizes: tuple[Size, ...], turning: bool
) -> None:
    assert sum(w * h for w, h in sizes) == width_mm * length_mm
    job = strip_job(width_mm, length_mm, sizes, turning=turning)
    effort = Effort(2_000)
    filled = lay_in_strip(job, 0, effort)
    assert filled is not None
    assert wrong(job, filled) == []
    assert lay_in_strip(job, 0, Effort(2_000)) == filled


def test_the_tiling_is_found_lying_on_its_side_too() -> None:
    """The same pieces with both axes swapped, on a sheet that does not begin at the origin."""
    job = strip_job(380, 305, [(h, w) for w, h in TILES], at=(40.5, -3.25))
    filled = lay_in_strip(job, 0, Effort(2_000))
    assert filled is not None
    assert wrong(job, filled) == []


def test_a_sheet_the_least_bit_too_small_holds_no_tiling() -> None:
    assert lay_in_strip(strip_job(305, 379.9, TILES), 0, Effort(10)) is None
    assert lay_in_strip(strip_job(304.9, 380, TILES), 0, Effort(10)) is None


def test_three_books_and_more_keep_gap_and_room() -> None:
    """Twelve pieces in a row of four and three rows: with gap 3 and room 5 they need 4 x 100 + 3 x 5 + 2 x 5 across."""
    sizes = [(100.0, 60.0)] * 12
    job = strip_job(425, 200, sizes, gap_mm=3.0, at=(10, 20))
    filled = lay_in_strip(job, 0, Effort(1_000), room_mm=5.0)
    assert filled is not None
    assert wrong(job, filled, room_mm=5.0) == []
    assert lay_in_strip(strip_job(424.9, 200, sizes, gap_mm=3.0), 0, Effort(1_000), room_mm=5.0) is None
    closer = strip_job(409, 186, sizes, gap_mm=3.0)
    filled = lay_in_strip(closer, 0, Effort(1_000))
    assert filled is not None
    assert wrong(closer, filled) == []
    assert lay_in_strip(strip_job(408.9, 186, sizes, gap_mm=3.0), 0, Effort(1_000)) is None


def test_turned_pieces_fill_what_upright_ones_cannot() -> None:
    """Nine of 30 x 20 on 90 x 60 stand upright; on 60 x 90 all must turn, or lie in rows of two and three."""
    sizes = [(30.0, 20.0)] * 9
    for turning, side in ((False, 90.0), (True, 60.0)):
        job = strip_job(side, 5400 / side, sizes, turning=turning)
        filled = lay_in_strip(job, 0, Effort(1_000))
        assert filled is not None
        assert wrong(job, filled) == []
    assert lay_in_strip(strip_job(50.0, 108.0, sizes), 0, Effort(10_000)) is None


def test_lengths_that_are_no_whole_units_never_overlap() -> None:
    """Thirds of an inch: twelve in a row on 4 in, and three rows; the strip gives way by less than any tolerance."""
    third = 25.4 / 3
    job = strip_job(101.6, 25.4, [(third, third)] * 36)
    filled = lay_in_strip(job, 0, Effort(5_000))
    assert filled is not None
    assert wrong(job, filled) == []


def test_a_strip_as_long_as_can_be_typed_still_counts() -> None:
    job = strip_job(150_000.0, 200_000.0, [(140_000.0, 15_000.125)] * 12)
    filled = lay_in_strip(job, 0, Effort(5_000))
    assert filled is not None
    assert wrong(job, filled, within_mm=5e-3) == []


def test_something_in_the_way_or_a_piece_from_elsewhere_is_left_to_others() -> None:
    stain = Block(Box(100, 100, 5, 5), neighbour=False)
    assert lay_in_strip(strip_job(500, 500, TILES, blocks=(stain,)), 0, Effort(10)) is None
    job = strip_job(305, 380, TILES)
    elsewhere = type(job)(job.sheets, (*job.items, type(job.items[0])("away", ((),))), 0.0)
    assert lay_in_strip(elsewhere, 0, Effort(10)) is None
    assert lay_in_strip(strip_job(305, 380, ()), 0, Effort(10)) is None
    assert lay_in_strip(strip_job(5, 5, TILES[:1]), 0, Effort(10), room_mm=3.0) is None


def test_two_hundred_pieces_take_a_few_steps() -> None:
    sizes = [(40.0 + 7 * k % 60, 30.0 + 11 * k % 90) for k in range(200)]
    area = sum(w * h for w, h in sizes)
    job = strip_job(1100, area / 1100 / 0.93, sizes, turning=True)
    effort = Effort(20_000)
    filled = lay_in_strip(job, 0, effort)
    assert filled is not None
    assert wrong(job, filled) == []


def test_the_effort_ends_it() -> None:
    """Pinwheels of 2 x 3 leave a hole of 1 x 1, so 25 x 25 minus a bit holds no hundred of them: it looks for long."""
    hard = strip_job(24.5, 25.0, [(2.0, 3.0)] * 100, turning=True)
    with pytest.raises(OutOfSteps):
        lay_in_strip(hard, 0, Effort(300))
    with pytest.raises(CutShort):
        lay_in_strip(hard, 0, Effort(10**9, watch=lambda share: share > 0.0))
