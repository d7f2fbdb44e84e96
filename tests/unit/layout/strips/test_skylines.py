"""Skylines piece by piece, against drawings worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from stripping import strip_job

from coverlayout.layout.strips.kinds import kinds_of
from coverlayout.layout.strips.skylines import Children, Skylines


def start(*sizes: tuple[float, float], width: float = 10, length: float = 10) -> Skylines:
    """An empty strip for pieces whose sizes share no unit larger than 1."""
    kinds = kinds_of(strip_job(width, length, sizes), 0, 0.0, lengthwise=False)
    assert kinds is not None
    assert kinds.unit_mm == 1.0
    return Skylines.start(kinds, int(length))


def put(lines: Skylines, size: tuple[int, int], at_left: bool = True) -> Skylines:
    """One more piece of this size in the niche of the only strip."""
    sizes = list(zip(lines.kinds.width.tolist(), lines.kinds.height.tolist(), strict=True))
    niches, fits = lines.fitting(10**6)
    way = sizes.index(size)
    assert fits[0, way]
    return lines.with_pieces(niches, Children(np.array([0]), np.array([way]), np.array([at_left])))


def line_of(lines: Skylines) -> list[int]:
    """How far down the first strip is taken, unit by unit."""
    width = lines.kinds.strip_width
    ends = np.append(lines.left[0, 1:], width)
    parts = zip(lines.left[0].tolist(), ends.tolist(), lines.top[0].tolist(), strict=True)
    return [top for begin, end, top in parts for _ in range(begin, end)]


def test_pieces_lie_at_the_left_or_the_right_of_the_niche() -> None:
    lines = start((4, 3), (3, 5), (10, 10))
    assert line_of(put(lines, (4, 3))) == [3, 3, 3, 3, 0, 0, 0, 0, 0, 0]
    assert line_of(put(lines, (4, 3), at_left=False)) == [0, 0, 0, 0, 0, 0, 3, 3, 3, 3]
    both = put(put(lines, (4, 3)), (3, 5), at_left=False)
    assert line_of(both) == [3, 3, 3, 3, 0, 0, 0, 5, 5, 5]
    assert (both.covered.tolist(), both.reach.tolist(), both.parts().tolist()) == ([27], [5], [3])


def test_equal_heights_become_one_part_and_a_full_niche_goes() -> None:
    lines = put(put(start((4, 3), (3, 3), (10, 10)), (4, 3)), (3, 3))
    assert line_of(lines) == [3] * 7 + [0] * 3
    assert lines.parts().tolist() == [2]
    full = put(put(start((4, 3), (6, 3), (10, 10)), (4, 3)), (6, 3))
    assert line_of(full) == [3] * 10
    assert full.parts().tolist() == [1]


def test_a_niche_in_which_nothing_fits_is_given_up_and_its_area_lost() -> None:
    lines = put(put(start((4, 3), (4, 5), (3, 2), (10, 10)), (4, 3)), (4, 5), at_left=False)
    assert line_of(lines) == [3, 3, 3, 3, 0, 0, 5, 5, 5, 5]
    assert lines.lost_at_least().tolist() == [6]
    assert lines.filled_exactly().tolist() == [0]
    niches, fits = lines.fitting(6)
    assert lines.lost.tolist() == [6]
    assert (niches.left.tolist(), niches.top.tolist(), niches.width.tolist()) == ([0], [3], [6])
    assert (niches.left_wall.tolist(), niches.right_wall.tolist()) == ([7], [2])
    assert fits[0].tolist() == [True, False, False, False]


def test_a_strip_that_loses_too_much_takes_nothing_more() -> None:
    lines = put(put(start((4, 3), (4, 5), (3, 2), (10, 10)), (4, 3)), (4, 5), at_left=False)
    assert not lines.fitting(5)[1].any()
    assert not put(start((10, 10), (3, 3)), (10, 10)).fitting(1000)[1].any()


def test_what_must_be_lost_counts_ends_too_short_for_what_waits() -> None:
    """Under a piece 8 long stay 2, too little for 3 x 3; beside it stay 6 x 10, enough."""
    lines = put(start((4, 8), (3, 3), (5, 5)), (4, 8))
    assert lines.lost_at_least().tolist() == [4 * 2]
    assert put(start((4, 8), (3, 2), (5, 5)), (4, 8)).lost_at_least().tolist() == [0]


def test_nothing_more_is_lost_when_nothing_waits() -> None:
    kinds = kinds_of(strip_job(10, 10, [(4, 8), (4, 3)]), 0, 0.0, lengthwise=False)
    assert kinds is not None
    lines = put(put(Skylines.start(kinds, 10), (4, 8)), (4, 3), at_left=False)
    assert lines.lost_at_least().tolist() == [0]


@pytest.mark.parametrize(("waiting", "exactly"), [((6, 7), 1), ((5, 7), 0)])
def test_a_niche_as_wide_as_a_piece_that_waits_is_counted(waiting: tuple[int, int], exactly: int) -> None:
    assert put(start((4, 3), waiting, (10, 10)), (4, 3)).filled_exactly().tolist() == [exactly]


def test_a_piece_already_put_fills_no_niche() -> None:
    lines = put(start((5, 7), (2, 2), (3, 3)), (5, 7))
    assert line_of(lines) == [7] * 5 + [0] * 5
    assert lines.filled_exactly().tolist() == [0]


def test_equal_strips_are_kept_once_the_first_of_them() -> None:
    lines = start((4, 3), (3, 3), (2, 3), (10, 10))
    niches, _ = lines.fitting(100)
    sizes = list(zip(lines.kinds.width.tolist(), lines.kinds.height.tolist(), strict=True))
    ways = np.array([sizes.index(size) for size in ((4, 3), (3, 3), (4, 3))])
    grown = lines.with_pieces(niches, Children(np.zeros(3, dtype=np.int64), ways, np.ones(3, dtype=np.bool_)))
    assert grown.first_of_equals().tolist() == [0, 1]
    assert len(grown.only(grown.first_of_equals())) == 2
