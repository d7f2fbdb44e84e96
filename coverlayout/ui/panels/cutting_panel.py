"""Step 5: cutting. The numbers to mark, the papers for the bench, and what to mind at the knife."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QFileDialog, QHeaderView, QTableWidget, QTableWidgetItem

from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.questions import placed_now, planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.exporting.measures import Measure, Side, measures
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.fields.figures import exact_number
from coverlayout.ui.fields.rows import Fold, button, side_by_side
from coverlayout.ui.panels.panel import Panel, Say, chosen_of
from coverlayout.ui.verdict.words import names_of

__all__ = ["CAUTIONS", "CuttingPanel"]

# In our own words; the first after guidance on sharp tools of work-safety offices (CCOHS, OSHA 3080), those on web,
# glue and children after the US CPSC's art and craft safety guide (Pub. 5015); the rest common practice, no source.
CAUTIONS = (
    "Measure twice, on the side this table is for. Cut one cover first and try it on its board.",
    "Blades: sharp blade, firm table, good light. Cut away from your body, keep the holding hand off the path, never "
    "catch a falling knife. Used blades go into a hard container.",
    "Rotary cutter: close the guard at every pause, cut along a thick ruler, keep it out of reach of children.",
    "Iron: the sole and the cord are hot; try on a scrap; switch it off and let it cool.",
    "Web, sprays and glues: air the room, read the label, stop if it smells strong or irritates.",
    "Children only with an adult, and with materials meant for them.",
    "This program gives sizes, not safety advice: makers' instructions, local rules and trained help come first.",
)


# Letters of a name that fit beside the figures; a longer one takes two lines.
_LONGEST_IN_A_LINE = 11


class CuttingPanel(Panel):
    """The fields of step 5."""

    title = "Cutting"

    def __init__(self, session: Session, say: Say) -> None:
        super().__init__(session, say)
        self._cloth_id = ""
        self.chooser = self.choose("Cloth", (), self._choose_cloth, tip="Which cloth the numbers are for.")
        self.side = self.choose(
            "Marked on",
            (("print", "the print side"), ("back", "the back")),
            lambda value: change_preferences(side=value),
            tip="Boards are glued on the back, so most marking is done there. Seen from the back, left and right "
            "change places; the numbers and the picture follow.",
        )
        self.table = self._made_table()
        self.export_button = button(
            "Export measurements …",
            self.ask_for_folder,
            tip="Writes placement.csv and placement.pdf for the side chosen here into a folder.",
            role="first",
        )
        self.cautions = Fold("Before you cut", tip="What to mind at the knife, the iron and the glue.")
        for caution in CAUTIONS:
            self.cautions.body.addWidget(label(caution, "hint"))
        self.none = label("Nothing lies on the cloth yet, so there is nothing to measure.", "hint")
        self.add(side_by_side(self.side, self.chooser), self.none, self.table, self.export_button, self.cautions)

    def _made_table(self) -> QTableWidget:
        table = QTableWidget(0, 4)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setProperty("role", "small")
        table.setShowGrid(False)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(24)
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        table.horizontalHeader().setHighlightSections(False)
        table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        table.setAccessibleName("Measurements")
        set_tip(table, "Size as the piece lies, and how far its left and upper edges are from those of the cloth.")
        return table

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
        """Let the maker choose a folder for the papers."""
        folder = QFileDialog.getExistingDirectory(self, "A folder for the measurements")
        if folder:
            self.export_to(Path(folder))

    def export_to(self, folder: Path) -> None:
        """Write table and drawing of the side shown; trouble is said above the cloth."""
        from coverlayout.exporting.sheet import write_papers  # noqa: PLC0415  the papers' libraries load when wanted

        project = self.session.project
        try:
            written = write_papers(project, self.session.pictures, folder, project.preferences.side)
        except CoverlayoutError as fault:
            self.say(str(fault), True)
            return
        names = ", ".join(path.name for path in written)
        self.say(sentence("papers-written", {"folder": str(folder), "names": names}), False)

    def summary(self, project: Project) -> str:
        """What there is to mark, and on which side."""
        count = _count(project)
        if not count:
            return "Measurements, once pieces lie on the cloth"
        side = "the back" if project.preferences.side == "back" else "the print side"
        return f"Measurements of {count} pieces, marked on {side}" if count > 1 else f"1 piece, marked on {side}"

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
        self.table.setHorizontalHeaderLabels(["Piece", f"W × H {style.unit}", "Left", "Top"])
        self.table.setRowCount(len(found))
        names = _names(project)
        for row, measure in enumerate(found):
            self._show_row(row, measure, names.get(measure.piece, measure.name))
        rows = sum(self.table.rowHeight(row) for row in range(len(found)))
        self.table.setFixedHeight(rows + self.table.horizontalHeader().sizeHint().height() + 8)

    def _show_row(self, row: int, measure: Measure, name: str) -> None:
        number = self.style_of_lengths.number
        turned = f"\nturned {exact_number(measure.turn_deg, 1)}°" if measure.turn_deg else ""
        cells = (
            name + turned,
            f"{number(measure.box.width_mm, 'up')}\u2009×\u2009{number(measure.box.height_mm, 'up')}",
            number(measure.box.left_mm),
            number(measure.box.top_mm),
        )
        lines = 1 + (len(name) > _LONGEST_IN_A_LINE) + bool(turned)
        self.table.setRowHeight(row, 10 + 14 * lines)
        for column, words in enumerate(cells):
            item = QTableWidgetItem(words)
            if column:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.table.setItem(row, column, item)


def _names(project: Project) -> dict[str, str]:
    try:
        return names_of(planned_pieces(project))
    except CoverlayoutError:
        return {}


def _count(project: Project) -> int:
    """How many pieces lie on any cloth."""
    try:
        return len(placed_now(project)) + sum(fact.state == "cut" for fact in project.cut_pieces)
    except CoverlayoutError:
        return 0
