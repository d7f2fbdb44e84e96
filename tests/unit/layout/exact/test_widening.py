"""The most room of one arrangement against optima worked out by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from laying import ANY, clearance_of, cloth, core, flaw, piece
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.exact.apart import Needs, apart_of
from coverlayout.layout.exact.job import ExactJob, exact_job
from coverlayout.layout.exact.steps import steps_of
from coverlayout.layout.exact.tables import Tables, tables_of
from coverlayout.layout.exact.widening import widened
from coverlayout.layout.question import Link, Lock, Placed, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def made(question: Question, bends: tuple[float, ...] | None = None) -> tuple[ExactJob, Tables]:
    job = exact_job(question, 14)
    assert job is not None
    steps, _ = steps_of(job)
    needs = Needs.of(question.gap_mm, 0.0, 0.01)
    return job, tables_of(job, apart_of(job, bends), steps, needs, 0.01)


def wide(
    question: Question, *places: Point, seats: tuple[int, ...] | None = None, most_mm: float = 1e3
) -> tuple[float, list[Placed]]:
    job, tables = made(question)
    layout = Layout(seats or (0,) * len(places), np.array(places, dtype=np.float64))
    found = widened(tables, layout, question.gap_mm, most_mm)
    assert found is not None
    pieces = zip(question.pieces, job.seats, found[1].seats, found[1].places.tolist(), strict=True)
    return found[0], [own[seat].placed(asked.id, (x, y)) for asked, own, seat, (x, y) in pieces]


def test_a_piece_alone_comes_into_the_middle() -> None:
    room_mm, (placed,) = wide(Question((piece("a", 40, 20, anchor=ZERO),), (cloth(100, 50),)), (0.0, 0.0))
    assert room_mm == pytest.approx(15.0, abs=1e-5)
    assert placed.y_mm == pytest.approx(15.0, abs=1e-5)
    assert 15.0 - 1e-5 <= placed.x_mm <= 45.0 + 1e-5


def test_the_core_case_has_four_point_seven() -> None:
    # 304.8 less 144.3, 108.3 and the next to it... two boards beside each other leave 16.2 for three rooms; beside the
    # liners of 146.4 and the boards of 144.3 the square leaves 304.8 - 146.4 - 144.3 = 14.1: three times 4.7.
    question = core(304.8)
    turned = [
        next(k for k, turn in enumerate(asked.turns_deg or ()) if turn in (0.0, 90.0)) for asked in question.pieces
    ]
    assert turned == [0, 0, 0, 0]
    places = (0.0, 0.0), (144.3, 0.0), (0.0, 182.4), (146.4, 182.4)
    room_mm, placed = wide(question, *places, seats=(0, 0, 1, 1))
    # As these lie, the length takes 182.4 and 108.3 of 304.8: 14.1 for three; the width 146.4 twice: 12 for three.
    assert room_mm == pytest.approx(4.0, abs=1e-5)
    assert clearance_of(question, placed) == pytest.approx(4.0, abs=1e-4)
    # One liner on each side turns the width into 144.3 + 146.4 and the length into 182.4 + 108.3.
    ring = (0.0, 0.0), (146.4, 108.3 + 1.0), (146.4, 0.0), (0.0, 182.4)
    room_mm, placed = wide(question, *ring, seats=(0, 0, 1, 1))
    assert room_mm == pytest.approx(4.7, abs=1e-5)
    assert clearance_of(question, placed) == pytest.approx(4.7, abs=1e-4)


def test_two_squares_corner_to_corner_have_the_hypotenuse() -> None:
    # 40 twice, 5 at both edges, 3 across and 4 along between the corners.
    question = Question((piece("a", 40, 40), piece("b", 40, 40)), (cloth(93, 94),))
    room_mm, placed = wide(question, (0.0, 0.0), (50.0, 50.0))
    assert room_mm == pytest.approx(5.0, abs=1e-4)
    assert clearance_of(question, placed) == pytest.approx(5.0, abs=1e-3)
    # The other way about as well.
    assert wide(question, (50.0, 0.0), (0.0, 50.0))[0] == pytest.approx(5.0, abs=1e-4)


def test_a_gap_must_be_kept_while_the_room_to_the_edge_is_less() -> None:
    question = Question((piece("a", 40, 40), piece("b", 40, 40)), (cloth(90, 42),), gap_mm=6.0)
    room_mm, placed = wide(question, (0.0, 0.0), (48.0, 0.0))
    assert room_mm == pytest.approx(1.0, abs=1e-5)
    assert placed[1].x_mm - placed[0].x_mm >= 46.0 - 1e-5
    # Without any gap all three shares are alike.
    assert wide(Question(question.pieces, (cloth(92, 60),)), (0.0, 0.0), (48.0, 0.0))[0] == pytest.approx(4.0, abs=1e-5)


def test_pieces_that_overlap_are_pushed_apart_or_refused() -> None:
    pieces = piece("a", 40, 40), piece("b", 40, 40)
    assert wide(Question(pieces, (cloth(90, 60),)), (0.0, 0.0), (39.0, 0.0))[0] == pytest.approx(10 / 3, abs=1e-5)
    _, tables = made(Question(pieces, (cloth(70, 60),)))
    assert widened(tables, Layout((0, 0), np.array([(0.0, 0.0), (39.0, 0.0)])), 0.0, 10.0) is None


def test_within_the_tolerance_a_job_a_little_too_tight_still_comes_true() -> None:
    pieces = piece("a", 40, 40), piece("b", 40, 40)
    room_mm, _ = wide(Question(pieces, (cloth(79.994, 40),)), (0.0, 0.0), (40.0, 0.0))
    assert -0.005 <= room_mm <= -0.0019
    _, tables = made(Question(pieces, (cloth(79.98, 40),)))
    assert widened(tables, Layout((0, 0), np.array([(0.0, 0.0), (40.0, 0.0)])), 0.0, 10.0) is None


def test_drawn_flaws_may_be_touched_and_holes_may_not() -> None:
    stain = flaw(rectangle(20, 60, 50, 0))
    question = Question((piece("a", 40, 20),), (cloth(100, 60, keep_outs=(stain,)),))
    # 50 wide left of the stain: the edge takes all of it.
    assert wide(question, (0.0, 0.0))[0] == pytest.approx(10.0, abs=1e-5)
    hole = flaw(rectangle(20, 60, 50, 0), spoiled=True)
    holed = Question((piece("a", 40, 20),), (cloth(100, 60, keep_outs=(hole,)),))
    assert wide(holed, (0.0, 0.0))[0] == pytest.approx(5.0, abs=1e-5)


def test_the_room_is_not_looked_for_beyond_what_is_asked() -> None:
    question = Question((piece("a", 40, 20),), (cloth(100, 50),))
    assert wide(question, (0.0, 0.0), most_mm=3.0)[0] == pytest.approx(3.0, abs=1e-5)
    assert wide(question, (0.0, 0.0), most_mm=-1.0)[0] == pytest.approx(0.0, abs=1e-5)


def test_a_locked_piece_stays_at_its_place_and_a_linked_one_a_repeat_from_it() -> None:
    pieces = piece("a", 40, 20, anchor=ZERO), piece("b", 30, 20, anchor=ZERO), piece("c", 10, 10, anchor=ZERO)
    link = Link(("a", "b"), (ZERO, ZERO), ((5.0, 0.0),))
    question = Question(
        pieces, (printed_cloth(160, 50, SQUARE, origin_mm=(12.0, 9.0)),), locks=(Lock("a", ZERO, ZERO),), links=(link,)
    )
    room_mm, placed = wide(question, (12.02, 9.01), (67.0, 9.0), (110.0, 9.0))
    assert (placed[0].x_mm, placed[0].y_mm) == pytest.approx((12.0, 9.0))
    assert (placed[1].x_mm, placed[1].y_mm) == pytest.approx((67.0, 9.0))
    # Over both there are 9 mm to the edge; the label has more.
    assert room_mm == pytest.approx(9.0, abs=1e-4)


@pytest.mark.parametrize("names", [("a", "b"), ("b", "a")])
def test_a_link_alone_keeps_the_whole_repeats_between_its_pieces(names: tuple[str, str]) -> None:
    pieces = piece("a", 40, 20, anchor=ZERO), piece("b", 30, 20, anchor=ZERO)
    link = Link(names, (ZERO, ZERO), ((0.0, 0.0),))
    question = Question(pieces, (printed_cloth(160, 60, SQUARE),), links=(link,))
    room_mm, placed = wide(question, (3.0, 2.0), (53.03, 2.0))
    assert placed[1].x_mm - placed[0].x_mm == pytest.approx(50.0)
    assert placed[1].y_mm == pytest.approx(placed[0].y_mm)
    # 10 between them is the least of 20 above and below and 80 to share left and right.
    assert room_mm == pytest.approx(10.0, abs=1e-4)


def test_plain_stripes_hold_only_one_way() -> None:
    question = Question(
        (piece("a", 40, 20, anchor=ZERO),),
        (printed_cloth(100, 60, Lattice((25.0, 0.0))),),
        locks=(Lock("a", ZERO, (7.0, 0.0)),),
    )
    room_mm, (placed,) = wide(question, (32.01, 0.0))
    assert placed.x_mm == pytest.approx(32.0)
    assert placed.y_mm == pytest.approx(20.0, abs=8.0 + 1e-4)
    assert room_mm == pytest.approx(20.0, abs=1e-4)


def test_a_bent_piece_and_a_slanted_one_share_the_room_along_the_slant() -> None:
    # A diamond of half-diagonal 20 over the foot of the L, right of its stem.
    diamond = ((0.0, 20.0), (20.0, 0.0), (40.0, 20.0), (20.0, 40.0))
    question = Question(
        (piece("ell", 0, 0, outline=L_SHAPE), piece("diamond", 0, 0, outline=diamond)), (cloth(90, 120),)
    )
    room_mm, placed = wide(question, (0.0, 0.0), (40.0, 20.0))
    assert clearance_of(question, placed) == pytest.approx(room_mm, abs=1e-3)
    # Across: 20 + 40 of 90 leave three rooms of 10; along, the L's foot is 35 below what the diamond needs.
    assert room_mm == pytest.approx(10.0, abs=1e-3)


def test_two_diamonds_lie_apart_along_their_slanted_sides() -> None:
    diamond = ((0.0, 20.0), (20.0, 0.0), (40.0, 20.0), (20.0, 40.0))
    pieces = piece("a", 0, 0, outline=diamond), piece("b", 0, 0, outline=diamond)
    side = 60.0
    question = Question(pieces, (cloth(side, side),))
    room_mm, placed = wide(question, (0.0, 0.0), (side - 40.0, side - 40.0))
    # With r to the edges the middles are sqrt 2 (20 - 2 r) apart, of which the two take sqrt 2 20 and r: so r is 0.
    # With 10 mm more, r (1 + 2 sqrt 2) = 10 sqrt 2.
    assert room_mm == pytest.approx(0.0, abs=1e-3)
    more = Question(pieces, (cloth(side + 10, side + 10),))
    expected = 10 * math.sqrt(2) / (1 + 2 * math.sqrt(2))
    room_mm, placed = wide(more, (0.0, 0.0), (side - 30.0, side - 30.0))
    assert room_mm == pytest.approx(expected, abs=1e-3)
    assert clearance_of(more, placed) == pytest.approx(expected, abs=1e-3)


def test_pieces_on_cloths_of_their_own_share_nothing() -> None:
    question = Question((piece("a", 40, 20, ANY), piece("b", 40, 20)), (cloth(60, 40), cloth(50, 30, name="d")))
    room_mm, placed = wide(question, (0.0, 0.0), (1060.0, 0.0), seats=(0, 1))
    assert [one.cloth for one in placed] == ["c", "d"]
    assert room_mm == pytest.approx(5.0, abs=1e-5)
