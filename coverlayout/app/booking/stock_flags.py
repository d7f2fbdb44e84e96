"""From the flags of board, card, web, tissue and paper to the sheets and rolls there are."""

from __future__ import annotations

import re
from typing import get_args

from coverlayout.app.flags import Flag, Given, one_word
from coverlayout.cloth.cloth import Backing, Cloth
from coverlayout.document.project import Stock, StockMaterial
from coverlayout.errors import BadInput
from coverlayout.units import parse_length, parse_size

__all__ = ["BACKING_FLAG", "STOCK_FLAGS", "backing_of_flags", "stocks_of"]

_WORDS: dict[str, Backing] = {word.replace(" ", "-"): word for word in get_args(Backing)}
BACKING_FLAG = Flag("--backing", f"what is bonded to the cloth: {', '.join(_WORDS)}", "web")
_SHEETS: dict[str, StockMaterial] = {
    "--board-sheet": "board",
    "--card-sheet": "card",
    "--web-sheet": "web",
    "--tissue-sheet": "tissue",
    "--paper-sheet": "paper",
    "--lining-sheet": "lining",
}
STOCK_FLAGS = tuple(Flag(flag, material, "700x1000mm") for flag, material in _SHEETS.items())


def stocks_of(given: Given) -> tuple[Stock, ...]:
    """The sheets and rolls the flags speak of, with ids from `stock-1` on. BadInput naming the flag."""
    made = [_stock(flag, material, given.one(flag)) for flag, material in _SHEETS.items() if given.has(flag)]
    return tuple(
        Stock(f"stock-{number}", material, material, width_mm, length_mm)
        for number, (material, width_mm, length_mm) in enumerate(made, 1)
    )


def _stock(flag: str, material: StockMaterial, text: str | None) -> tuple[StockMaterial, float, float | None]:
    like = "700x1000mm"
    if re.search(r"[x×]", (text or "").lower()):
        return material, *parse_size(text or "", where=flag, like=like)
    if material in ("board", "card"):
        raise BadInput("size-unreadable", where=flag, found=(text or "")[:40], like=like)
    return material, parse_length(text or "", where=flag, like="430mm", least="above 0"), None


def backing_of_flags(given: Given, cloth: Cloth | None) -> Backing | None:
    """The backing the flag names, None without the flag. BadInput when there is no cloth to back."""
    if not given.has(BACKING_FLAG.name):
        return None
    if cloth is None:
        raise BadInput("flag-without", flag=BACKING_FLAG.name, other="--cloth 12x12in")
    return _WORDS[one_word(given, BACKING_FLAG.name, tuple(_WORDS), "none")]
