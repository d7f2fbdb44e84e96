"""The ladder of cuts: which rungs the bar shows, their words, and all of them as bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coverlayout.ui.verdict.chips import Chip, State, Symbol
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.layout.ladder import Bundle, Ladder, Rung

__all__ = ["CutBar", "bars_of", "chips_of", "least_words", "no_cloth_helps", "rung_words", "size_words"]

# So many rungs fit into the bar of a small window.
_SHOWN = 3
# How a proof names wishes that can never hold together, whatever the cloth.
_QUARRELS = ("two locks", "two links", "locks and link", "no turn", "ring of links", "chain between locks")
# The track of the bars is so many times as long as the least cut that fits with room.
_TRACK_TIMES, _NEARLY = 5.0, 1e-9


def no_cloth_helps(ladder: Ladder) -> bool:
    """True when wishes that must hold quarrel, which they do on every cloth."""
    proofs = (rung.answer.proof for rung in ladder.rungs)
    return any(proof is not None and dict(proof.figures).get("wish") in _QUARRELS for proof in proofs)


def least_words(ladder: Ladder | None) -> tuple[str, str]:
    """The least cut that holds the job and what is said below it."""
    if ladder is None:
        return "–", "least cut that holds it"
    if ladder.least is None and no_cloth_helps(ladder):
        return "no cut", "while these wishes stand"
    if ladder.least is None:
        return "no cut", "of the ladder holds it"
    if ladder.least_with_room not in (None, ladder.least):
        return ladder.least, f"with room: {ladder.least_with_room}"
    return ladder.least, "least cut that holds it"


def chips_of(ladder: Ladder | None, style: LengthStyle, *, old: bool = False) -> tuple[Chip, ...]:
    """The rungs around the least cut: the one before it, itself, and the next; none while the answer is of before."""
    if ladder is None or old or not ladder.rungs or no_cloth_helps(ladder):
        return ()
    names = [rung.name for rung in ladder.rungs]
    at = names.index(ladder.least) if ladder.least in names else len(names) - 1
    first = max(0, min(at - 1, len(names) - _SHOWN))
    return tuple(_chip(rung, style, least=rung.name == ladder.least) for rung in ladder.rungs[first : first + _SHOWN])


def _chip(rung: Rung, style: LengthStyle, *, least: bool) -> Chip:
    word, state, symbol = rung_words(rung)
    return Chip(rung.name, word, state, symbol, _tip(rung, style), least)


def rung_words(rung: Rung | Bundle) -> tuple[str, State, Symbol]:
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


@dataclass(frozen=True)
class CutBar:
    """One way to buy cloth as a bar: how much of the track it takes (0 to 1), its verdict, room and price in words.

    `mark` says what it is the least of, empty for most. `cuts` are the cuts bought, one several times for several.
    `beyond`: it is longer than the track, and drawn with a break.
    """

    name: str
    cuts: tuple[str, ...]
    share: float
    size: str
    word: str
    state: State
    symbol: Symbol
    room: str = ""
    price: str = ""
    mark: str = ""
    beyond: bool = False

    @property
    def told(self) -> str:
        """All of it in one line, for those who hear the screen."""
        return ", ".join(each for each in (self.name, self.mark, self.size, self.word, self.room, self.price) if each)


def bars_of(ladder: Ladder, style: LengthStyle, currency: str = "") -> tuple[CutBar, ...]:
    """The cheapest cuts together where they are several, then every cut, least first.

    As long as their prices where all are known, else as their areas. The track ends at a few times the least that fits
    with room, so that the cuts one chooses among are told apart.
    """
    by_price = all(rung.price is not None for rung in ladder.rungs)
    sizes = [(rung.price or 0.0) if by_price else rung.width_mm * rung.length_mm for rung in ladder.rungs]
    bundle = _several(ladder)
    cheapest = 0.0 if bundle is None else (bundle.price or 0.0) if by_price else bundle.area_mm2
    most = max([*sizes, cheapest], default=0.0)
    named = dict(zip((rung.name for rung in ladder.rungs), sizes, strict=True))
    chosen = max(named.get(ladder.least or "", 0.0), named.get(ladder.least_with_room or "", 0.0), cheapest)
    track = min(most, chosen * _TRACK_TIMES) or most or 1.0
    bars = [
        _bar(rung, size / track, style, currency, _mark_of(rung.name, ladder))
        for rung, size in zip(ladder.rungs, sizes, strict=True)
    ]
    if bundle is None:
        return tuple(bars)
    word, state, symbol = rung_words(bundle)
    name = " + ".join(f"{count} × {name}" if count > 1 else name for name, count in bundle.counted)
    room = "" if bundle.answer.spare_mm is None else style.show(bundle.answer.spare_mm, "down")
    mark = "cheapest together" if bundle.price is not None else "least cloth together"
    first = CutBar(
        name, bundle.cuts, cheapest / track, "", word, state, symbol, room, _price(bundle.price, currency), mark
    )
    return (first, *bars)


def _several(ladder: Ladder) -> Bundle | None:
    """The cheapest cuts bought together, None where one cut is as cheap as any."""
    return ladder.cheapest if ladder.cheapest is not None and len(ladder.cheapest.cuts) > 1 else None


def _mark_of(name: str, ladder: Ladder) -> str:
    if name == ladder.least:
        return "least, with room" if name == ladder.least_with_room else "least"
    return "least with room" if name == ladder.least_with_room else ""


def _bar(rung: Rung, share: float, style: LengthStyle, currency: str, mark: str) -> CutBar:
    word, state, symbol = rung_words(rung)
    room = "" if rung.spare_mm is None else style.show(rung.spare_mm, "down")
    size = f"{size_words(rung, style)} {style.unit}"
    price, beyond = _price(rung.price, currency), share > 1.0 + _NEARLY
    return CutBar(rung.name, (rung.name,), min(share, 1.0), size, word, state, symbol, room, price, mark, beyond)


def _price(price: float | None, currency: str) -> str:
    return "" if price is None else f"{price:.2f} {currency}".strip()
