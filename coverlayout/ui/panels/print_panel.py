"""Step 1: the print. Its picture, how large it prints, how it repeats, and where it lies on the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog

from coverlayout.document.edits.prints import change_print, remove_print
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.motif.prints import Print
from coverlayout.motif.tile import OpenedPicture
from coverlayout.ui.fields.entry import Entry, label, warning
from coverlayout.ui.fields.figures import exact_number, points_text, read_count, read_percent, read_points
from coverlayout.ui.fields.ground_drawings import RepeatDrawing
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import button, set_role, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.panels.print_edits import (
    PICTURE_ENDINGS,
    file_words,
    layout_edit,
    opened_picture,
    percent_edit,
    picture_edit,
    read_picture,
    repeat_edit,
    size_doubt,
    size_edit,
    vectors_edit,
)
from coverlayout.ui.panels.print_place import PrintPlace

__all__ = ["PrintPanel"]

_LAYOUTS = (
    ("straight", "straight"),
    ("half-drop", "half-drop"),
    ("brick", "brick"),
    ("drop", "1/n drop"),
    ("mirrored", "mirrored"),
    ("vectors", "two vectors"),
)
_UPS = (("one-way", "one way up"), ("two-way", "two ways up"), ("any", "any way up"))


_PERCENT_TIP = "Percent of the size the file itself states: 94 prints a little smaller."
_NO_PERCENT_TIP = "There is no size in a file to take a percentage of: type the printed size instead."


def _opened(data: bytes, name: str) -> OpenedPicture | None:
    """What a picture of the project is; None for one that cannot be read: the canvas then shows the plain tile."""
    try:
        return opened_picture(data, name)
    except CoverlayoutError:
        return None


class PrintPanel(Panel):
    """The fields of step 1. `drag_print` says whether dragging on the cloth moves the print."""

    title = "Print"
    drag_print = Signal(bool)

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._print_id = ""
        self.open_button = button(
            "Open a picture …",
            self.ask_for_picture,
            tip="One tile of your repeat as PNG, JPEG, TIFF, WebP, BMP or GIF. Dropping the file on the window does "
            "the same.",
        )
        self.chooser = self.choose(
            "Print shown here", (), self._choose_print, tip="Which print these fields are about."
        )
        self.file_says = label(role="muted")
        self.doubts = warning()
        self._fields_of_size()
        self._fields_of_repeat()
        self.place = PrintPlace(session, say)
        self.place.drag_print.connect(self.drag_print)
        self.another = button(
            "Add another print",
            lambda: self.ask_for_picture(new=True),
            tip="A second print for other cloths of this job.",
            role="more",
        )
        self.remove = button(
            "Remove this print", self._remove, tip="Cloths that bear it become plain; Undo brings it back.", role="more"
        )
        self.add(
            self.chooser,
            self.open_button,
            self.file_says,
            side_by_side(self.size_entry, self.percent, shares=(3, 2)),
            self.doubts,
            self.drawing,
            side_by_side(self.layout_choice, self.drop_parts),
            self.vectors,
            self.up,
            self.place,
            side_by_side(self.another, self.remove),
        )

    def _fields_of_size(self) -> None:
        self.size_entry = self.length_pair(
            "Printed size",
            lambda size: self.do(size_edit(self.shown_print, size)),
            tip="Width × height of the picture as printed. Measure one repeat on the cloth, or type what you ordered: "
            "64 × 96 mm, 2 1/2 x 4 in.",
            like="64 x 96 mm",
        )
        self.first = self.size_entry.field
        self.percent = Entry(
            "or scale",
            read_percent("Scale"),
            lambda value: exact_number(value, 2),
            lambda percent: self.do(percent_edit(self.shown_print, self._size_from_file(), percent)),
            tip=_PERCENT_TIP,
            unit="%",
        )

    def _fields_of_repeat(self) -> None:
        self.drawing = RepeatDrawing()
        self.layout_choice = self.choose(
            "How it repeats",
            _LAYOUTS,
            lambda layout: layout_edit(self.shown_print, layout),
            tip="Straight: in rows and columns. Half-drop: every other column half a tile lower. Brick: every other "
            "row half a tile to the side. Mirrored: each tile reflects its neighbours.",
        )
        self.drop_parts = Entry(
            "n of the drop",
            read_count("n of the drop", 2, 12),
            str,
            lambda n: self.do(repeat_edit(self.shown_print, drop_parts=n)),
            tip="3 lowers each column by a third of the tile's height.",
        )
        self.vectors = PointsEntry(
            "Two steps to the same motif, across,down",
            read_points("Vectors", lambda: self.style_of_lengths),
            lambda points: points_text(points, self.style_of_lengths),
            lambda points: self.do(vectors_edit(self.shown_print, points)),
            tip="From one motif to the next that is the same: two different steps, one a line. One alone: stripes.",
            lines=2,
        )
        self.up = self.choose(
            "Which way is up",
            _UPS,
            lambda value: change_print(self.shown_print.id, up=value) if self.shown_print else None,
            tip="One way: the print has a head, and pieces must not be turned. Two ways: upside down looks as good. "
            "Any: sideways as well.",
        )

    @property
    def shown_print(self) -> Print | None:
        """The print these fields are about."""
        found: Print | None = chosen_of(self.session.project.prints, self._print_id)
        return found

    def _choose_print(self, print_id: Any) -> None:
        self._print_id = print_id
        self.show_project(self.session.project)

    def _opened_picture(self) -> OpenedPicture | None:
        a_print = self.shown_print
        data = self.session.pictures.get(a_print.picture.sha256) if a_print and a_print.picture else None
        return _opened(data, a_print.picture.name) if data and a_print and a_print.picture else None

    def _size_from_file(self) -> tuple[float, float] | None:
        opened = self._opened_picture()
        return opened.size_from_file_mm if opened else None

    def _remove(self) -> None:
        if self.shown_print is not None:
            self.attempt(remove_print(self.shown_print.id))

    def ask_for_picture(self, *, new: bool = False) -> None:
        """Let the maker choose a picture file; `new` makes a print of its own of it."""
        endings = " ".join(f"*{ending}" for ending in PICTURE_ENDINGS)
        name, _ = QFileDialog.getOpenFileName(self, "Open a picture of the print", "", f"Pictures ({endings})")
        if name:
            self.open_path(Path(name), new=new)

    def open_path(self, path: Path, *, new: bool = False) -> None:
        """Open a picture as the print, or in place of the present print's picture; trouble is said above the cloth."""
        try:
            data, opened = read_picture(path)
            self.session.add_picture(data)
            self.do(picture_edit(None if new else self.shown_print, opened))
        except CoverlayoutError as fault:
            self.complain(fault)
            return
        if new:
            self._choose_print(self.session.project.prints[-1].id)
        for note in opened.notes:
            self.tell(note)
        self.size_entry.line.setFocus()

    def summary(self, project: Project) -> str:
        """Name, layout, size, way up."""
        a_print = chosen_of(project.prints, self._print_id)
        if a_print is None:
            return "Open the picture of your repeat"
        parts = [a_print.name, dict(_LAYOUTS)[a_print.layout]]
        if a_print.layout == "drop":
            parts[-1] = f"1/{a_print.drop_parts} drop"
        if a_print.size_from == "guess":
            parts.insert(0, "Size not known")
        elif a_print.tile_mm:
            parts.append(f"{self.size_entry.words(a_print.tile_mm)} {project.preferences.length_style.unit}")
        return ", ".join([*parts, dict(_UPS)[a_print.up]])

    def show_project(self, project: Project) -> None:
        """Show the print; fields that need one sleep until there is one."""
        a_print = self.shown_print
        self.chooser.set_choices(tuple((each.id, each.name) for each in project.prints))
        self.chooser.show_value(a_print.id if a_print else None)
        self.chooser.setVisible(len(project.prints) > 1)
        self._show_file(a_print)
        for field in (self.layout_choice, self.up):
            field.setEnabled(a_print is not None)
        known = a_print.tile_mm if a_print and a_print.size_from != "guess" else None
        self.size_entry.show_value(known, project.preferences.length_style.unit)
        self.drawing.show_print(a_print)
        self.drawing.setVisible(a_print is not None)
        self.layout_choice.show_value(a_print.layout if a_print else None)
        self.up.show_value(a_print.up if a_print else None)
        self.drop_parts.setVisible(a_print is not None and a_print.layout == "drop")
        self.drop_parts.show_value(a_print.drop_parts if a_print else None)
        self.vectors.setVisible(a_print is not None and a_print.layout == "vectors")
        if a_print is not None:
            self.vectors.show_value(tuple(step for step in (a_print.lattice.a_mm, a_print.lattice.b_mm) if step))
        for part in (self.another, self.remove):
            part.setVisible(a_print is not None)
        self.place.print_id = a_print.id if a_print else ""
        self.place.show_project(project)

    def _show_file(self, a_print: Print | None) -> None:
        opened = self._opened_picture()
        from_file = opened.size_from_file_mm if opened else None
        self.doubts.setText(size_doubt(a_print, opened, self.style_of_lengths) if a_print else "")
        self.doubts.setVisible(bool(self.doubts.text()))
        self.percent.setEnabled(from_file is not None)
        self.percent.explain(_PERCENT_TIP if from_file else _NO_PERCENT_TIP)
        share = a_print.tile_mm[0] / from_file[0] * 100 if a_print and a_print.tile_mm and from_file else None
        self.percent.show_value(share)
        self.open_button.setText("Open a picture …" if opened is None else "Another picture …")
        set_role(self.open_button, "first" if a_print is None else "")
        self.file_says.setText(file_words(opened, self.style_of_lengths) if opened else "")
        self.file_says.setVisible(opened is not None)
