"""Step 5: cutting. The numbers to mark, the papers for the bench, and what to mind at the knife."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog

from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.exporting.measures import Measure, measures
from coverlayout.exporting.measuring.by_line import Side
from coverlayout.exporting.measuring.notes import table_notes
from coverlayout.layout.question import Placed
from coverlayout.ui.beside import Beside
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.figures import exact_number
from coverlayout.ui.fields.rows import Fold, button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.parts.measures import MeasureTable
from coverlayout.ui.parts.piece_rows import called, placed_or_none
from coverlayout.units import LengthStyle

__all__ = ["CAUTIONS", "CuttingPanel"]

# In our own words; those on blades and awls after guidance on sharp tools of work-safety offices (CCOHS, OSHA 3080),
# those on web, glue and children after the US CPSC's art and craft safety guide (Pub. 5015), the one on presses after
# the UK HSE's on guillotines; the rest common practice, no source.
CAUTIONS = (
    "Measure twice, on the side this table is for. Cut one cover first and try it on its board.",
    "Blades: sharp blade, firm table, good light. Cut away from your body, keep the holding hand off the path, never "
    "catch a falling knife. Used blades go into a hard container.",
    "Awls and needles: pierce on a firm base that may be pierced, the other hand out of the path.",
    "Rotary cutter: close the guard at every pause, cut along a thick ruler, keep it out of reach of children.",
    "Iron: the sole and the cord are hot; try on a scrap; switch it off and let it cool.",
    "Web, sprays and glues: air the room, read the label, stop if it smells strong or irritates.",
    "Presses, board shears and guillotines: guards on, one person at the machine, only after instruction.",
    "Children only with an adult, and with materials meant for them.",
    "This program gives sizes, not safety advice: makers' instructions, local rules and trained help come first.",
)


_SIDES = {"print": "the print side", "back": "the back"}


class CuttingPanel(Panel):
    """The fields of step 5.

    `asks` puts a question to the maker: its words, and its answers with what they do. `chosen` names the piece whose
    row the maker chose.
    """

    title = "Cutting"
    asks = Signal(str, tuple)
    chosen = Signal(tuple)

    def __init__(self, session: Session, say: Say, beside: Beside | None = None) -> None:
        super().__init__(session, say)
        self._beside = beside or Beside(self)
        self._cloth_id = ""
        self._chosen = ""
        self.chooser = self.choose("Cloth", (), self._choose_cloth, tip="Which cloth the numbers are for.")
        self.side = self.choose(
            "Marked on",
            (("print", "the print side"), ("back", "the back")),
            lambda value: change_preferences(side=value),
            tip="Boards are glued on the back, so most marking is done there. Seen from the back, left and right "
            "change places; the numbers and the picture follow.",
        )
        self.table = MeasureTable()
        self.table.piece_chosen.connect(self._tell_chosen)
        self.notes = label(role="muted")
        self.rounded = label(role="muted")
        self.export_button = button(
            "Export measurements …",
            self.ask_for_folder,
            tip="Writes placement.csv and placement.pdf for the side chosen here into a folder.",
            role="first",
        )
        self.cautions = Fold("Before you cut", tip="What to mind at knife, awl, iron, glue and press.")
        for caution in CAUTIONS:
            self.cautions.body.addWidget(label(caution, "hint"))
        self.none = label("Nothing lies on the cloth yet, so there is nothing to measure.", "hint")
        self.add(side_by_side(self.side, self.chooser), self.none, self.notes, self.table)
        self.add(self.rounded, self.export_button, self.cautions)

    def _choose_cloth(self, cloth_id: Any) -> None:
        self._cloth_id = cloth_id
        self.show_project(self.session.project)

    def _measures(self, project: Project) -> tuple[Measure, ...]:
        cloth = chosen_of(project.cloths, self._cloth_id)
        side: Side = project.preferences.side
        try:
            return measures(project, cloth.id, side) if cloth is not None else ()
        except CoverlayoutError:
            return ()

    def ask_for_folder(self) -> None:
        """Let the maker choose a folder for the papers, first looked for beside the project."""
        project = self.session.path
        beside = "" if project is None else str(project.parent)
        folder = QFileDialog.getExistingDirectory(self, "A folder for the measurements", beside)
        if folder:
            self.export_to(Path(folder))

    def export_to(self, folder: Path) -> None:
        """Write the papers of the side shown; where papers lie already, ask first and say for which side those are."""
        from coverlayout.exporting.sheet import checked_for_papers, side_of_papers  # noqa: PLC0415  load when wanted

        side = self.session.project.preferences.side
        there = side_of_papers(folder)
        try:
            checked_for_papers(self.session.project)
        except CoverlayoutError as fault:
            self.complain(fault)
            return
        if there is None:
            self._write(folder, side)
            return
        figures = {"folder": str(folder), "there": _SIDES.get(there, "a side it does not name"), "side": _SIDES[side]}
        answers = (("Replace", lambda: self._write(folder, side)), ("Keep", lambda: None))
        self.asks.emit(sentence("papers-replace", figures), answers)

    def _write(self, folder: Path, side: Side) -> None:
        """Write table and drawing beside the window; what came of it is said above the cloth."""
        project, pictures = self.session.project, self.session.pictures

        def write() -> tuple[Path, ...] | CoverlayoutError:
            from coverlayout.exporting.sheet import write_papers  # noqa: PLC0415  the papers' libraries load when wanted

            try:
                return write_papers(project, pictures, folder, side)
            except CoverlayoutError as fault:
                return fault

        self._beside.ask(write, lambda written: self._tell_written(folder, written))

    def _tell_written(self, folder: Path, written: tuple[Path, ...] | CoverlayoutError) -> None:
        if isinstance(written, CoverlayoutError):
            self.complain(written)
            return
        names = ", ".join(path.name for path in written)
        self.say(sentence("papers-written", {"folder": str(folder), "names": names}), False)

    def summary(self, project: Project) -> str:
        """What there is to mark, and on which side."""
        count = _count(project)
        if not count:
            return "Measurements, once pieces lie on the cloth"
        side = "the back" if project.preferences.side == "back" else "the print side"
        return f"{count} piece{'s' if count > 1 else ''}, marked on {side}"

    def show_project(self, project: Project) -> None:
        """Show the numbers of the side being marked."""
        self.side.show_value(project.preferences.side)
        self.chooser.set_choices(tuple((cloth.id, cloth.name) for cloth in project.cloths))
        cloth = chosen_of(project.cloths, self._cloth_id)
        self.chooser.show_value(cloth.id if cloth else None)
        self.chooser.setVisible(len(project.cloths) > 1)
        found = self._measures(project)
        self.none.setVisible(not found)
        self.table.setVisible(bool(found))
        self.export_button.setEnabled(bool(found))
        style = project.preferences.length_style
        names = called(project)
        self.table.show_measures([(each, names.get(each.piece, each.name)) for each in found], style)
        self.rounded.setText(_rounded_words(style))
        self.rounded.setVisible(bool(found))
        notes = table_notes(cloth, project.preferences.side, found) if cloth is not None and found else []
        self.notes.setText(" ".join(note.text() for note in notes))
        self.notes.setVisible(bool(notes))
        self.table.show_chosen(self._chosen)

    def _tell_chosen(self, piece_id: str) -> None:
        self._chosen = piece_id
        self.chosen.emit((piece_id,))

    def show_chosen(self, piece_ids: tuple[str, ...]) -> None:
        """Turn to the cloth that the piece chosen last lies on, and mark its row."""
        project = self.session.project
        self._chosen = piece_ids[-1] if piece_ids else ""
        self.table.show_chosen(self._chosen)
        lies = next((each for each in _placed(project) if piece_ids and each.piece == piece_ids[-1]), None)
        if lies is not None and lies.cloth != self._cloth_id:
            self._cloth_id = lies.cloth
            if self.isVisible():
                self.show_project(project)


def _rounded_words(style: LengthStyle) -> str:
    """Why the drawing shows other figures than the table."""
    if style.unit == "mm":
        return f"To 0.01 mm, as in placement.csv; the drawing rounds to {exact_number(style.mm_step)} mm."
    step = f"1/{style.inch_parts} in" if style.inch_parts else "0.01 in"
    return f"To 0.001 in; placement.csv has mm to 0.01; the drawing rounds to {step}."


def _placed(project: Project) -> tuple[Placed, ...]:
    """The places of pieces on the cloths, planned ones and those cut."""
    return (*placed_or_none(project), *(fact.place for fact in project.cut_pieces))


def _count(project: Project) -> int:
    """How many pieces lie on any cloth."""
    return len(placed_or_none(project)) + sum(fact.state == "cut" for fact in project.cut_pieces)
