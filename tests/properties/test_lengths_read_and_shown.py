"""What is shown reads back as the same length; rounding never errs to the wrong side."""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args

from hypothesis import given
from hypothesis import strategies as st

from coverlayout.errors import BadInput
from coverlayout.units import LengthStyle, Rounding, Unit, parse_length, parse_points, parse_size

styles = st.sampled_from(
    [LengthStyle(mm_step=step) for step in (0.1, 0.5, 1.0)] + [LengthStyle("in", inch_parts=n) for n in (0, 16, 32)]
)
lengths = st.floats(-5000.0, 5000.0, allow_nan=False)
roundings = st.sampled_from(get_args(Rounding))


@given(styles, lengths, roundings)
def test_what_is_shown_reads_back(style: LengthStyle, length_mm: float, rounding: Rounding) -> None:
    shown_mm = style.rounded_mm(length_mm, rounding)
    assert abs(parse_length(style.show(length_mm, rounding)) - shown_mm) < 1e-6
    assert abs(parse_length(style.number(length_mm, rounding), style.unit) - shown_mm) < 1e-6
    assert style.show(shown_mm, rounding) == style.show(length_mm, rounding), "a shown length is shown again alike"


@given(styles, lengths)
def test_rounding_keeps_to_its_side(style: LengthStyle, length_mm: float) -> None:
    # A length within half of the tolerance of equal lengths stands on its step.
    near_mm = 0.005 + 1e-6
    assert style.rounded_mm(length_mm, "up") >= length_mm - near_mm
    assert style.rounded_mm(length_mm, "down") <= length_mm + near_mm
    step_mm = style.rounded_mm(length_mm, "up") - style.rounded_mm(length_mm, "down")
    assert abs(style.rounded_mm(length_mm) - length_mm) <= step_mm / 2 + near_mm


@given(st.sampled_from(get_args(Unit)), st.decimals(-100, 100, places=3))
def test_a_length_in_any_unit_reads_as_that_many_millimetres(unit: Unit, number: float) -> None:
    per = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "yd": 914.4}[unit]
    assert abs(parse_length(f"{number} {unit}") - float(number) * per) < 1e-8
    assert parse_length(str(number), unit) == parse_length(f"{number}{unit}")


@given(st.text(max_size=60))
def test_any_text_is_a_length_or_one_sentence(text: str) -> None:
    for read in (parse_length, parse_size, parse_points):
        said = _fault(read, text)
        assert said is None or (said.startswith("--field") and "\n" not in said)


def _fault(read: Callable[..., object], text: str) -> str | None:
    try:
        read(text, where="--field")
    except BadInput as fault:
        return str(fault)
    return None
