"""The zones of a cloth: drawn, divided or by number; each with its own print, laid its own way."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.checks.figures import free_name
from coverlayout.document.edits.cloths import lay_print
from coverlayout.document.edits.zones import (
    MOST_ZONES_A_SIDE,
    add_zone,
    change_zone,
    cut_zone,
    divide_cloth,
    remove_all_zones,
    remove_zone,
)
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.cloths.outline import AS_NOW
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import (
    exact_length,
    exact_number,
    points_text,
    read_angle,
    read_count,
    read_length,
    read_points,
)
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import Fold, RowList, button, side_by_side
from coverlayout.ui.tasks.drawing import Drawing, Shape, Wanted
from coverlayout.ui.tasks.drawn import drawn_of
from coverlayout.ui.tasks.points import ChangePoints
from coverlayout.units import LengthStyle

__all__ = ["ZoneRow", "Zones", "cut_wanted", "zone_wanted"]


def zone_wanted(cloth_id: str | None = None) -> Wanted:
    """The drawing that becomes a zone; it bears the cloth's print until another is chosen."""
    return Wanted(
        "Draw a zone",
        lambda cloth, points, _shape: add_zone(cloth.id, _made(cloth, points)),
        ("rectangle", "area"),
        cloth_id=cloth_id,
    )


def cut_wanted(cloth_id: str | None = None) -> Wanted:
    """The line that cuts the zone under its middle in two."""

    def finish(cloth: Cloth, points: Ring, shape: Shape) -> Edit:
        del shape
        (x0, y0), (x1, y1) = points
        zone = _zone_at(cloth, ((x0 + x1) / 2, (y0 + y1) / 2))
        return cut_zone(cloth.id, zone.id, *points)

    return Wanted("Cut a zone in two", finish, ("line",), points=2, cloth_id=cloth_id)


def _made(cloth: Cloth, points: Ring) -> Zone:
    name = free_name("zone 1", (zone.name for zone in cloth.zones))
    return Zone("", name, points, laid=cloth.laid, changes_in=len(cloth.changes))


def _zone_at(cloth: Cloth, at_mm: Point) -> Zone:
    for zone in reversed(cloth.zones):
        if Region.of(cloth.change_after(zone.changes_in).ring(zone.outline_mm)).contains(at_mm):
            return zone
    raise BadInput("zone-not-there")


class ZoneRow(QWidget):
    """One zone: its name, the print on it and where that begins, and its corners."""

    def __init__(self, owner: ClothOwner, zone_id: str) -> None:
        super().__init__()
        self.owner = owner
        self._zone_id = zone_id

        def style() -> LengthStyle:
            return owner.style_of_lengths

        def place(title: str, axis: int) -> Entry:
            return Entry(
                title,
                read_length(title, "12mm", style, "any"),
                lambda value: exact_length(value, style()),
                lambda value: self._lay_at(axis, value),
                tip="Where the top left corner of one tile lies, from the cloth's left and top edges, print side up.",
                unit=style().unit,
            )

        self.name = Entry(
            "Name", str.strip, str, lambda name: self._change(name=name), tip="What you call this part of the cloth."
        )
        self.remove = button("Remove", self._remove, tip="Take this zone away.", role="more")
        self.print_choice = Choice("Print on it", (), self._choose_print, tip="Which print lies here.")
        self.origin_x, self.origin_y = place("Print, left", 0), place("top", 1)
        self.turn = Entry(
            "turned",
            read_angle("Turn"),
            lambda value: exact_number(value, 3),
            lambda value: self._lay(turn_deg=value % 360.0),
            tip="How the print is turned here, clockwise: 90 for a print laid sideways.",
            unit="°",
        )
        self.points = PointsEntry(
            "Corners in order, across,down",
            read_points("Corners", style),
            lambda points: points_text(points, style()),
            self._give_points,
            tip="From the cloth's left and top edges, one corner a line.",
            lines=4,
        )
        self.by_hand = button(
            "Change by hand",
            self._by_hand,
            tip="Drag its corners, add some, take some out.",
            role="more",
        )
        self.more = Fold(
            "Print and corners", tip="Where the print begins here, how it is turned, and the zone's corners."
        )
        for part in (side_by_side(self.origin_x, self.origin_y, self.turn), self.points, self.by_hand):
            self.more.body.addWidget(part)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 8)
        column.setSpacing(4)
        for part in (side_by_side(self.name, self.remove, shares=(3, 1)), self.print_choice, self.more):
            column.addWidget(part)

    def _zone(self) -> tuple[Cloth, Zone] | None:
        cloth = self.owner.cloth
        found = next((zone for zone in cloth.zones if zone.id == self._zone_id), None) if cloth else None
        return (cloth, found) if cloth and found else None

    def _change(self, **fields: Any) -> None:
        found = self._zone()
        if found is not None:
            self.owner.do(change_zone(found[0].id, self._zone_id, **fields))

    def _choose_print(self, print_id: Any) -> None:
        found = self._zone()
        if found is None:
            return
        cloth, zone = found
        laid = zone.laid or LaidPrint(print_id, changes_in=len(cloth.changes), origin_known=cloth.state != "to-buy")
        self.owner.do(lay_print(cloth.id, replace(laid, print_id=print_id) if print_id else None, zone.id))

    def _lay_at(self, axis: int, value_mm: float) -> None:
        found = self._zone()
        if found is not None and found[1].laid is not None:
            x, y = found[1].laid.origin_mm
            self._lay(origin_mm=(value_mm, y) if axis == 0 else (x, value_mm))

    def _lay(self, **fields: Any) -> None:
        found = self._zone()
        if found is not None and found[1].laid is not None:
            self.owner.do(lay_print(found[0].id, replace(found[1].laid, **fields), self._zone_id))

    def _give_points(self, points: Ring | None) -> None:
        found = self._zone()
        if found is not None:
            self._change(outline_mm=points or (), changes_in=len(found[0].changes))

    def _by_hand(self) -> None:
        found = self._zone()
        if found is not None:
            drawn = drawn_of(self.owner.project, "zone", found[0].id, self._zone_id)
            self.owner.begin(lambda canvas: ChangePoints(canvas, drawn))

    def _remove(self) -> None:
        found = self._zone()
        if found is not None:
            self.owner.attempt(remove_zone(found[0].id, self._zone_id))

    def show_value(self, value: tuple[Project, Cloth, Zone]) -> None:
        """Show the zone as it lies on its cloth now."""
        project, cloth, zone = value
        unit = self.owner.style_of_lengths.unit
        self.name.show_value(zone.name)
        self.print_choice.set_choices((("", "none, plain"), *((each.id, each.name) for each in project.prints)))
        self.print_choice.show_value(zone.laid.print_id if zone.laid else "")
        x_mm, y_mm = zone.laid.origin_mm if zone.laid else (0.0, 0.0)
        self.origin_x.show_value(x_mm, unit)
        self.origin_y.show_value(y_mm, unit)
        self.turn.show_value(zone.laid.turn_deg if zone.laid else 0.0)
        for field in (self.origin_x, self.origin_y, self.turn):
            field.setVisible(zone.laid is not None)
        self.points.show_value(cloth.change_after(zone.changes_in).ring(zone.outline_mm))


class Zones(Fold):
    """All zones of a cloth: drawn, or the whole cloth divided into equal ones."""

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__("Zones", tip="For a cloth that bears several prints: a yard of small areas.")
        self._owner = owner
        self._columns, self._rows, self._between_mm = 2, 1, 0.0
        self.outside = label("Once there are zones, cloth outside them is not used.", "hint")
        self.as_now = label(AS_NOW, "muted")
        self.rows = RowList(
            lambda zone_id: ZoneRow(owner, zone_id),
            "Draw a zone",
            self._draw,
            tip="Press its corners on the cloth, or type them there. Zones may touch, and never lie over each other.",
        )
        self.cut = button("Cut one in two", self._cut, tip="Draw a line across a zone: both parts keep its print.")
        self.clear = button("Remove all", self._clear, tip="The cloth is one ground again.", role="more")
        self.columns = self._count("Columns", "_columns")
        self.lines = self._count("Rows", "_rows")
        self.between = Entry(
            "Strips between",
            read_length("Strips between", "0mm", lambda: owner.style_of_lengths, "0"),
            lambda value: exact_length(value, owner.style_of_lengths),
            lambda value: setattr(self, "_between_mm", value),
            tip="How wide the strips between the areas are, where there are any.",
            unit=owner.style_of_lengths.unit,
        )
        self.divide = button("Divide the cloth", self._divide, tip="Equal zones over all of it, numbered row by row.")
        self.grid = side_by_side(self.columns, self.lines, self.between)
        for part in (
            self.outside,
            self.as_now,
            self.rows,
            side_by_side(self.cut, self.clear),
            self.grid,
            self.divide,
        ):
            self.body.addWidget(part)

    def _count(self, title: str, field: str) -> Entry:
        return Entry(
            title,
            read_count(title, 1, MOST_ZONES_A_SIDE),
            str,
            lambda count: setattr(self, field, count),
            tip=f"Into how many {title.lower()} the cloth is divided.",
        )

    def _begin(self, wanted: Wanted) -> None:
        self._owner.begin(lambda canvas: Drawing(canvas, wanted))

    def _draw(self) -> None:
        if self._owner.cloth is not None:
            self._begin(zone_wanted(self._owner.cloth.id))

    def _cut(self) -> None:
        if self._owner.cloth is not None:
            self._begin(cut_wanted(self._owner.cloth.id))

    def _divide(self) -> None:
        if self._owner.cloth is not None:
            self._owner.attempt(divide_cloth(self._owner.cloth.id, self._columns, self._rows, self._between_mm))

    def _clear(self) -> None:
        if self._owner.cloth is not None:
            self._owner.attempt(remove_all_zones(self._owner.cloth.id))

    def show_cloth(self, cloth: Cloth) -> None:
        """Show the zones of this cloth."""
        self.rows.show_values({zone.id: (self._owner.project, cloth, zone) for zone in cloth.zones})
        self.as_now.setVisible(bool(cloth.changes))
        for part in (self.cut, self.clear):
            part.setVisible(bool(cloth.zones))
        self.columns.show_value(self._columns)
        self.lines.show_value(self._rows)
        self.between.show_value(self._between_mm, self._owner.style_of_lengths.unit)
        self.grid.setVisible(not cloth.zones)
        self.divide.setVisible(not cloth.zones)
        self.set_note(str(len(cloth.zones)) if cloth.zones else "none")
