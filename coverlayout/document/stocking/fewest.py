"""The fewest sheets that hold all pieces of a material, and the least length off a roll, with what shows it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.document.project import Stock
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.showing import sheets_shown
from coverlayout.document.stocking.stock_asked import grain_note, question_on, turns_on
from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Placed, Watch, never
from coverlayout.layout.strips.least_length import least_length
from coverlayout.units import LONGEST_MM

__all__ = ["Asked", "fewest_sheets", "shortest_length"]

# Steps for a first look at a number of sheets that will mostly do; and of many pieces each needs so many of its own.
_LOOK_STEPS, _LOOK_STEPS_A_PIECE, _STEPS_A_PIECE = 2_000, 100, 200
# Steps of a question that only raises the bound, and of a length off a roll, at most.
_BOUND_STEPS, _ROLL_STEPS = 20_000, 60_000
# So many questions are about all that a search asks: only for the share done.
_USUAL_QUESTIONS = 6


@dataclass(frozen=True)
class Asked:
    """One stock and the items of one material and thickness to lay on it, all of which fit; steps for each number."""

    stock: Stock
    material: Material
    thickness_mm: float | None
    items: tuple[CutItem, ...]
    steps: int

    @property
    def need_mm2(self) -> float:
        """The area of all pieces."""
        return math.fsum(item.width_mm * item.height_mm * item.count for item in self.items)

    @property
    def pieces(self) -> int:
        """How many pieces there are."""
        return sum(item.count for item in self.items)


def fewest_sheets(asked: Asked, watch: Watch = never) -> OnStock:
    """All items on as few sheets as are found, with how many are needed at least."""
    search = _Search(asked, watch)
    search.run()
    placed = search.placed
    return OnStock(
        stock=asked.stock,
        material=asked.material,
        thickness_mm=asked.thickness_mm,
        items=asked.items,
        sheets=sheets_shown(asked.stock, asked.items, placed, asked.stock.length_mm or 0.0, watch),
        least=search.least,
        proved=bool(placed) and search.least >= search.count,
        why=search.why if search.count > 1 else None,
        notes=grain_note(asked.stock, asked.items),
        cut_short=search.cut_short,
    )


class _Search:
    """One search: the fewest sheets laid, and how many are needed at least."""

    def __init__(self, asked: Asked, watch: Watch) -> None:
        self._asked, self._watch = asked, watch
        self._length_mm = asked.stock.length_mm or 0.0
        self._look_steps = max(_LOOK_STEPS, _LOOK_STEPS_A_PIECE * asked.pieces)
        self._steps = max(asked.steps, _STEPS_A_PIECE * asked.pieces)
        self.placed: tuple[Placed, ...] = ()
        self.least = 1
        self.why: Remark | None = None
        self.cut_short = False
        self._questions = 0

    @property
    def count(self) -> int:
        """How many sheets the layout takes."""
        return len({placed.cloth for placed in self.placed})

    def run(self) -> None:
        """From above down to a number that is refused or not found, then the bound from below."""
        by_area = max(math.ceil(self._asked.need_mm2 / (self._asked.stock.width_mm * self._length_mm) - EXACT_MM), 1)
        self._look(by_area)
        while self.placed and self.count > self.least and not self.cut_short:
            if not self._asks(self.count - 1, self._steps):
                break
        low, high = min(by_area, self.count) - 1, self.count - 1
        if low >= 1 and self.least < self.count and not self.cut_short:
            self._raise_bound(low, high)

    def _look(self, by_area: int) -> None:
        """A first layout on rather more sheets than the area needs; one sheet a piece is always enough."""
        for count in (by_area + max(1, by_area // 4), 2 * by_area + 1, self._asked.pieces):
            if self._asks(max(min(count, self._asked.pieces), by_area, self.least), self._look_steps) or self.cut_short:
                return

    def _raise_bound(self, low: int, high: int) -> None:
        """The largest number that is refused, between one that mostly is, by its area, and one that was left open."""
        while low < high and not self.cut_short:
            if self._asks(low, min(self._steps, max(_BOUND_STEPS, self._look_steps))):
                return
            if self.least <= low:
                high = low
            else:
                low = max((low + high) // 2, self.least)

    def _asks(self, sheets: int, steps: int) -> bool:
        """Decide a number of sheets; True when all lies on so many."""
        if self._watch_here(0.0):
            self.cut_short = True
            return False
        self._questions += 1
        question = question_on(self._asked.stock, self._asked.items, sheets, self._length_mm, steps)
        answer = first_layout(question, self._watch_here)
        self.cut_short = self.cut_short or answer.cut_short
        if answer.placed:
            self.placed = answer.placed
            return True
        if answer.verdict == "does not fit" and sheets >= self.least:
            self.least, self.why = sheets + 1, _why(answer, sheets, self._asked)
        return False

    def _watch_here(self, share_done: float) -> bool:
        return self._watch(min((self._questions + share_done) / _USUAL_QUESTIONS, 1.0))


def _why(answer: Answer, sheets: int, asked: Asked) -> Remark:
    """Why so many sheets are not enough: by area or by counting rows where that shows it, else that it was proved."""
    length_mm = asked.stock.length_mm or 0.0
    if answer.proof is not None and answer.proof.name == "area":
        need, have = round(asked.need_mm2 / 100), round(sheets * asked.stock.width_mm * length_mm / 100)
        return Remark.of("stock-fewer-area", fewer=sheets, need_cm2=need, have_cm2=have)
    for item in asked.items:
        most, needed = _rows(asked, item)
        if needed > sheets * most:
            return Remark.of("stock-fewer-rows", fewer=sheets, piece=item.name, most=most, needed=needed)
    return Remark.of("stock-fewer-proved", fewer=sheets)


def _rows(asked: Asked, item: CutItem) -> tuple[int, int]:
    """How many of an item lie on a sheet at most, and how many pieces at least as large both ways there are.

    Rectangles that may not be turned are at most as many as stand in whole rows and columns: of the points of a grid as
    wide and high as they are, each covers one. Of items that may be turned nothing is said.
    """
    size = _lying_mm(asked, item)
    if size is None:
        return 0, 0
    most = [
        math.floor((side + SAME_LENGTH_MM) / one + EXACT_MM)
        for side, one in zip((asked.stock.width_mm, asked.stock.length_mm or 0.0), size, strict=True)
    ]
    others = [(other.count, _lying_mm(asked, other)) for other in asked.items]
    needed = sum(count for count, lying in others if lying and lying[0] >= size[0] and lying[1] >= size[1])
    return most[0] * most[1], needed


def _lying_mm(asked: Asked, item: CutItem) -> tuple[float, float] | None:
    """Across and along as the item lies, None where it may be turned."""
    turns_deg = turns_on(asked.stock, item)
    if len(turns_deg) > 1:
        return None
    return (item.width_mm, item.height_mm) if turns_deg == (0.0,) else (item.height_mm, item.width_mm)


def shortest_length(asked: Asked, watch: Watch = never) -> OnStock:
    """All items on the least length off a roll."""
    reach = math.fsum(max(item.width_mm, item.height_mm) * item.count for item in asked.items)
    enough_mm = min(float(math.ceil(reach)) + 1.0, LONGEST_MM)
    question = question_on(asked.stock, asked.items, 1, enough_mm, min(asked.steps, _ROLL_STEPS))
    found = least_length(question, watch)
    laid = OnStock(
        stock=asked.stock,
        material=asked.material,
        thickness_mm=asked.thickness_mm,
        items=asked.items,
        sheets=(),
        least=1,
        proved=found.proved,
        least_mm=found.bound_mm,
        notes=grain_note(asked.stock, asked.items),
        cut_short=found.cut_short,
    )
    if found.length_mm is None:
        return laid
    return replace(laid, sheets=sheets_shown(asked.stock, asked.items, found.placed, found.length_mm, None))
