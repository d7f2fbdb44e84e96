"""Flaps of a limp wrap, and how a slipcase is built."""

from __future__ import annotations

from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.entry import label
from coverlayout.ui.ruled.entries import FigureOfBook, rule_tip, ruled
from coverlayout.ui.ruled.pairs import Pairs
from coverlayout.ui.ruled.shown import Shown

__all__ = ["FlapsPart", "SlipcasePart"]

_BUILT_OF = (("five boards", "five boards"), ("one scored board", "scored board"))


class FlapsPart(Part):
    """A flap that closes over the fore-edge, and flaps turned in."""

    def make(self) -> None:
        """Two lengths; empty is none."""
        self.over = ruled(
            self.owner,
            "Flap over the front",
            lambda value: self.owner.change(fore_edge_flap_mm=value or 0.0),
            like="50mm",
        )
        self.owner.points_at(self.over, "fore-edge flap")
        self.turned_in = ruled(
            self.owner, "Turned-in flaps", lambda value: self.owner.change(turned_in_flap_mm=value or 0.0), like="40mm"
        )
        self.owner.points_at(self.turned_in, "turned-in flap")
        self.pairs = Pairs((self.over, self.turned_in))
        self.body.addWidget(self.pairs)
        self.body.addWidget(label("Left empty, the wrap has none.", "muted"))

    def summed_up(self, shown: Shown) -> str:
        """Which there are."""
        over, inside = shown.book.fore_edge_flap_mm > 0, shown.book.turned_in_flap_mm > 0
        return "both" if over and inside else "over the front" if over else "turned in" if inside else "none"

    def show_book(self, shown: Shown) -> None:
        """Show the flaps."""
        unit, book = shown.style.unit, shown.book
        self.over.show_value(book.fore_edge_flap_mm or None, unit)
        self.over.explain(f"{rule_tip('fore-edge flap', shown)} It goes round the block's thickness first.")
        self.turned_in.show_value(book.turned_in_flap_mm or None, unit)
        self.turned_in.explain(rule_tip("turned-in flap", shown))
        for entry in (self.over, self.turned_in):
            entry.line.setPlaceholderText("none")


class SlipcasePart(Part):
    """How the box is built and how much room the book has in it."""

    def make(self) -> None:
        """A choice and a length."""
        self.built_of = self.choose(
            "Built of",
            "slipcase_of",
            _BUILT_OF,
            tip="Five boards glued edge to edge, or one board scored and folded round the book.",
        )
        self.clearance = FigureOfBook(self.owner, "slipcase_clearance_mm", "Room for the book", like="1.5mm")
        self.pairs = Pairs((self.built_of, self.clearance))
        self.body.addWidget(self.pairs)

    def summed_up(self, shown: Shown) -> str:
        """Of what."""
        return shown.book.slipcase_of

    def show_book(self, shown: Shown) -> None:
        """Show the box."""
        self.built_of.show_value(shown.book.slipcase_of)
        self.clearance.show_figure(shown)
