"""Which layout is tidier: fewer cut lines, straight through, a large offcut, near the top left."""

from __future__ import annotations

from coverlayout.geometry.shapes import Box
from coverlayout.layout.search.filling import Filled, Seat
from coverlayout.layout.search.sheets import Pose, RectangularJob, Sheet
from coverlayout.layout.search.tidy import untidiness

JOB = RectangularJob(
    (Sheet("c", "g", Box(0.0, 0.0, 100.0, 100.0), ()), Sheet("d", "h", Box(0, 0, 50, 50), ())), (), 0.0
)


def lies(*boxes: tuple[float, float, float, float], sheet: int = 0) -> Filled:
    return tuple(Seat(sheet, Pose(0.0, w, h, (0.0, 0.0), Box(0, 0, w, h)), x, y) for x, y, w, h in boxes)


def test_cut_lines_are_counted_once_and_edges_of_the_cloth_not() -> None:
    # Two of one height side by side at the top left: two lines down, one across; all run through but the first down.
    row = lies((0, 0, 30, 40), (30, 0, 30, 40))
    assert untidiness(JOB, row)[0] == 3
    # Shifted by a millimetre there is one line more across, and it runs through the other piece.
    assert untidiness(JOB, lies((0, 0, 30, 40), (30, 1, 30, 40)))[0] > untidiness(JOB, row)[0]


def test_lines_that_would_run_through_a_piece_count_twice() -> None:
    stairs = lies((0, 0, 50, 50), (50, 0, 50, 40))
    level = lies((0, 0, 50, 50), (50, 0, 50, 50))
    assert untidiness(JOB, level)[0] == 2
    # Lines at 50 down, 50 and 40 across; the one at 40 would cut the left piece.
    assert untidiness(JOB, stairs)[0] == 4


def test_the_larger_offcut_wins_among_equals() -> None:
    at_edge, in_middle = lies((0, 0, 20, 100)), lies((40, 0, 20, 100))
    assert untidiness(JOB, at_edge)[1] == -8000.0
    assert untidiness(JOB, at_edge) < untidiness(JOB, in_middle)


def test_sheets_without_a_piece_do_not_count() -> None:
    assert untidiness(JOB, lies((0, 0, 50, 50), sheet=1)) == (0.0, 0.0, 0.0)
    assert untidiness(JOB, lies((10, 5, 10, 10), sheet=1))[2] == 15.0
