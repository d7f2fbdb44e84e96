"""The base line of a cloth by number: where its ends lie, what it tells of the print, and what is measured from it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.cloth.base_line import base_line_now, laid_now, nearest_repeats
from coverlayout.cloth.cloth import BaseLine, Cloth
from coverlayout.cloth.straightness import bow_remark, skew_mm
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.document.history import Edit
from coverlayout.document.measuring.base_lines import laid_at, measure_from_line, set_base_line, set_skew
from coverlayout.errors import BadInput, CoverlayoutError, sentence
from coverlayout.geometry.frames import Point, Ring
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label, warning
from coverlayout.ui.fields.figures import exact_number, points_text, read_points
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import Fold, button, side_by_side, tick
from coverlayout.ui.tasks.base_line import BaseLineTask
from coverlayout.units import turn_words

__all__ = ["BaseLinePart", "read_repeats"]

_AS_DRAWN = ""
# Over this width skew and bow are asked for, until another is typed.
_USUAL_WIDTH_MM = 200.0


def read_repeats(text: str) -> tuple[int, int]:
    """Two whole numbers, how many repeats lie between along a and along b; one alone is along a.

    >>> read_repeats("4, -1"), read_repeats("3")
    ((4, -1), (3, 0))
    """
    try:
        numbers = [int(part) for part in text.replace(",", " ").replace(";", " ").split()]
    except ValueError:
        numbers = []
    if not 1 <= len(numbers) <= 2 or max(map(abs, numbers)) > 9999:
        raise BadInput("repeats-unreadable", found=text.strip()[:40])
    return numbers[0], numbers[1] if len(numbers) > 1 else 0


class BaseLinePart(Fold):
    """Ends, repeats between and motif of the base line; measuring from it; skew and bow."""

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__("Base line", tip="A line of the print that is truer than a crooked edge of the cloth.")
        self._owner = owner
        self._over_mm, self._bow_mm = _USUAL_WIDTH_MM, 0.0
        self.says = label(role="muted")
        self.set_button = button(
            "Set it on the cloth",
            lambda: owner.begin(BaseLineTask),
            tip="Click a motif, then the same motif again far away: the print is laid by the two.",
            role="more",
        )
        self._fields_of_line()
        self._fields_of_straightness()
        self.remove = button("Remove", self._remove, tip="Take the line away; the print stays as it is.", role="more")
        for part in (
            self.says,
            side_by_side(self.set_button, self.remove),
            self.ends,
            side_by_side(self.repeats, self.motif),
            self.measured,
            side_by_side(self.over, self.skew, self.bow),
            self.bow_says,
        ):
            self.body.addWidget(part)

    def _fields_of_line(self) -> None:
        self.ends = PointsEntry(
            "Start and end, across,down",
            read_points("Start and end", lambda: self._owner.style_of_lengths),
            lambda points: points_text(points, self._owner.style_of_lengths),
            self._give_ends,
            tip="Two points, one a line, from the cloth's left and top edges, print side up: where the same motif "
            "really falls. Measure them with a ruler, as far apart as you can.",
            lines=3,
        )
        self.repeats = Entry(
            "Repeats between",
            read_repeats,
            lambda value: f"{value[0]}, {value[1]}",
            self._give_repeats,
            tip="How many whole repeats lie between the two ends: across the print, along it. Guessed from how the "
            "print is laid; type it when the guess is wrong.",
        )
        self.motif = Choice(
            "Motif at both ends",
            ((_AS_DRAWN, "as drawn"),),
            self._give_motif,
            tip="Which place of the print falls at the ends: what is drawn there now, or one you gave a name.",
        )
        self.measured = tick(
            "Measure from it",
            self.measure,
            tip="Table, drawing and the Placement step give places along and across this line, from its start, and not "
            "from the cloth's edges.",
        )

    def _fields_of_straightness(self) -> None:
        self.over = self._owner.length(
            "Over a width",
            self._give_over,
            tip="The width across the print over which you look at skew and bow.",
            like="200mm",
        )
        # What the lengths of this panel refuse below 0 is an offset here: up or down.
        self.skew = self._owner.length(
            "Skew",
            self._give_skew,
            tip="Skew: how much lower the same motif lies at the right end of that width, square to the way along the "
            "print. 6 mm over 200 mm are 3 %. A minus: higher.",
            like="6mm",
            least="any",
        )
        self.bow = self._owner.length(
            "Bow",
            self._give_bow,
            tip="Bow: how far its middle lies off the straight line between its ends. It can only be told, not drawn.",
            like="4mm",
        )
        self.bow_says = warning()

    # From the maker to the project

    def _cloth(self) -> Cloth:
        cloth = self._owner.cloth
        if cloth is None:
            raise BadInput("base-line-no-cloth")
        return cloth

    def _print_at(self, cloth: Cloth, at_mm: Point) -> tuple[LaidPrint, Lattice] | None:
        """The print that tells something of a line that starts there; None without one, and for plain stripes."""
        _, laid = laid_at(cloth, at_mm)
        if laid is None:
            return None
        lattice = self._owner.project.print_of(laid.print_id).lattice
        return None if lattice.b_mm is None else (laid, lattice)

    def _set(self, line: BaseLine, motif_mm: Point | None = None) -> None:
        self._owner.do(self._edit(line, motif_mm))

    def _edit(self, line: BaseLine, motif_mm: Point | None) -> Edit:
        cloth = self._cloth()
        lay = self._print_at(cloth, line.start_mm) is not None
        return set_base_line(cloth.id, line, lay, motif_mm, name=cloth.name)

    def _give_ends(self, points: Ring | None) -> None:
        if points is None:
            self._owner.do(set_base_line(self._cloth().id, None, name=self._cloth().name))
            return
        if len(points) != 2:
            raise BadInput("base-line-two-points")
        cloth, (start, end) = self._cloth(), points
        old, found = cloth.base_line, self._print_at(cloth, start)
        line = replace(old or BaseLine(start, end), start_mm=start, end_mm=end)
        if found is not None and (old is None or old.repeats == (0, 0)):
            line = replace(line, repeats=nearest_repeats(cloth, *found, start, end))
        self._set(line, None if old is None else self._motif_now())

    def _motif_now(self) -> Point | None:
        """The place of the print that falls at the line's start as it lies now: it stays while the ends are mended."""
        cloth = self._cloth()
        line = base_line_now(cloth)
        found = None if line is None else self._print_at(cloth, line[0])
        return None if line is None or found is None else laid_to_cloth(cloth, found[0]).inverse().at(line[0])

    def _line(self) -> BaseLine:
        """The line as it lies on the cloth now."""
        cloth = self._cloth()
        ends = base_line_now(cloth)
        if ends is None or cloth.base_line is None:
            raise BadInput("base-line-no-ends", name=cloth.name)
        return replace(cloth.base_line, start_mm=ends[0], end_mm=ends[1])

    def _give_repeats(self, repeats: tuple[int, int]) -> None:
        self._set(replace(self._line(), repeats=repeats), self._motif_now())

    def _give_motif(self, name: Any) -> None:
        marks = [mark for mark in self._owner.project.marks if mark.name == name]
        if marks:
            self._set(self._line(), marks[0].at_mm)

    def measure(self, wanted: bool) -> None:
        """Take places from the line, or from the cloth's edges."""
        self._owner.attempt(measure_from_line(self._cloth().id, wanted, name=self._cloth().name))

    def _remove(self) -> None:
        self._owner.attempt(set_base_line(self._cloth().id, None, name=self._cloth().name))

    def _give_over(self, width_mm: float) -> None:
        self._over_mm = width_mm
        self._show_straightness(self._owner.cloth)

    def _give_skew(self, offset_mm: float) -> None:
        cloth = self._cloth()
        zone = laid_at(cloth, self._line().start_mm)[0] if cloth.base_line and cloth.zones else None
        self._owner.do(set_skew(cloth.id, offset_mm, self._over_mm, zone.id if zone else None, name=cloth.name))

    def _give_bow(self, depth_mm: float) -> None:
        bow_remark(depth_mm, self._over_mm)
        self._bow_mm = depth_mm
        self._show_straightness(self._owner.cloth)

    # From the project to the fields

    def show_cloth(self, cloth: Cloth) -> None:
        """Show the base line of this cloth."""
        project = self._owner.project
        line, ends = cloth.base_line, base_line_now(cloth)
        found = self._print_at(cloth, ends[0]) if ends else None
        self.ends.show_value(ends)
        self.repeats.show_value(line.repeats if line else None)
        for field in (self.repeats, self.motif):
            field.setVisible(found is not None)
        if found is not None:
            names = [mark.name for mark in project.marks if mark.print_id == found[0].print_id]
            self.motif.set_choices(((_AS_DRAWN, "as drawn"), *((name, name) for name in names)))
            self.motif.show_value(_AS_DRAWN)
        self.remove.setEnabled(line is not None)
        self.measured.setEnabled(line is not None)
        self.measured.setChecked(line is not None and line.measured_from)
        self.says.setText(_words(line, found[0] if found else None))
        self.set_note("none" if line is None else "measured from" if line.measured_from else "set")
        self._show_straightness(cloth)

    def _show_straightness(self, cloth: Cloth | None) -> None:
        unit = self._owner.style_of_lengths.unit
        ends = base_line_now(cloth) if cloth else None
        laid = None if cloth is None else laid_at(cloth, ends[0])[1] if ends else cloth.laid
        for entry in (self.over, self.skew, self.bow):
            entry.setVisible(laid is not None)
        self.over.show_value(self._over_mm, unit)
        self.skew.show_value(
            skew_mm(laid_now(cloth, laid).skew_percent, self._over_mm) if cloth and laid else None, unit
        )
        self.bow.show_value(self._bow_mm, unit)
        self.bow_says.setText(self._bow_words())
        self.bow_says.setVisible(laid is not None and self._bow_mm > 0)

    def _bow_words(self) -> str:
        try:
            words = self._owner.style_of_lengths.said(bow_remark(self._bow_mm, self._over_mm))
        except CoverlayoutError:
            return ""
        return words[:1].upper() + words[1:]


def _words(line: BaseLine | None, laid: LaidPrint | None) -> str:
    """How the print lies by the line, or what a line is good for."""
    if line is None:
        return sentence("base-line-why", {})
    if laid is None:
        return sentence("base-line-plain", {})
    return sentence(
        "base-line-laid",
        {
            "turned": turn_words(laid.turn_deg),
            "across": exact_number(laid.stretch_across_percent, 2),
            "along": exact_number(laid.stretch_along_percent, 2),
        },
    )
