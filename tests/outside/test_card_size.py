"""The card that true size is matched with, against the published size of bank and identity cards."""

import pytest

from coverlayout.ui.dialogs.card import CARD_CORNER_MM, CARD_MM


def test_the_card_is_that_of_the_standard() -> None:
    """ISO/IEC 7810, size ID-1: 85.60 x 53.98 mm, corners of 2.88 to 3.48 mm (as an encyclopedia's article has it)."""
    assert CARD_MM == (85.60, 53.98)
    assert 2.88 <= CARD_CORNER_MM <= 3.48


def test_the_card_is_not_its_size_in_inches() -> None:
    """The standard's inches, 3.370 x 2.125, are rounded: 85.598 x 53.975 mm. The millimetres count."""
    assert CARD_MM[0] - 3.370 * 25.4 == pytest.approx(0.002, abs=1e-9)
    assert CARD_MM[1] - 2.125 * 25.4 == pytest.approx(0.005, abs=1e-9)


def test_a_card_428_pixels_long_makes_five_pixels_a_millimetre() -> None:
    assert 428 / CARD_MM[0] == pytest.approx(5.0, abs=1e-9)
