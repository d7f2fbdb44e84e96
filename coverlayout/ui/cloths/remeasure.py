"""Measuring a cloth again: what one length was and what it is now, in each direction, and what follows from it."""

from __future__ import annotations

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.remeasuring import MEASURED_AGAIN, Remeasured, measured_again, reading_remark
from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.measuring.again import measure_again
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_number
from coverlayout.ui.fields.rows import Fold, button, side_by_side

__all__ = ["RemeasurePart"]

_WAYS = ("across", "along")


class RemeasurePart(Fold):
    """Four lengths, and one button that makes the change in size follow from them.

    What a length was is the cloth's own width and length until another is typed.
    """

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__("Measure again", tip="After washing or bonding: two lengths tell how much the cloth changed.")
        self._owner = owner
        self._was: dict[str, float | None] = dict.fromkeys(_WAYS)
        self._now: dict[str, float | None] = dict.fromkeys(_WAYS)
        self._shown: Cloth | None = None
        self.name = Entry(
            "What happened", str.strip, str, self._give_name, tip="Washing, bonding, pressing: what changed the cloth."
        )
        self._name = MEASURED_AGAIN
        self.was = {way: self._length(way, "was") for way in _WAYS}
        self.now = {way: self._length(way, "now") for way in _WAYS}
        self.follows = label(role="muted")
        self.take = button(
            "Take it over",
            self._take,
            tip="One change in size per direction follows; every plan on this cloth is judged again.",
        )
        self.body.addWidget(label(sentence("remeasure-how", {}), "muted"))
        self.body.addWidget(self.name)
        for way in _WAYS:
            self.body.addWidget(side_by_side(self.was[way], self.now[way]))
        self.body.addWidget(self.follows)
        self.body.addWidget(self.take)

    def _length(self, way: str, when: str) -> Entry:
        title = f"{way.capitalize()}, what was" if when == "was" else "is now"
        tip = (
            f"Any length {way} that you can find again: the cloth's own, or between two marks, by the size it has here."
            if when == "was"
            else f"The same length {way} as the ruler says it now. Leave it empty when you did not measure {way}."
        )
        return self._owner.length(title, lambda length_mm: self._give(way, when, length_mm), tip=tip, like="300mm")

    def _give(self, way: str, when: str, length_mm: float) -> None:
        (self._was if when == "was" else self._now)[way] = length_mm
        self._show()

    def _give_name(self, name: str) -> None:
        self._name = name or MEASURED_AGAIN
        self._show()

    def _measured(self, way: str) -> Remeasured | None:
        was_mm, now_mm = self._was_mm(way), self._now[way]
        return None if was_mm is None or now_mm is None else Remeasured(was_mm, now_mm)

    def _was_mm(self, way: str) -> float | None:
        typed, cloth = self._was[way], self._shown
        return typed if typed is not None or cloth is None else size_now_mm(cloth)[_WAYS.index(way)]

    def _shown_was_mm(self, way: str) -> float | None:
        """What was typed; else the cloth's own size, reckoned with as exactly as it is.

        One finer than a ruler tells, as an outline makes it, is shown as it stands over the cloth.
        """
        was_mm = self._was_mm(way)
        if was_mm is None or self._was[way] is not None or abs(was_mm - round(was_mm, 1)) <= SAME_LENGTH_MM:
            return was_mm
        return self._owner.style_of_lengths.rounded_mm(was_mm, "down")

    def _take(self) -> None:
        cloth = self._owner.cloth
        if cloth is None:
            return
        across, along = (self._measured(way) for way in _WAYS)
        try:
            edit = measure_again(cloth.id, across, along, change_name=self._name, name=cloth.name)
            self._owner.do(edit)
        except CoverlayoutError as fault:
            self.follows.setText(self._said(fault))
            return
        self._forget()

    def _said(self, fault: CoverlayoutError) -> str:
        words = self._owner.style_of_lengths.said(fault.remark)
        return words[:1].upper() + words[1:] + "."

    def _forget(self) -> None:
        """What was typed is done with: the next time starts from the size the cloth has now."""
        self._was, self._now = dict.fromkeys(_WAYS), dict.fromkeys(_WAYS)
        self._name = MEASURED_AGAIN
        self._show()

    def show_cloth(self, cloth: Cloth) -> None:
        """Show this cloth; what was typed for another, or before its size changed, is forgotten."""
        before, self._shown = self._shown, cloth
        if before is None or before.id != cloth.id or before.changes != cloth.changes:
            self._forget()
        else:
            self._show()

    def _show(self) -> None:
        unit = self._owner.style_of_lengths.unit
        self.name.show_value(self._name)
        for way in _WAYS:
            self.was[way].show_value(self._shown_was_mm(way), unit)
            self.now[way].show_value(self._now[way], unit)
        self.follows.setText(self._follows())

    def _follows(self) -> str:
        """What would follow from the lengths typed so far; empty before any is."""
        lengths = {way: self._measured(way) for way in _WAYS}
        if not any(lengths.values()):
            return ""
        try:
            change = measured_again(lengths["across"], lengths["along"])
        except CoverlayoutError as fault:
            return self._said(fault)
        figures = {"across": _percent(change.across_percent), "along": _percent(change.along_percent)}
        words = [sentence("remeasure-follows", figures)]
        remarks = (reading_remark(length, way) for way, length in lengths.items() if length is not None)
        style = self._owner.style_of_lengths
        words += [style.said(remark).capitalize() + "." for remark in remarks if remark is not None]
        return " ".join(words)


def _percent(percent: float) -> str:
    """With its sign; a nought has none."""
    text = exact_number(percent, 2)
    return text.replace("-", "−") if percent < 0 else text if text == "0" else f"+{text}"
