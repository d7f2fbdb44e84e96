"""A print that may have fallen anywhere in a window: its origin as a piece, against sums and the judge."""

from __future__ import annotations

from dataclasses import replace

import pytest
from wishing import printed_cloth

from coverlayout.geometry.frames import shift, turn
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.falling.patches import Window
from coverlayout.layout.falling.prints import falling_prints, with_origin
from coverlayout.layout.falling.somewhere import fallen, somewhere
from coverlayout.layout.question import Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

LATTICE = Lattice((40.0, 0.0), (0.0, 60.0))
CLOTH = printed_cloth(300.0, 200.0, LATTICE, origin_mm=(7.0, 3.0), known=False)
PIECES = tuple(PieceAsked(name, rectangle(30.0, 20.0), (5.0, 5.0), print_id="birds") for name in "abc")
JOB = Question(PIECES, (CLOTH,), locks=(Lock("a", (1.0, 2.0), (11.0, 13.0)), Lock("b", (0.0, 0.0), (30.0, 30.0))))
WINDOW = Window((10.0, 20.0), (16.0, 40.0))


def asked(question: Question = JOB) -> Question | None:
    return somewhere(question, falling_prints(question)[0], WINDOW)


def test_the_origin_lies_on_the_window_and_carries_the_locks_along() -> None:
    question = asked()
    assert question is not None
    assert question.locks == ()
    assert len(question.pieces) == 4
    origin = question.pieces[-1].id
    there = question.cloths[-1]
    box = there.grounds[0].usable.bounds
    assert (box.middle[0], box.middle[1]) == (pytest.approx(13.0), pytest.approx(30.0))
    # The print fell at (12, 25) from where it is laid: origin at (19, 28). a's point (1, 2), 4 and 3 before its anchor,
    # sits at (30, 41), two repeats across on; b's corner, 5 and 5 before its own, at (49, 58), three repeats on.
    placed = (
        Placed("a", "c", 30.0 + 4.0 + 80.0, 41.0 + 3.0),
        Placed("b", "c", 49.0 + 5.0 + 120.0, 58.0 + 5.0),
        Placed("c", "c", 250.0, 150.0),
        Placed(origin, there.id, 12.0, 25.0),
    )
    assert Judge(question).report(placed).breaches == ()
    moved = (*placed[:3], replace(placed[3], x_mm=12.3))
    assert {breach.rule for breach in Judge(question).report(moved).breaches} == {"link"}
    outside = (*placed[:3], replace(placed[3], y_mm=45.0))
    assert "outside" in {breach.rule for breach in Judge(question).report(outside).breaches}
    shift_mm, rest = fallen(placed)
    assert (shift_mm, rest) == ((12.0, 25.0), placed[:3])
    assert Judge(with_origin(JOB, falling_prints(JOB)[0], shift_mm)).report(rest).breaches == ()


def test_pieces_that_lie_turned_on_a_turned_and_stretched_print_hold_the_same_places() -> None:
    to_cloth = replace(turn(0.0), xx=1.25).then(turn(90.0)).then(shift(150.0, 20.0))
    ground = replace(CLOTH.grounds[0], up_deg=90.0, print_to_cloth=to_cloth, lattice_mm=LATTICE.mapped(to_cloth))
    pieces = tuple(replace(piece, turns_deg=(180.0,)) for piece in PIECES)
    job = replace(JOB, pieces=pieces, cloths=(replace(CLOTH, grounds=(ground,)),), locks=JOB.locks[:1])
    question = asked(job)
    assert question is not None
    # a lies at 270; the print's (11, 13) is at (150 - 13, 20 + 1.25 x 11); fallen (12, 25) further, (149, 58.75). From
    # its point (1, 2) to the anchor (5, 5) it is (4, 3), turned (3, -4).
    a = Placed("a", "c", 152.0, 54.75, 270.0)
    origin = Placed(question.pieces[-1].id, question.cloths[-1].id, 12.0, 25.0, 270.0)
    links = list(Judge(question).report((a, origin)).breaches)
    assert links == []
    off = Judge(question).report((replace(a, y_mm=55.25), origin)).breaches
    assert [(breach.rule, breach.amount_mm) for breach in off] == [("link", pytest.approx(0.5))]


def test_it_is_not_asked_where_it_would_not_be_the_same() -> None:
    turning = replace(JOB, pieces=tuple(replace(piece, turns_deg=(0.0, 180.0)) for piece in PIECES))
    assert asked(turning) is None
    assert asked(replace(JOB, pieces=tuple(replace(piece, turns_deg=None) for piece in PIECES))) is None
    unlike = replace(PIECES[1], turns_deg=(90.0,))
    assert asked(replace(JOB, pieces=(PIECES[0], unlike, PIECES[2]))) is None
    hand = printed_cloth(300.0, 200.0, LATTICE, name="hand")
    assert asked(replace(JOB, cloths=(CLOTH, hand))) is None
    link = Link(("b", "c"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    tied = tuple(replace(piece, cloth_ids=("c",)) for piece in PIECES[:2])
    roaming = replace(JOB, pieces=(*tied, PIECES[2]), cloths=(CLOTH, hand), links=(link,))
    assert asked(roaming) is None
    assert asked(replace(roaming, links=())) is not None
    assert asked(replace(JOB, locks=(), links=(link,), cloths=(CLOTH, hand))) is None
