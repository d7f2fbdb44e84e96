"""The exhaustive search against brute force: best rooms known by hand, refusals, corners, equal pieces, blocks."""

from __future__ import annotations

import itertools
import random

import pytest

from coverlayout.geometry.shapes import Box
from coverlayout.layout.positions.relations import STEP_MM, Found, Relations
from coverlayout.layout.positions.seats import Seats
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.sheets import Block, Pose, Sheet


def pose(width: float, height: float) -> Pose:
    return Pose(0.0, width, height, (0.0, 0.0), Box(0.0, 0.0, width, height))


def search(
    width: float,
    height: float,
    poses: list[Pose],
    *,
    gap: float = 0.0,
    blocks: tuple[Block, ...] = (),
    asked: float = 0.0,
    rising: bool = True,
    diagonals: bool = True,
    steps: int = 400_000,
) -> tuple[list[Found], float]:
    found: list[Found] = []
    seats = Seats(Sheet("c", "g", Box(0.0, 0.0, width, height), blocks), poses, gap)
    run = Relations(seats, Effort(steps), asked, found.append, diagonals=diagonals, rising=rising)
    return found, run.run()


def test_the_best_room_is_found_and_nothing_beyond_it() -> None:
    cover, liner = pose(144.3, 182.4), pose(146.4, 108.3)
    found, refused = search(304.8, 304.8, [cover, cover, liner, liner])
    assert found[-1].room_mm == pytest.approx(4.7)
    assert refused == pytest.approx(4.7 + STEP_MM)
    assert [one.room_mm for one in found] == sorted(one.room_mm for one in found)


def test_upright_liners_are_refused_at_any_room() -> None:
    found, refused = search(304.8, 304.8, [pose(144.3, 182.4)] * 2 + [pose(108.3, 146.4)] * 2, asked=-0.01)
    assert found == []
    assert refused == -0.01


def test_a_windmill_is_found_that_no_row_has() -> None:
    found, _ = search(100, 100, [pose(60, 40), pose(40, 60), pose(60, 40), pose(40, 60), pose(20, 20)])
    assert found[-1].room_mm == pytest.approx(0.0, abs=1e-9)
    (left, top) = found[-1].places[4]
    assert (left, top) == pytest.approx((40.0, 40.0))


def test_corners_count_by_their_straight_distance() -> None:
    # 3 and 4 mm between two corners are 5 mm; without diagonal relations only 4 mm are seen.
    pair = [pose(50, 50), pose(50, 50)]
    found, refused = search(103, 104, pair, gap=5.0)
    assert found
    assert refused < 0.1
    assert search(103, 104, pair, gap=5.0, diagonals=False)[0] == []
    assert search(103, 104, pair, gap=5.001)[0] == []


def test_blocks_stand_in_the_way() -> None:
    wall = Block(Box(48.0, 0.0, 4.0, 60.0), neighbour=False)
    found, _ = search(100, 60, [pose(48, 60), pose(48, 60)], blocks=(wall,))
    assert sorted(left for left, _ in found[-1].places) == pytest.approx([0.0, 52.0])
    hole = Block(Box(48.0, 0.0, 4.0, 60.0), neighbour=True)
    assert search(100, 60, [pose(48, 60), pose(48, 60)], blocks=(hole,), gap=0.1)[0] == []


def test_one_piece_has_the_room_around_it() -> None:
    found, _ = search(100, 60, [pose(40, 40)])
    assert found[-1].room_mm == pytest.approx(10.0)


def test_without_rising_many_layouts_with_the_room_are_told() -> None:
    poses = [pose(20, 30), pose(25, 15), pose(10, 10)]
    found, asked = search(100, 100, poses, asked=5.0, rising=False, diagonals=False)
    assert len(found) > 3
    assert asked == 5.0
    assert {one.room_mm for one in found} == {5.0}
    for one in found:
        assert min(min(place) for place in one.places) >= 5.0 - 1e-9
    assert len({one.places for one in found}) > 3


def test_a_search_out_of_steps_says_so() -> None:
    with pytest.raises(OutOfSteps):
        search(304.8, 304.8, [pose(144.3, 182.4)] * 2 + [pose(146.4, 108.3)] * 2, steps=8)


def best_by_trial(width: int, height: int, sizes: list[tuple[int, int]]) -> int:
    """The largest whole room by trying all whole places: axis-wise rooms only, which bounds the true one from below."""
    for room in range(20, -1, -1):
        spots = [
            [(x, y) for x in range(room, width - w - room + 1) for y in range(room, height - h - room + 1)]
            for w, h in sizes
        ]
        if _lay_all(spots, sizes, room, ()):
            return room
    return -1


def _lay_all(
    spots: list[list[tuple[int, int]]], sizes: list[tuple[int, int]], room: int, placed: tuple[tuple[int, int], ...]
) -> bool:
    if len(placed) == len(sizes):
        return True
    w, h = sizes[len(placed)]
    for x, y in spots[len(placed)]:
        clear = all(
            x + w + room <= a or a + c + room <= x or y + h + room <= b or b + d + room <= y
            for (a, b), (c, d) in zip(placed, sizes, strict=False)
        )
        if clear and _lay_all(spots, sizes, room, (*placed, (x, y))):
            return True
    return False


@pytest.mark.parametrize("seed", range(12))
def test_against_trying_all_whole_places(seed: int) -> None:
    rng = random.Random(seed)
    width, height = rng.randint(9, 13), rng.randint(9, 13)
    sizes = [(rng.randint(2, 7), rng.randint(2, 7)) for _ in range(3)]
    if seed % 3 == 0:
        sizes[1] = sizes[0]
    known = best_by_trial(width, height, sizes)
    found, refused = search(width, height, [pose(*size) for size in sizes])
    if known < 0:
        # Whole sizes: where any layout exists, one at whole places does (push everything left and up).
        assert found == []
    else:
        assert found[-1].room_mm >= known - 1e-9
        # Rooms are halves and thirds of whole numbers at most this much above the whole one, corners aside.
        assert found[-1].room_mm < known + 1.42
        assert refused == pytest.approx(found[-1].room_mm + STEP_MM, abs=STEP_MM)
        assert_apart(found[-1], width, height)


def assert_apart(layout: Found, width: float, height: float) -> None:
    boxes = [(x, y, x + p.width_mm, y + p.height_mm) for p, (x, y) in zip(layout.poses, layout.places, strict=True)]
    for left, top, right, bottom in boxes:
        assert min(left, top, width - right, height - bottom) >= layout.room_mm - 1e-6
    for one, other in itertools.combinations(boxes, 2):
        across = max(other[0] - one[2], one[0] - other[2], 0.0)
        along = max(other[1] - one[3], one[1] - other[3], 0.0)
        assert (across**2 + along**2) ** 0.5 >= layout.room_mm - 0.003
