"""Things to read: how the verdict is known, what to mind at the knife, what the program is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.ui.fields.entry import label
from coverlayout.units import LengthStyle

__all__ = ["KEYS", "Reading", "how_known"]

KEYS = (
    "Arrow keys move the chosen pieces by 1 mm, with Shift by 10 mm, with Alt by 0.1 mm.",
    "R turns them to the next way they may lie, Shift and R back. Delete lays them beside the cloth.",
    "Tab goes from piece to piece, Escape gives a drag up. Space and a drag move the view, the wheel zooms.",
    "Alt and a number opens a step. Ctrl+B turns the cloth over, Ctrl+0 shows everything, Ctrl+1 shows true size.",
)

_PROOFS = {
    "area": "The pieces together are larger than the cloth that may be used.",
    "fits nowhere": "One piece is larger than any part of the cloth that may be used, whichever way it may lie.",
    "side by side": "Pieces that cannot pass each other must lie in one row, and that row is longer than the cloth.",
    "slice bound": "Wherever a line is drawn across the cloth, the pieces it must cross are longer than the cloth.",
    "exhaustive": "Every way the pieces can lie beside, above or below each other was tried; none leaves more room.",
}


class Reading(QDialog):
    """A heading and a few paragraphs."""

    def __init__(self, heading: str, paragraphs: Sequence[str], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(heading)
        self.setMinimumWidth(480)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        column.setSpacing(10)
        column.addWidget(label(heading, "title"))
        self.paragraphs = [label(words) for words in paragraphs]
        for paragraph in self.paragraphs:
            column.addWidget(paragraph)
        buttons = QDialogButtonBox()
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)


def how_known(sentence: str, answer: Answer | None, old: bool, style: LengthStyle) -> list[str]:
    """What the verdict stands on, in plain words: the check, the search, the proof, the notes."""
    lines = [sentence] if sentence else []
    lines.append(
        "What lies on the cloth is checked piece by piece, by rules that share nothing with the search: inside the "
        "usable cloth, clear of flaws, far enough apart, turned as allowed."
    )
    if answer is None:
        return [*lines, "The best way to lay the pieces is still being looked for."]
    if old:
        lines.append(
            "The job has changed since the last search; what follows is the answer to the job as it was before."
        )
    lines.append(f"The job: {answer.verdict}: {style.said(answer.reason)}.")
    if answer.spare_mm is not None:
        sure = Remark.of("room-is-proved" if answer.spare_proved else "room-is-known", room_mm=answer.spare_mm)
        lines.append(style.said(sure))
    if answer.proof is not None:
        lines.append(_PROOFS[answer.proof.name])
    if answer.cut_short:
        lines.append("The search ran out of time; another run may find more.")
    return [*lines, *(style.said(note) for note in answer.notes)]
