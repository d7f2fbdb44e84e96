"""Small pictures to choose a structure by: each there, each unlike the others, nothing in them but the book."""

from __future__ import annotations

import pytest
from drawn_books import STRUCTURES

from coverlayout.book.book import Structure
from coverlayout.book.picturing.small import structure_picture
from coverlayout.errors import BadInput


@pytest.mark.parametrize("structure", STRUCTURES)
def test_each_structure_has_one_without_words_or_waves(structure: Structure) -> None:
    picture = structure_picture(structure)
    assert picture.measures == ()
    assert picture.words == ()
    assert not picture.roles & {"break", "wave"}
    assert "cloth" in picture.roles
    assert 0.5 < picture.box.width_mm / picture.box.height_mm < 3.5


def test_no_two_are_alike() -> None:
    assert len({structure_picture(structure).shapes for structure in STRUCTURES}) == len(STRUCTURES)


def test_nothing_in_them_is_shortened() -> None:
    # The page is 30 mm wide and its square at the fore-edge 2 mm.
    boards = [shape for shape in structure_picture("separate-boards").shapes if shape.role == "board"]
    xs = [x for x, _y in boards[0].points_mm]
    assert max(xs) - min(xs) == pytest.approx(32.0)


def test_a_half_case_shows_its_corners_and_a_quarter_case_none() -> None:
    assert "corner" in structure_picture("half-case").roles
    assert "corner" not in structure_picture("quarter-case").roles
    assert "side" in structure_picture("quarter-case").roles


def test_a_list_of_parts_has_none() -> None:
    with pytest.raises(BadInput):
        structure_picture("parts")
