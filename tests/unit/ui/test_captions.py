"""Captions over cloths: the size as it is now, rounded down; and whether the print's place is known."""

from __future__ import annotations

from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.painting.captions import caption_of
from coverlayout.units import LengthStyle


def test_a_cloth_is_never_shown_larger_than_it_is() -> None:
    foot = Cloth("c", "Swatch", 304.8, 304.8)
    assert caption_of(foot, LengthStyle()) == "Swatch, 304.5 × 304.5 mm"
    assert caption_of(foot, LengthStyle("in", inch_parts=16)) == "Swatch, 12 × 12 in"
    # 304.8 mm less 3 % is 295.656, less 1.5 % 300.228.
    washed = Cloth("c", "Swatch", 304.8, 304.8, changes=(Change("washing", -3.0, -1.5),))
    assert caption_of(washed, LengthStyle()) == "Swatch, 295.5 × 300.0 mm"


def test_a_print_that_may_fall_anywhere_is_said() -> None:
    bought = Cloth("c", "Fat quarter", 558.8, 457.2, laid=LaidPrint("p", origin_known=False))
    assert caption_of(bought, LengthStyle()).endswith(": where the print falls is not known yet")
