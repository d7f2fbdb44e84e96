"""The cloths of the job: which one is shown, its name, its place in the row; one more, one the same, one less."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.checks.figures import free_name
from coverlayout.document.edits.cloths import add_cloth, duplicate_cloth, move_cloth, remove_cloth, rename_cloth
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.rows import button, side_by_side

__all__ = ["ClothRow"]


class ClothRow(QWidget):
    """Chooses the cloth that the fields of step 2 are about, and changes which cloths there are."""

    def __init__(self, owner: ClothOwner, choose: Callable[[str], None]) -> None:
        super().__init__()
        self._owner, self._choose = owner, choose
        self.chooser = Choice("Cloth shown here", (), choose, tip="Which cloth these fields are about.")
        self.name = Entry("Name", str.strip, str, self._rename, tip="What you call this cloth; it stands over it.")
        self.earlier = button("← Earlier", self.move_earlier, tip="One place to the left in the row.", role="more")
        self.later = button("Later →", self.move_later, tip="One place to the right in the row.", role="more")
        self.another = button("Add another", self.add, tip="The job may be cut from several cloths.", role="more")
        self.twin = button("Copy it", self.copy, tip="The same cloth once more, flaws and zones with it.", role="more")
        self.remove = button(
            "Remove it", self.take_away, tip="Pieces on it wait again; Undo brings all back.", role="more"
        )
        self._places = side_by_side(self.earlier, self.later)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.chooser)
        column.addWidget(self.name)
        column.addWidget(self._places)
        column.addWidget(side_by_side(self.another, self.twin, self.remove))

    def _on_cloth(self, make: Callable[[Cloth], Edit]) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            self._owner.attempt(make(cloth))

    def _rename(self, name: str) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            self._owner.do(rename_cloth(cloth.id, name))

    def _at(self, cloth: Cloth) -> int:
        return self._owner.project.cloths.index(cloth)

    def move_earlier(self) -> None:
        """One place to the left."""
        self._on_cloth(lambda cloth: move_cloth(cloth.id, self._at(cloth) - 1))

    def move_later(self) -> None:
        """One place to the right."""
        self._on_cloth(lambda cloth: move_cloth(cloth.id, self._at(cloth) + 1))

    def add(self) -> None:
        """Another cloth of the same size with the first print, and show it."""
        before = self._owner.cloth
        self._on_cloth(lambda cloth: add_cloth(_like(self._owner.project, cloth)))
        self._show_new(-1)
        if before is not None and (made := self._owner.project.cloths[-1]).id != before.id:
            like = Remark.of(
                "cloth-added-like",
                new=made.name,
                like=before.name,
                width=self._owner.style_of_lengths.number(made.width_mm, "down"),
                have_mm=made.length_mm,
            )
            self._owner.say(self._owner.style_of_lengths.said(like), False)

    def copy(self) -> None:
        """The cloth shown once more behind it, and show the copy."""
        cloth = self._owner.cloth
        if cloth is not None:
            at = self._at(cloth)
            self._owner.attempt(duplicate_cloth(cloth.id))
            self._show_new(at + 1)

    def _show_new(self, at: int) -> None:
        cloths = self._owner.project.cloths
        if cloths:
            self._choose(cloths[at].id)

    def take_away(self) -> None:
        """Remove the cloth shown; what that does to its pieces is said above the cloth."""
        self._on_cloth(lambda cloth: remove_cloth(cloth.id))

    def show_next(self) -> None:
        """Show the next cloth of the row, after the last one the first."""
        cloth = self._owner.cloth
        if cloth is not None:
            cloths = self._owner.project.cloths
            self._choose(cloths[(self._at(cloth) + 1) % len(cloths)].id)

    def show_cloth(self, project: Project, cloth: Cloth | None) -> None:
        """Show which cloth it is; nothing to see while there is none."""
        self.setVisible(cloth is not None)
        self.chooser.set_choices(tuple((each.id, each.name) for each in project.cloths))
        self.chooser.show_value(cloth.id if cloth else None)
        several = len(project.cloths) > 1
        self.chooser.setVisible(several)
        self._places.setVisible(several)
        if cloth is not None:
            self.name.show_value(cloth.name)
            self.earlier.setEnabled(cloth is not project.cloths[0])
            self.later.setEnabled(cloth is not project.cloths[-1])


def _like(project: Project, cloth: Cloth) -> Cloth:
    """A cloth of that size in hand, under a name that is free, with the first print."""
    laid = LaidPrint(project.prints[0].id) if project.prints else None
    name = free_name(f"Cloth {len(project.cloths) + 1}", (each.name for each in project.cloths))
    return Cloth("", name, cloth.width_mm, cloth.length_mm, laid=laid)
