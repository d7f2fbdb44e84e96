"""Second looks at every kind of no: right proofs hold, and none of a job that can be laid."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, cloth, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Proof, ProofName
from coverlayout.layout.proofs import rechecking
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.proofs.rechecking import holds
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort
from coverlayout.motif.lattice import Lattice

DIAMOND = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))


def printed(width: float, length: float, lattice: Lattice | None = None, name: str = "g") -> ClothAsked:
    ring = rectangle(width, length)
    return ClothAsked("c", "c", ring, (Ground(name, Region.of(ring), "A", 0.0, lattice, shift(3.0, 8.0)),))


def some(count: int, width: float, height: float, turns: tuple[float, ...] = (0.0,)) -> tuple[PieceAsked, ...]:
    return tuple(piece(f"p{k}", width, height, turns) for k in range(count))


def two_cloths(width: float, length: float) -> tuple[ClothAsked, ...]:
    return cloth(width, length, name="c1"), cloth(width, length, name="c2")


SQUARE = Lattice((48.0, 0.0), (0.0, 48.0))
PAIR = piece("a", 40, 60), piece("b", 30, 50)
TIED = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
TURNED = PAIR[0], replace(PAIR[1], turns_deg=(90.0,))
LOCKS = Lock("a", (0.0, 0.0), (10.0, 0.0)), Lock("b", (0.0, 0.0), (17.0, 0.0))
CREASE = flaw(rectangle(8, 100, 50, 0))

# Each job with one that can be laid and looks almost like it.
REFUSED = {
    "too long": (
        Question((piece("a", 101, 20),), (cloth(100, 50),)),
        Question((piece("a", 99, 20),), (cloth(100, 50),)),
    ),
    "in a diamond": (
        Question((piece("a", 101, 101),), (cloth(0, 0, outline=DIAMOND),)),
        Question((piece("a", 99, 99),), (cloth(0, 0, outline=DIAMOND),)),
    ),
    "at any angle": (
        Question((piece("a", 117, 5, None),), (cloth(100, 60),)),
        Question((piece("a", 99, 5, None),), (cloth(100, 60),)),
    ),
    "no ground": (
        Question((piece("a", 9, 9, print_id="B"),), (printed(100, 60),)),
        Question((piece("a", 9, 9),), (printed(100, 60),)),
    ),
    "no repeat": (
        Question(PAIR, (printed(200, 200),), locks=LOCKS[:1]),
        Question(PAIR, (printed(200, 200, SQUARE),), locks=LOCKS[:1]),
    ),
    "no repeat for a link": (
        Question(PAIR, (printed(200, 200),), links=(TIED,)),
        Question(PAIR, (printed(200, 200, SQUARE),), links=(TIED,)),
    ),
    "no turn in common": (
        Question(TURNED, (printed(200, 200, SQUARE),), links=(TIED,)),
        Question(PAIR, (printed(200, 200, SQUARE),), links=(TIED,)),
    ),
    "two locks": (
        Question(PAIR, (printed(200, 200, SQUARE),), locks=(LOCKS[0], replace(LOCKS[1], piece="a"))),
        Question(PAIR, (printed(200, 200, SQUARE),), locks=LOCKS),
    ),
    "locks and a link": (
        Question(PAIR, (printed(200, 200, SQUARE),), locks=LOCKS, links=(TIED,)),
        Question(PAIR, (printed(200, 200, SQUARE),), locks=LOCKS[:1], links=(TIED,)),
    ),
    "two links": (
        Question(PAIR, (printed(200, 200, SQUARE),), links=(TIED, replace(TIED, differences_mm=((7.0, 0.0),)))),
        Question(PAIR, (printed(200, 200, SQUARE),), links=(TIED,)),
    ),
    "a lock off the cloth": (
        Question((piece("a", 60, 60),), (printed(70, 70, SQUARE),), locks=(Lock("a", (0.0, 0.0), (20.0, 0.0)),)),
        Question((piece("a", 60, 60),), (printed(70, 70, SQUARE),), locks=(Lock("a", (0.0, 0.0), (5.0, 0.0)),)),
    ),
    "area": (Question(some(5, 50, 41, (0.0, 45.0)), (cloth(100, 100),)), Question(some(4, 50, 41), (cloth(100, 100),))),
    "area with a gap": (
        Question(some(4, 49, 49), (cloth(98, 98),), gap_mm=3.0),
        Question(some(4, 47, 47), (cloth(98, 98),), gap_mm=3.0),
    ),
    "a row": (
        Question(some(3, 144.3, 182.4), (cloth(419, 304.8),)),
        Question(some(3, 139, 182.4), (cloth(419, 304.8),)),
    ),
    "a row turning": (
        Question(some(2, 60, 70, ANY), (cloth(100, 119.5),)),
        Question(some(2, 60, 70, ANY), (cloth(100, 120.5),)),
    ),
    "rows on two cloths": (
        Question(some(5, 40, 60), two_cloths(110, 100)),
        Question(some(4, 40, 60), two_cloths(110, 100)),
    ),
    "a pair": (
        Question((piece("a", 60, 70), piece("b", 51, 70)), (cloth(120, 100, keep_outs=(CREASE,)),)),
        Question((piece("a", 60, 70), piece("b", 49, 70)), (cloth(120, 100, keep_outs=(CREASE,)),)),
    ),
    "one on a cloth": (
        Question((*some(2, 60, 70, ANY), piece("q", 45, 45)), two_cloths(100, 100)),
        Question((*some(2, 60, 70, ANY), piece("q", 39, 29)), two_cloths(100, 100)),
    ),
    "a linked pair": (
        Question((piece("a", 45, 45), piece("b", 45, 45)), (printed(92, 60, SQUARE),), links=(TIED,)),
        Question((piece("a", 45, 45), piece("b", 45, 45)), (printed(94, 60, SQUARE),), links=(TIED,)),
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_second_look_agrees_with_a_right_no_alone(name: str) -> None:
    refused, laid = REFUSED[name]
    proof = refuted(refused)
    assert proof is not None
    assert holds(refused, proof), proof
    assert refuted(laid) is None
    assert not holds(laid, proof)


def test_slices_by_their_weights() -> None:
    question = Question(book_pieces(3), (cloth(22 * INCH, 18 * INCH),))
    proof = too_long_in_slices(relaxed(question), Effort(10_000))
    assert proof is not None
    assert holds(question, proof)
    assert not holds(question, replace(proof, certificate=()))
    assert not holds(replace(question, pieces=book_pieces(2)), proof)


def test_exhaustive_for_a_few_rectangles() -> None:
    upright = Question(book_pieces(1, (0.0,)), (cloth(304.8, 304.8),))
    proof = Proof("exhaustive", (("pieces", 4.0),))
    assert holds(upright, proof)
    assert not holds(replace(upright, pieces=book_pieces()), proof)


def test_cut_pieces_take_area() -> None:
    cut = (piece("cut-1", 20, 80), Placed("cut-1", "c", 10.0, 40.0))
    question = Question(some(2, 60, 58, (0.0, 45.0)), (cloth(90, 80, fixed=(cut,)),))
    proof = refuted(question)
    assert proof is not None
    assert (proof.name, holds(question, proof)) == ("area", True)
    assert not holds(replace(question, cloths=(cloth(90, 80),)), proof)


@pytest.mark.parametrize("name", ["fits nowhere", "side by side"])
def test_names_that_are_not_there_prove_nothing(name: ProofName) -> None:
    question = Question(some(2, 60, 70), (cloth(100, 100),))
    figures = ("pieces", "x, y"), ("wish", "pair")
    assert not holds(question, Proof(name, figures))
    assert not holds(question, Proof("side by side", (*figures, ("way", "across"))))


def test_a_row_with_too_many_choices_of_turns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rechecking, "_MOST_CHOICES", 4)
    crowd = tuple(piece(f"p{k}", 60, 70 + k, ANY) for k in range(9))
    question = Question(crowd, (cloth(500, 119),))
    names = ", ".join(one.id for one in crowd)
    assert holds(question, Proof("side by side", (("pieces", names), ("way", "across"))))
    assert not holds(
        replace(question, cloths=(cloth(500, 141),)), Proof("side by side", (("pieces", names), ("way", "across")))
    )
