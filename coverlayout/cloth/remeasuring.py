"""Measuring a cloth again: a length that was so long and now is so long gives the change in size since.

Source of the sign: ISO 5077, AATCC 135 (minus is shrinkage, in percent of the length before).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coverlayout.cloth.cloth import Change
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["MEASURED_AGAIN", "Remeasured", "measured_again", "reading_remark"]

MEASURED_AGAIN = "measured again"
"""What a change in size is called that nobody gave a name."""

# A ruler is read to half a millimetre. Common practice, no source.
_RULER_MM = 0.5
_SURE_PERCENT = 0.5
# Cloth that lost or gained more than this was measured between other marks. Common practice, no source.
_MOST_PERCENT = 50.0


@dataclass(frozen=True)
class Remeasured:
    """One length on the cloth: what it is by the project now, and what the ruler says."""

    was_mm: float
    now_mm: float

    @property
    def percent(self) -> float:
        """By how much it changed, minus for shrinking.

        >>> Remeasured(400.0, 388.0).percent
        -3.0
        """
        return 100 * (self.now_mm - self.was_mm) / self.was_mm


def measured_again(across: Remeasured | None, along: Remeasured | None, name: str = MEASURED_AGAIN) -> Change:
    """The change in size that follows from one length in each direction; a direction not measured stays as it is.

    BadInput when nothing was measured, a length is not above 0, nothing changed, or a length changed by more than half.

    >>> measured_again(Remeasured(400.0, 390.0), None).across_percent
    -2.5
    """
    measured = [(word, length) for word, length in (("across", across), ("along", along)) if length is not None]
    if not measured:
        raise BadInput("remeasure-nothing")
    for word, length in measured:
        _check(word, length)
    if all(abs(length.now_mm - length.was_mm) <= SAME_LENGTH_MM for _, length in measured):
        raise BadInput("remeasure-same")
    return Change(name, across.percent if across else 0.0, along.percent if along else 0.0)


def _check(word: str, length: Remeasured) -> None:
    for value_mm in (length.was_mm, length.now_mm):
        if not (math.isfinite(value_mm) and value_mm > SAME_LENGTH_MM):
            raise BadInput("remeasure-not-positive", direction=word, found_mm=value_mm)
    if abs(length.percent) > _MOST_PERCENT:
        raise BadInput(
            "remeasure-too-much",
            direction=word,
            was_mm=length.was_mm,
            now_mm=length.now_mm,
            percent=f"{length.percent:+.0f}",
        )


def reading_remark(length: Remeasured, direction: str) -> Remark | None:
    """A caution when the length is so short that reading the ruler counts for more than half a percent; else None."""
    if 100 * _RULER_MM / length.was_mm <= _SURE_PERCENT:
        return None
    return Remark.of("remeasure-short", direction=direction, was_mm=length.was_mm, better_mm=100.0)
