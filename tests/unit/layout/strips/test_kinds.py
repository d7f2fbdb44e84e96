"""Pieces as whole numbers: exact where they can be, rounded up where not; equal pieces are one kind."""

from __future__ import annotations

import pytest
from stripping import strip_job

from coverlayout.layout.strips.kinds import Kinds, Spot, kinds_of


def kinds(*sizes: tuple[float, float], lengthwise: bool = False, **asked: float) -> Kinds:
    job = strip_job(100.0, 80.0, sizes, turning=bool(asked.get("turning")), gap_mm=asked.get("gap_mm", 0.0))
    found = kinds_of(job, 0, asked.get("room_mm", 0.0), lengthwise=lengthwise)
    assert found is not None
    return found


def test_equal_pieces_are_one_kind_and_a_turn_makes_a_second_way() -> None:
    found = kinds((30, 20), (10, 10), (30, 20), turning=1.0)
    assert found.pieces == 3
    assert found.unit_mm == 10.0
    assert list(zip(found.width.tolist(), found.height.tolist(), strict=True)) == [(1, 1), (2, 3), (3, 2)]
    assert found.count[found.kind].tolist() == [1, 2, 2]
    assert (found.strip_width, found.strip_length, found.area) == (7, 7, 13)


def test_a_piece_and_its_twin_drawn_on_its_side_are_one_kind_when_both_may_turn() -> None:
    assert kinds((30, 20), (20, 30), turning=1.0).count.tolist() == [2]
    assert kinds((30, 20), (20, 30)).count.tolist() == [1, 1]


def test_gap_and_room_are_taken_into_the_sizes() -> None:
    """Room 2 leaves 96 x 76; between two pieces stay 4, which the strip has once more than it has gaps."""
    found = kinds((46, 36), (46, 36), (46, 36), gap_mm=4.0, room_mm=2.0)
    assert found.unit_mm == 10.0
    assert (found.width.tolist(), found.height.tolist()) == ([5], [4])
    assert (found.strip_width, found.strip_length) == (10, 8)


def test_lengthwise_swaps_across_and_along() -> None:
    found = kinds((30, 20), (50, 40), (90, 70), lengthwise=True)
    assert (found.width.tolist(), found.height.tolist()) == ([2, 4, 7], [3, 5, 9])
    assert (found.strip_width, found.strip_length) == (8, 10)


def test_a_sheet_is_never_longer_than_all_pieces_together() -> None:
    assert kinds((10, 30), (20, 10)).strip_length == 4


def test_odd_lengths_are_rounded_up_and_the_strip_gives_way() -> None:
    found = kinds((100 / 3, 70), (100 / 3, 70), (100 / 3, 70))
    assert found.unit_mm == pytest.approx(1e-5)
    assert found.width.tolist() == [3_333_334]
    assert found.strip_width == 10_000_000 + 3


def test_spots_become_seats_of_the_items_in_their_order() -> None:
    job = strip_job(100.0, 80.0, [(30, 20), (10, 10), (30, 20)], turning=True, at=(5.0, 7.0))
    for lengthwise in (False, True):
        found = kinds_of(job, 0, 0.0, lengthwise=lengthwise)
        assert found is not None
        spots = (Spot(1, 0, 0), Spot(2, 2, 0), Spot(0, 5, 0))
        seats = found.filled(job, 0, spots)
        lying = [(seat.pose.turn_deg, seat.left_mm, seat.top_mm) for seat in seats]
        if lengthwise:
            assert lying == [(0.0, 5.0, 7.0), (0.0, 5.0, 57.0), (90.0, 5.0, 27.0)]
        else:
            assert lying == [(90.0, 5.0, 7.0), (0.0, 55.0, 7.0), (0.0, 25.0, 7.0)]
