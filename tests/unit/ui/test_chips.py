"""Distances as chips: rounded down, on the line they measure, beside it when it is too short."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication

from coverlayout.geometry.frames import IDENTITY, Affine, cloth_to_back, scale
from coverlayout.layout.rules import Distance
from coverlayout.ui.painting.chips import Chip, chips_of
from coverlayout.units import LengthStyle


@pytest.fixture(autouse=True)
def fonts(qapp: QApplication) -> QApplication:
    """Figures are measured in the interface font."""
    return qapp


def one(distance: Distance, to_screen: Affine = IDENTITY) -> Chip:
    (chip,) = chips_of([distance], to_screen, LengthStyle())
    return chip


def test_a_room_is_never_shown_larger_than_it_is() -> None:
    assert one(Distance("left", (100.0, 50.0), (90.3, 50.0), 9.7)).text == "9.5"


def test_the_figure_stands_on_its_line() -> None:
    left, top, width, height = one(Distance("above", (50.0, 200.0), (50.0, 20.0), 180.0)).box
    assert left + width / 2 == 50.0
    assert top + height / 2 == 110.0


def test_on_a_short_line_the_figure_stands_beside() -> None:
    _, top, _, height = one(Distance("left", (50.0, 100.0), (44.0, 100.0), 6.0)).box
    assert top + height < 100.0
    left, *_ = one(Distance("below", (50.0, 100.0), (50.0, 106.0), 6.0)).box
    assert left > 50.0


def test_seen_from_the_back_the_line_is_mirrored() -> None:
    seen = one(Distance("left", (100.0, 50.0), (40.0, 50.0), 60.0), cloth_to_back(300.0).then(scale(2.0)))
    assert (seen.from_px, seen.to_px) == ((400.0, 100.0), (520.0, 100.0))


def test_the_least_is_marked_and_drawn_once() -> None:
    right = Distance("right", (100.0, 50.0), (110.0, 50.0), 10.0)
    above = Distance("above", (100.0, 50.0), (100.0, 10.0), 40.0)
    nearest = Distance("nearest", (100.0, 60.0), (110.0, 60.0), 10.0)
    chips = chips_of([right, above, nearest], IDENTITY, LengthStyle())
    assert [(chip.text, chip.least) for chip in chips] == [("10.0", True), ("40.0", False)]


def test_a_slanted_least_distance_has_a_line_of_its_own() -> None:
    above = Distance("edge-above", (100.0, 50.0), (100.0, 10.0), 40.0)
    nearest = Distance("nearest", (100.0, 60.0), (103.0, 64.0), 5.0)
    chips = chips_of([above, nearest], IDENTITY, LengthStyle("in", inch_parts=16))
    assert [(chip.text, chip.least) for chip in chips] == [("1 9/16", False), ("3/16", True)]
    line, figure = chips[1].areas()
    assert line.contains(103.0, 64.0)
    assert figure.width() > 20.0


def test_a_flaw_nearer_than_the_room_is_not_marked_as_the_room() -> None:
    flaw = Distance("left", (100.0, 50.0), (97.0, 50.0), 3.0, "Stain")
    right = Distance("right", (150.0, 50.0), (158.0, 50.0), 8.0, "back-1")
    nearest = Distance("nearest", (150.0, 50.0), (158.0, 50.0), 8.0, "back-1")
    chips = chips_of([flaw, right, nearest], IDENTITY, LengthStyle())
    assert [(chip.text, chip.least) for chip in chips] == [("3.0", False), ("8.0", True)]


def test_nothing_moves_nothing_is_shown() -> None:
    assert chips_of([], IDENTITY, LengthStyle()) == ()
