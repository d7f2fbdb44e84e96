"""Lattices: area, reduction, places in the repeat, sameness; sheared ones against arithmetic written here."""

from __future__ import annotations

import math

import pytest

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import Box
from coverlayout.motif.lattice import Lattice

# No right angle, no equal lengths: det = 50 * 41 - 12 * (-7) = 2134.
SHEARED = Lattice((50.0, 12.0), (-7.0, 41.0))
STRIPES = Lattice((12.0, 5.0))


def test_the_area_of_a_cell_is_the_determinant():
    assert SHEARED.cell_area_mm2 == 2134.0
    assert Lattice(SHEARED.b_mm, SHEARED.a_mm).cell_area_mm2 == 2134.0
    assert STRIPES.cell_area_mm2 == math.inf


@pytest.mark.parametrize(
    ("lattice", "code"),
    [
        (Lattice((math.nan, 0.0), (0.0, 1.0)), "repeat-not-finite"),
        (Lattice((math.inf, 0.0)), "repeat-not-finite"),
        (Lattice((0.0, 0.0), (0.0, 9.0)), "repeat-too-small"),
        (Lattice((0.0, 0.01)), "repeat-too-small"),
        (Lattice((10.0, 5.0), (20.0, 10.0)), "repeat-one-direction"),
        (Lattice((10.0, 5.0), (-20.0, -10.001)), "repeat-one-direction"),
    ],
)
def test_vectors_that_make_no_repeat_are_refused(lattice, code):
    with pytest.raises(BadInput) as fault:
        lattice.checked(where="--vectors")
    assert fault.value.code == code
    assert str(fault.value).startswith("--vectors")


def test_good_vectors_pass_unchanged():
    assert SHEARED.checked(where="x") is SHEARED
    assert STRIPES.checked(where="x") is STRIPES


def test_reduction_finds_the_two_shortest_vectors():
    # (50, 12) + 7 (-7, 41) and (-7, 41) + 2 of that: the same points under long vectors.
    long_a = (50.0 - 49.0, 12.0 + 287.0)
    long_b = (-7.0 + 2 * long_a[0], 41.0 + 2 * long_a[1])
    found = Lattice(long_a, long_b).reduced()
    assert [math.hypot(*found.a_mm), math.hypot(*found.b_mm)] == pytest.approx(
        [math.hypot(7, 41), math.hypot(50, 12)], abs=1e-6
    )
    assert found.same_as(SHEARED)
    assert STRIPES.reduced() is STRIPES


def test_reduction_of_vectors_of_length_nothing_ends():
    assert Lattice((0.0, 0.0), (0.0, 0.0)).reduced().a_mm == (0.0, 0.0)


def test_coordinates_and_point_undo_each_other():
    assert SHEARED.coordinates(SHEARED.point(3, -2)) == pytest.approx((3, -2))
    assert SHEARED.point(3, -2) == (150 + 14, 36 - 82)
    assert STRIPES.coordinates((24.0 - 5.0, 10.0 + 12.0)) == pytest.approx((2.0, 0.0))
    assert STRIPES.point(2, 9) == (24.0, 10.0)


def test_the_place_in_the_repeat_lies_in_the_first_cell():
    # Stripes 5 mm apart along (4, 3): (40, 30) + (-3, 4) is ten steps on and 5 mm along them: nothing is left across.
    assert Lattice((4.0, 3.0)).place_in_repeat((37.0, 34.0)) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert Lattice((4.0, 3.0)).place_in_repeat((37.0 + 2.0, 34.0 + 1.5)) == pytest.approx((2.0, 1.5))
    x, y = SHEARED.place_in_repeat((3 * 50.0 - 4 * -7.0 + 20.0, 3 * 12.0 - 4 * 41.0 + 30.0))
    assert (x, y) == pytest.approx((20.0, 30.0))


def test_distance_off_the_lattice():
    assert SHEARED.off_mm((2 * 50.0 - 7.0 + 3.0, 2 * 12.0 + 41.0 - 4.0)) == pytest.approx(5.0)
    # Along the stripes (-5, 12) nothing counts; one tenth of the step of 13 mm across is 1.3 mm.
    assert STRIPES.off_mm((1.2 - 5.0, 0.5 + 12.0)) == pytest.approx(1.3)


def test_half_drop_and_brick_of_other_sizes_are_the_same_cloth():
    # Half-drop 64 x 96 has points (64 i, 48 i + 96 k); brick 128 x 48 has (128 i + 64 k, 48 k).
    assert Lattice((64.0, 48.0), (0.0, 96.0)).same_as(Lattice((128.0, 0.0), (64.0, 48.0)))
    assert not Lattice((64.0, 48.0), (0.0, 96.0)).same_as(Lattice((64.0, 0.0), (32.0, 96.0)))
    assert not SHEARED.same_as(Lattice(SHEARED.a_mm))
    assert not SHEARED.same_as(Lattice((100.0, 24.0), (-7.0, 41.0)))
    assert STRIPES.same_as(Lattice((-12.0, -5.0)))


def test_mapping_turns_the_vectors():
    turned = SHEARED.mapped(turn(90))
    assert turned == Lattice((-12.0, 50.0), (-41.0, -7.0))
    assert STRIPES.mapped(turn(90)) == Lattice((-5.0, 12.0))


def test_the_farthest_off_is_never_passed_and_nearly_reached():
    # Brute force over a fine grid of one cell, half a millimetre apart.
    grid = [(0.5 * i, 0.5 * k) for i in range(-14, 101) for k in range(107)]
    found = max(SHEARED.off_mm(point) for point in grid)
    assert SHEARED.farthest_off_mm - 0.5 < found <= SHEARED.farthest_off_mm
    assert Lattice((50.0, 12.0), (7.0, -41.0)).farthest_off_mm == SHEARED.farthest_off_mm
    assert STRIPES.farthest_off_mm == 6.5


@pytest.mark.parametrize("lattice", [Lattice((50.0, 10.0), (0.0, 40.0)), Lattice((-30.0, 20.0), (10.0, 25.0))])
def test_the_spans_around_a_box_leave_no_place_in_it_out(lattice: Lattice) -> None:
    box, start = Box(12.0, -7.0, 130.0, 90.0), (5.0, 6.0)
    across, along = lattice.spans_around(start, box)
    for i in range(-20, 21):
        for k in range(-20, 21):
            x, y = lattice.point(i, k)
            inside = 12.0 <= start[0] + x <= 142.0 and -7.0 <= start[1] + y <= 83.0
            assert not inside or (i in across and k in along)


def test_the_spans_of_stripes_count_across_them_alone() -> None:
    assert Lattice((25.0, 0.0)).spans_around((5.0, 0.0), Box(0.0, 0.0, 100.0, 40.0)) == (range(-1, 5), range(1))
