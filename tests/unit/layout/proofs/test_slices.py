"""The slice bound: counts refused by hand-checkable sums, splits of turning pieces, and nothing said in doubt."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from laying import ANY, INCH, book_pieces, cloth, piece

from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs import slices
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.proofs.slices import least_length_by_slices, too_long_in_slices
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
    # Five strips of 40 x 30: two lie on a line of 100, so lines need 5 x 30 / 2 = 75 mm; and heights end at 90 then.
    strips = tuple(piece(f"strip-{k}", 40, 30) for k in range(5))
    proof = proof_of(strips, 100, 74)
    assert proof is not None
    assert proof.name == "slice bound"
    figures = dict(proof.figures)
    assert (figures["have_mm"], figures["way"], figures["splits"]) == (74.0, "across", 1.0)
    assert figures["need_mm"] == 90.0
    assert proof_of(strips, 100, 89.9) is not None
    assert proof_of(strips, 100, 90) is None
    # With a gap the sum of heights says nothing.
    assert proof_of(strips, 100, 74, gap=1.0) is not None
    assert proof_of(strips, 100, 76, gap=1.0) is None
    # The same turned, with a gap: lines across ask for no more than 100, those lengthwise for 75.
    upright = tuple(piece(f"strip-{k}", 30, 40) for k in range(5))
    proof = proof_of(upright, 74, 100, gap=0.5)
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


def test_too_many_splits_are_not_begun_but_each_piece_takes_its_better_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(slices, "_MOST_SPLITS", 10)
    assert proof_of(free(2), 22 * INCH, 18 * INCH) is None
    proof = proof_of(free(4), 22 * INCH, 18 * INCH)
    assert dict(proof.figures if proof else ())["splits"] == 1.0
    monkeypatch.setattr(slices, "_MOST_KINDS", 1)
    assert proof_of(free(4), 22 * INCH, 18 * INCH) is None


def test_steps_end_it() -> None:
    with pytest.raises(OutOfSteps):
        too_long_in_slices(job_of(free(3), 22 * INCH, 18 * INCH), Effort(8))


def test_several_cloths_are_sliced_together() -> None:
    # Strips of 40 x 30, two on a line of 100: 40 mm of each cloth hold 2 x 40 x 2 / 30 strips at most, 5.33.
    def strips(count: int, **cloths: float) -> Proof | None:
        pieces = tuple(piece(f"strip-{k}", 40, 30) for k in range(count))
        on = tuple(cloth(100, length, name=name) for name, length in cloths.items())
        return too_long_in_slices(relaxed(Question(pieces, on)), Effort(10_000))

    assert strips(4, c1=30, c2=30) is None
    proof = strips(5, c1=30, c2=30)
    assert proof is not None
    figures = dict(proof.figures)
    assert (figures["sheets"], figures["have_mm"], figures["count"]) == (2.0, 60.0, 5.0)
    assert figures["need_mm"] == pytest.approx(75.0, abs=0.1)
    # Pushed up, strips end at 30 mm: what is left of 40 below is of no use.
    assert strips(5, c1=40, c2=40) is not None
    assert strips(5, c1=60, c2=30) is None


def test_what_is_left_above_the_last_sum_of_heights_is_of_no_use() -> None:
    # Three blocks of 70 x 60 and 16 tiles of 30 x 20, upright: heights come to multiples of 20, so 119 mm are 100.
    tiles = tuple(piece(f"tile-{k}", 30, 20) for k in range(16))
    blocks = tuple(piece(f"block-{k}", 90, 60) for k in range(2))
    assert proof_of((*tiles, *blocks), 180, 120) is None
    proof = proof_of((*tiles, *blocks), 180, 119)
    assert proof is not None
    assert dict(proof.figures)["need_mm"] == 120.0
    # With a gap, corners may pass each other, and the whole length counts.
    assert proof_of((*tiles[:1], *blocks[:1]), 180, 119, gap=0.5) is None


# Least lengths that are known, each with its width, and pieces that may turn or not. The first is of our own; three
# sixes is a textbook case (common practice, no source); the thirteen pieces are Burke and Kendall 1999, World
# Manufacturing Congress, 27-30.
THIRTEEN = [
    (24, 16),
    (28, 16),
    (28, 16),
    (60, 14),
    (60, 14),
    (20, 28),
    (22, 26),
    (22, 26),
    (42, 44),
    (18, 70),
    (62, 26),
]


@pytest.mark.parametrize(
    ("width", "sizes", "turns", "least"),
    [
        (320, [(128, 165), (128, 165), (113, 155)], (0.0,), 320.0),
        (10, [(6, 6)] * 3, ANY, 18.0),
        (80, [*THIRTEEN, (18, 48), (18, 48)], (0.0,), 140.0),
        (80, [*THIRTEEN, (18, 48), (18, 48)], ANY, 140.0),
    ],
)
def test_the_least_length_is_reached(
    width: float, sizes: list[tuple[float, float]], turns: tuple[float, ...], least: float
) -> None:
    pieces = tuple(piece(f"p{k}", w, h, turns) for k, (w, h) in enumerate(sizes))
    assert least_length_by_slices(job_of(pieces, width, 500), 0, Effort(20_000)) == pytest.approx(least)


def test_the_least_length_with_lines_lengthwise_and_a_gap() -> None:
    # Lines across see 2 x 70 x 40 on 100 as no more than 70; lengthwise two of 60 high stand above each other.
    pair = (piece("a", 55, 60), piece("b", 55, 60))
    assert least_length_by_slices(job_of(pair, 100, 500), 0, Effort(5_000)) == pytest.approx(120.0)
    # Three abreast need 3 x 30 + 2 x 6 > 100: two a line, 3 x 40 / 2 = 60; lengthwise the same strips say more.
    three = tuple(piece(f"p{k}", 30, 40) for k in range(3))
    least = least_length_by_slices(job_of(three, 100, 500, gap=6.0), 0, Effort(5_000))
    assert 60.0 <= least <= 86.0
    assert least_length_by_slices(job_of((), 100, 500), 0, Effort(100)) == 0.0


@pytest.mark.parametrize("seed", range(12))
def test_the_least_length_is_never_more_than_a_layout_takes(seed: int) -> None:
    """A board sawn into pieces by straight cuts tells a length that is enough."""
    rng = random.Random(seed)
    parts = [(rng.randint(60, 140), rng.randint(60, 140))]
    for _ in range(rng.randint(2, 14)):
        w, h = parts.pop(rng.randrange(len(parts)))
        if w > h:
            cut = rng.randint(1, w - 1)
            parts += [(cut, h), (w - cut, h)]
        elif h > 1:
            cut = rng.randint(1, h - 1)
            parts += [(w, cut), (w, h - cut)]
        else:
            parts.append((w, h))
    rng = random.Random(seed)
    width, length = rng.randint(60, 140), rng.randint(60, 140)
    pieces = tuple(piece(f"p{k}", w, h, ANY if seed % 2 else (0.0,)) for k, (w, h) in enumerate(parts))
    least = least_length_by_slices(job_of(pieces, width, 500), 0, Effort(50_000))
    assert least == pytest.approx(length)
    assert proof_of(pieces, width, length) is None


def test_nothing_is_written_where_json_stands_alone(capfd: pytest.CaptureFixture[str]) -> None:
    assert proof_of(free(3), 22 * INCH, 18 * INCH) is not None
    assert capfd.readouterr().out == ""


def test_the_length_needed_is_more_than_there_is() -> None:
    # Six covers and liners of boards 111 x 148 on 22 x 18 in. The lines need a little more than 457.0, the longest sum
    # of sides below 457.2: so at least the next sum.
    covers = tuple(piece(f"cover-{k}", 141, 178, ANY) for k in range(6))
    proof = proof_of((*covers, *(piece(f"liner-{k}", 105, 142, ANY) for k in range(6))), 22 * INCH, 18 * INCH)
    assert proof is not None
    told = dict(proof.figures)
    assert told["have_mm"] == pytest.approx(457.2)
    assert float(told["need_mm"]) > float(told["have_mm"])
