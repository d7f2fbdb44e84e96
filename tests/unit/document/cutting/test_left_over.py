"""The free rectangles of a project's cloths, against arithmetic written here."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.document.cutting.left_over import LeftOver, cloths_laid, left_on, left_over
from coverlayout.document.project import CutPiece, JobRules, Layout, Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

SWATCH = Cloth("cloth-1", "Swatch", 300.0, 200.0)
POCKET = OwnPiece("own-1", "pocket", 100.0, 80.0, count=2)
HERONS = Print("print-1", "Herons", Lattice((50.0, 0.0), (0.0, 60.0)))
# The anchor of an own piece is the middle of its box: this one lies in the cloth's top-left corner.
CORNER = Placed("pocket-1", "cloth-1", 50.0, 40.0)


def project(*placed: Placed, **more: object) -> Project:
    layout = Layout("layout-1", "Layout 1", placed)
    plain = Project(cloths=(SWATCH,), own_pieces=(POCKET,), layouts=(layout,))
    return replace(plain, **more)  # type: ignore[arg-type]  # tests give fields by name


def sizes(found: tuple[LeftOver, ...]) -> list[tuple[float, float]]:
    return [(round(one.rectangle.width_mm, 2), round(one.rectangle.height_mm, 2)) for one in found]


def test_an_empty_cloth_is_left_whole() -> None:
    (left,) = left_over(project())
    assert sizes((left,)) == [(300.0, 200.0)]
    assert (left.cloth_id, left.ground_id, left.print_id, left.up_deg) == ("cloth-1", "cloth-1", None, 0.0)
    assert left.rectangle.middle_mm == (150.0, 100.0)


def test_the_gap_is_kept_from_pieces_and_not_from_the_edge() -> None:
    """A piece of 100 x 80 in the corner with a gap of 5: right of it 195 x 200, below it 105 x 115."""
    assert sizes(left_over(project(CORNER, rules=JobRules(gap_mm=5.0)))) == [(195.0, 200.0), (105.0, 115.0)]


def test_pieces_that_wait_or_lie_nowhere_take_nothing() -> None:
    beside = Placed("pocket-2", "cloth-1", 900.0, 40.0)
    assert sizes(left_over(project(beside))) == [(300.0, 200.0)]


def test_a_piece_turned_a_quarter_takes_its_turned_ground() -> None:
    """80 wide and 100 high, its middle at 40, 50: right of it 220 x 200, below it 80 x 100."""
    assert sizes(left_over(project(Placed("pocket-1", "cloth-1", 40.0, 50.0, 90.0)))) == [(220.0, 200.0), (80.0, 100.0)]


def test_flaws_are_avoided_even_those_that_are_fine_where_hidden() -> None:
    flaw = Flaw("flaw-1", "tea", rectangle(20.0, 200.0, 100.0), fine_where_hidden=True)
    found = left_over(project(cloths=(replace(SWATCH, flaws=(flaw,)),), rules=JobRules(gap_mm=5.0)))
    assert sizes(found) == [(180.0, 200.0), (100.0, 200.0)]


def test_what_is_cut_stays_taken_and_a_spoiled_hole_keeps_the_gap() -> None:
    cut = CutPiece("pocket-1", "pocket", "cut", rectangle(100.0, 80.0), (50.0, 40.0), CORNER)
    found = left_over(project(cut_pieces=(cut,)))
    assert sizes(found) == [(200.0, 200.0), (100.0, 120.0)]
    spoiled = replace(cut, state="spoiled")
    found = left_over(project(cut_pieces=(spoiled,), rules=JobRules(gap_mm=5.0)))
    assert sizes(found) == [(195.0, 200.0), (105.0, 115.0)]


def test_trim_and_selvedge_are_no_ground() -> None:
    cloth = replace(SWATCH, trim_mm=5.0, selvedge_left_mm=15.0)
    assert sizes(left_over(project(cloths=(cloth,)))) == [(280.0, 190.0)]


def test_one_rectangle_lies_on_one_print() -> None:
    """Two zones side by side with prints of their own: 120 and 180 wide; of one print lying alike they join."""
    left = Zone("zone-1", "left", rectangle(120.0, 200.0), LaidPrint("print-1"))
    right = Zone("zone-2", "right", rectangle(180.0, 200.0, 120.0), LaidPrint("print-1", origin_mm=(7.0, 3.0)))
    apart = project(cloths=(replace(SWATCH, zones=(left, right)),), prints=(HERONS,))
    found = left_over(apart)
    assert sizes(found) == [(180.0, 200.0), (120.0, 200.0)]
    assert [(one.ground_id, one.print_id) for one in found] == [("zone-2", "print-1"), ("zone-1", "print-1")]
    alike = replace(right, laid=left.laid)
    joined = project(cloths=(replace(SWATCH, zones=(left, alike)),), prints=(HERONS,))
    assert sizes(left_over(joined)) == [(300.0, 200.0)]


def test_the_sides_run_along_a_print_that_lies_crooked() -> None:
    """Cloth and print turned by 3 degrees together: all of it is left, along the print."""
    cloth = replace(SWATCH, outline_mm=turn(3.0).ring(rectangle(300.0, 200.0)), laid=LaidPrint("print-1", turn_deg=3.0))
    (left, *_rest) = left_over(project(cloths=(cloth,), prints=(HERONS,)))
    assert sizes((left,)) == [(300.0, 200.0)]
    assert (left.rectangle.turn_deg, left.up_deg) == (3.0, 3.0)


def test_a_print_that_lies_sideways_leaves_upright_rectangles() -> None:
    cloth = replace(SWATCH, laid=LaidPrint("print-1", turn_deg=92.0))
    (left, *_rest) = left_over(project(cloths=(cloth,), prints=(HERONS,)))
    assert (left.rectangle.turn_deg, left.up_deg) == (2.0, 92.0)


def test_the_largest_of_all_cloths_come_first_and_no_more_than_asked_for() -> None:
    other = Cloth("cloth-2", "Leftover", 250.0, 100.0)
    two = project(CORNER, cloths=(SWATCH, other))
    assert [(one.cloth_id, size) for one, size in zip(left_over(two), sizes(left_over(two)), strict=True)] == [
        ("cloth-1", (200.0, 200.0)),
        ("cloth-2", (250.0, 100.0)),
        ("cloth-1", (100.0, 120.0)),
    ]
    assert len(left_over(two, most=1)) == 1


def test_one_cloth_at_a_time_is_remembered_whatever_lies_on_the_others() -> None:
    two = project(CORNER, cloths=(SWATCH, Cloth("cloth-2", "Leftover", 250.0, 100.0)))
    moved = two.with_layout(replace(two.layout, placements=(replace(CORNER, x_mm=60.0),)))
    (first, second), (first_moved, second_moved) = cloths_laid(two), cloths_laid(moved)
    assert second == second_moved
    assert first != first_moved
    assert left_on(second) is left_on(second_moved)


def test_no_cloth_nothing_left_and_a_book_that_cannot_be_is_refused() -> None:
    assert left_over(Project()) == ()
    with pytest.raises(BadInput):
        left_over(project(own_pieces=(POCKET, replace(POCKET, id="own-2"))))
