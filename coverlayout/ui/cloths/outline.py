"""The outline of a cloth that is no rectangle: traced on the cloth, or as a list of corners."""

from __future__ import annotations

from typing import Any

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import change_cloth, trace_outline
from coverlayout.geometry.frames import Ring
from coverlayout.ui.cloths.owner import ClothOwner
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.figures import points_text, read_points
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import Fold, button, side_by_side
from coverlayout.ui.tasks.drawing import Drawing, Wanted
from coverlayout.ui.tasks.drawn import outline_of
from coverlayout.ui.tasks.points import ChangePoints

__all__ = ["AS_NOW", "Outline", "outline_wanted"]

AS_NOW = "As the cloth is now, after the changes in size."


def outline_wanted(cloth_id: str) -> Wanted:
    """The drawing that becomes the cloth's outline."""
    return Wanted(
        "Trace the outline",
        lambda cloth, points, _shape: trace_outline(cloth.id, points),
        ("area", "rectangle"),
        cloth_id=cloth_id,
    )


class Outline(Fold):
    """The corners of a cloth in order; entering the empty field puts the corners it has now there to start from."""

    def __init__(self, owner: ClothOwner) -> None:
        super().__init__("Outline", tip="For a cloth that is no rectangle: its corners in order.")
        self._owner = owner
        self.points = PointsEntry(
            "Corners in order, across,down",
            read_points("Outline", lambda: owner.style_of_lengths),
            lambda points: points_text(points, owner.style_of_lengths),
            self._give,
            tip="From the top left of the cloth's box, one corner a line. Empty: the full rectangle.",
            lines=5,
            offer=self._present,
        )
        self.as_now = label(AS_NOW, "muted")
        self.trace = button("Trace it", self._trace, tip="Press the corners of what is left of the cloth, once round.")
        self.by_hand = button(
            "Change by hand",
            self._by_hand,
            tip="Drag its corners, add some, take some out.",
            role="more",
        )
        self.body.addWidget(side_by_side(self.trace, self.by_hand))
        self.body.addWidget(self.points)
        self.body.addWidget(self.as_now)

    def _trace(self) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            wanted = outline_wanted(cloth.id)
            self._owner.begin(lambda canvas: Drawing(canvas, wanted))

    def _by_hand(self) -> None:
        cloth = self._owner.cloth
        if cloth is not None:
            drawn = outline_of(cloth)
            self._owner.begin(lambda canvas: ChangePoints(canvas, drawn))

    def _present(self) -> Ring | None:
        cloth = self._owner.cloth
        return None if cloth is None else cloth.outline_now_mm()

    def _give(self, points: Any) -> None:
        """Take the corners, counted on the cloth as it now is."""
        cloth = self._owner.cloth
        if cloth is None:
            return
        contained = len(cloth.changes) if points else 0
        self._owner.do(change_cloth(cloth.id, outline_mm=points, outline_changes_in=contained))

    def show_cloth(self, cloth: Cloth) -> None:
        """Show the outline of this cloth as it now is."""
        self.points.text.setPlaceholderText(points_text(cloth.outline_now_mm(), self._owner.style_of_lengths))
        self.points.show_value(None if cloth.outline_mm is None else cloth.outline_now_mm())
        self.as_now.setVisible(bool(cloth.changes))
        self.set_note("full rectangle" if cloth.outline_mm is None else f"{len(cloth.outline_mm)} corners")
