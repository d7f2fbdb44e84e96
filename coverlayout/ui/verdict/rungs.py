"""The ladder of cuts in the bar: which rungs to show, and their words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coverlayout.ui.verdict.chips import Chip, State, Symbol
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.layout.ladder import Ladder, Rung

__all__ = ["chips_of", "least_words", "rung_words", "size_words"]

# So many rungs fit into the bar of a small window.
_SHOWN = 3


def least_words(ladder: Ladder | None) -> tuple[str, str]:
    """The least cut that holds the job and what is said below it."""
    if ladder is None:
        return "–", "least cut that holds it"
    if ladder.least is None:
        return "no cut", "of the ladder holds it"
    if ladder.least_with_room not in (None, ladder.least):
        return ladder.least, f"with room: {ladder.least_with_room}"
    return ladder.least, "least cut that holds it"


def chips_of(ladder: Ladder | None, style: LengthStyle, *, old: bool = False) -> tuple[Chip, ...]:
    """The rungs around the least cut: the one before it, itself, and the next; none while the answer is of before."""
    if ladder is None or old or not ladder.rungs:
        return ()
    names = [rung.name for rung in ladder.rungs]
    at = names.index(ladder.least) if ladder.least in names else len(names) - 1
    first = max(0, min(at - 1, len(names) - _SHOWN))
    return tuple(_chip(rung, style, least=rung.name == ladder.least) for rung in ladder.rungs[first : first + _SHOWN])


def _chip(rung: Rung, style: LengthStyle, *, least: bool) -> Chip:
    word, state, symbol = rung_words(rung)
    return Chip(rung.name, word, state, symbol, _tip(rung, style), least)


def rung_words(rung: Rung) -> tuple[str, State, Symbol]:
    """The verdict of a cut in a word, its colour and its sign."""
    if rung.verdict == "fits":
        return "fits", "fits", "tick"
    if rung.verdict == "fits, tight":
        return "fits, tight", "tight", "half ring"
    if rung.verdict == "does not fit":
        return "does not fit", "no", "cross"
    return "not found", "muted", "dots"


def size_words(rung: Rung, style: LengthStyle) -> str:
    """Width and length of a cut without their unit: what there is to cut from, so never rounded up."""
    return f"{style.number(rung.width_mm, 'down')} × {style.number(rung.length_mm, 'down')}"


def _tip(rung: Rung, style: LengthStyle) -> str:
    size = f"{size_words(rung, style)} {style.unit}"
    room = "" if rung.spare_mm is None else f"\n{style.show(rung.spare_mm, 'down')} to spare"
    price = "" if rung.price is None else f"\nprice {rung.price:.2f}"
    return f"{rung.name}: {size}{room}{price}\nA click shows all cuts."
