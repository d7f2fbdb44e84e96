"""Step 2: the cloth. Its size or the cut it is bought as, its edges, what it went through, and its flaws."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QWidget

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder_in_use, swapped_note
from coverlayout.document.edits.cloths import add_change, add_cloth, add_flaw, change_cloth, lay_print, remove_cloth
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.frames import Point
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.fields.cloth_rows import ChangeRow, FlawRow, new_change, new_flaw
from coverlayout.ui.fields.entry import Entry, PointsEntry
from coverlayout.ui.fields.figures import exact_number, points_text, read_percent, read_points
from coverlayout.ui.fields.ground_drawings import ClothDrawing
from coverlayout.ui.fields.rows import Fold, RowList, button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of

__all__ = ["ClothPanel", "bought_as"]

_STATES = (("measured", "in hand"), ("to-buy", "to buy"), ("to-order", "to order"))
_OWN_SIZE = "own size"


class ClothPanel(Panel):
    """The fields of step 2."""

    title = "Cloth"

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._cloth_id = ""
        self.chooser = self.choose(
            "Cloth shown here", (), self._choose_cloth, tip="Which cloth these fields are about."
        )
        self._fields_of_size()
        self._fields_of_edges()
        self._fields_seldom_needed()
        self.another = button(
            "Add another cloth", self._add_another, tip="The job may be cut from several cloths.", role="more"
        )
        self.remove = button(
            "Remove this cloth", self._remove, tip="Pieces on it wait again; Undo brings it back.", role="more"
        )
        self.add(
            self.chooser,
            self.size_entry,
            side_by_side(self.cut, self.state),
            self.print_choice,
            self.drawing,
            side_by_side(self.trim, self.web_short),
            side_by_side(self.selvedge_left, self.selvedge_right),
            self.changes,
            self.outline,
            self.flaws,
            side_by_side(self.another, self.remove),
        )

    def _fields_of_size(self) -> None:
        self.size_entry = self.length_pair(
            "Width × length",
            self._give_size,
            tip="Width from selvedge to selvedge first, then the length off the bolt: 12 x 12 in, 140 cm x 50 cm.",
            like="12 x 12 in",
        )
        self.cut = self.choose(
            "or a cut to buy", (), self._cut_edit, tip="A cut as shops sell it. The bar below says which is enough."
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
        self.drawing = ClothDrawing()

    def _fields_of_edges(self) -> None:
        self.trim = self.length(
            "Trim all round", self._give("trim_mm"), tip="A strip along all edges that you cut away.", like="3mm"
        )
        self.web_short = self.length(
            "Unbacked strip",
            self._give("web_short_mm"),
            tip="How far the backing (web, or paste and tissue) stops short of the edge: that strip cannot be used.",
            like="3mm",
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

    def _fields_seldom_needed(self) -> None:
        self.changes = Fold(
            "Changes in size", tip="Washing and bonding make cloth smaller. Enter each once, minus for shrinking."
        )
        self.change_rows = RowList(
            lambda at: ChangeRow(self, at),
            "Add a change",
            lambda: self._attempt_on_cloth(lambda cloth: add_change(cloth.id, new_change(cloth))),
            tip="Percent across and along: -3 means 3 % smaller.",
        )
        self.doubt = Entry(
            "May come out smaller by",
            read_percent("Doubt"),
            lambda value: exact_number(value, 2),
            lambda value: self._change(doubt_percent=value),
            tip="How much smaller the cloth may turn out than the figures say: 0 for cloth measured in hand, 1 % usual "
            "for a cut still to buy. A layout lost by that much is called tight.",
            unit="%",
        )
        self.changes.body.addWidget(self.change_rows)
        self.changes.body.addWidget(self.doubt)
        self.outline = Fold("Outline", tip="For a cloth that is no rectangle: its corners in order.")
        self.outline_points = PointsEntry(
            "Corners in order, across,down",
            read_points("Outline", lambda: self.style_of_lengths),
            lambda points: points_text(points, self.style_of_lengths),
            self._give_outline,
            tip="From the top left of the cloth's box, one corner a line. Empty: the full rectangle.",
            lines=5,
        )
        self.outline.body.addWidget(self.outline_points)
        self.flaws = Fold("Flaws", tip="Stains, creases and holes that no piece may lie on.")
        self.flaw_rows = RowList(
            lambda flaw_id: FlawRow(self, flaw_id),
            "Add a flaw",
            lambda: self._attempt_on_cloth(lambda cloth: add_flaw(cloth.id, new_flaw(cloth))),
            tip="It starts as a line in the middle of the cloth; then type where it really lies.",
        )
        self.flaws.body.addWidget(self.flaw_rows)

    # What the fields are about

    @property
    def cloth(self) -> Cloth | None:
        """The cloth shown, None when the project has none."""
        found: Cloth | None = chosen_of(self.session.project.cloths, self._cloth_id)
        return found

    def _choose_cloth(self, cloth_id: Any) -> None:
        self._cloth_id = cloth_id
        self.show_project(self.session.project)

    # From the maker to the project

    def _change(self, **fields: Any) -> None:
        cloth = self.cloth
        if cloth is not None:
            self.do(change_cloth(cloth.id, **fields))

    def _give(self, field: str) -> Any:
        return lambda value: self._change(**{field: value})

    def _attempt_on_cloth(self, make: Any) -> None:
        if self.cloth is not None:
            self.attempt(make(self.cloth))

    def _give_size(self, size: Point) -> None:
        cloth = self.cloth
        if cloth is None:
            self.do(add_cloth(Cloth("", "Cloth", *size, laid=self._laid_print(origin_known=True))))
        else:
            self.do(change_cloth(cloth.id, width_mm=size[0], length_mm=size[1], cut_name=None))
        note = swapped_note(*size)
        if note is not None:
            self.tell(note)

    def _laid_print(self, *, origin_known: bool) -> LaidPrint | None:
        """A cloth that is added bears the first print."""
        prints = self.session.project.prints
        return LaidPrint(prints[0].id, origin_known=origin_known) if prints else None

    def _cut_edit(self, name: Any) -> Edit | None:
        cloth = self.cloth
        if name == _OWN_SIZE:
            return None if cloth is None else change_cloth(cloth.id, cut_name=None)
        cut = next(cut for cut in ladder_in_use() if cut.name == name)
        before = cloth or Cloth("", "Cloth", 1.0, 1.0, laid=self._laid_print(origin_known=False))
        after = bought_as(before, cut)
        if cloth is None:
            return add_cloth(after)
        fields = ("width_mm", "length_mm", "state", "cut_name", "outline_mm", "outline_changes_in", "laid")
        return change_cloth(cloth.id, **{field: getattr(after, field) for field in fields})

    def take_cut(self, name: str) -> None:
        """Make the cloth shown the cut of that name, still to buy."""
        edit = self._cut_edit(name)
        if edit is not None:
            self.attempt(edit)

    def _state_edit(self, state: Any) -> Edit | None:
        cloth = self.cloth
        return None if cloth is None else change_cloth(cloth.id, state=state, laid=_known(cloth.laid, state))

    def _print_edit(self, print_id: Any) -> Edit | None:
        cloth = self.cloth
        if cloth is None:
            return None
        laid = LaidPrint(print_id, origin_known=cloth.state != "to-buy", changes_in=len(cloth.changes))
        return lay_print(cloth.id, laid if print_id else None)

    def _remove(self) -> None:
        self._attempt_on_cloth(lambda cloth: remove_cloth(cloth.id))

    def _give_outline(self, points: Any) -> None:
        cloth = self.cloth
        if cloth is not None:
            self._change(outline_mm=points, outline_changes_in=len(cloth.changes) if points else 0)

    def _add_another(self) -> None:
        cloth = self.cloth
        if cloth is None:
            return
        name = f"Cloth {len(self.session.project.cloths) + 1}"
        self.attempt(
            add_cloth(Cloth("", name, cloth.width_mm, cloth.length_mm, laid=self._laid_print(origin_known=True)))
        )
        self._choose_cloth(self.session.project.cloths[-1].id)

    # From the project to the fields

    def summary(self, project: Project) -> str:
        """State or cut, size, changes and flaws."""
        cloth = chosen_of(project.cloths, self._cloth_id)
        if cloth is None:
            return "Say how large your cloth is"
        style = project.preferences.length_style
        size = f"{self.size_entry.words((cloth.width_mm, cloth.length_mm))} {style.unit}"
        parts = [cloth.cut_name or dict(_STATES)[cloth.state], size]
        if cloth.changes:
            parts.append("1 change in size" if len(cloth.changes) == 1 else f"{len(cloth.changes)} changes in size")
        if cloth.flaws:
            parts.append(cloth.flaws[0].name if len(cloth.flaws) == 1 else f"{len(cloth.flaws)} flaws")
        more = f"; {len(project.cloths)} cloths" if len(project.cloths) > 1 else ""
        return (", ".join(parts) + more).capitalize() if parts[0][:1].islower() else ", ".join(parts) + more

    def show_project(self, project: Project) -> None:
        """Show the cloth; fields that need one sleep until there is one."""
        cloth = self.cloth
        unit = project.preferences.length_style.unit
        self._show_cuts(cloth)
        self.chooser.set_choices(tuple((each.id, each.name) for each in project.cloths))
        self.chooser.show_value(cloth.id if cloth else None)
        self.chooser.setVisible(len(project.cloths) > 1)
        self.size_entry.show_value((cloth.width_mm, cloth.length_mm) if cloth else None, unit)
        self.state.show_value(cloth.state if cloth else None)
        self.print_choice.set_choices((("", "none, plain"), *((each.id, each.name) for each in project.prints)))
        self.print_choice.show_value(cloth.laid.print_id if cloth and cloth.laid else "")
        self.print_choice.setVisible(cloth is not None and bool(project.prints) and not cloth.zones)
        self.drawing.show_cloth(cloth)
        for field in (self.state, self.trim, self.web_short, self.selvedge_left, self.selvedge_right):
            field.setEnabled(cloth is not None)
        lists: tuple[QWidget, ...] = (self.drawing, self.changes, self.outline, self.flaws, self.another, self.remove)
        for part in lists:
            part.setVisible(cloth is not None)
        shown = cloth or Cloth("", "", 1.0, 1.0)
        self.trim.show_value(shown.trim_mm, unit)
        self.web_short.show_value(shown.web_short_mm, unit)
        self.selvedge_left.show_value(shown.selvedge_left_mm, unit)
        self.selvedge_right.show_value(shown.selvedge_right_mm, unit)
        self.doubt.show_value(shown.doubt)
        self._show_lists(shown)

    def _show_lists(self, cloth: Cloth) -> None:
        self.change_rows.show_values(dict(enumerate(cloth.changes)))
        self.flaw_rows.show_values({flaw.id: flaw for flaw in cloth.flaws})
        self.outline_points.show_value(cloth.outline_mm)
        self.changes.set_note(str(len(cloth.changes)) if cloth.changes else "none")
        self.outline.set_note("full rectangle" if cloth.outline_mm is None else f"{len(cloth.outline_mm)} corners")
        self.flaws.set_note(str(len(cloth.flaws)) if cloth.flaws else "none")

    def _show_cuts(self, cloth: Cloth | None) -> None:
        try:
            names = tuple(cut.name for cut in ladder_in_use())
        except CoverlayoutError as fault:
            self.say(str(fault), True)
            names = ()
        self.cut.set_choices(((_OWN_SIZE, _OWN_SIZE), *((name, name) for name in names)))
        self.cut.show_value(_OWN_SIZE if cloth is None or cloth.cut_name is None else cloth.cut_name)


def bought_as(cloth: Cloth, cut: Cut) -> Cloth:
    """The cloth as a cut still to buy: the cut's size, no outline of its own, the print's place not known."""
    laid = _known(cloth.laid, "to-buy")
    return replace(
        cloth,
        width_mm=cut.width_mm,
        length_mm=cut.length_mm,
        state="to-buy",
        cut_name=cut.name,
        outline_mm=None,
        outline_changes_in=0,
        laid=laid,
    )


def _known(laid: LaidPrint | None, state: str) -> LaidPrint | None:
    """How the print lies, its origin known only when the cloth is at hand or printed to order."""
    return None if laid is None else replace(laid, origin_known=state != "to-buy")
