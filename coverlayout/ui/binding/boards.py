"""Boards, spine and turn-ins of the book, and the sides and corners of a quarter or half case."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from coverlayout.book.book import TurnIns
from coverlayout.book.rules.belonging import belongs, spine_piece_of
from coverlayout.book.rules.table import rule
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.figures import exact_length
from coverlayout.ui.parts.own_pieces import TURNS
from coverlayout.ui.parts.turn_ins import TurnInsOneByOne, alike_mm
from coverlayout.ui.ruled.entries import FigureOfBook, rule_tip, ruled
from coverlayout.ui.ruled.pairs import Pairs
from coverlayout.ui.ruled.shown import Shown

__all__ = ["BoardsPart", "SidesPart"]

_SPINE_PIECES = (("board", "board"), ("strip", "card"), ("none", "none"))
_SPINE_LININGS = (
    (None, "by the rule"),
    ("none", "none"),
    ("strip", "paper strip"),
    ("hollow tube", "hollow tube"),
)
_OPENS = (("left", "to the left"), ("right", "to the right"))
# Field of the book, its title, and a length that shows how it may be typed.
_FIGURES = (
    ("square_mm", "Square", "3mm"),
    ("joint_mm", "Joint", "7mm"),
    ("hinge_mm", "Hinge strip", "15mm"),
)
_MORE = (
    ("tail_square_mm", "Square at the tail", "3mm"),
    ("board_setback_mm", "Board set back", "3.5mm"),
    ("mitre_distance_mm", "Mitre from the corner", "3mm"),
)
_SPINE = (
    ("spine_width_mm", "Spine, as measured", "13.5mm"),
    ("spine_allowance_mm", "Spine allowance", "0.5mm"),
    ("spine_rise_mm", "Rise of the round", "6mm"),
)
_HINTS = {
    "tail_square_mm": "Where the boards stand out at the tail otherwise than at the head.",
    "spine_width_mm": "The spine as you measure it, over the round where it is round; it wins over the rule.",
    "spine_rise_mm": "How far a round spine stands out; by the rule it is a third of a circle.",
}


class BoardsPart(Part):
    """Board, square, joint, spine and turn-ins; only what the structure has."""

    def make(self) -> None:
        """The figures most often changed first, the others behind."""
        owner = self.owner
        self.thickness = ruled(
            owner,
            "Board thickness",
            lambda value: self._given("board_thickness_mm", "board thickness", value),
            like="2mm",
        )
        owner.points_at(self.thickness, "board thickness")
        self.turn_in = ruled(owner, "Turn-in", self._give_turn_in, like="15mm")
        owner.points_at(self.turn_in, "turn-in")
        self.figures = {
            field: FigureOfBook(owner, field, title, like=like, hint=_HINTS.get(field, ""), least=_least(field))
            for field, title, like in (*_FIGURES, *_SPINE, *_MORE)
        }
        self.spine_piece = self.choose(
            "Spine piece",
            "spine_piece",
            _SPINE_PIECES,
            tip="What stiffens the spine: board for a flat one, card that bends for a round one, or nothing.",
        )
        self.spine_lining = self.choose(
            "Spine lining",
            "spine_lining",
            _SPINE_LININGS,
            tip="What is glued to the back of the block under the cover.",
        )
        self.opens = self.choose(
            "Opens",
            "opens",
            _OPENS,
            tip="A book that is read from right to left opens to the right: front and back swap.",
        )
        self.cover_turns = self.choose(
            "Covers may turn",
            "cover_turns",
            TURNS,
            tip="Counted from the print's up. By the print: as step 1 says. A quarter turn lays a motif on its side.",
        )
        self.in_turn: tuple[QWidget, ...] = (
            self.thickness,
            *(self.figures[field] for field, _, _ in _FIGURES),
            self.turn_in,
            self.spine_piece,
            *(self.figures[field] for field, _, _ in (*_SPINE, *_MORE)),
            self.spine_lining,
            self.opens,
            self.cover_turns,
        )
        self.pairs = Pairs(self.in_turn)
        self.turn_ins = TurnInsOneByOne(owner, lambda turn_ins: owner.change(turn_ins=turn_ins))
        self.body.addWidget(self.pairs)
        self.body.addWidget(self.turn_ins)

    def _given(self, field: str, name: str, value_mm: float | None) -> None:
        """A figure that has no rule of its own in the book: cleared, it is the usual one in the maker's unit."""
        if value_mm is None and self._shown is not None:
            value_mm = rule(name, self._shown.book.structure).nice_mm(self._shown.style.unit)
        self.owner.change(**{field: value_mm})

    def _give_turn_in(self, value_mm: float | None) -> None:
        if self._shown is not None:
            usual_mm = rule("turn-in", self._shown.book.structure).nice_mm(self._shown.style.unit)
            self.owner.change(turn_ins=TurnIns.all_round(usual_mm if value_mm is None else value_mm))

    def summed_up(self, shown: Shown) -> str:
        """The turn-in."""
        turn_in = alike_mm(shown.book.turn_ins, shown.book.structure)
        return (
            "turn-ins differ" if turn_in is None else f"turn-in {exact_length(turn_in, shown.style)} {shown.style.unit}"
        )

    def show_book(self, shown: Shown) -> None:
        """Show the fields that the structure has."""
        book, unit = shown.book, shown.style.unit
        self.thickness.show_value(book.board_thickness_mm, unit)
        self.thickness.explain(rule_tip("board thickness", shown))
        self.turn_ins.show_turn_ins(book.turn_ins, shown.book.structure)
        self.turn_in.show_value(self.turn_ins.alike_mm, unit)
        self.turn_in.explain(rule_tip("turn-in", shown))
        for figure in self.figures.values():
            if belongs(figure.of, book.structure):
                figure.show_figure(shown)
        self.spine_piece.show_value(spine_piece_of(book))
        self.spine_lining.show_value(book.spine_lining)
        self.opens.show_value(book.opens)
        self.cover_turns.show_value(book.cover_turns)
        hidden = {field for field in self.figures if not belongs(field, book.structure)}
        by_field: dict[str, QWidget] = {
            **self.figures,
            "spine_piece": self.spine_piece,
            "spine_lining": self.spine_lining,
        }
        by_field["board_thickness_mm"] = self.thickness
        gone = {by_field[field] for field in by_field if field in hidden or not belongs(field, book.structure)}
        self.pairs.show_only([field for field in self.in_turn if field not in gone])


def _least(field: str) -> str:
    return "any" if field == "spine_allowance_mm" else "above 0" if field in ("spine_width_mm", "hinge_mm") else "0"


class SidesPart(Part):
    """Cloth of the spine on the boards, corners, and the sides of another print or paper."""

    def make(self) -> None:
        """The proportions, then the sides."""
        owner = self.owner
        self.figures = {
            field: FigureOfBook(owner, field, title, like=like)
            for field, title, like in (
                ("spine_on_board_mm", "Spine cloth on board", "35mm"),
                ("corner_leg_mm", "Corner, along edge", "35mm"),
                ("side_lap_mm", "Sides lap over by", "3mm"),
            )
        }
        self.sides = self.choose(
            "Sides of",
            "sides",
            (("cloth", "cloth"), ("paper", "paper")),
            tip="What covers the rest of the boards. Cloth is cut from a print of its own: see Pieces come from.",
        )
        self.side_turns = self.choose(
            "Sides may turn", "side_turns", TURNS, tip="Which ways the sides may lie, counted from the print's up."
        )
        self.in_turn: tuple[QWidget, ...] = (*self.figures.values(), self.sides, self.side_turns)
        self.pairs = Pairs(self.in_turn)
        self.body.addWidget(self.pairs)

    def summed_up(self, shown: Shown) -> str:
        """What the sides are of."""
        return shown.book.sides

    def show_book(self, shown: Shown) -> None:
        """Show the proportions of this case."""
        for figure in self.figures.values():
            if belongs(figure.of, shown.book.structure):
                figure.show_figure(shown)
        self.sides.show_value(shown.book.sides)
        self.side_turns.show_value(shown.book.side_turns)
        gone = {figure for figure in self.figures.values() if not belongs(figure.of, shown.book.structure)}
        if shown.book.sides == "paper":
            gone.add(self.side_turns)  # type: ignore[arg-type]  # a set of fields
        self.pairs.show_only([field for field in self.in_turn if field not in gone])
