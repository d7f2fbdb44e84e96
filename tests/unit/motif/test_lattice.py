"""Lattices with no right angle, against arithmetic written here."""

from __future__ import annotations

import math

import pytest
from samples import SHEARED

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import scale, turn
from coverlayout.motif.lattice import Lattice

STRIPES = Lattice((30.0, 40.0))


def test_a_sheared_cell_has_the_area_of_its_determinant() -> None:
    assert SHEARED.cell_area_mm2 == pytest.approx(50 * 81 + 13 * 17)


def test_a_vector_is_told_in_repeats_and_back() -> None:
    assert SHEARED.point(3, -2) == (3 * 50 + 2 * 17, 3 * 13 - 2 * 81)
    assert SHEARED.coordinates((3 * 50 + 2 * 17.0, 3 * 13 - 2 * 81.0)) == pytest.approx((3.0, -2.0))
    assert STRIPES.coordinates((60.0, 80.0)) == (2.0, 0.0)
    assert STRIPES.point(2, 5) == (60.0, 80.0)


def test_the_place_in_the_repeat_lies_in_the_first_cell() -> None:
    place = SHEARED.place_in_repeat((10.0 + 50 * 4 + 17, 20.0 + 13 * 4 - 81))
    assert place == pytest.approx((10.0, 20.0))


def test_the_same_lattice_under_another_basis_is_the_same() -> None:
    other = Lattice(SHEARED.point(2, 1), SHEARED.point(1, 1))
    assert other.same_as(SHEARED)
    assert other.reduced().cell_area_mm2 == pytest.approx(SHEARED.cell_area_mm2)
    assert math.hypot(*other.reduced().a_mm) == pytest.approx(math.hypot(50, 13))
    assert not Lattice(SHEARED.point(2, 0), SHEARED.point(0, 1)).same_as(SHEARED)
    assert not STRIPES.same_as(SHEARED)
    assert STRIPES.same_as(Lattice((-30.0, -40.0)))
    assert STRIPES.reduced() is STRIPES


def test_how_far_a_vector_is_off() -> None:
    assert SHEARED.off_mm((50 - 17 + 3.0, 13 + 81 - 4.0)) == pytest.approx(5.0)
    # Along a stripe nothing is off; across them the step is 50: (0, 40) lies 32 of 50 along (3, 4) / 5.
    assert STRIPES.off_mm((40.0, -30.0)) == pytest.approx(0.0)
    assert STRIPES.off_mm((0.0, 40.0)) == pytest.approx(50.0 - 32.0)


def test_no_place_is_farther_off_than_the_farthest() -> None:
    assert STRIPES.farthest_off_mm == pytest.approx(25.0)
    steps = range(60)
    worst = max(SHEARED.off_mm(SHEARED.point(i / 60, k / 60)) for i in steps for k in steps)
    assert worst <= SHEARED.farthest_off_mm
    assert worst == pytest.approx(SHEARED.farthest_off_mm, abs=1.0)
    obtuse = Lattice((50.0, 0.0), (-20.0, 60.0))
    assert obtuse.farthest_off_mm == pytest.approx(Lattice((50.0, 0.0), (20.0, 60.0)).farthest_off_mm)


def test_a_lattice_is_turned_and_stretched_with_its_print() -> None:
    assert SHEARED.mapped(turn(90)) == Lattice((-13.0, 50.0), (-81.0, -17.0))
    assert SHEARED.mapped(scale(2.0, 1.0)).cell_area_mm2 == pytest.approx(2 * SHEARED.cell_area_mm2)
    assert STRIPES.mapped(turn(180)).b_mm is None


@pytest.mark.parametrize(
    ("a", "b", "code"),
    [
        ((math.nan, 0.0), (0.0, 1.0), "repeat-not-finite"),
        ((math.inf, 0.0), (0.0, 1.0), "repeat-not-finite"),
        ((0.0, 0.0), (0.0, 1.0), "repeat-too-small"),
        ((64.0, 48.0), (128.0, 96.0), "repeat-one-direction"),
        ((64.0, 48.0), (-64.0, -48.0), "repeat-one-direction"),
    ],
)
def test_vectors_that_make_no_repeat_are_refused(a: tuple[float, float], b: tuple[float, float], code: str) -> None:
    with pytest.raises(BadInput) as fault:
        Lattice(a, b).checked(where="--vectors")
    assert fault.value.code == code
    assert str(fault.value).startswith("--vectors")


def test_good_vectors_pass() -> None:
    assert SHEARED.checked(where="--vectors") is SHEARED
    assert STRIPES.checked(where="--vectors") is STRIPES
