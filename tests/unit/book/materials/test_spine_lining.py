"""The lining of a spine: which books have one, how wide over a flat and a round back."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Structure
from coverlayout.book.materials.spine_lining import spine_lining, spine_lining_kind

CASE = Book("b", "Ledger", "flat-case", block_mm=(100.0, 150.0, 24.0))


def test_a_case_has_a_strip_as_wide_as_the_block_is_thick() -> None:
    lining = spine_lining(CASE, CASE.volumes[0])
    assert lining is not None
    assert (lining.name, lining.material, lining.width_mm, lining.height_mm) == ("spine lining", "lining", 24.0, 150.0)
    assert (lining.grain, lining.count, lining.volumes, lining.note) == ("head to tail", 1, (1,), "")


def test_a_tube_is_three_times_as_wide_and_says_how_it_is_folded() -> None:
    tube = replace(CASE, spine_lining="hollow tube")
    lining = spine_lining(tube, tube.volumes[0])
    assert lining is not None
    assert (lining.name, lining.width_mm, lining.note) == ("hollow tube", pytest.approx(72.0), "cut-hollow-tube")


def test_a_round_spine_is_lined_along_its_arc() -> None:
    """A third of a circle over 24 mm: radius 24 / sqrt 3, arc two thirds of pi times that."""
    rounded = replace(CASE, structure="rounded-case")
    lining = spine_lining(rounded, rounded.volumes[0])
    assert lining is not None
    assert lining.width_mm == pytest.approx(2 / 3 * math.pi * 24 / math.sqrt(3))


def test_a_measured_round_spine_is_lined_as_measured() -> None:
    rounded = replace(CASE, structure="rounded-case", spine_width_mm=28.1)
    lining = spine_lining(rounded, rounded.volumes[0])
    assert lining is not None
    assert lining.width_mm == pytest.approx(28.1, abs=1e-6)


def test_a_lining_may_be_left_out() -> None:
    without = replace(CASE, spine_lining="none")
    assert spine_lining(without, without.volumes[0]) is None


@pytest.mark.parametrize("structure", ["separate-boards", "exposed-spine-wrap", "limp-wrap", "side-sewn", "accordion"])
def test_other_spines_stay_without(structure: Structure) -> None:
    book = replace(CASE, structure=structure, spine_lining="strip")
    assert spine_lining_kind(book) == "none"
    assert spine_lining(book, book.volumes[0]) is None
