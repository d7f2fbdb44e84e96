"""A layout stretched as far as its order allows: figures worked out by hand, on shapes without symmetry."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.frames import Affine, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.sizing.stretching import largest_alike, most_room
from coverlayout.motif.lattice import Lattice


def row(*pieces: PieceAsked, on: ClothAsked, gap: float = 0.0, **more: object) -> Question:
    return Question(pieces, (on,), gap_mm=gap, **more)  # type: ignore[arg-type] # tests give fields by name


A, B = piece("a", 30.0, 50.0, anchor=(10.0, 5.0)), piece("b", 40.0, 20.0, ANY)
# a in the corner, b turned a quarter (20 wide, 40 high) right beside it.
SIDE_BY_SIDE = (Placed("a", "c", 10.0, 5.0), Placed("b", "c", 40.0, 20.0, 90.0))


def test_the_room_is_shared_between_edges_and_neighbours() -> None:
    question = row(A, B, on=cloth(80.0, 90.0))
    found = most_room(question, SIDE_BY_SIDE)
    assert found is not None
    # Across: 80 - 30 - 20 = 30 for three distances; along: 90 - 50 = 40 for two.
    assert found.amount_mm == pytest.approx(10.0)
    report = Judge(question).report(found.placed)
    assert report.breaches == ()
    assert report.clearance_mm == pytest.approx(10.0)
    assert [one.turn_deg for one in found.placed] == [0.0, 90.0]


def test_a_gap_asked_for_is_kept_where_room_is_less() -> None:
    question = row(A, B, on=cloth(80.0, 90.0), gap=16.0)
    found = most_room(question, (SIDE_BY_SIDE[0], Placed("b", "c", 60.0, 20.0, 90.0)))
    assert found is not None
    # 30 less the gap of 16 leaves 14 for both edges.
    assert found.amount_mm == pytest.approx(7.0)
    assert Judge(question).report(found.placed).breaches == ()


def test_holes_count_as_neighbours_and_flaws_only_stay_uncovered() -> None:
    hole = flaw(rectangle(10.0, 90.0, 70.0, 0.0), "hole", spoiled=True)
    stain = flaw(rectangle(4.0, 4.0, 31.0, 86.0))
    question = row(A, B, on=cloth(80.0, 90.0, keep_outs=(hole, stain)))
    found = most_room(question, SIDE_BY_SIDE)
    assert found is not None
    # Up to the hole 70 - 50 = 20 for three distances; the stain below b is 50 away.
    assert found.amount_mm == pytest.approx(20.0 / 3)
    assert Judge(question).report(found.placed).breaches == ()


def test_only_the_seen_part_keeps_clear_of_a_flaw_that_may_be_hidden() -> None:
    folded = piece("a", 30.0, 50.0, seen=rectangle(20.0, 50.0))
    crease = flaw(rectangle(5.0, 100.0, 30.0, 0.0), "crease", seen_only=True)
    question = row(folded, on=cloth(100.0, 60.0, keep_outs=(crease,)))
    found = most_room(question, (Placed("a", "c", 20.0, 25.0),))
    assert found is not None
    # The seen 20 may end where the crease begins, at 30: so 10 from the left, though 5 above and below are less.
    assert found.amount_mm == pytest.approx(5.0)
    report = Judge(question).report(found.placed)
    assert (report.breaches, report.clearance_mm) == ((), pytest.approx(5.0))


def test_pieces_that_stay_are_neighbours() -> None:
    stays = piece("s", 20.0, 90.0)
    on = cloth(80.0, 90.0, fixed=((stays, Placed("s", "c", 70.0, 45.0)),))
    found = most_room(row(A, on=on), (Placed("a", "c", 10.0, 5.0),))
    assert found is not None
    # 60 are left beside the piece that stays: 30 for two distances, and along 40.
    assert found.amount_mm == pytest.approx(15.0)


@pytest.mark.parametrize(
    ("question", "placed"),
    [
        (row(A, on=cloth(0, 0, outline=((0.0, 0.0), (90.0, 0.0), (80.0, 90.0), (0.0, 90.0)))), SIDE_BY_SIDE[:1]),
        (row(A, B, on=cloth(80.0, 90.0)), (SIDE_BY_SIDE[0], Placed("b", "c", 30.0, 20.0, 90.0))),
        (row(A, on=cloth(80.0, 90.0)), ()),
        (row(A, on=cloth(80.0, 90.0)), (Placed("a", "c", 75.0, 5.0),)),
    ],
    ids=["crooked ground", "boxes overlap", "nothing laid", "off the ground"],
)
def test_without_an_order_there_is_no_answer(question: Question, placed: tuple[Placed, ...]) -> None:
    assert most_room(question, placed) is None


def book_at(width_mm: float) -> Question:
    """Two covers 15 mm larger all round, one upright, one turned, on 200 x 400."""
    cover = (width_mm + 30.0, 1.5 * width_mm + 30.0)
    pieces = (piece("a", *cover), piece("b", *cover, ANY))
    return Question(pieces, (cloth(200.0, 400.0),))


def test_the_largest_size_of_an_order_is_exact() -> None:
    # At 60: 90 x 120 upright in the corner, below it 120 x 90.
    placed = (Placed("a", "c", 45.0, 60.0), Placed("b", "c", 60.0, 165.0, 90.0))
    found = largest_alike(book_at, 60.0, placed, 1000.0)
    assert found is not None
    # Below each other: (1.5 w + 30) + (w + 30) <= 400 gives 136; the turned one across: 1.5 w + 30 <= 200 gives 113.33.
    assert found.amount_mm == pytest.approx(340.0 / 3)
    assert Judge(book_at(found.amount_mm)).report(found.placed).breaches == ()
    held = largest_alike(book_at, 60.0, placed, 100.0)
    assert held is not None
    assert held.amount_mm == pytest.approx(100.0)


SHEARED = Lattice((37.0, 5.0), (-11.0, 53.0))


def printed(width_mm: float, length_mm: float, to_cloth: Affine) -> ClothAsked:
    ring = rectangle(width_mm, length_mm)
    return ClothAsked("c", "c", ring, (Ground("g", Region.of(ring), "A", 0.0, SHEARED, to_cloth),))


def locked_at(width_mm: float) -> Question:
    """One cover whose point 20, 20 from its corner is locked, so that it grows to the right and downward only."""
    cover = piece("a", width_mm, 2 * width_mm)
    lock = Lock("a", (20.0, 20.0), (25.0, 24.0))
    return Question((cover,), (printed(200.0, 300.0, shift(3.0, 4.0)),), locks=(lock,))


def test_a_locked_point_stays_in_its_place_as_the_piece_grows() -> None:
    # The point lies at 28, 28: so the corner at 8, 8, and 192 are left across, 292 along for twice the width.
    placed = (Placed("a", "c", 8.0 + 20.0, 8.0 + 40.0),)
    assert Judge(locked_at(40.0)).report(placed).breaches == ()
    found = largest_alike(locked_at, 40.0, placed, 1000.0)
    assert found is not None
    assert found.amount_mm == pytest.approx(146.0)
    assert Judge(locked_at(found.amount_mm)).report(found.placed).breaches == ()
    # Room cannot move it either: 8 at the left and above are all there is.
    room = most_room(locked_at(40.0), placed)
    assert room is not None
    assert room.amount_mm == pytest.approx(8.0)


def run_on_at(width_mm: float) -> Question:
    """Front and back whose middles are as far apart on the book as a board is wide, and 10 mm of spine."""
    pieces = tuple(piece(name, width_mm, 60.0) for name in ("front", "back"))
    link = Link(("front", "back"), tuple(one.anchor_mm for one in pieces), ((-(width_mm + 10.0), 0.0),))
    return Question(pieces, (printed(300.0, 200.0, shift(0.0, 0.0)),), links=(link,))


def test_what_runs_on_comes_apart_as_the_boards_grow() -> None:
    # The back lies right of the front by 7 repeats less the way on the book: 7 x (37, 5) - (50, 0) at a width of 40.
    front = Placed("front", "c", 40.0, 40.0)
    back = Placed("back", "c", 40.0 + 7 * 37.0 - 50.0, 40.0 + 35.0)
    question = run_on_at(40.0)
    assert Judge(question).report((front, back)).breaches == ()
    found = largest_alike(run_on_at, 40.0, (front, back), 1000.0)
    assert found is not None
    # From middle to middle 259 - (w + 10); with half a board at either end: 249 - w + w <= 300 holds for every width,
    # so the boards meet first: 249 - w >= w.
    assert found.amount_mm == pytest.approx(124.5)
    assert Judge(run_on_at(found.amount_mm)).report(found.placed).breaches == ()


def test_wishes_of_pieces_not_laid_are_no_hindrance() -> None:
    question = replace(run_on_at(40.0), locks=(Lock("back", (0.0, 0.0), (0.0, 0.0)),))
    alone = most_room(question, (Placed("front", "c", 40.0, 40.0),))
    assert alone is not None
    assert alone.amount_mm == pytest.approx(70.0)
