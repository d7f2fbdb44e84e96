"""Materials and stock in words: what a material is called, how a sheet is written, what a price counts for."""

from __future__ import annotations

from collections.abc import Iterable

from coverlayout.document.project import Stock, StockMaterial
from coverlayout.errors import Remark
from coverlayout.ui.fields.figures import exact_length
from coverlayout.units import LengthStyle

__all__ = [
    "MATERIALS",
    "PRICED",
    "is_roll",
    "material_words",
    "price_words",
    "priced_as",
    "sentences_of",
    "stock_figures",
    "usual_name",
]

MATERIALS: tuple[tuple[StockMaterial, str], ...] = (
    ("board", "board"),
    ("card", "card"),
    ("web", "fusible web"),
    ("tissue", "tissue"),
    ("paper", "paper"),
    ("lining", "spine lining"),
    ("thread", "thread"),
)
"""Every material that is kept, with its word."""

PRICED = {"sheet": "a sheet", "roll": "a metre off the roll", "thread": "a metre"}
"""What the price of a stock is for."""


def material_words(material: str, thickness_mm: float | None, style: LengthStyle) -> str:
    """A material as a heading.

    >>> material_words("board", 2.0, LengthStyle()), material_words("web", None, LengthStyle())
    ('Board, 2 mm', 'Fusible web')
    """
    words = dict(MATERIALS).get(material, material)  # type: ignore[call-overload]  # a material of a cut list
    thick = "" if thickness_mm is None else f", {exact_length(thickness_mm, style)} {style.unit}"
    return f"{words[:1].upper()}{words[1:]}{thick}"


def usual_name(stock: Stock, style: LengthStyle) -> str:
    """What a stock is called until the maker says otherwise.

    >>> usual_name(Stock("", "", "board", thickness_mm=2.0), LengthStyle())
    '2 mm board'
    """
    words = dict(MATERIALS)[stock.material]
    return words if stock.thickness_mm is None else f"{exact_length(stock.thickness_mm, style)} {style.unit} {words}"


def is_roll(stock: Stock) -> bool:
    """True for what comes off a roll."""
    return stock.material != "thread" and stock.length_mm is None


def stock_figures(stock: Stock, style: LengthStyle, currency: str) -> str:
    """How large it is, how its grain runs and what it costs, in one line.

    >>> grey = Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.0, "long", 4.5)
    >>> stock_figures(grey, LengthStyle(), "EUR")
    '700 × 1000 mm, grain long, 4.50 EUR a sheet'
    """
    parts: list[str] = []
    if stock.material != "thread" and stock.width_mm > 0.0:
        width = exact_length(stock.width_mm, style)
        if stock.length_mm is None:
            parts.append(f"roll, {width} {style.unit} wide")
        else:
            parts.append(f"{width} × {exact_length(stock.length_mm, style)} {style.unit}")
    if stock.grain != "unknown":
        parts.append(f"grain {stock.grain}")
    if stock.price is not None:
        parts.append(f"{price_words(stock.price, currency)} {PRICED[priced_as(stock)]}")
    return ", ".join(parts)


def priced_as(stock: Stock) -> str:
    """What its price is for, a key of PRICED."""
    return "thread" if stock.material == "thread" else "roll" if is_roll(stock) else "sheet"


def price_words(amount: float, currency: str) -> str:
    """An amount in the maker's currency.

    >>> price_words(12.5, "EUR"), price_words(3.0, "")
    ('12.50 EUR', '3.00')
    """
    return f"{amount:.2f} {currency}".strip()


def sentences_of(remarks: Iterable[Remark], style: LengthStyle) -> str:
    """All of them, each with its capital and its full stop.

    >>> sentences_of([Remark.of("stock-one-sheet", name="grey board"), Remark("stock-fewer-proved")], LengthStyle())
    '1 sheet of grey board. One sheet less would not do: that was proved.'
    """
    said = (style.said(remark).rstrip(".") for remark in remarks)
    return " ".join(f"{words[:1].upper()}{words[1:]}." for words in said)
