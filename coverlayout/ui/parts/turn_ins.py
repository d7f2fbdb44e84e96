"""The four turn-ins of a cover where they differ."""

from __future__ import annotations

from collections.abc import Callable

from coverlayout.book.book import Structure, TurnIns
from coverlayout.ui.cloths.owner import Owner
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.rows import Fold, side_by_side

__all__ = ["TurnInsOneByOne", "alike_mm"]

_SIDES = ("head", "tail", "spine", "fore_edge")
# Covers made in one piece go round the spine: nothing is turned in there.
_AT_THE_SPINE = ("separate-boards", "side-sewn", "accordion", "parts")


def alike_mm(turn_ins: TurnIns, structure: Structure) -> float | None:
    """The one figure of all turn-ins that a book of the structure has, None when they differ.

    >>> alike_mm(TurnIns(15.0, 15.0, 9.0, 15.0), "flat-case"), alike_mm(TurnIns(15.0, 15.0, 9.0, 15.0), "accordion")
    (15.0, None)
    """
    figures = {getattr(turn_ins, f"{side}_mm") for side in _sides_of(structure)}
    return figures.pop() if len(figures) == 1 else None


def _sides_of(structure: Structure) -> tuple[str, ...]:
    return tuple(side for side in _SIDES if side != "spine" or structure in _AT_THE_SPINE)


class TurnInsOneByOne(Fold):
    """A field for each turn-in. `give` takes all four when one was typed."""

    def __init__(self, owner: Owner, give: Callable[[TurnIns], None]) -> None:
        super().__init__("Turn-ins one by one", tip="When head, tail, spine and fore-edge differ.")
        self._owner = owner
        self._give = give
        self._shown = TurnIns()
        self._structure: Structure = "separate-boards"
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
        return alike_mm(self._shown, self._structure)

    def show_turn_ins(self, turn_ins: TurnIns, structure: Structure = "separate-boards") -> None:
        """Show the turn-ins that a book of this structure has."""
        self._shown = turn_ins
        self._structure = structure
        self.each["spine"].setVisible("spine" in _sides_of(structure))
        self.set_note("they differ" if self.alike_mm is None else "all alike")
        for side, entry in self.each.items():
            entry.show_value(getattr(turn_ins, f"{side}_mm"), self._owner.style_of_lengths.unit)


def _with_side(turn_ins: TurnIns, side: str, value_mm: float) -> TurnIns:
    figures = {each: getattr(turn_ins, f"{each}_mm") for each in _SIDES} | {side: value_mm}
    return TurnIns(**{f"{each}_mm": figure for each, figure in figures.items()})
