"""The actions of the View menu."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.document.edits.job import change_preferences
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["UNITS", "view_acts"]

_Key = QKeySequence.StandardKey
UNITS = (
    ("Millimetres, to 0.5", LengthStyle("mm", 0.5)),
    ("Millimetres, to 0.1", LengthStyle("mm", 0.1)),
    ("Millimetres, whole", LengthStyle("mm", 1.0)),
    ("Inches, decimals", LengthStyle("in")),
    ("Inches, to 1/16", LengthStyle("in", inch_parts=16)),
    ("Inches, to 1/32", LengthStyle("in", inch_parts=32)),
)
_STEPS = ("Print", "Cloth", "Book", "Placement", "Cutting")


def view_acts(window: Window) -> Listed:
    """How the table is seen, which step is open, units and look."""
    sight, asides = window.canvas.sight, window.asides
    return (
        Act("fit", "Show everything", sight.fit, ("Ctrl+0",), canvas_keys=("F",)),
        Act("nearer", "Nearer", sight.zoom_in, (_Key.ZoomIn, "Ctrl+="), canvas_keys=("+", "="), repeats=True),
        Act("farther", "Further away", sight.zoom_out, (_Key.ZoomOut,), canvas_keys=("-",), repeats=True),
        Act("true-size", "True size", sight.true_size, ("Ctrl+1",)),
        Act("match-screen", "Match true size to this screen …", asides.ask_for_card),
        None,
        *(
            Act(f"step-{number}", f"Step {number}: {words}", partial(window.open_step, number - 1), (f"Alt+{number}",))
            for number, words in enumerate(_STEPS, start=1)
        ),
        None,
        Group("Lengths in", tuple(_unit(window, words, style) for words, style in UNITS)),
        Group("Look", tuple(_look(window, at, words) for at, words in enumerate(("As the system", "Light", "Dark")))),
    )


def _unit(window: Window, words: str, style: LengthStyle) -> Act:
    session = window.session
    return Act(
        f"unit-{style.unit}-{style.inch_parts or style.mm_step:g}",
        words,
        lambda: session.do(change_preferences(length_style=style)),
        ticked=lambda: session.project.preferences.length_style == style,
    )


def _look(window: Window, at: int, words: str) -> Act:
    return Act(
        f"look-{words.rsplit(maxsplit=1)[-1].lower()}",
        words,
        partial(window.choose_look, at),
        ticked=lambda: window.look_chosen == at,
    )
