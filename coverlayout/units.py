"""Lengths: one parser and one printer. Inside everything is float millimetres; 1 in = 25.4 mm, 1 yd = 914.4 mm."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from coverlayout.errors import BadInput, Remark, sentence

__all__ = [
    "LONGEST_MM",
    "MM_PER_INCH",
    "MM_PER_YARD",
    "Least",
    "LengthStyle",
    "Rounding",
    "Unit",
    "check_length",
    "parse_angle_deg",
    "parse_length",
    "parse_lengths",
    "parse_percent",
    "parse_percent_pair",
    "parse_points",
    "parse_size",
    "split_list",
    "split_parts",
    "turn_words",
]

Unit = Literal["mm", "cm", "m", "in", "yd"]
Rounding = Literal["nearest", "up", "down"]
Least = Literal["above 0", "0", "any"]

# International yard and pound agreement of 1959: the inch is exactly 25.4 mm, the yard 36 in.
MM_PER_INCH = 25.4
MM_PER_YARD = 914.4
# Longer than any bolt of cloth (the longest sold are near 100 m); beyond it a typing slip is certain.
LONGEST_MM = 200_000.0
# Half of the tolerance within which two lengths are equal everywhere: shown figures stay true within it.
_ON_A_STEP_MM = 0.005
# And never more than this part of a step.
_ON_A_STEP = 0.1
# No length needs more letters; Python refuses to read whole numbers of thousands of digits.
_LONGEST_TEXT = 80

_MM_PER: dict[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    '"': MM_PER_INCH,
    "”": MM_PER_INCH,
    "″": MM_PER_INCH,
    "yd": MM_PER_YARD,
    "yard": MM_PER_YARD,
    "yards": MM_PER_YARD,
}
# Figures of sentences that must not be flattered by rounding: what is there is rounded down, what is needed up.
_ROOMS = frozenset(
    (
        "clearance_mm",
        "ground_height_mm",
        "ground_width_mm",
        "have_height_mm",
        "have_mm",
        "have_width_mm",
        "most_mm",
        "room_length_mm",
        "room_mm",
        "room_width_mm",
        "spare_mm",
    )
)
_NEEDS = frozenset(
    (
        "amount_exact_mm",
        "amount_mm",
        "least_mm",
        "need_height_mm",
        "need_mm",
        "need_width_mm",
        "piece_height_mm",
        "piece_width_mm",
    )
)
# What is needed, by what is there for it: of these the shown figures must differ where the real ones do.
_FOR = {
    "need_mm": "have_mm",
    "need_width_mm": "have_width_mm",
    "need_height_mm": "have_height_mm",
    "piece_width_mm": "ground_width_mm",
    "piece_height_mm": "ground_height_mm",
}
# Figures beyond this are dust: two lengths as near as that read alike.
_FINEST_DIGITS = 6
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_NUMBER = (
    r"(?P<sign>[-+−]?)\s*(?:(?P<whole>\d+)\s+(?P<num>\d+)/(?P<den>\d+)"
    r"|(?P<num1>\d+)/(?P<den1>\d+)|(?P<dec>\d+(?:\.\d*)?|\.\d+|\d+,\d{1,2}))"
)
_LENGTH = re.compile(_NUMBER + r"\s*(?P<unit>mm|cm|m|inches|inch|in|yards|yard|yd|\"|”|″)?\.?")


def _plain(text: str) -> str:
    """The text in lower case with vulgar fractions written out and spaces tidied."""
    for sign, written in _VULGAR.items():
        text = text.replace(sign, " " + written)
    return " ".join(text.strip().lower().split())


def _value(match: re.Match[str]) -> float | None:
    """The number of a match, or None for a fraction over 0."""
    parts = match.groupdict()
    if parts["dec"] is not None:
        size = float(parts["dec"].replace(",", "."))
    else:
        num, den = parts["num"] or parts["num1"], parts["den"] or parts["den1"]
        if int(den) == 0:
            return None
        size = float(int(parts["whole"] or 0) + Fraction(int(num), int(den)))
    return -size if parts["sign"] in ("-", "−") else size


def parse_length(
    text: str,
    unit: Unit = "mm",
    *,
    where: str = "length",
    like: str = "15mm",
    least: Least = "any",
) -> float:
    """The length in mm that `text` says; a bare number is in `unit`.

    `where` names the flag or field in the error, `like` shows a right value, `least` says whether 0 or less is allowed.
    Raises BadInput for text that is no length, NaN, infinity, anything beyond LONGEST_MM, or below `least`.

    >>> parse_length('4 1/2 in'), parse_length('4.5"'), parse_length('4½in'), parse_length('1/2 yd')
    (114.3, 114.3, 114.3, 457.2)
    >>> parse_length('11.43 cm'), parse_length('15'), parse_length('6', 'in'), parse_length('4,5 mm')
    (114.3, 15.0, 152.4, 4.5)

    A comma is a decimal sign before one or two digits only: 1,250 might be meant as a thousand, so it is refused.
    """
    match = _LENGTH.fullmatch(_plain(text)) if len(text) <= _LONGEST_TEXT else None
    size = _value(match) if match else None
    if match is None or size is None or not math.isfinite(size):
        raise BadInput("length-unreadable", where=where, found=_shown(text), like=like)
    return check_length(_tidy(size * _MM_PER[match["unit"] or unit]), where=where, found=text, like=like, least=least)


def check_length(
    length_mm: float,
    *,
    where: str,
    found: str | None = None,
    like: str = "15mm",
    least: Least = "above 0",
) -> float:
    """The length as it came, when it is finite, not beyond LONGEST_MM and not below `least`; BadInput naming `where`.

    `found` is what was typed; without it the figure itself is shown. For figures that come from a field or a file.

    >>> check_length(12.5, where="trim")
    12.5
    """
    shown = _shown(found if found is not None else f"{length_mm:g}mm")
    if not math.isfinite(length_mm):
        raise BadInput("length-unreadable", where=where, found=shown, like=like)
    if abs(length_mm) > LONGEST_MM:
        raise BadInput("length-absurd", where=where, found=shown, like=like, limit_mm=LONGEST_MM)
    if least == "above 0" and length_mm <= 0:
        raise BadInput("length-too-small", where=where, found=shown, like=like)
    if least == "0" and length_mm < 0:
        raise BadInput("length-negative", where=where, found=shown, like=like)
    return length_mm


def _tidy(length_mm: float) -> float:
    """Take out the last float digits of a product such as 4.5 x 25.4, far below any tolerance."""
    return round(length_mm, 9)


def _shown(text: str) -> str:
    """What was typed, cut short so that the sentence stays one line."""
    flat = " ".join(text.split())
    return flat if len(flat) <= 40 else flat[:37] + "..."


def parse_size(
    text: str,
    unit: Unit = "mm",
    *,
    where: str = "size",
    like: str = "4.5x6in",
    least: Least = "above 0",
) -> tuple[float, float]:
    """Width and height in mm; one unit for both or one each.

    >>> parse_size('4.5x6in'), parse_size('4 1/2 in x 152mm'), parse_size('30 × 20 cm')
    ((114.3, 152.4), (114.3, 152.0), (300.0, 200.0))
    """
    first, second = split_parts(text, 2, where=where, like=like)
    last = _LENGTH.fullmatch(second)
    shared: Unit = _unit_word(last["unit"]) if last and last["unit"] else unit
    return (
        parse_length(first, shared, where=where, like=like, least=least),
        parse_length(second, unit, where=where, like=like, least=least),
    )


def _unit_word(word: str) -> Unit:
    """The unit's own short name for any spelling of it."""
    for name in ("mm", "cm", "m", "in", "yd"):
        if _MM_PER[name] == _MM_PER[word]:
            return name
    raise KeyError(word)


def split_parts(text: str, count: int, *, where: str, like: str) -> list[str]:
    """The `count` parts of a text like `6x9x1in`, tidied; BadInput when there are more or fewer."""
    parts = [part.strip() for part in re.split(r"[x×*]", _plain(text))]
    if len(parts) != count or not all(parts):
        code = "size-unreadable" if count == 2 else "lengths-unreadable"
        raise BadInput(code, where=where, found=_shown(text), like=like, count=count)
    return parts


def parse_lengths(
    parts: Sequence[str], unit: Unit = "mm", *, where: str = "lengths", like: str = "12mm 18mm", least: Least = "0"
) -> tuple[float, ...]:
    """Lengths in mm; the unit of the last one counts for all that have none of their own, `unit` where it has none.

    >>> parse_lengths(["6", "9", "1in"]), parse_lengths(["12mm", "1/2", "1 in"]), parse_lengths(["12", "18"], "in")
    ((152.4, 228.6, 25.4), (12.0, 12.7, 25.4), (304.8, 457.2))
    """
    last = _LENGTH.fullmatch(_plain(parts[-1])) if parts else None
    shared: Unit = _unit_word(last["unit"]) if last and last["unit"] else unit
    return tuple(parse_length(part, shared, where=where, like=like, least=least) for part in parts)


def split_list(text: str) -> list[str]:
    """The lengths of a list with commas or blanks between them; a blank within a length, as in 1 1/2 in, parts nothing.

    >>> split_list("1/2 1 1/2 in"), split_list("12mm  18mm"), split_list("1/2, 1 1/4, 12,5 mm")
    (['1/2', '1 1/2in'], ['12mm', '18mm'], ['1/2', '1 1/4', '12,5 mm'])
    """
    plain = " ".join(text.split())
    if re.search(r";|,\s", plain):
        return re.split(r"\s*(?:;|,\s)\s*", plain)
    tidy = re.sub(r"\s+(?=[^\d\s.+−½¼¾⅛⅜⅝⅞⅓⅔-])", "", plain)
    return re.split(r"\s+(?!\d+/|[½¼¾⅛⅜⅝⅞⅓⅔])", tidy)


def parse_points(
    text: str, unit: Unit = "mm", *, where: str = "points", like: str = "10,20 60,20 60,45 mm"
) -> tuple[tuple[float, float], ...]:
    """Points in mm from `x,y x,y ... unit`; one unit at the end counts for all, none means `unit`.

    >>> parse_points('1,2 3, 4.5 in')
    ((25.4, 50.8), (76.2, 114.3))
    """
    joined = re.sub(r"\s*,\s*", ",", text.strip().lower())
    match = re.fullmatch(r"(?P<pairs>[-+\d.,\s−]+?)\s*(?P<unit>mm|cm|m|in|yd|\")?", joined)
    pairs = [pair.split(",") for pair in (match["pairs"] if match else "").split()]
    if match is None or not pairs or any(len(pair) != 2 or not all(pair) for pair in pairs):
        raise BadInput("points-unreadable", where=where, found=_shown(text), like=like)
    shared: Unit = _unit_word(match["unit"]) if match["unit"] else unit
    return tuple(
        (parse_length(x, shared, where=where, like=like), parse_length(y, shared, where=where, like=like))
        for x, y in pairs
    )


def _parse_number(text: str, ending: str, code: str, where: str, like: str) -> float:
    match = re.fullmatch(r"([-+−]?)\s*(\d+(?:\.\d*)?|\.\d+)\s*(?:" + ending + r")?", text.strip().lower())
    if match is None or len(match[2]) > 12:
        raise BadInput(code, where=where, found=_shown(text), like=like)
    return -float(match[2]) if match[1] in ("-", "−") else float(match[2])


def parse_percent(text: str, *, where: str = "percent", like: str = "-3%") -> float:
    """A percentage as a number: '-3%' and '-3' are -3.0."""
    return _parse_number(text, "%|percent", "percent-unreadable", where, like)


def parse_percent_pair(text: str, *, where: str = "change", like: str = "-3%x-1.5%") -> tuple[float, float]:
    """Percent across and along: `-3%x-1.5%`; one figure counts for both."""
    parts = [part.strip() for part in re.split(r"[x×]", text.strip().lower())]
    if len(parts) > 2 or not all(parts):
        raise BadInput("percent-unreadable", where=where, found=_shown(text), like=like)
    numbers = [parse_percent(part, where=where, like=like) for part in parts]
    return numbers[0], numbers[-1]


def parse_angle_deg(text: str, *, where: str = "angle", like: str = "2deg") -> float:
    """An angle in degrees: '2deg', '2°' and '2' are 2.0."""
    return _parse_number(text, "deg|degrees|°", "angle-unreadable", where, like)


def turn_words(turn_deg: float, digits: int = 2) -> str:
    """A turn in words, as it is seen: which way round, where there are two ways, and never a half turn or more.

    >>> turn_words(-0.96), turn_words(90.0), turn_words(359.999), turn_words(180.0)
    ('0.96° counter-clockwise', '90° clockwise', '0°', '180°')
    """
    turned = 180.0 - (180.0 - round(turn_deg, digits)) % 360.0
    code = "turn-none" if turned in (0.0, 180.0) else "turn-clockwise" if turned > 0 else "turn-counter-clockwise"
    return sentence(code, {"turn": f"{round(abs(turned), digits):g}"})


@dataclass(frozen=True)
class LengthStyle:
    """How lengths are shown: mm to a step, or inches as decimals or to a fraction.

    `mm_step` is 0.1, 0.5 or 1; `inch_parts` is 0 for decimals (to 0.01), 16 or 32 for fractions.
    """

    unit: Literal["mm", "in"] = "mm"
    mm_step: float = 0.5
    inch_parts: int = 0

    def rounded_mm(self, length_mm: float, rounding: Rounding = "nearest") -> float:
        """The length in mm that the shown text stands for.

        >>> LengthStyle().rounded_mm(144.3), LengthStyle().rounded_mm(4.7, "down")
        (144.5, 4.5)
        """
        return _on_a_step_mm(length_mm, self._step_mm, rounding)

    @property
    def _step_mm(self) -> float:
        return self.mm_step if self.unit == "mm" else MM_PER_INCH / (self.inch_parts or 100)

    def said(self, remark: Remark) -> str:
        """A remark's sentence in this style: room that is there is never shown larger, what is needed never smaller.

        >>> LengthStyle().said(Remark.of("lay-no-row", pieces="a, b", need_mm=396.9, have_mm=304.8, way="across"))
        'a, b must lie side by side: that needs 397.0 mm across, and the cloth has 304.5 mm'

        Where less than a step more is needed than is there, both are shown as finely as it takes to tell them apart.

        >>> LengthStyle().said(Remark.of("lay-no-row", pieces="a, b", need_mm=305.02, have_mm=305.0, way="across"))
        'a, b must lie side by side: that needs 305.02 mm across, and the cloth has 305 mm'
        """
        said = {name: self._said_figure(name, value) for name, value in remark.figures}
        figures = dict(remark.figures)
        for need, have in _FOR.items():
            more_mm = float(figures.get(need, 0.0)) - float(figures.get(have, 0.0))
            if need in figures and have in figures and 0.0 < more_mm < self._step_mm:
                said[need], said[have] = self._told_apart(float(figures[need]), float(figures[have]))
        return sentence(remark.code, said)

    def _told_apart(self, need_mm: float, have_mm: float) -> tuple[str, str]:
        """More needed than there is, to 0.01 mm or as much finer as it takes; alike where that is dust."""
        per_unit = 1.0 if self.unit == "mm" else MM_PER_INCH
        digits = 2 if self.unit == "mm" else 3
        while digits < _FINEST_DIGITS and round(need_mm / per_unit, digits) <= round(have_mm / per_unit, digits):
            digits += 1
        texts = [f"{mm / per_unit:.{digits}f}" for mm in (need_mm, have_mm)]
        if texts[0] == texts[1]:
            return self.show(need_mm, "up"), self.show(have_mm, "up")
        need, have = (text.rstrip("0").rstrip(".") if self.unit == "mm" else text for text in texts)
        return f"{need} {self.unit}", f"{have} {self.unit}"

    def _said_figure(self, name: str, value: str | float) -> str | float:
        if not name.endswith("_mm") or isinstance(value, str):
            return value
        if name.endswith("_fine_mm"):
            return self.show_finely(value)
        if name.endswith("_exact_mm"):
            return self.show_exactly(value, "up" if name in _NEEDS else "down")
        if name == "apart_mm" and value > 0.0 and self.rounded_mm(value) == 0.0:
            return self.show_exactly(value, "up")
        rounding: Rounding = "down" if name in _ROOMS else "up" if name in _NEEDS else "nearest"
        return self.show(value, rounding)

    def number(self, length_mm: float, rounding: Rounding = "nearest") -> str:
        """The figure alone, without its unit: '144.5', '5 11/16'."""
        rounded_mm = self.rounded_mm(length_mm, rounding)
        if self.unit == "mm":
            return f"{rounded_mm:.1f}" if self.mm_step < 1 else f"{rounded_mm:.0f}"
        if not self.inch_parts:
            return f"{rounded_mm / MM_PER_INCH:.2f}"
        parts = round(abs(rounded_mm) / MM_PER_INCH * self.inch_parts)
        whole, rest = divmod(parts, self.inch_parts)
        fraction = Fraction(rest, self.inch_parts)
        sign = "-" if rounded_mm < 0 else ""
        if not rest:
            return f"{sign}{whole}"
        return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"

    def show(self, length_mm: float, rounding: Rounding = "nearest") -> str:
        """The length with its unit.

        >>> LengthStyle().show(144.3), LengthStyle("in", inch_parts=16).show(144.5)
        ('144.5 mm', '5 11/16 in')
        """
        return f"{self.number(length_mm, rounding)} {self.unit}"

    def show_exactly(self, length_mm: float, rounding: Rounding = "nearest") -> str:
        """The length to 0.01 mm or 0.001 in, whatever the step: for a figure that decides whether a job fits.

        >>> LengthStyle().show_exactly(14.85), LengthStyle("in", inch_parts=16).show_exactly(14.85, "down")
        ('14.85 mm', '0.584 in')
        """
        if self.unit == "mm":
            return f"{_on_a_step_mm(length_mm, 0.01, rounding):.2f}".rstrip("0").rstrip(".") + " mm"
        return f"{_on_a_step_mm(length_mm, MM_PER_INCH / 1000, rounding) / MM_PER_INCH:.3f} in"

    def show_finely(self, length_mm: float) -> str:
        """The length to the nearest 0.001 mm or 0.0001 in: for paper, of which hundreds lie in a block.

        >>> LengthStyle().show_finely(0.1484), LengthStyle().show_finely(0.1), LengthStyle("in").show_finely(0.1484)
        ('0.148 mm', '0.1 mm', '0.0058 in')
        """
        if self.unit == "mm":
            return f"{_on_a_step_mm(length_mm, 0.001, 'nearest'):.3f}".rstrip("0").rstrip(".") + " mm"
        return f"{length_mm / MM_PER_INCH:.4f} in"


def _on_a_step_mm(length_mm: float, step_mm: float, rounding: Rounding) -> float:
    """The length on the nearest step, or on the next one up or down.

    A length very near a step stands on it: what a search leaves in the last digits is no reason to lose a step.
    """
    steps = length_mm / step_mm
    near = round(steps)
    if abs(steps - near) > min(_ON_A_STEP_MM / step_mm, _ON_A_STEP):
        near = {"nearest": math.floor(steps + 0.5), "up": math.ceil(steps), "down": math.floor(steps)}[rounding]
    return _tidy(near * step_mm)
