"""The second look at a slice bound: it agrees with right weights, and with none that were tampered with."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, cloth, piece

from coverlayout.layout.answer import LineWeights
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.question import PieceAsked, Question
from coverlayout.layout.rechecks import weights
from coverlayout.layout.rechecks.weights import weights_refuse
from coverlayout.layout.search.effort import Effort

STRIPS = tuple(piece(f"strip-{k}", 40, 30) for k in range(5))
NAMES = tuple(strip.id for strip in STRIPS)


def own(way: str = "across", weight: int = 1, sheets: tuple[tuple[str, str], ...] = (("c", "c-all"),)) -> LineWeights:
    """Every strip weighs as much."""
    return LineWeights(
        sheets, (way,) * len(sheets), ((NAMES, tuple((n, 40.0, 30.0, weight) for n in range(len(sheets)))),)
    )


def strips(width: float, length: float, gap: float = 0.0) -> Question:
    return Question(STRIPS, (cloth(width, length),), gap_mm=gap)


def test_two_to_a_line() -> None:
    # Two of 40 lie on a line of 100: five of 30 make 75 over it, and without a gap they end at 60 below 89.9.
    assert weights_refuse(strips(100, 89.9), (own(),))
    assert not weights_refuse(strips(100, 90.1), (own(),))
    assert weights_refuse(strips(100, 74, gap=1.0), (own(),))
    assert not weights_refuse(strips(100, 76, gap=1.0), (own(),))
    # With a gap of 21 only one lies on a line.
    assert weights_refuse(strips(100, 149, gap=21.0), (own(),))
    # Lengthwise two of 30 stand on a line of 74: 5 x 40 / 2 = 100.
    assert weights_refuse(strips(99, 74, gap=1.0), (own("along"),))
    assert not weights_refuse(strips(101, 74, gap=1.0), (own("along"),))


def test_a_certificate_that_is_none() -> None:
    assert not weights_refuse(strips(100, 74), ())
    assert not weights_refuse(strips(100, 74), (own(weight=0),))
    assert not weights_refuse(strips(100, 74), (own(sheets=(("c", "elsewhere"),)),))
    assert not weights_refuse(strips(100, 74), (own(), own(sheets=(("d", "d-all"),))))
    assert not weights_refuse(Question((), (cloth(100, 74),)), (own(),))
    two = (cloth(100, 74), cloth(100, 74, name="d"))
    # The strips may lie on another cloth as well.
    assert not weights_refuse(Question(STRIPS, two), (own(),))
    at_home = tuple(replace(strip, cloth_ids=("c",)) for strip in STRIPS)
    assert weights_refuse(Question(at_home, two), (own(),))


def test_two_cloths_together() -> None:
    both = own(sheets=(("c", "c-all"), ("d", "d-all")))
    assert weights_refuse(Question(STRIPS, (cloth(100, 30), cloth(100, 40, name="d"))), (both,))
    assert not weights_refuse(Question(STRIPS, (cloth(100, 30), cloth(100, 60, name="d"))), (both,))


def free(books: int) -> tuple[PieceAsked, ...]:
    return tuple(replace(one, turns_deg=ANY) for one in book_pieces(books))


# Width x length in inches: one book more than fits (own counts, constraint solver and slice bound agree).
@pytest.mark.parametrize(
    ("pieces", "width_in", "length_in"),
    [
        (book_pieces(3), 22, 18),
        (free(3), 21, 18),
        (free(6), 44, 18),
        (book_pieces(5, (0.0,)), 42, 18),
        (book_pieces(6, (0.0,)), 18, 42),
    ],
)
def test_the_weights_found_hold(pieces: tuple[PieceAsked, ...], width_in: float, length_in: float) -> None:
    question = Question(pieces, (cloth(width_in * INCH, length_in * INCH),))
    proof = too_long_in_slices(relaxed(question), Effort(100_000))
    assert proof is not None
    assert weights_refuse(question, proof.certificate)
    # A piece less, or a longer cloth: the same weights refuse no more.
    assert not weights_refuse(replace(question, pieces=pieces[:-8]), proof.certificate)
    longer = replace(question, cloths=(cloth(1.3 * width_in * INCH, 1.3 * length_in * INCH),))
    assert not weights_refuse(longer, proof.certificate)


def test_weights_tampered_with_prove_nothing() -> None:
    question = Question(free(2), (cloth(22 * INCH, 18 * INCH),))
    names = tuple(one.id for one in question.pieces)
    for heavy in (1, 1000):
        sizes = ((0, 144.3, 182.4, heavy), (0, 182.4, 144.3, 1), (0, 108.3, 146.4, 1), (0, 146.4, 108.3, heavy))
        assert not weights_refuse(question, (LineWeights((("c", "c-all"),), ("across",), ((names, sizes),)),))


def test_too_many_partings_are_taken_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    question = Question(free(4), (cloth(22 * INCH, 18 * INCH),))
    proof = too_long_in_slices(relaxed(question), Effort(100_000))
    assert proof is not None
    monkeypatch.setattr(weights, "_MOST_PARTINGS", 1)
    monkeypatch.setattr(weights, "_MOST_SUMS", 1)
    assert weights_refuse(question, proof.certificate)


def test_many_distinct_pieces() -> None:
    pieces = tuple(piece(f"p{k}", 31 + 2 * k, 97 - 3 * k, ANY) for k in range(20))
    area = sum((31 + 2 * k) * (97 - 3 * k) for k in range(20))
    question = Question(pieces, (cloth(150, area / 150 - 1),))
    proof = too_long_in_slices(relaxed(question), Effort(100_000))
    assert proof is not None
    assert weights_refuse(question, proof.certificate)


def test_slanted_pieces_and_other_outlines_are_left_out() -> None:
    odd = (*STRIPS, piece("slanted", 50, 50, (45.0,)), piece("l", 0, 0, outline=((0, 0), (9, 0), (0, 9))))
    assert weights_refuse(Question(odd, (cloth(100, 74),)), (own(),))
    assert not weights_refuse(Question(odd[1:], (cloth(100, 61),)), (own(),))
