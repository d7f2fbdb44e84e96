"""What lies inside the boards, and a label on the front."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from coverlayout.book.book import Label
from coverlayout.book.rules.belonging import belongs
from coverlayout.book.rules.table import rule
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.rows import button
from coverlayout.ui.parts.own_pieces import TURNS
from coverlayout.ui.ruled.entries import rule_tip, ruled
from coverlayout.ui.ruled.pairs import Pairs
from coverlayout.ui.ruled.shown import Shown, size_words
from coverlayout.units import MM_PER_INCH

__all__ = ["LabelPart", "LinersPart"]

_LINERS = (("cloth", "cloth"), ("paper", "paper"), ("none", "none"))
_ENDPAPERS = ((None, "by the rule"), ("paper", "paper"), ("none", "none"))
_KINDS = (("on top", "on the cloth"), ("window", "in a window"), ("inset", "let in"))
_MATERIALS = (("cloth", "cloth"), ("paper", "paper"))


class LinersPart(Part):
    """Liners and endpapers."""

    def make(self) -> None:
        """Of what, how far from the edge, which turns."""
        self.liners = self.choose(
            "Liners",
            "liners",
            _LINERS,
            tip="What covers the inside of each board. Liners of cloth are cut from this cloth as well.",
        )
        self.inset = ruled(self.owner, "Liner inset", self._give_inset, like="3mm")
        self.owner.points_at(self.inset, "liner inset")
        self.endpapers = self.choose(
            "Endpapers",
            "endpapers",
            _ENDPAPERS,
            tip="Folded sheets at both ends of the block; the outer leaf of each is pasted to the board.",
        )
        self.liner_turns = self.choose(
            "Liners may turn", "liner_turns", TURNS, tip="Liners are seen less: turning them often saves cloth."
        )
        self.pairs = Pairs((self.liners, self.inset, self.endpapers, self.liner_turns))
        self.body.addWidget(self.pairs)

    def _give_inset(self, value_mm: float | None) -> None:
        if value_mm is None and self._shown is not None:
            value_mm = rule("liner inset", self._shown.book.structure).nice_mm(self._shown.style.unit)
        self.owner.change(liner_inset_mm=value_mm)

    def summed_up(self, shown: Shown) -> str:
        """What they are of."""
        return shown.book.liners

    def show_book(self, shown: Shown) -> None:
        """Show the liners; their inset only while there are any."""
        book = shown.book
        self.liners.show_value(book.liners)
        self.inset.show_value(book.liner_inset_mm, shown.style.unit)
        self.inset.explain(rule_tip("liner inset", shown))
        self.inset.setEnabled(book.liners != "none")
        self.endpapers.show_value(book.endpapers)
        self.liner_turns.show_value(book.liner_turns)
        fields: list[QWidget] = [self.liners, self.inset]
        if belongs("endpapers", book.structure):
            fields.append(self.endpapers)
        if book.liners == "cloth":
            fields.append(self.liner_turns)
        self.pairs.show_only(fields)


class LabelPart(Part):
    """A label on the front board."""

    def make(self) -> None:
        """A button while there is none, then its fields."""
        give = self.owner.change_part
        self.add = button(
            "Add a label", self._add, tip="A piece for a title: on the cloth, behind a window or let in.", role="more"
        )
        self.size_entry = self.owner.length_pair(
            "Width × height",
            lambda size: give("label", width_mm=size[0], height_mm=size[1]),
            tip="What is seen of the label, head up.",
            like="60 x 30 mm",
        )
        self.kind = Choice(
            "Lies",
            _KINDS,
            lambda value: give("label", kind=value),
            tip="On the cloth; behind a window cut into the board; or let into a hollow as deep as it is thick.",
        )
        self.material = Choice(
            "Of", _MATERIALS, lambda value: give("label", material=value), tip="Cloth is cut with the other pieces."
        )
        self.from_head = ruled(
            self.owner, "From the head", lambda value: give("label", from_head_mm=value), like="30mm"
        )
        self.from_spine = ruled(
            self.owner, "From the spine edge", lambda value: give("label", from_spine_mm=value), like="30mm"
        )
        self.margin = ruled(
            self.owner, "Larger by, each side", lambda value: give("label", margin_mm=value), like="5mm"
        )
        self.turns = Choice(
            "May turn", TURNS, lambda value: give("label", turns=value), tip="Counted from the print's up."
        )
        self.remove = button(
            "Remove the label",
            self._remove,
            tip="The front has none then.",
            role="more",
        )
        self.pairs = Pairs(
            (self.size_entry, self.kind, self.material, self.margin, self.from_head, self.from_spine, self.turns)
        )
        for widget in (self.add, self.pairs, self.remove):
            self.body.addWidget(widget)

    def _add(self) -> None:
        inches = self.owner.style_of_lengths.unit == "in"
        size = (2.5 * MM_PER_INCH, 1.25 * MM_PER_INCH) if inches else (60.0, 30.0)
        self.owner.trying(lambda: self.owner.change(label=Label(*size)))
        self._hand_keys_to(self.size_entry.field)

    def _remove(self) -> None:
        self.owner.trying(lambda: self.owner.change(label=None))
        self._hand_keys_to(self.add)

    def _hand_keys_to(self, field: QWidget) -> None:
        """The button that was pressed is gone; what took its place has the keys."""
        if field.isVisible():
            field.setFocus(Qt.FocusReason.OtherFocusReason)

    def summed_up(self, shown: Shown) -> str:
        """Its size."""
        found = shown.book.label
        return "none" if found is None else size_words((found.width_mm, found.height_mm), shown.style)

    def show_book(self, shown: Shown) -> None:
        """Show the label, or the way to one."""
        found, unit = shown.book.label, shown.style.unit
        self.add.setVisible(found is None)
        self.pairs.setVisible(found is not None)
        self.remove.setVisible(found is not None)
        if found is None:
            return
        self.size_entry.show_value((found.width_mm, found.height_mm), unit)
        self.kind.show_value(found.kind)
        self.material.show_value(found.material)
        board = shown.measured.board_mm if shown.measured is not None else None
        self.from_head.show_ruled(found.from_head_mm, board and (board[1] - found.height_mm) / 2, unit)
        self.from_head.explain("Between the board's head and the label; left empty, it lies in the middle.")
        self.from_spine.show_ruled(found.from_spine_mm, board and (board[0] - found.width_mm) / 2, unit)
        self.from_spine.explain("Between the board's spine edge and the label; left empty, it lies in the middle.")
        self.margin.show_ruled(found.margin_mm, rule("label margin", shown.book.structure).figure(), unit)
        self.margin.explain(rule_tip("label margin", shown))
        self.turns.show_value(found.turns)
        fields: list[QWidget] = [self.size_entry, self.kind, self.material, self.from_head, self.from_spine]
        if found.kind == "window":
            fields.append(self.margin)
        if found.material == "cloth":
            fields.append(self.turns)
        self.pairs.show_only(fields)
