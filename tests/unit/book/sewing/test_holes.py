"""Holes in boards: one square below the station, at their distance from the spine edge, mirrored outside."""

from dataclasses import replace
from typing import Literal

import pytest

from coverlayout.book.book import Book, Sewing, Structure
from coverlayout.book.sewing.holes import Hole, HoleBoard, hole_from_spine_mm, holes, on_outside_mm
from coverlayout.errors import BadInput

SEWING = Sewing("own", own_mm=(20.0, 131.0), hole_from_spine_mm=8.0)
LEDGER = Book("b", "Ledger", page_mm=(100.0, 150.0), square_mm=3.0, sewing=SEWING)
BLOCK = replace(LEDGER, page_mm=None, block_mm=(100.0, 150.0, 12.0))


def test_both_boards_carry_the_stations_one_square_lower() -> None:
    assert holes(LEDGER, LEDGER.volumes[0]) == (
        Hole("front", 8.0, 23.0),
        Hole("front", 8.0, 134.0),
        Hole("back", 8.0, 23.0),
        Hole("back", 8.0, 134.0),
    )


def test_the_square_at_the_tail_moves_no_hole() -> None:
    longer = replace(LEDGER, tail_square_mm=9.0)
    assert holes(longer, longer.volumes[0]) == holes(LEDGER, LEDGER.volumes[0])


@pytest.mark.parametrize("structure", ["exposed-spine-wrap", "side-sewn"])
def test_other_boards_that_are_sewn_through(structure: Structure) -> None:
    book = replace(BLOCK, structure=structure)
    assert holes(book, book.volumes[0]) == holes(LEDGER, LEDGER.volumes[0])


def test_a_limp_wrap_is_pierced_in_the_middle_of_its_spine() -> None:
    limp = replace(BLOCK, structure="limp-wrap")
    assert holes(limp, limp.volumes[0]) == (Hole("spine", 6.0, 23.0), Hole("spine", 6.0, 134.0))


@pytest.mark.parametrize(
    "structure", ["flat-case", "rounded-case", "quarter-case", "half-case", "accordion", "slipcase"]
)
def test_boards_that_are_glued_on_have_no_holes(structure: Structure) -> None:
    book = replace(BLOCK, structure=structure)
    assert holes(book, book.volumes[0]) == ()


def test_the_distance_from_the_spine_is_the_rules_or_the_makers_within_its_range() -> None:
    assert hole_from_spine_mm(replace(LEDGER, sewing=Sewing())) == 6.5
    assert hole_from_spine_mm(LEDGER) == 8.0
    wrong = replace(LEDGER, sewing=replace(SEWING, hole_from_spine_mm=-2.0))
    with pytest.raises(BadInput, match="hole from spine -2 mm: it must be from 0 mm to 200 mm"):
        holes(wrong, wrong.volumes[0])


@pytest.mark.parametrize(
    ("board", "opens", "x_mm"),
    [("front", "left", 8.0), ("back", "left", 95.0), ("front", "right", 95.0), ("back", "right", 8.0)],
)
def test_seen_from_outside_front_and_back_are_mirror_images(
    board: HoleBoard, opens: Literal["left", "right"], x_mm: float
) -> None:
    """A board 103 wide: its hole lies 8 from one edge and 95 from the other."""
    hole = Hole(board, 8.0, 23.0)
    assert on_outside_mm(hole, 103.0, opens) == (x_mm, 23.0)


def test_a_hole_of_the_spine_stays_where_it_is() -> None:
    assert on_outside_mm(Hole("spine", 6.0, 23.0), 12.0, "right") == (6.0, 23.0)
