"""Step 4: the placement. Which pieces lie where, their place by number, and the room the maker wishes for."""

from __future__ import annotations

from typing import Any, Literal

from PySide6.QtCore import Signal

from coverlayout.document.cutting.turning import turn_to
from coverlayout.document.edits.job import change_rules
from coverlayout.document.edits.placements import move_by, take_off, turn_piece
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.exporting.measures import Measure, measures
from coverlayout.exporting.measuring.by_line import step_on_cloth
from coverlayout.geometry.frames import Point
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_number, read_angle
from coverlayout.ui.fields.rows import button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say
from coverlayout.ui.parts.piece_rows import called, placed_or_none, planned_or_none, rows_of, spoiled_of
from coverlayout.ui.parts.pieces import PieceList
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.table.shown import bench_of
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.judged import Judged

__all__ = ["PlacementPanel"]

_FROM_EDGES = ("From the left", "From the top")
_FROM_LINE = {True: ("Along the base line", "Across it, right +"), False: ("Along the base line", "Across it, down +")}
_EDGE_TIP = "Distance from the {edge} edge of the cloth to the piece's nearest point, on the side shown."
_LINE_TIP = (
    "Where the piece's top left corner lies as seen on the side shown: along the base line from its dot towards its "
    "arrow, and straight across it, above 0 {way} the line."
)
_BEST: tuple[tuple[Literal["room", "least length", "largest leftover"], str], ...] = (
    ("room", "the most room to spare"),
    ("least length", "the least length of cloth"),
    ("largest leftover", "the largest piece left over"),
)
_TURN_TIPS = {
    "edges": "How the piece is turned on the cloth as shown: 0 has its head up, below 0 is counter-clockwise.",
    "print": "How the piece is turned from the print's up, as shown: 0 is upright, below 0 is counter-clockwise.",
    "line": "How the piece is turned from what lies straight by the base line, as shown: below 0 is counter-clockwise.",
}


class PlacementPanel(Panel):
    """The fields of step 4.

    `chosen` names the pieces the maker chose here; `lay_chosen` asks to lay the first of them that waits, `lay_out` to
    lay all. `act_asked` carries the name of an action of the window to do with them.
    """

    title = "Placement"
    chosen = Signal(tuple)
    lay_chosen = Signal()
    lay_out = Signal()
    act_asked = Signal(str)

    def __init__(self, session: Session, say: Say, theme: Theme, judged: Judged) -> None:
        super().__init__(session, say)
        self._judged = judged
        self._piece = ""
        self._telling = False
        self.pieces = PieceList(theme)
        self.pieces.itemSelectionChanged.connect(self._tell_chosen)
        self.pieces.entered.connect(self.lay_chosen)
        self.which = label(role="title")
        self.seen_from = label(role="muted")
        self._fields_of_place()
        self._fields_of_room()
        self.add(
            self.pieces,
            self.which,
            self.seen_from,
            side_by_side(self.left, self.top),
            self.turn,
            self._row_of_buttons(),
            self._row_of_states(),
        )
        self.add(side_by_side(self.spare, self.gap), side_by_side(self.lay_button, self.rest_button), self.best)

    def _fields_of_place(self) -> None:
        tip = _EDGE_TIP
        self.left = self.length(
            _FROM_EDGES[0], lambda x: self._move(first=x), tip=tip.format(edge="left"), like="20mm", least="any"
        )
        self.top = self.length(
            _FROM_EDGES[1], lambda y: self._move(second=y), tip=tip.format(edge="upper"), like="20mm", least="any"
        )
        self.turn = Entry(
            "Turned, clockwise",
            read_angle("Turn"),
            lambda value: exact_number(value, 3),
            self._turn_to,
            tip=_TURN_TIPS["edges"],
            unit="°",
        )

    def _row_of_buttons(self) -> Any:
        self.next_turn = button(
            "Next turn", self._turn_on, tip="Turn the piece to the next way it may lie (R on the cloth)."
        )
        self.off = button(
            "Take off", self._take_off, tip="Lay the chosen pieces beside the cloth (Delete on the cloth)."
        )
        return side_by_side(self.next_turn, self.off)

    def _row_of_states(self) -> Any:
        """What happens to the chosen pieces at the bench, each an action of the window."""
        self.pin = button(
            "Pin", lambda: self.act_asked.emit("pin"), tip="The chosen pieces stay where they lie, until let go."
        )
        self.cut = button(
            "Cut", lambda: self.act_asked.emit("mark-cut"), tip="They were cut where they lie: a fact from here on."
        )
        self.spoiled = button(
            "Spoiled",
            lambda: self.act_asked.emit("mark-spoiled"),
            tip="The cut went wrong: it leaves a hole in the cloth, and the piece is planned again.",
        )
        return side_by_side(self.pin, self.cut, self.spoiled)

    def _fields_of_room(self) -> None:
        self.spare = self.length(
            "Room you wish for",
            lambda value: self.do(change_rules(spare_wish_mm=value)),
            tip="How much room to spare you want for a slip of the knife. Below it the verdict says tight. 6 mm "
            "unless you change it.",
            like="6mm",
        )
        self.gap = self.length(
            "Gap between cuts",
            lambda value: self.do(change_rules(gap_mm=value)),
            tip="Least distance between two pieces. 0: they may share a cut.",
            like="2mm",
        )
        self.best = self.choose(
            "What is best",
            _BEST,
            lambda value: change_rules(objective=value),
            tip="What counts among layouts that bring everything on: room for a slip of the knife, the least length of "
            "cloth, or the largest piece left over. Each keeps the room you wish for where it can.",
        )
        self.lay_button = button(
            "Lay out for me",
            self.lay_out.emit,
            tip="Propose places for every piece that is not pinned, as good as can be; nothing moves yet.",
            role="first",
        )
        self.rest_button = button(
            "Lay the rest",
            lambda: self.act_asked.emit("lay-rest"),
            tip="Propose places for what waits; everything that lies on the cloth stays where it is.",
        )

    # What the fields are about

    def show_chosen(self, piece_ids: tuple[str, ...]) -> None:
        """Mark the pieces chosen on the cloth."""
        if not self._telling:
            self.pieces.choose(piece_ids)
        self._piece = piece_ids[-1] if piece_ids else ""
        self._show_place(self.session.project)

    @property
    def chosen_ids(self) -> tuple[str, ...]:
        """The pieces chosen in the list."""
        return self.pieces.chosen_ids

    def _tell_chosen(self) -> None:
        chosen = self.chosen_ids
        self._piece = chosen[-1] if chosen else ""
        self._show_place(self.session.project)
        # What comes back from the cloth is what was said here, less the holes that nobody can take hold of there.
        self._telling = True
        try:
            self.chosen.emit(chosen)
        finally:
            self._telling = False

    def _measure(self) -> Measure | None:
        """Where the chosen piece lies, planned or cut, as seen on the side shown; None when it waits."""
        project = self.session.project
        fact = project.fact_of(self._piece)
        planned = next((each for each in placed_or_none(project) if each.piece == self._piece), None)
        placed = fact.place if fact is not None else planned
        if placed is None:
            return None
        found = measures(project, placed.cloth, project.preferences.side, only=self._piece)
        return next((each for each in found if each.state == ("planned" if fact is None else "cut")), None)

    # From the maker to the project

    def _lying(self) -> Measure:
        found = self._measure()
        if found is None or found.state != "planned":
            raise BadInput("piece-not-on-cloth", piece=self._piece or "?")
        return found

    def _move(self, first: float | None = None, second: float | None = None) -> None:
        lies = self._lying()
        here = _place(lies)
        step = tuple(0.0 if to is None else to - at for to, at in zip((first, second), here, strict=True))
        across, along = step_on_cloth(self.session.project.cloth(lies.cloth_id), lies.side, (step[0], step[1]))
        self.do(move_by((lies.piece,), across, along, lies.name))

    def _turn_to(self, turn_deg: float) -> None:
        lies = self._lying()
        self.do(turn_to(lies.piece, turn_deg, lies.name, zero_deg=lies.zero_deg))

    def _turn_on(self) -> None:
        project = self.session.project
        bench, _ = bench_of(project)
        lying = bench.find(self._piece)
        if lying is None or lying.placed.cloth == WAITING:
            return
        turned = bench.turned(lying.placed, clockwise=project.preferences.side == "print")
        if turned is None:
            self.say(sentence("canvas-one-turn", {"piece": lying.label}), False)
        else:
            self.attempt(turn_piece(self._piece, turned.turn_deg, bench.name(self._piece)))

    def _take_off(self) -> None:
        if self.chosen_ids:
            self.attempt(take_off(self.chosen_ids))

    # From the project to the fields

    def summary(self, project: Project) -> str:
        """How many lie on the cloth, and how many break a rule."""
        pieces = planned_or_none(project)
        if not pieces:
            return "The pieces of the book come first"
        broken = self._broken(project)
        words = f"{len(placed_or_none(project))} of {len(pieces)} placed"
        cut = sum(fact.state == "cut" for fact in project.cut_pieces)
        words += f", {cut} cut" if cut else ""
        return f"{words}, {len(broken)} not as they may lie" if broken else words

    def can_lay(self, project: Project) -> bool:
        """True when there is something to lay and something to lay it on."""
        return bool(project.cloths) and bool(planned_or_none(project))

    def _broken(self, project: Project) -> set[str]:
        report = self._judged.report(project)
        return {piece for breach in report.breaches for piece in breach.pieces} if report else set()

    def show_project(self, project: Project) -> None:
        """Show the pieces with their state and the place of the chosen one."""
        pieces = planned_or_none(project)
        placed = {each.piece for each in placed_or_none(project)}
        rows = rows_of(project, self._broken(project))
        self.pieces.show_rows([(row.id, row.words, row.symbol) for row in rows])
        self.rest_button.setEnabled(bool(project.cloths) and len(placed) < len(pieces))
        self.spare.show_value(project.rules.spare_wish_mm, project.preferences.length_style.unit)
        self.gap.show_value(project.rules.gap_mm, project.preferences.length_style.unit)
        self.best.show_value(project.rules.objective)
        self.lay_button.setEnabled(self.can_lay(project))
        self._show_place(project)

    def _show_place(self, project: Project) -> None:
        lies = self._measure()
        name = called(project).get(self._piece, "")
        seen = "Seen from the back" if project.preferences.side == "back" else "Seen from the print side"
        waits = f"{name} waits beside the cloth" if name else "Choose a piece to give its place by number"
        if project.fact_of(self._piece) is not None:
            waits = f"{name} is cut"
        if spoiled := spoiled_of(project, (self._piece,)):
            waits = f"The hole that a spoiled {spoiled[0].name} left"
        moves = lies is not None and lies.state == "planned"
        self.which.setText(name if moves else waits)
        by = lies.from_line if lies is not None else None
        self.seen_from.setText(f"{seen}: its top left corner as it lies" if by else seen)
        self.seen_from.setVisible(lies is not None)
        unit = project.preferences.length_style.unit
        self._name_places(lies)
        for entry, value in (
            (self.left, _place(lies)[0] if lies else None),
            (self.top, _place(lies)[1] if lies else None),
        ):
            entry.show_value(value, unit)
        # Rounded as it is shown, so that no minus stands before a nought.
        self.turn.show_value(round(lies.shown_turn_deg, 6) + 0.0 if lies else None)
        pinned = self._piece in project.layout.pinned
        for each in (self.left, self.top, self.turn, self.next_turn, self.off):
            each.setEnabled(moves and not pinned)
        chosen = [each for each in self.chosen_ids if project.layout.place_of(each) is not None]
        self.pin.setText("Let go" if chosen and set(chosen) <= set(project.layout.pinned) else "Pin")
        for each in (self.pin, self.cut):
            each.setEnabled(moves)
        self.spoiled.setEnabled(moves or project.fact_of(self._piece) is not None)

    def _name_places(self, lies: Measure | None) -> None:
        """What the fields of place and turn are counted from."""
        by = lies.from_line if lies is not None else None
        for entry, words in zip((self.left, self.top), _FROM_LINE[by.lengthwise] if by else _FROM_EDGES, strict=True):
            entry.title.setText(words)
            entry.field.setAccessibleName(words)
        for entry, edge in ((self.left, "left"), (self.top, "upper")):
            way = "to the right of" if by and by.lengthwise else "below"
            entry.explain(_LINE_TIP.format(way=way) if by else _EDGE_TIP.format(edge=edge))
        self.turn.explain(_TURN_TIPS[lies.zero if lies is not None else "edges"])

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self.pieces.dress(theme)
        self.show_project(self.session.project)


def _place(lies: Measure) -> Point:
    """The two figures of place: from the edges, or along and across the base line."""
    return (lies.box.left_mm, lies.box.top_mm) if lies.from_line is None else lies.from_line.left_mm
