"""The slice bound: counts refused by hand-checkable sums, splits of turning pieces, and nothing said in doubt."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, cloth, piece

from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs import slices
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.question import PieceAsked, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job


def job_of(pieces: tuple[PieceAsked, ...], width: float, length: float, gap: float = 0.0) -> RectangularJob:
    job = rectangular_job(Question(pieces, (cloth(width, length),), gap_mm=gap))
    assert job is not None
    return job


def proof_of(pieces: tuple[PieceAsked, ...], width: float, length: float, gap: float = 0.0) -> Proof | None:
    return too_long_in_slices(job_of(pieces, width, length, gap), Effort(100_000))


def free(books: int) -> tuple[PieceAsked, ...]:
    return tuple(replace(one, turns_deg=ANY) for one in book_pieces(books))


def test_two_to_a_line_make_half_the_sum_of_heights() -> None:
    # Five strips of 40 x 30: two lie on a line of 100, so lines need 5 x 30 / 2 = 75 mm.
    strips = tuple(piece(f"strip-{k}", 40, 30) for k in range(5))
    proof = proof_of(strips, 100, 74)
    assert proof is not None
    assert proof.name == "slice bound"
    figures = dict(proof.figures)
    assert (figures["have_mm"], figures["way"], figures["splits"]) == (74.0, "across", 1.0)
    assert figures["need_mm"] == pytest.approx(75.0, abs=0.05)
    assert proof_of(strips, 100, 75) is None
    # The same turned: lines lengthwise.
    upright = tuple(piece(f"strip-{k}", 30, 40) for k in range(5))
    proof = proof_of(upright, 74, 100)
    assert proof is not None
    assert dict(proof.figures)["way"] == "along"


def test_the_gap_counts_on_a_line() -> None:
    strips = tuple(piece(f"strip-{k}", 40, 30) for k in range(5))
    # Two and a gap of 21 do not fit on 100: five lines of 30.
    assert proof_of(strips, 100, 149, gap=21.0) is not None
    assert proof_of(strips, 100, 151, gap=21.0) is None
    assert proof_of(strips[:2], 100, 30, gap=20.0) is None
    assert proof_of(strips[:2], 100, 30, gap=20.1) is not None


# Width x length in inches: one book more than these sums allow (own counts, constraint solver and slice bound agree).
@pytest.mark.parametrize(
    ("pieces", "width_in", "length_in"),
    [
        (book_pieces(3), 22, 18),
        (free(3), 22, 18),
        (free(3), 21, 18),
        (free(6), 44, 18),
        (book_pieces(5, (0.0,)), 42, 18),
        (book_pieces(6, (0.0,)), 18, 42),
    ],
)
def test_one_book_more_is_refused(pieces: tuple[PieceAsked, ...], width_in: float, length_in: float) -> None:
    assert proof_of(pieces, width_in * INCH, length_in * INCH) is not None


@pytest.mark.parametrize(
    ("pieces", "width_in", "length_in"),
    [(free(2), 22, 18), (free(5), 44, 18), (book_pieces(4, (0.0,)), 42, 18), (book_pieces(5, (0.0,)), 18, 42)],
)
def test_what_fits_is_never_refused(pieces: tuple[PieceAsked, ...], width_in: float, length_in: float) -> None:
    assert proof_of(pieces, width_in * INCH, length_in * INCH) is None


def test_a_no_survives_the_tolerances() -> None:
    strips = tuple(piece(f"strip-{k}", 50, 30) for k in range(2))
    # Short by less than 0.01 mm a length: side by side they just pass.
    assert proof_of(strips, 99.99, 30) is None
    assert proof_of(strips, 99.9, 30) is not None


def test_too_many_splits_or_sets_are_not_begun(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(slices, "_MOST_SPLITS", 10)
    assert proof_of(free(3), 22 * INCH, 18 * INCH) is None
    monkeypatch.setattr(slices, "_MOST_SPLITS", 400)
    monkeypatch.setattr(slices, "_MOST_SETS", 3)
    assert proof_of(free(3), 22 * INCH, 18 * INCH) is None


def test_steps_end_it() -> None:
    with pytest.raises(OutOfSteps):
        too_long_in_slices(job_of(free(3), 22 * INCH, 18 * INCH), Effort(8))


def test_pieces_of_several_cloths_are_not_bound_to_one() -> None:
    strips = tuple(piece(f"strip-{k}", 40, 30) for k in range(5))
    job = rectangular_job(Question(strips, (cloth(100, 40, name="c1"), cloth(100, 40, name="c2"))))
    assert job is not None
    assert too_long_in_slices(job, Effort(1000)) is None


def test_nothing_is_written_where_json_stands_alone(capfd: pytest.CaptureFixture[str]) -> None:
    assert proof_of(free(3), 22 * INCH, 18 * INCH) is not None
    assert capfd.readouterr().out == ""
