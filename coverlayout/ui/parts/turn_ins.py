"""The four turn-ins of a cover where they differ."""

from __future__ import annotations

from collections.abc import Callable

from coverlayout.book.book import Structure, TurnIns
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.rows import Fold, side_by_side

__all__ = ["TurnInsOneByOne"]

_SIDES = ("head", "tail", "spine", "fore_edge")
# Covers made in one piece go round the spine: nothing is turned in there.
_AT_THE_SPINE = ("separate-boards", "side-sewn", "accordion", "parts")


class TurnInsOneByOne(Fold):
    """A field for each turn-in. `give` takes all four when one was typed."""

    def __init__(self, owner: Owner, give: Callable[[TurnIns], None]) -> None:
        super().__init__("Turn-ins one by one", tip="When head, tail, spine and fore-edge differ.")
        self._owner = owner
        self._give = give
        self._shown = TurnIns()
        self._sides: tuple[str, ...] = _SIDES
        self.each = {side: self._entry(side) for side in ("head", "tail", "fore_edge", "spine")}
        self.body.addWidget(side_by_side(self.each["head"], self.each["tail"]))
        self.body.addWidget(side_by_side(self.each["fore_edge"], self.each["spine"]))

    def _entry(self, side: str) -> Entry:
        words = side.replace("_", "-")
        return self._owner.length(
            words.capitalize(),
            lambda value: self._give(_with_side(self._shown, side, value)),
            tip=f"Turn-in at the {words}.",
            like="15mm",
        )

    @property
    def alike_mm(self) -> float | None:
        """The one figure of all there are, None when they differ."""
        figures = {getattr(self._shown, f"{side}_mm") for side in self._sides}
        return figures.pop() if len(figures) == 1 else None

    def show_turn_ins(self, turn_ins: TurnIns, structure: Structure = "separate-boards") -> None:
        """Show the turn-ins that a book of this structure has."""
        self._shown = turn_ins
        self._sides = tuple(side for side in _SIDES if side != "spine" or structure in _AT_THE_SPINE)
        self.each["spine"].setVisible("spine" in self._sides)
        self.set_note("they differ" if self.alike_mm is None else "all alike")
        for side, entry in self.each.items():
            entry.show_value(getattr(turn_ins, f"{side}_mm"), self._owner.style_of_lengths.unit)


def _with_side(turn_ins: TurnIns, side: str, value_mm: float) -> TurnIns:
    figures = {each: getattr(turn_ins, f"{each}_mm") for each in _SIDES} | {side: value_mm}
    return TurnIns(**{f"{each}_mm": figure for each, figure in figures.items()})
