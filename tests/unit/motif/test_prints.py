"""How a print lies on the cloth: stretch, skew, turn and origin, in that order."""

from __future__ import annotations

import pytest

from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, PictureRef, Print


def test_a_print_lies_plainly_unless_told_otherwise():
    assert LaidPrint("p").print_to_cloth().at((30.0, 7.0)) == (30.0, 7.0)


def test_stretch_then_skew_then_turn_then_origin():
    laid = LaidPrint(
        "p", (100.0, 20.0), 90.0, stretch_across_percent=10.0, stretch_along_percent=-5.0, skew_percent=2.0
    )
    # (30, 40) -> stretched (33, 38) -> skewed down by 2 % of 33: (33, 38.66) -> a quarter clockwise (-38.66, 33).
    assert laid.print_to_cloth().at((30.0, 40.0)) == pytest.approx((100.0 - 38.66, 20.0 + 33.0))


def test_a_print_is_a_value():
    picture = PictureRef("ab", "png", "wave.png", 10, 20)
    first = Print("p", "wave", Lattice((5.0, 0.0), (0.0, 10.0)), picture=picture)
    assert first == Print("p", "wave", Lattice((5.0, 0.0), (0.0, 10.0)), picture=picture)
    assert len({first, first}) == 1
    assert first.up == "one-way"
