"""Which marks a ruler carries, in mm and in inches."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.ui.painting.rulers import RulerMark, ruler_marks


def figures(marks: tuple[RulerMark, ...]) -> list[str]:
    return [mark.figure for mark in marks if mark.figure]


def test_millimetres_at_one_pixel_each() -> None:
    marks = ruler_marks(-12.0, 111.0, 1.0)
    assert figures(marks) == ["0", "50", "100"]
    assert [mark.at_mm for mark in marks] == [-10.0 + 5.0 * k for k in range(25)]
    assert next(mark for mark in marks if mark.at_mm == 25.0).size == "middle"
    assert next(mark for mark in marks if mark.at_mm == 30.0).size == "short"


def test_millimetres_far_out_and_close_by() -> None:
    assert figures(ruler_marks(0.0, 2100.0, 0.05)) == ["0", "1000", "2000"]
    close = ruler_marks(0.0, 3.0, 50.0)
    assert figures(close) == ["0", "1", "2", "3"]
    assert len(close) == 4  # nothing finer than a millimetre


def test_inches_in_their_own_parts() -> None:
    # At 4 px a mm an inch is 101.6 px: figures on halves, eighths between them are 12.7 px, sixteenths 6.35 px apart.
    marks = ruler_marks(0.0, 25.5, 4.0, "in")
    assert figures(marks) == ["0", "1/2", "1"]
    assert len(marks) == 17
    assert marks[1].at_mm == pytest.approx(25.4 / 16)


def test_inches_far_out() -> None:
    assert figures(ruler_marks(0.0, 3000.0, 0.06, "in")) == ["0", "36", "72", "108"]
    assert figures(ruler_marks(0.0, 40000.0, 0.004, "in")) == ["0", "720", "1440"]


def test_below_zero_the_figures_carry_their_sign() -> None:
    assert figures(ruler_marks(-40.0, 1.0, 4.0, "in")) == ["-1 1/2", "-1", "-1/2", "0"]
    assert figures(ruler_marks(-51.0, 0.0, 1.0)) == ["-50", "0"]


def test_no_stretch_no_marks() -> None:
    assert ruler_marks(5.0, 5.0, 1.0) == ()
    assert ruler_marks(5.0, 1.0, 1.0) == ()


@given(st.floats(0.004, 60.0), st.sampled_from(["mm", "in"]), st.floats(-1000.0, 1000.0))
def test_marks_and_figures_never_crowd(px_per_mm: float, unit: str, start: float) -> None:
    marks = ruler_marks(start, start + 800.0 / px_per_mm, px_per_mm, "in" if unit == "in" else "mm")
    places = [mark.at_mm * px_per_mm for mark in marks]
    assert all(after - before > 4.99 for before, after in pairwise(places))
    long = [mark.at_mm * px_per_mm for mark in marks if mark.figure]
    assert all(after - before > 47.9 for before, after in pairwise(long))
    assert len({mark.figure for mark in marks if mark.figure}) == len(long)
