"""The flaws of a cloth: creases, stains, holes, frayed edges; drawn on it or given by number, one row each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.document.checks.figures import free_name
from coverlayout.document.edits.cloths import add_flaw, change_flaw, remove_flaw
from coverlayout.document.history import Edit
from coverlayout.geometry.frames import Ring
from coverlayout.ui.cloths.outline import AS_NOW
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_length, points_text, read_length, read_points
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import Fold, RowList, button, side_by_side, tick
from coverlayout.ui.tasks.drawing import Drawing, Shape, Wanted
from coverlayout.ui.tasks.drawn import drawn_of
from coverlayout.ui.tasks.points import ChangePoints
from coverlayout.units import LengthStyle

__all__ = ["KINDS", "FlawKind", "FlawRow", "Flaws", "flaw_wanted"]

# A crease pressed flat leaves a mark about this wide; common practice, no source.
_LINE_MM = 4.0


@dataclass(frozen=True)
class FlawKind:
    """A usual flaw: what it is called, how it is drawn first, and how broad it is as a line."""

    name: str
    shapes: tuple[Shape, ...]
    width_mm: float = _LINE_MM


# A frayed edge loosens about this far in; common practice, no source.
KINDS = (
    FlawKind("crease", ("line", "area", "rectangle")),
    FlawKind("stain", ("area", "rectangle", "line")),
    FlawKind("hole", ("area", "rectangle", "line")),
    FlawKind("frayed edge", ("rectangle", "line", "area"), 10.0),
)


def flaw_wanted(kind: FlawKind, cloth_id: str | None = None) -> Wanted:
    """The drawing that becomes a flaw of that kind on the cloth it is drawn on."""

    def finish(cloth: Cloth, points: Ring, shape: Shape) -> Edit:
        return add_flaw(cloth.id, _made(cloth, kind, points, is_line=shape == "line"))

    return Wanted(f"Draw a {kind.name}", finish, kind.shapes, cloth_id=cloth_id, width_mm=kind.width_mm)


def _made(cloth: Cloth, kind: FlawKind, points: Ring, *, is_line: bool) -> Flaw:
    """A flaw at places of the cloth as it now is."""
    name = free_name(kind.name, (flaw.name for flaw in cloth.flaws))
    width_mm = kind.width_mm if is_line else 0.0
    return Flaw("", name, points, line_width_mm=width_mm, changes_in=len(cloth.changes))


class FlawRow(QWidget):
    """One flaw: its name, its points, the width of a line, and whether it may lie where it is hidden.

    Points are those of the cloth as it now is. Two points make a line, three or more an area unless a width is typed.
    """

    def __init__(self, owner: ClothOwner, flaw_id: str) -> None:
        super().__init__()
        self.owner = owner
        self._flaw_id = flaw_id
        self._width_typed = False

        def style() -> LengthStyle:
            return owner.style_of_lengths

        self.name = Entry(
            "Name",
            str.strip,
            str,
            lambda name: self._give(name=name),
            tip="Stain, crease, hole: what you call it.",
        )
        self.points = PointsEntry(
            "Where it lies, across,down",
            read_points("Points", style),
            lambda points: points_text(points, style()),
            self._give_points,
            tip="From the cloth's left and top edges, one point a line: corners of an area, or points of a line.",
            lines=3,
        )
        self.width_entry = Entry(
            "Width of a line, 0 for an area",
            read_length("Width of a line", "4mm", style, "0"),
            lambda value: exact_length(value, style()),
            self._give_width,
            tip="Above 0: the points are a line this wide, like a crease. 0: they are the corners of an area.",
            unit=style().unit,
        )
        self.hidden = tick(
            "fine where hidden",
            lambda on: self._attempt(fine_where_hidden=on),
            tip="Only what stays visible on the finished book must keep clear of it; under a liner it does no harm.",
        )
        self.remove = button("Remove", self._remove, tip="Take this flaw away.", role="more")
        self.by_hand = button(
            "Change by hand",
            self._by_hand,
            tip="Drag its points, add some, take some out.",
            role="more",
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.setSpacing(4)
        for part in (
            side_by_side(self.name, self.remove, shares=(3, 1)),
            self.points,
            self.width_entry,
            side_by_side(self.hidden, self.by_hand),
        ):
            column.addWidget(part)

    def _flaw(self) -> tuple[Cloth, Flaw] | None:
        cloth = self.owner.cloth
        found = next((flaw for flaw in cloth.flaws if flaw.id == self._flaw_id), None) if cloth else None
        return (cloth, found) if cloth and found else None

    def _edit(self, **fields: Any) -> Edit | None:
        cloth = self.owner.cloth
        return None if cloth is None else change_flaw(cloth.id, self._flaw_id, **fields)

    def _give(self, **fields: Any) -> None:
        edit = self._edit(**fields)
        if edit is not None:
            self.owner.do(edit)

    def _attempt(self, **fields: Any) -> None:
        edit = self._edit(**fields)
        if edit is not None:
            self.owner.attempt(edit)

    def _give_points(self, typed: Ring | None) -> None:
        found = self._flaw()
        if found is not None:
            points = typed or ()
            width = self._width_for(found[1], len(points))
            self._give(points_mm=points, line_width_mm=width, changes_in=len(found[0].changes))

    def _width_for(self, flaw: Flaw, points: int) -> float:
        """Corners added to a line that nobody gave a width make an area; an area of two points becomes a line."""
        if not self._width_typed and len(flaw.points_mm) <= 2 < points:
            return 0.0
        return _LINE_MM if points == 2 and flaw.line_width_mm == 0 else flaw.line_width_mm

    def _give_width(self, width_mm: float) -> None:
        found = self._flaw()
        if found is not None:
            cloth, flaw = found
            points = _points_now(cloth, flaw)
            self._give(line_width_mm=width_mm, points_mm=points, changes_in=len(cloth.changes))
            self._width_typed = True

    def _by_hand(self) -> None:
        cloth = self.owner.cloth
        if cloth is not None:
            drawn = drawn_of(self.owner.project, "flaw", cloth.id, self._flaw_id)
            self.owner.begin(lambda canvas: ChangePoints(canvas, drawn))

    def _remove(self) -> None:
        cloth = self.owner.cloth
        if cloth is not None:
            self.owner.attempt(remove_flaw(cloth.id, self._flaw_id))

    def show_value(self, value: tuple[Cloth, Flaw]) -> None:
        """Show the flaw as it lies on its cloth now."""
        cloth, flaw = value
        self.name.show_value(flaw.name)
        self.points.show_value(_points_now(cloth, flaw))
        self.width_entry.show_value(flaw.line_width_mm, self.owner.style_of_lengths.unit)
        self.hidden.setChecked(flaw.fine_where_hidden)


class Flaws(Fold):
    """All flaws of a cloth, and what must be known before drawing one."""

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__("Flaws", tip="Stains, creases and holes that no piece may lie on.")
        self._owner = owner
        self._kind = KINDS[0]
        self.margin = label("Draw it with the margin you want: pieces may lie right up to it.", "hint")
        self.as_now = label(AS_NOW, "muted")
        self.kind = Choice(
            "What it is",
            tuple((kind, kind.name) for kind in KINDS),
            self._choose_kind,
            tip="It gives the flaw its name and the way it is drawn; both can be changed.",
        )
        self.draw = button("Draw it", self._draw, tip="Press its points on the cloth, or type them there.")
        self.by_number = PointsEntry(
            "or by number, across,down",
            read_points("Points", lambda: owner.style_of_lengths),
            lambda points: points_text(points, owner.style_of_lengths),
            self._add,
            tip="From the cloth's left and top edges, one point a line: two points make a line, three or more an area.",
            lines=2,
        )
        self.rows = RowList(lambda flaw_id: FlawRow(owner, flaw_id))
        for part in (self.margin, self.as_now, side_by_side(self.kind, self.draw), self.by_number, self.rows):
            self.body.addWidget(part)

    def _choose_kind(self, kind: Any) -> None:
        self._kind = kind

    def _draw(self) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            wanted = flaw_wanted(self._kind, cloth.id)
            self._owner.begin(lambda canvas: Drawing(canvas, wanted))

    def _add(self, points: Ring | None) -> None:
        """Take the points typed; the field is empty again for the next flaw."""
        cloth = self._owner.cloth
        if cloth is not None and points:
            self._owner.do(add_flaw(cloth.id, _made(cloth, self._kind, points, is_line=len(points) < 3)))

    def show_cloth(self, cloth: Cloth) -> None:
        """Show the flaws of this cloth."""
        self.rows.show_values({flaw.id: (cloth, flaw) for flaw in cloth.flaws})
        self.as_now.setVisible(bool(cloth.changes))
        self.kind.show_value(self._kind)
        self.by_number.show_value(None)
        self.set_note(str(len(cloth.flaws)) if cloth.flaws else "none")


def _points_now(cloth: Cloth, flaw: Flaw) -> Ring:
    """The flaw's points on the cloth as it now is."""
    return cloth.change_after(flaw.changes_in).ring(flaw.points_mm)
