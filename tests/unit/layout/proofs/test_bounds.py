"""Cheap proofs in their order, and area: each just holds and just does not, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import cloth, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.sheets import rectangular_job
from coverlayout.motif.lattice import Lattice

DIAMOND = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))


def proof_of(question: Question) -> Proof | None:
    return refuted(question, rectangular_job(question))


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    return dict(proof.figures)


def test_more_area_than_there_is() -> None:
    pieces = tuple(piece(f"p{k}", 50, 50) for k in range(4))
    assert proof_of(Question(pieces, (cloth(100, 100),))) is None
    crowd = (*pieces, piece("q", 4, 4))
    proof = proof_of(Question(crowd, (cloth(100, 100),)))
    assert proof is not None
    assert proof.name == "area"
    assert figures(proof) == {"pieces": "p0, p1, p2, p3, q", "need_mm2": 10016.0, "have_mm2": pytest.approx(10000.0)}


def test_area_is_counted_less_flaws_and_cut_pieces_and_per_print() -> None:
    pieces = (piece("a", 60, 60, print_id="p"), piece("b", 55, 60, print_id="p"), piece("d", 10, 10))
    left, right = Region.of(rectangle(90, 80)), Region.of(rectangle(200, 80, 90, 0))
    on = ClothAsked("c", "c", rectangle(290, 80), (Ground("g1", left, "p"), Ground("g2", right, "q")))
    roomy = Question(pieces, (on,))
    crowded = replace(roomy, pieces=(piece("a", 60, 80, print_id="p"), piece("b", 31, 80, print_id="p")))
    areas = {"need_mm2": 60 * 80 + 31 * 80, "have_mm2": pytest.approx(7200.0)}
    assert figures(refuted(crowded, None)) == {"pieces": "a, b", **areas}
    # As far as area goes, there is room; but not side by side.
    assert refuted(roomy, None) != refuted(crowded, None)
    assert figures(refuted(roomy, None))["need_mm"] == 115.0
    cut = (piece("cut-1", 20, 80), Placed("cut-1", "c", 10.0, 40.0))
    assert "need_mm2" in figures(refuted(replace(roomy, cloths=(replace(on, fixed=(cut,)),)), None))
    seen = flaw(rectangle(20, 80), seen_only=True)
    assert refuted(replace(roomy, pieces=pieces[:1], cloths=(replace(on, keep_outs=(seen,)),)), None) is None


def test_the_gap_takes_area_too() -> None:
    pieces = tuple(piece(f"p{k}", 49, 49) for k in range(4))
    # Grown by 1.5 mm all round: 49 x 49 + 4 x 49 x 1.5 + pi x 1.5^2 each, on 103 x 103 mm.
    grown = 4 * (49 * 49 + 4 * 49 * 1.5 + math.pi * 1.5**2)
    assert grown > 101 * 101
    proof = proof_of(Question(pieces, (cloth(98, 98),), gap_mm=3.0))
    assert proof is not None
    assert proof.name == "area"
    assert figures(proof)["need_mm2"] == pytest.approx(grown, rel=1e-3)


def test_the_cheapest_proof_speaks_first() -> None:
    names = [
        proof.name if (proof := proof_of(question)) else None
        for question in (
            Question((piece("a", 120, 20), piece("b", 90, 90)), (cloth(100, 100),)),
            Question((piece("a", 90, 90), piece("b", 50, 50)), (cloth(100, 100),)),
            Question(tuple(piece(f"p{k}", 40, 51) for k in range(3)), (cloth(100, 100),)),
            Question(tuple(piece(f"p{k}", 60, 60, (0.0, 45.0)) for k in range(2)), (cloth(100, 100),)),
        )
    ]
    assert names == ["fits nowhere", "area", "side by side", None]


def test_wishes_that_quarrel_are_told_before_anything_else() -> None:
    locks = tuple(Lock("a", (0.0, 0.0), (place, 0.0)) for place in (0.0, 10.0))
    ground = Ground("g", Region.of(rectangle(50, 50)), "A", 0.0, Lattice((30.0, 0.0), (0.0, 30.0)), shift(0.0, 0.0))
    on = (ClothAsked("c", "c", rectangle(50, 50), (ground,)),)
    proof = refuted(Question((piece("a", 120, 20),), on, locks=locks))
    assert figures(proof)["wish"] == "two locks"


def test_linked_pieces_and_pairs_are_looked_at() -> None:
    ground = Ground("g", Region.of(rectangle(100, 100)), "A", 0.0, Lattice((30.0, 0.0), (0.0, 30.0)), shift(0.0, 0.0))
    on = (ClothAsked("c", "c", rectangle(100, 100), (ground,)),)
    pair = piece("a", 40, 40), piece("b", 40, 40)
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    assert refuted(Question(pair, on)) is None
    assert refuted(Question(pair, on, links=(link,))) is None
    wider = piece("a", 45, 45), piece("b", 45, 45)
    assert figures(refuted(Question(wider, on, links=(link,))))["wish"] == "link"
    crease = (flaw(rectangle(8, 100, 50, 0)),)
    split = Question((piece("a", 60, 70), piece("b", 51, 70)), (cloth(120, 100, keep_outs=crease),))
    assert figures(refuted(split))["wish"] == "pair"


def test_thousands_of_pieces_can_be_interrupted() -> None:
    looks: list[int] = []
    pieces = tuple(piece(f"p{k}", 20, 20) for k in range(3000))
    assert refuted(Question(pieces, (cloth(2000, 2000),)), look=lambda: looks.append(1)) is None
    # Once a piece at least in each of the proofs that go over all of them.
    assert len(looks) >= 3 * len(pieces)

    def stop() -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        refuted(Question(pieces, (cloth(2000, 2000),)), look=stop)
