"""How far a print may move under a layout, side by side with sums, and what the judge says of all of it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import printed_cloth

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.falling.patches import Window
from coverlayout.layout.falling.sweeping import holds_in, window_of
from coverlayout.layout.question import KeepOut, Lock, PieceAsked, Placed, Question
from coverlayout.motif.lattice import Lattice

LATTICE = Lattice((100.0, 0.0), (0.0, 100.0))
PIECES = (
    PieceAsked("a", rectangle(40.0, 30.0), (0.0, 0.0), print_id="birds", seen_mm=rectangle(30.0, 20.0, 5.0, 5.0)),
    PieceAsked("b", rectangle(20.0, 60.0), (0.0, 0.0), print_id="birds"),
)
CLOTH = printed_cloth(200.0, 150.0, LATTICE)
# a is locked to (60, 50), 40 from b on its right, 60 from the left edge, 50 from the top, 70 from the bottom.
JOB = Question(PIECES, (CLOTH,), locks=(Lock("a", (0.0, 0.0), (60.0, 50.0)),))
PLACED = (Placed("a", "c", 60.0, 50.0), Placed("b", "c", 140.0, 20.0))
MOVING = frozenset("a")


def sides(question: Question = JOB, placed: tuple[Placed, ...] = PLACED) -> tuple[float, float, float, float]:
    window = window_of(question, placed, MOVING, (7.0, 9.0))
    return 7.0 - window.low_mm[0], window.high_mm[0] - 7.0, 9.0 - window.low_mm[1], window.high_mm[1] - 9.0


def near(*lengths_mm: float) -> object:
    return pytest.approx(lengths_mm, abs=0.005)


def test_each_side_is_free_up_to_the_edge_or_the_neighbour() -> None:
    assert sides() == near(60, 40, 50, 70)
    assert sides(replace(JOB, gap_mm=3.0)) == near(60, 37, 50, 70)


def test_what_stays_bars_the_side_with_most_room() -> None:
    # b lies 5 right of a and 10 below it: it bars the way down, and to the right the edge does, 100 away.
    moved = (PLACED[0], Placed("b", "c", 105.0, 90.0))
    assert sides(JOB, moved) == near(60, 100, 50, 10)


def test_flaws_holes_and_cut_pieces_bar_too() -> None:
    stain = KeepOut("stain", "stain", Region.of(rectangle(10.0, 10.0, 20.0, 60.0)))
    hidden = replace(stain, seen_only=True)
    hole = replace(stain, spoiled=True)
    cut = (PieceAsked("old", rectangle(10.0, 10.0), (0.0, 0.0)), Placed("old", "c", 20.0, 60.0))
    for keep_outs, fixed, left in (
        ((stain,), (), 30.0),
        ((hidden,), (), 35.0),
        ((hole,), (), 28.0),
        ((), (cut,), 28.0),
    ):
        on = replace(CLOTH, keep_outs=keep_outs, fixed=fixed)
        assert sides(replace(JOB, cloths=(on,), gap_mm=2.0)) == near(left, 38, 50, 70)


def test_nothing_is_promised_of_ground_that_is_no_rectangle() -> None:
    notched = CLOTH.grounds[0].usable.minus(Region.of(rectangle(5.0, 5.0)))
    on = replace(CLOTH, grounds=(replace(CLOTH.grounds[0], usable=notched),))
    assert sides(replace(JOB, cloths=(on,))) == (0.0, 0.0, 0.0, 0.0)
    off = (Placed("a", "c", 190.0, 50.0), PLACED[1])
    assert window_of(JOB, off, MOVING, (0.0, 0.0)) == Window((0.0, 0.0), (0.0, 0.0))


def test_the_judge_agrees_up_to_the_window_and_not_beyond() -> None:
    assert holds_in(JOB, PLACED, MOVING, (39.99, 49.99))
    assert not holds_in(JOB, PLACED, MOVING, (40.1, 10.0)), "b is in the way"
    assert not holds_in(JOB, PLACED, MOVING, (10.0, 50.1)), "the edge is"
    assert holds_in(JOB, PLACED, frozenset("ab"), (39.99, 19.99)), "both move together"
    assert not holds_in(JOB, PLACED, frozenset("ab"), (10.0, 20.1))
    assert not holds_in(JOB, (replace(PLACED[0], x_mm=61.0), PLACED[1]), MOVING, (1.0, 1.0)), "out of its place"
    assert not holds_in(JOB, PLACED[:1], MOVING, (1.0, 1.0)), "b waits"
