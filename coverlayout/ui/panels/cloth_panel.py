"""Step 2: the cloth. Its size or the cut it is bought as, its edges, what it went through, and its flaws."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from coverlayout.book.rules.table import rule
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder_in_use
from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.asking.remarks import job_remarks
from coverlayout.document.edits.cloths import add_cloth, change_cloth, lay_print
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.document.stocking.backing import backing_of
from coverlayout.errors import CoverlayoutError, Remark, sentence
from coverlayout.geometry.frames import Point
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.cloths.base_line import BaseLinePart
from coverlayout.ui.cloths.changes import Changes
from coverlayout.ui.cloths.flaws import Flaws
from coverlayout.ui.cloths.outline import Outline
from coverlayout.ui.cloths.owner import MakeTask
from coverlayout.ui.cloths.remeasure import RemeasurePart
from coverlayout.ui.cloths.zones import Zones
from coverlayout.ui.dialogs.buying import bought_as, buy, laid_as
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label, warning
from coverlayout.ui.fields.ground_drawings import ClothDrawing
from coverlayout.ui.fields.rows import side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.parts.cloth_row import ClothRow
from coverlayout.ui.ruled.entries import read_number

__all__ = ["ClothPanel"]

_STATES = (("measured", "in hand"), ("to-buy", "to buy"), ("to-order", "to order"))
_BACKINGS = (
    ("none", "none"),
    ("web", "web"),
    ("web and tissue", "web, tissue"),
    ("paste and paper", "paste, paper"),
)
_OWN_SIZE = "own size"


class ClothPanel(Panel):
    """The fields of step 2. `task_asked` carries what makes a task for the canvas."""

    title = "Cloth"
    task_asked = Signal(object)

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._cloth_id = ""
        self.row = ClothRow(self, self.show_cloth)
        self._fields_of_size()
        self._fields_of_edges()
        self.changes, self.outline, self.flaws, self.zones = Changes(self), Outline(self), Flaws(self), Zones(self)
        self.remeasure, self.base_line = RemeasurePart(self), BaseLinePart(self)
        self.add(
            self.row,
            self.size_entry,
            # Names of cuts are long: they have a row of their own.
            self.cut,
            side_by_side(self.state, self.price),
            self.before_changes,
            self.remarks,
            self.print_choice,
            self.print_side,
            self.drawing,
            side_by_side(self.trim, self.web_short),
            self.backing,
            side_by_side(self.selvedge_left, self.selvedge_right),
            self.after_changes,
            self.changes,
            self.remeasure,
            self.outline,
            self.base_line,
            self.flaws,
            self.zones,
        )

    def _fields_of_size(self) -> None:
        self.size_entry = self.length_pair(
            "Width × length",
            self._give_size,
            tip="Width from selvedge to selvedge first, then the length off the bolt: 12 x 12 in, 140 cm x 50 cm.",
            like="12 x 12 in",
        )
        self.first = self.size_entry.field
        self.cut = Choice(
            "or a cut to buy", (), self._give_cut, tip="A cut as shops sell it. The bar below says which is enough."
        )
        self.state = self.choose(
            "This cloth is",
            _STATES,
            self._state_edit,
            tip="In hand: you measured it, the figures are sure. To buy: it may come out 1 % smaller, and nobody knows "
            "where the print falls. To order: printed as you lay it out.",
        )
        self.print_choice = self.choose(
            "Print on it", (), self._print_edit, tip="Which of the prints of step 1 this cloth bears."
        )
        self.before_changes = label("Width, length and cut: before the changes in size.", "muted")
        self.remarks = warning()
        self.print_side = label(sentence("cloth-step-print-side", {}), "muted")
        self.drawing = ClothDrawing()

    def _fields_of_edges(self) -> None:
        self.trim = self.length(
            "Trim all round", self._give("trim_mm"), tip="A strip along all edges that you cut away.", like="3mm"
        )
        self.web_short = self.length(
            "Unbacked strip",
            self._give("web_short_mm"),
            tip="How far the backing (web and tissue) stops short of the edge: that strip cannot be used.",
            like="3mm",
        )
        self.backing = self.choose(
            "Backing",
            _BACKINGS,
            self._backing_edit,
            tip="What is bonded on the back before cutting: it stands in the list of what to cut, and under Sheets and "
            "rolls.",
        )
        self.price = Entry(
            "Price of the whole",
            lambda text: read_number(text) if text.strip() else None,
            lambda value: f"{value:.2f}",
            self._give("price"),
            tip="What the whole cloth costs, for what a book costs. Empty: the price of its cut, where that has one.",
        )
        self.selvedge_left = self.length(
            "Selvedge left",
            self._give("selvedge_left_mm"),
            tip="The woven edge at the left, print side up. Where strips meet, the widest counts.",
            like="10mm",
        )
        self.selvedge_right = self.length(
            "Selvedge right",
            self._give("selvedge_right_mm"),
            tip="The woven edge at the right, print side up.",
            like="10mm",
        )
        self.after_changes = label("These strips: on the cloth as it is now, after the changes in size.", "muted")

    # What the fields are about

    @property
    def cloth(self) -> Cloth | None:
        """The cloth shown, None when the project has none."""
        found: Cloth | None = chosen_of(self.session.project.cloths, self._cloth_id)
        return found

    @property
    def project(self) -> Project:
        """The project as it now is."""
        return self.session.project

    def show_cloth(self, cloth_id: str) -> None:
        """Show another cloth."""
        self._cloth_id = cloth_id
        self.show_project(self.session.project)

    def begin(self, make: MakeTask) -> None:
        """Begin a task on the canvas."""
        self.task_asked.emit(make)

    # From the maker to the project

    def _change(self, **fields: Any) -> None:
        cloth = self.cloth
        if cloth is not None:
            self.do(change_cloth(cloth.id, **fields))

    def _give(self, field: str) -> Any:
        return lambda value: self._change(**{field: value})

    def _give_size(self, size: Point) -> None:
        cloth = self.cloth
        if cloth is None:
            self.do(add_cloth(Cloth("", "Cloth", *size, laid=self._laid_print(origin_known=True))))
        else:
            self.do(change_cloth(cloth.id, width_mm=size[0], length_mm=size[1], cut_name=None))

    def _laid_print(self, *, origin_known: bool) -> LaidPrint | None:
        """A cloth that is added bears the first print."""
        prints = self.session.project.prints
        return LaidPrint(prints[0].id, origin_known=origin_known) if prints else None

    def _cut_edit(self, name: Any) -> Edit | None:
        cloth = self.cloth
        if name == _OWN_SIZE:
            return None if cloth is None else change_cloth(cloth.id, cut_name=None)
        cut = next(cut for cut in ladder_in_use() if cut.name == name)
        if cloth is None:
            return add_cloth(bought_as(Cloth("", "Cloth", 1.0, 1.0, laid=self._laid_print(origin_known=False)), cut))
        return buy(cut, (cloth.id,))

    def _give_cut(self, name: Any) -> None:
        edit = self._cut_edit(name)
        if edit is not None:
            with self._flaws_gone_said(name):
                self.do(edit)

    def take_cut(self, name: str) -> None:
        """Make the cloth shown the cut of that name, still to buy."""
        edit = self._cut_edit(name)
        if edit is not None:
            with self._flaws_gone_said(name):
                self.attempt(edit)

    def take_cut_of_each(self, cut: Cut, name: str) -> None:
        """Make every cloth that cut, still to buy; `name` is what the ladder calls them together."""
        with self._flaws_gone_said(name):
            self.attempt(buy(cut, tuple(cloth.id for cloth in self.session.project.cloths)))

    @contextmanager
    def _flaws_gone_said(self, name: str) -> Iterator[None]:
        """Say it when flaws of the cloth before did not come along to the cut still to buy."""
        before = _flaws_on(self.session.project)
        yield
        if _flaws_on(self.session.project) < before:
            self.say(sentence("flaws-stay-behind", {"name": name}), False)

    def _state_edit(self, state: Any) -> Edit | None:
        cloth = self.cloth
        return None if cloth is None else change_cloth(cloth.id, state=state, laid=laid_as(cloth.laid, state))

    def _backing_edit(self, backing: Any) -> Edit | None:
        """Another backing; what is ironed on begins short of the edge by the rule, which the maker may change."""
        cloth = self.cloth
        if cloth is None:
            return None
        if backing == "none":
            # What is not there stops short of nothing.
            return change_cloth(cloth.id, backing=backing, web_short_mm=0.0)
        if backing == "paste and paper" or cloth.web_short_mm > 0:
            return change_cloth(cloth.id, backing=backing)
        strip_mm = rule("web strip", "separate-boards").nice_mm(self.style_of_lengths.unit)
        return change_cloth(cloth.id, backing=backing, web_short_mm=strip_mm)

    def _print_edit(self, print_id: Any) -> Edit | None:
        cloth = self.cloth
        if cloth is None:
            return None
        laid = LaidPrint(print_id, origin_known=cloth.state != "to-buy", changes_in=len(cloth.changes))
        return lay_print(cloth.id, laid if print_id else None)

    # From the project to the fields

    def summary(self, project: Project) -> str:
        """State or cut, size, changes and flaws."""
        cloth = chosen_of(project.cloths, self._cloth_id)
        if cloth is None:
            return "Say how large your cloth is"
        style = project.preferences.length_style
        # The size it has now, as it stands over the cloth: an outline or a change makes another of what was bought.
        width_mm, length_mm = size_now_mm(cloth)
        size = f"{style.number(width_mm, 'down')} × {style.show(length_mm, 'down')}"
        parts = [cloth.cut_name or dict(_STATES)[cloth.state], size]
        if cloth.changes:
            parts.append("1 change in size" if len(cloth.changes) == 1 else f"{len(cloth.changes)} changes in size")
        if cloth.flaws:
            parts.append(cloth.flaws[0].name if len(cloth.flaws) == 1 else f"{len(cloth.flaws)} flaws")
        more = f"; {len(project.cloths)} cloths" if len(project.cloths) > 1 else ""
        words = ", ".join(parts) + more
        return words[:1].upper() + words[1:]

    def show_project(self, project: Project) -> None:
        """Show the cloth; fields that need one sleep until there is one."""
        cloth = self.cloth
        unit = project.preferences.length_style.unit
        self._show_cuts(cloth)
        self.row.show_cloth(project, cloth)
        self.size_entry.show_value((cloth.width_mm, cloth.length_mm) if cloth else None, unit)
        self.state.show_value(cloth.state if cloth else None)
        self.print_choice.set_choices((("", "none, plain"), *((each.id, each.name) for each in project.prints)))
        self.print_choice.show_value(cloth.laid.print_id if cloth and cloth.laid else "")
        self.print_choice.setVisible(cloth is not None and bool(project.prints) and not cloth.zones)
        self.print_side.setVisible(cloth is not None and project.preferences.side == "back")
        self.drawing.show_cloth(cloth)
        strips = (self.trim, self.web_short, self.selvedge_left, self.selvedge_right)
        for field in (self.state, self.backing, self.price, *strips):
            field.setEnabled(cloth is not None)
        lists: tuple[QWidget, ...] = (self.drawing, self.changes, self.outline, self.flaws, self.zones)
        for part in (*lists, self.remeasure, self.base_line):
            part.setVisible(cloth is not None)
        shown = cloth or Cloth("", "", 1.0, 1.0)
        self.backing.show_value(backing_of(shown))
        self.price.show_value(shown.price, project.preferences.currency)
        self.trim.show_value(shown.trim_mm, unit)
        self.web_short.show_value(shown.web_short_mm, unit)
        self.selvedge_left.show_value(shown.selvedge_left_mm, unit)
        self.selvedge_right.show_value(shown.selvedge_right_mm, unit)
        for part in (self.changes, self.outline, self.flaws, self.zones, self.remeasure, self.base_line):
            part.show_cloth(shown)
        self.before_changes.setVisible(bool(shown.changes))
        self.after_changes.setVisible(bool(shown.changes))
        self._show_remarks(cloth)

    def _show_remarks(self, cloth: Cloth | None) -> None:
        """What is worth knowing of this cloth."""
        said = [self.style_of_lengths.said(remark) for remark in _remarks(cloth)] if cloth else []
        self.remarks.setText("\n".join(words[:1].upper() + words[1:] for words in said))
        self.remarks.setVisible(bool(said))

    def _show_cuts(self, cloth: Cloth | None) -> None:
        try:
            names = tuple(cut.name for cut in ladder_in_use())
        except CoverlayoutError as fault:
            self.complain(fault)
            names = ()
        self.cut.set_choices(((_OWN_SIZE, _OWN_SIZE), *((name, name) for name in names)))
        self.cut.show_value(_OWN_SIZE if cloth is None or cloth.cut_name is None else cloth.cut_name)


def _flaws_on(project: Project) -> int:
    return sum(len(cloth.flaws) for cloth in project.cloths)


def _remarks(cloth: Cloth) -> tuple[Remark, ...]:
    """What the job says of this cloth alone."""
    alone = Project(cloths=(cloth,))
    try:
        return job_remarks(alone)
    except CoverlayoutError:
        # The maker's own ladder cannot be read, which is said where the cuts are shown.
        return job_remarks(alone, ())
