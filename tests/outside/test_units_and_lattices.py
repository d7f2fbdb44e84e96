"""Units and lattices against published figures; each check names its source."""

from __future__ import annotations

import math

import pytest

from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.motif.lattice import Lattice
from coverlayout.units import LengthStyle, parse_length


def half_drop(width: float, height: float) -> Lattice:
    return Lattice((width, height / 2), (0.0, height))


def brick(width: float, height: float) -> Lattice:
    return Lattice((width, 0.0), (width / 2, height))


def test_the_yard_and_the_inch_are_those_of_1959() -> None:
    # International yard and pound agreement, Federal Register notice of 30 June 1959: 1 yd = 0.9144 m exactly.
    assert parse_length("1 yd") == 914.4
    assert parse_length("1 in") == 25.4
    assert parse_length("36 in") == parse_length("1 yd")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1/32", 0.79375),
        ("1/16", 1.5875),
        ("1/8", 3.175),
        ("3/16", 4.7625),
        ("1/4", 6.35),
        ("3/8", 9.525),
        ("1/2", 12.7),
        ("5/8", 15.875),
        ("3/4", 19.05),
        ("1 1/4", 31.75),
    ],
)
def test_fractions_of_an_inch_are_exact(text: str, mm: float) -> None:
    # Exact arithmetic from 1 in = 25.4 mm.
    assert parse_length(f"{text} in") == mm
    assert LengthStyle("in", inch_parts=32).show(mm) == f"{text} in"


def test_the_nearest_sixteenth() -> None:
    # Exact units: 144.5 mm = 5.68898 in, 216 mm = 8.50394 in; rounding errs by at most 1/32 in = 0.79375 mm.
    style = LengthStyle("in", inch_parts=16)
    assert style.show(144.5) == "5 11/16 in"
    assert style.show(216.0) == "8 1/2 in"
    assert all(abs(style.rounded_mm(tenth / 10) - tenth / 10) <= 0.79375 + 1e-9 for tenth in range(3000))


def test_the_area_of_a_cell_is_the_determinant() -> None:
    # Crystallography: the cell's area is |det(a, b)|; half-drop (120, 40), (0, 80) has 9600, as has its half-brick.
    assert half_drop(120.0, 80.0).cell_area_mm2 == 9600.0
    assert brick(240.0, 40.0).cell_area_mm2 == 9600.0
    assert Lattice((120.0, 0.0)).cell_area_mm2 == math.inf


def test_a_half_drop_is_a_brick_of_twice_the_width_and_half_the_height() -> None:
    # Integer change of basis with determinant 1 or -1, plane crystallography.
    assert half_drop(120.0, 80.0).same_as(brick(240.0, 40.0))
    assert not half_drop(120.0, 80.0).same_as(brick(120.0, 80.0))
    up = Lattice((120.0, -40.0), (0.0, 80.0))
    assert half_drop(120.0, 80.0).same_as(up), "dropping up or down is the same lattice"


def test_the_box_of_two_half_drops_holds_two_cells() -> None:
    lattice = half_drop(120.0, 80.0)
    inside = {
        point
        for i in range(-3, 4)
        for k in range(-3, 4)
        if 0 <= (point := lattice.point(i, k))[0] < 240 and 0 <= point[1] < 80
    }
    assert len(inside) == 2
    assert rectangle(240.0, 80.0)[2] == (240.0, 80.0)
    assert 2 * lattice.cell_area_mm2 == 240.0 * 80.0


@pytest.mark.parametrize(("height", "same"), [(50.0, False), (100.0, False), (150.0, False), (200.0, True)])
def test_a_half_drop_survives_a_quarter_turn_only_when_twice_as_high(height: float, same: bool) -> None:
    # Half-drop 100 wide: a square lattice only at H = 2 W.
    lattice = half_drop(100.0, height)
    assert lattice.same_as(lattice.mapped(turn(90.0))) is same


def test_a_straight_repeat_survives_a_quarter_turn_only_when_square() -> None:
    assert Lattice((64.0, 0.0), (0.0, 64.0)).same_as(Lattice((64.0, 0.0), (0.0, 64.0)).mapped(turn(90.0)))
    assert not Lattice((64.0, 0.0), (0.0, 96.0)).same_as(Lattice((64.0, 0.0), (0.0, 96.0)).mapped(turn(90.0)))


def test_a_hexagonal_half_drop_survives_a_sixth_of_a_turn() -> None:
    # W = H sqrt(3) / 2 makes both vectors H long.
    lattice = half_drop(80.0 * math.sqrt(3) / 2, 80.0)
    assert math.hypot(*lattice.a_mm) == pytest.approx(80.0)
    assert lattice.same_as(lattice.mapped(turn(60.0)))
    assert not lattice.same_as(lattice.mapped(turn(30.0)))


def test_two_pieces_look_alike_when_they_differ_by_whole_repeats() -> None:
    # The place in the repeat is the place less i a + k b.
    lattice = half_drop(120.0, 80.0)
    first = (33.0, 21.0)
    alike = (33.0 + 2 * 120.0, 21.0 + 2 * 40.0 - 3 * 80.0)
    assert lattice.place_in_repeat(first) == pytest.approx(lattice.place_in_repeat(alike))
    assert lattice.off_mm((alike[0] - first[0], alike[1] - first[1])) == pytest.approx(0.0, abs=1e-9)
    assert lattice.off_mm((120.0, 0.0)) == pytest.approx(40.0), "half a repeat off: not alike"


def test_no_place_is_farther_off_a_lattice_than_its_triangles_circle() -> None:
    # Plane geometry: the point farthest from all lattice points is the circumcentre of the lattice's acute triangle.
    sheared, stripes = Lattice((50.0, 13.0), (-17.0, 81.0)), Lattice((30.0, 40.0))
    assert stripes.farthest_off_mm == 25.0
    worst = max(sheared.off_mm(sheared.point(i / 60, k / 60)) for i in range(60) for k in range(60))
    assert sheared.farthest_off_mm - 1.0 < worst <= sheared.farthest_off_mm
    obtuse, acute = Lattice((50.0, 0.0), (-20.0, 60.0)), Lattice((50.0, 0.0), (20.0, 60.0))
    assert obtuse.farthest_off_mm == pytest.approx(acute.farthest_off_mm)
