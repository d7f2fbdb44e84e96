"""What stands in a field: the exact figure in the maker's unit, and how it is read back."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Literal

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.units import MM_PER_INCH, LengthStyle, parse_angle_deg, parse_length, parse_percent, parse_points

__all__ = [
    "Least",
    "exact_length",
    "exact_number",
    "points_text",
    "read_angle",
    "read_count",
    "read_length",
    "read_percent",
    "read_points",
    "table_figure",
]

Least = Literal["above 0", "0", "any"]

# The finest fraction on a ruler; a field shows what was typed, however fine the papers are.
_FINEST_PARTS = 64


def exact_number(number: float, places: int = 3) -> str:
    """A number with as many decimals as it needs, at most `places`.

    >>> exact_number(114.3), exact_number(15.0), exact_number(-0.0001)
    ('114.3', '15', '0')
    """
    text = f"{number:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def exact_length(length_mm: float, style: LengthStyle) -> str:
    """The figure of a length for a field, without its unit: never rounded where the unit can say it.

    A field shows what was typed, unlike the papers; a fraction is used when the length is one.

    >>> exact_length(114.3, LengthStyle()), exact_length(114.3, LengthStyle("in", inch_parts=16))
    ('114.3', '4 1/2')
    >>> exact_length(100.0, LengthStyle("in", inch_parts=16)), exact_length(114.3, LengthStyle("in"))
    ('3.937', '4.5')
    >>> exact_length(2.38125, LengthStyle("in", inch_parts=16))
    '3/32'
    """
    if style.unit == "mm":
        return exact_number(length_mm)
    inches = length_mm / MM_PER_INCH
    parts = inches * _FINEST_PARTS
    if not style.inch_parts or abs(parts - round(parts)) > 1e-6:
        return exact_number(inches, 4)
    whole, rest = divmod(abs(round(parts)), _FINEST_PARTS)
    sign = "-" if parts < 0 and (whole or rest) else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {Fraction(rest, _FINEST_PARTS)}" if whole else f"{sign}{Fraction(rest, _FINEST_PARTS)}"


def table_figure(length_mm: float, style: LengthStyle) -> str:
    """A length as tables have it: to 0.01 mm, or to 0.001 in; without its unit.

    >>> table_figure(144.3, LengthStyle()), table_figure(144.3, LengthStyle("in", inch_parts=16))
    ('144.30', '5.681')
    """
    # Adding 0 takes the minus off a nought.
    if style.unit == "mm":
        return f"{round(length_mm, 2) + 0.0:.2f}"
    return f"{round(length_mm / MM_PER_INCH, 3) + 0.0:.3f}"


def points_text(points_mm: Ring, style: LengthStyle) -> str:
    r"""Points as a list of numbers, one `x,y` a line, in the maker's unit: to 0.01 mm, or to 0.0001 in.

    >>> points_text(((25.4, 50.8), (76.2, 114.3)), LengthStyle("in"))
    '1,2\n3,4.5'
    """
    per_unit, places = (1.0, 2) if style.unit == "mm" else (MM_PER_INCH, 4)
    return "\n".join(f"{exact_number(x / per_unit, places)},{exact_number(y / per_unit, places)}" for x, y in points_mm)


def read_length(
    where: str, like: str, style: Callable[[], LengthStyle], least: Least = "above 0"
) -> Callable[[str], float]:
    """A reader of lengths for a field: any unit, a bare number in the unit the field shows."""
    return lambda text: parse_length(text, style().unit, where=where, like=like, least=least)


def read_points(where: str, style: Callable[[], LengthStyle]) -> Callable[[str], Ring | None]:
    """A reader of points, one `x,y` a line; nothing typed is None."""
    return lambda text: parse_points(" ".join(text.split()), style().unit, where=where) if text.strip() else None


def read_percent(where: str) -> Callable[[str], float]:
    """A reader of percentages."""
    return lambda text: parse_percent(text, where=where)


def read_angle(where: str) -> Callable[[str], float]:
    """A reader of angles in degrees."""
    return lambda text: parse_angle_deg(text, where=where)


def read_count(where: str, least: int = 1, most: int = 999) -> Callable[[str], int]:
    """A reader of whole numbers from `least` to `most`."""

    def read(text: str) -> int:
        plain = text.strip()
        if not (plain.isascii() and plain.isdigit()) or len(plain) > 6 or not least <= int(plain) <= most:
            raise BadInput("count-out-of-range", where=where, found=plain[:40], least=least, most=most)
        return int(plain)

    return read
