"""The largest size: found, bounded, refused altogether, cut short; with and without an order to stretch."""

from __future__ import annotations

import pytest
from laying import ANY, cloth, faults, flaw, piece

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.layout.sizing import growing
from coverlayout.layout.sizing.growing import NEAR_MM, LargestSize, largest_size


def covers(count: int, width: float, length: float, **more: object) -> object:
    def at(size_mm: float) -> Question:
        pieces = tuple(piece(f"p{k}", size_mm, 1.5 * size_mm, ANY) for k in range(count))
        return Question(pieces, (cloth(width, length, **more),))  # type: ignore[arg-type] # tests give fields by name

    return at


def largest(at: object, start: float = 40.0, least: float = 1.0, most: float = 1000.0, **more: Watch) -> LargestSize:
    return largest_size(at, start, least_mm=least, most_mm=most, **more)  # type: ignore[arg-type] # made above


def test_two_side_by_side_are_as_wide_as_half_the_cloth() -> None:
    at = covers(2, 200.0, 170.0)
    found = largest(at)
    # Upright: w <= 100 and 1.5 w <= 170; turned: two below each other need 2 w <= 170.
    assert found.size_mm == pytest.approx(100.0)
    assert found.proved
    assert found.bound_mm is not None
    assert 100.0 < found.bound_mm <= 100.0 + NEAR_MM
    assert faults(at(100.0), found.answer.placed) == []  # type: ignore[operator] # made above


@pytest.mark.parametrize("start", [1.0, 99.0, 700.0])
def test_the_start_does_not_matter(start: float) -> None:
    assert largest(covers(2, 200.0, 170.0), start=start).size_mm == pytest.approx(100.0)


def test_a_crooked_ground_is_grown_under_the_judge() -> None:
    # A right-angled triangle of 300 and 300: a square-ish piece w x 1.5 w in its corner reaches the slope at w + 1.5 w.
    found = largest(covers(1, 0.0, 0.0, outline=((0.0, 0.0), (300.0, 0.0), (0.0, 300.0))))
    assert found.size_mm is not None
    assert found.size_mm == pytest.approx(120.0, abs=NEAR_MM)
    assert found.size_mm <= 120.01


def test_flaws_stay_uncovered() -> None:
    crease = flaw(((90.0, 0.0), (95.0, 0.0), (95.0, 170.0), (90.0, 170.0)))
    found = largest(covers(1, 200.0, 170.0, keep_outs=(crease,)))
    # Right of the crease 105 are left, left of it 90: 105 across, or turned 1.5 w <= 105.
    assert found.size_mm == pytest.approx(105.0)
    assert found.proved


def test_not_even_the_least_fits() -> None:
    found = largest(covers(3, 10.0, 10.0), least=30.0)
    assert (found.size_mm, found.answer.verdict) == (None, "does not fit")
    assert found.proved
    assert found.answer.placed == ()


def test_the_most_asked_for_is_the_end() -> None:
    found = largest(covers(1, 200.0, 300.0), most=50.0)
    assert found.size_mm == pytest.approx(50.0, abs=0.06)
    assert found.bound_mm is None
    assert not found.proved


def deciding(monkeypatch: pytest.MonkeyPatch, fits_to: float, refused_from: float, cut_short_at: int = 99) -> None:
    """In place of the search: one square piece fits up to a size, is refused from another on, open between."""
    asked: list[float] = []

    def first_layout(question: Question, watch: Watch) -> Answer:
        size_mm = question.pieces[0].outline_mm[1][0]
        asked.append(size_mm)
        watch(0.5)
        short = len(asked) >= cut_short_at
        if size_mm <= fits_to:
            # Too large to be stretched: the judge finds it outside, so that the size stays as it is.
            return Answer("fits", True, Remark.of("lay-nothing-asked"), placed=(Placed("p0", "c", -9.0, -9.0),))
        if size_mm >= refused_from:
            return Answer("does not fit", True, Remark.of("lay-no-way", pieces="1"), cut_short=short)
        return Answer("not found", False, Remark.of("lay-not-found"), cut_short=short)

    monkeypatch.setattr(growing, "first_layout", first_layout)


def test_a_bound_that_stays_open_is_pulled_down_as_far_as_it_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    deciding(monkeypatch, 70.0, 80.0)
    found = largest(covers(1, 211.0, 303.0))
    assert found.size_mm == pytest.approx(70.0, abs=NEAR_MM)
    assert not found.proved
    assert found.bound_mm is not None
    # Halved again and again, each time with all steps: within a hundredth.
    assert 80.0 <= found.bound_mm <= 81.0


def test_what_was_open_before_may_be_found_from_below(monkeypatch: pytest.MonkeyPatch) -> None:
    deciding(monkeypatch, 70.0, 70.02)
    found = largest(covers(1, 211.0, 303.0))
    assert found.proved


def test_a_stopped_search_says_so_and_tells_what_it_has(monkeypatch: pytest.MonkeyPatch) -> None:
    deciding(monkeypatch, 70.0, 80.0, cut_short_at=3)
    told: list[float] = []

    def watch(share_done: float) -> bool:
        told.append(share_done)
        return False

    found = largest(covers(1, 211.0, 303.0), watch=watch)
    assert found.cut_short
    assert told == sorted(told)
    assert found.size_mm is not None
    assert not found.proved


def test_many_pieces_have_a_bound_within_one_percent_soon() -> None:
    # Twelve pieces: for six covers and six liners of growing boards; slices refuse what no search can in this time.
    def at(width_mm: float) -> Question:
        width, height = width_mm + 30.0, width_mm * 4 / 3 + 30.0
        covers = [piece(f"cover-{k}", width, height) for k in range(6)]
        liners = [piece(f"liner-{k}", width_mm - 6.0, width_mm * 4 / 3 - 6.0, ANY) for k in range(6)]
        return Question((*covers, *liners), (cloth(22 * 25.4, 18 * 25.4),), steps=4_000)

    found = largest_size(at, 100.0, least_mm=20.0, most_mm=300.0)
    assert found.size_mm is not None
    assert found.bound_mm is not None
    assert found.size_mm <= found.bound_mm <= 1.01 * found.size_mm
    assert not found.cut_short
