"""Cheap proofs: a piece that fits nowhere, area, side by side; each just holds and just does not, by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.bounds import captives, refuted
from coverlayout.layout.question import ClothAsked, Ground, Placed, Question
from coverlayout.layout.search.sheets import rectangular_job

DIAMOND = ((100.0, 0.0), (200.0, 100.0), (100.0, 200.0), (0.0, 100.0))


def proof_of(question: Question) -> Proof | None:
    return refuted(question, rectangular_job(question))


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    return dict(proof.figures)


def test_a_piece_longer_than_the_cloth_fits_nowhere() -> None:
    question = Question((piece("strip", 100.03, 20),), (cloth(100, 50),))
    proof = proof_of(question)
    assert proof is not None
    assert proof.name == "fits nowhere"
    size = {"width_mm": pytest.approx(100.03), "height_mm": 20.0}
    assert figures(proof) == {"piece": "strip", **size, "ground_width_mm": 100.0, "ground_height_mm": 50.0}
    # Within the tolerances it might.
    assert proof_of(Question((piece("strip", 100.015, 20),), (cloth(100, 50),))) is None
    assert proof_of(Question((piece("strip", 40, 60, (0.0, 90.0)),), (cloth(100, 50),))) is None


def test_a_piece_fits_nowhere_between_flaws() -> None:
    bars = flaw(rectangle(4, 100, 30, 0)), flaw(rectangle(4, 100, 66, 0))
    question = Question((piece("a", 40, 40),), (cloth(100, 100, keep_outs=bars),))
    assert figures(proof_of(question))["piece"] == "a"
    assert proof_of(replace(question, pieces=(piece("a", 32, 40),))) is None
    seen = tuple(replace(bar, seen_only=True) for bar in bars)
    seen_part = piece("a", 40, 40, seen=rectangle(30, 30, 5, 5))
    assert proof_of(Question((seen_part,), (cloth(100, 100, keep_outs=seen),))) is None
    assert proof_of(Question((piece("a", 40, 40),), (cloth(100, 100, keep_outs=seen),))) is not None


def test_a_piece_fits_nowhere_on_slanted_ground_or_beside_cut_pieces() -> None:
    on = cloth(0, 0, outline=DIAMOND)
    # The largest upright square in the diamond has half its width.
    assert proof_of(Question((piece("a", 100, 100),), (on,))) is None
    assert figures(proof_of(Question((piece("a", 101, 101),), (on,))))["piece"] == "a"
    cut = (piece("cut-1", 60, 100), Placed("cut-1", "c", 50.0, 50.0))
    assert proof_of(Question((piece("a", 21, 50),), (cloth(100, 100, fixed=(cut,)),))) is not None
    assert proof_of(Question((piece("a", 20, 50),), (cloth(100, 100, fixed=(cut,)),))) is None


def test_a_piece_of_any_angle_is_never_said_to_fit_nowhere_by_its_box() -> None:
    assert proof_of(Question((piece("strip", 130, 10, None),), (cloth(100, 100),))) is None


def test_a_piece_without_ground_of_its_print_fits_nowhere() -> None:
    proof = proof_of(Question((piece("a", 10, 10, print_id="waves"),), (cloth(100, 100, print_id="seeds"),)))
    assert figures(proof)["ground_width_mm"] == 0.0


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
    assert refuted(roomy, None) is None
    cut = (piece("cut-1", 20, 80), Placed("cut-1", "c", 10.0, 40.0))
    assert refuted(replace(roomy, cloths=(replace(on, fixed=(cut,)),)), None) is not None
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


def test_three_covers_side_by_side() -> None:
    # Each two of them are higher together than the cloth is long: 433 mm are needed across.
    covers = tuple(piece(f"cover-{k}", 144.3, 182.4) for k in range(3))
    proof = proof_of(Question(covers, (cloth(419, 304.8),)))
    assert proof is not None
    assert proof.name == "side by side"
    expected = {"pieces": "cover-0, cover-1, cover-2", "count": 3.0, "have_mm": 419.0, "way": "across"}
    assert {name: value for name, value in figures(proof).items() if name != "need_mm"} == expected
    assert figures(proof)["need_mm"] == pytest.approx(432.9)
    assert proof_of(Question(covers, (cloth(432.9, 304.8),))) is None
    assert proof_of(Question(covers, (cloth(419, 364.8),))) is None
    turned = tuple(piece(f"cover-{k}", 182.4, 144.3) for k in range(3))
    assert figures(proof_of(Question(turned, (cloth(304.8, 419),))))["way"] == "along"


def test_a_gap_counts_between_pieces_side_by_side() -> None:
    pair = (piece("a", 50, 60), piece("b", 45, 60))
    assert proof_of(Question(pair, (cloth(96, 100),), gap_mm=1.0)) is None
    proof = proof_of(Question(pair, (cloth(96, 100),), gap_mm=1.1))
    assert figures(proof)["need_mm"] == pytest.approx(96.1)
    # Above each other but for the gap they may stand corner to corner: no proof.
    assert proof_of(Question(pair, (cloth(96, 121),), gap_mm=2.0)) is None


def test_a_piece_that_may_turn_counts_with_its_smaller_sides() -> None:
    assert proof_of(Question(book_pieces(), (cloth(304.8, 304.8),))) is None
    assert proof_of(Question(book_pieces(1, (0.0,)), (cloth(304.8, 304.8),))) is not None


def test_captives_are_the_pieces_of_one_sheet_only() -> None:
    cloths = (cloth(100, 100, name="c1"), cloth(100, 100, name="c2"))
    pieces = (replace(piece("a", 10, 10), cloth_ids=("c2",)), piece("b", 10, 10, ANY))
    job = rectangular_job(Question(pieces, cloths))
    assert job is not None
    assert [(number, [item.id for item in items]) for number, items in captives(job)] == [(1, ["a"])]
