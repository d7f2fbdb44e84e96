"""The actions of the Edit menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.ui.actions.act import Act, Listed
from coverlayout.ui.actions.pieces import clipboard_acts
from coverlayout.ui.keyboard.choosing import choosing_acts

if TYPE_CHECKING:
    from coverlayout.ui.parts.piece_work import PieceWork
    from coverlayout.ui.window import Window

__all__ = ["edit_acts"]

_Key = QKeySequence.StandardKey


def edit_acts(window: Window, work: PieceWork) -> Listed:
    """Undo and redo, which say what they would take back or make again; the clipboard, and choosing."""
    session = window.session

    def named(word: str, name: str | None) -> str:
        return word if name is None else f"{word}: {name}"

    return (
        Act(
            "undo",
            "Undo",
            session.undo,
            (_Key.Undo,),
            tip="One gesture, one step.",
            why_not=lambda: "" if session.undo_name else "Nothing to undo.",
            words_now=lambda: named("Undo", session.undo_name),
            repeats=True,
        ),
        Act(
            "redo",
            "Redo",
            session.redo,
            (_Key.Redo,),
            tip="Makes again what Undo took back.",
            why_not=lambda: "" if session.redo_name else "Nothing to redo.",
            words_now=lambda: named("Redo", session.redo_name),
            repeats=True,
        ),
        None,
        *clipboard_acts(work),
        None,
        *choosing_acts(window),
    )
