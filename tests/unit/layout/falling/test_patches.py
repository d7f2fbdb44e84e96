"""All places where a print may fall: each place once, whole repeats aside, and halves that are the whole."""

from __future__ import annotations

import math
import random

import pytest

from coverlayout.layout.falling.patches import Patch, every_place
from coverlayout.motif.lattice import Lattice

LATTICES = [
    Lattice((64.0, 0.0), (0.0, 48.0)),
    Lattice((64.0, 48.0), (0.0, 96.0)),
    Lattice((64.0, 0.0), (21.0, 48.0)),
    Lattice((128.0, 48.0), (64.0, 48.0)),
    Lattice((50.0, 13.0), (-17.0, 81.0)),
]


@pytest.mark.parametrize("lattice", LATTICES)
def test_every_place_is_there_once(lattice: Lattice) -> None:
    whole = every_place(lattice)
    (ax, ay), (bx, by) = whole.side_mm, whole.other_side_mm
    assert abs(ax * by - ay * bx) == pytest.approx(lattice.cell_area_mm2)
    dice = random.Random(3)
    for _ in range(200):
        one, other = (whole.at(dice.random(), dice.random()) for _ in range(2))
        if math.dist(one, other) > 0.01:
            assert lattice.off_mm((one[0] - other[0], one[1] - other[1])) > 1e-6
    # Any place lies in the patch after some whole repeats: in the patch's own coordinates, both 0 to 1.
    for _ in range(50):
        place = dice.uniform(-300, 300), dice.uniform(-300, 300)
        times = range(-14, 15)
        repeats = (lattice.reduced().point(i, k) for i in times for k in times)
        moved = ((place[0] + x, place[1] + y) for x, y in repeats)
        inside = [
            (u, v)
            for x, y in moved
            for u, v in [((x * by - y * bx) / (ax * by - ay * bx), (ax * y - ay * x) / (ax * by - ay * bx))]
            if -1e-9 <= u < 1 and -1e-9 <= v < 1
        ]
        assert len(inside) == 1


def test_straight_repeats_make_an_upright_patch_and_others_follow_their_vectors() -> None:
    assert every_place(LATTICES[2]).side_mm == (64.0, 0.0)
    assert every_place(LATTICES[2]).other_side_mm == (0.0, 48.0)
    sheared = every_place(LATTICES[4])
    assert {sheared.side_mm, sheared.other_side_mm} == {(50.0, 13.0), (-17.0, 81.0)}
    assert every_place(Lattice((12.0, 5.0))) == Patch((0.0, 0.0), (12.0, 5.0))


def test_halves_share_the_patch_and_are_cut_across_its_longer_side() -> None:
    patch = Patch((3.0, 4.0), (10.0, 2.0), (-5.0, 40.0), share=0.5)
    first, second = patch.halves()
    assert first.share + second.share == 0.5
    assert (first.other_side_mm, second.corner_mm) == ((-2.5, 20.0), (0.5, 24.0))
    assert patch.middle_mm == (5.5, 25.0)
    assert patch.middle_mm == patch.at(0.5, 0.5)
    assert patch.reach_mm == (7.5, 21.0)
    for half in (first, second):
        for corner in (half.at(0, 0), half.at(1, 0), half.at(0, 1), half.at(1, 1)):
            assert abs(corner[0] - half.middle_mm[0]) <= half.reach_mm[0] + 1e-9
            assert abs(corner[1] - half.middle_mm[1]) <= half.reach_mm[1] + 1e-9
    assert Patch((0.0, 0.0), (12.0, 0.0)).halves()[1] == Patch((6.0, 0.0), (6.0, 0.0), share=0.5)
