"""What a change does, in one sentence: the figure that makes it fit, shown exactly, and the room that is then left."""

from __future__ import annotations

from collections.abc import Collection
from typing import Literal

from coverlayout.book.turn_ins import Edge
from coverlayout.document.asking.purchases import Purchase
from coverlayout.document.changing.lengths import Sides
from coverlayout.document.project import LinkWish, LockWish
from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer

__all__ = [
    "gap_said",
    "liners_said",
    "paper_said",
    "purchase_said",
    "smaller_book_said",
    "turn_ins_said",
    "wish_said",
]

# Room below this cannot be marked or cut, and is shown as 0 to half a millimetre: there is nothing to spare.
_NOTHING_MM = 0.5
_ALL_ROUND: tuple[Edge, ...] = ("head", "tail", "spine", "fore-edge")
_SIDES_CODES: dict[Sides, str] = {
    "all round": "change-turn-ins",
    "head and tail": "change-turn-ins-ends",
    "spine and fore-edge": "change-turn-ins-sides",
}


def _said(code: str, answer: Answer, **figures: str | float) -> Remark:
    """The sentence of that code, or its fellow where there is nothing to spare."""
    spare_mm = answer.spare_mm or 0.0
    return (
        Remark.of(code, **figures, spare_mm=spare_mm)
        if spare_mm >= _NOTHING_MM
        else Remark.of(f"{code}-barely", **figures)
    )


def liners_said(answer: Answer, turned: tuple[str, ...], all_of_them: int) -> Remark:
    """The liners of these names turned, of so many that may turn."""
    code = "change-turn-liners" if len(turned) == all_of_them else "change-turn-some"
    printed = any(note.code == "lay-quarter-turn-print" for note in answer.notes)
    named = {} if len(turned) == all_of_them else {"pieces": ", ".join(turned)}
    return _said(f"{code}-print" if printed else code, answer, **named)


def paper_said(answer: Answer, kind: Literal["paper liners", "paper sides"] = "paper liners") -> Remark:
    """Liners or sides from paper; where all else is cut already, nothing is left to lay and no room to tell of."""
    code = f"change-{kind.replace(' ', '-')}"
    return Remark(f"{code}-only") if answer.spare_mm is None else _said(code, answer)


def gap_said(answer: Answer, gap_mm: float) -> Remark:
    """A smaller gap, or none."""
    return _said("change-gap", answer, gap_exact_mm=gap_mm) if gap_mm > 0 else _said("change-no-gap", answer)


def turn_ins_said(answer: Answer, sides: Sides, turn_in_mm: float, edges: Collection[Edge] = _ALL_ROUND) -> Remark:
    """Smaller turn-ins on some or all sides; only those of `edges` are there to be turned in."""
    code = _SIDES_CODES[sides]
    if sides == "spine and fore-edge" and "spine" not in edges:
        code = "change-turn-ins-fore-edge"
    elif sides == "head and tail" and "tail" not in edges:
        code = "change-turn-ins-lap"
    elif sides == "all round" and len(edges) < len(_ALL_ROUND):
        code = "change-turn-ins-every"
    return _said(code, answer, turn_in_exact_mm=turn_in_mm)


def wish_said(answer: Answer, wish: LockWish | LinkWish, missed_mm: float) -> Remark:
    """A wish dropped: in the maker's own words, else by what it asks of which pieces; and how near it can be held."""
    code, figures = _wish_figures(wish)
    if not missed_mm:
        return _said(code, answer, **figures)
    return _said(f"{code}-missed", answer, **figures, amount_exact_mm=missed_mm)


def _wish_figures(wish: LockWish | LinkWish) -> tuple[str, dict[str, str]]:
    if wish.sentence:
        return "change-drop-wish", {"wish": wish.sentence}
    if isinstance(wish, LockWish):
        return "change-drop-place", {"piece": wish.piece}
    code = "change-drop-run-on" if wish.differences_mm else "change-drop-alike"
    return code, {"pieces": ", ".join(wish.pieces)}


def smaller_book_said(answer: Answer, less_mm: float, board_mm: Point, books: int, *, limp: bool = False) -> Remark:
    """A book, or several, smaller by so much in height; the board of the highest one then, or the front of a `limp`."""
    code = "change-smaller-book" if books == 1 else "change-smaller-books"
    if limp and books == 1:
        code = "change-smaller-limp"
    width, height = board_mm
    figures = {"amount_exact_mm": less_mm, "board_width_exact_mm": width, "board_height_exact_mm": height}
    return _said(code, answer, **figures)


def purchase_said(answer: Answer, purchase: Purchase, currency: str, *, beside: bool) -> Remark:
    """Cloth bought in place of what there is, or beside it, with its price where that is known."""
    code = "change-buy-more" if beside else "change-buy"
    name = purchase.name
    if purchase.price is not None:
        return _said(f"{code}-price", answer, name=name, price=f"{purchase.price:.2f} {currency}".strip())
    return _said(code, answer, name=name)
