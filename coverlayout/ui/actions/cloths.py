"""The actions of the Cloth menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Listed
from coverlayout.ui.tasks.base_line import BaseLineTask

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["cloth_acts"]


def cloth_acts(window: Window) -> Listed:
    """What is done with the cloths."""
    return (
        Act("turn-over", "Turn the cloth over", window.turn_over, ("Ctrl+B",)),
        None,
        *_measuring_acts(window),
    )


def _measuring_acts(window: Window) -> Listed:
    """The base line, and measuring a cloth again."""

    def no_cloth() -> str:
        return "" if window.session.project.cloths else sentence("needs-a-cloth", {})

    def no_line() -> str:
        cloth = window.panels.cloth.cloth
        return "" if cloth is not None and cloth.base_line is not None else sentence("needs-a-base-line", {})

    def measured_from() -> bool:
        cloth = window.panels.cloth.cloth
        return cloth is not None and cloth.base_line is not None and cloth.base_line.measured_from

    return (
        Act(
            "base-line",
            "Set the base line",
            lambda: window.canvas.work.begin(BaseLineTask(window.canvas)),
            ("Ctrl+Shift+B",),
            tip="Two places of the same motif tell how the print lies, and what to measure from.",
            why_not=no_cloth,
        ),
        Act(
            "measure-from-line",
            "Measure from the base line",
            lambda: window.panels.cloth.base_line.measure(not measured_from()),
            tip="Places along and across the base line, instead of from the cloth's edges.",
            why_not=no_line,
            ticked=measured_from,
        ),
        Act(
            "measure-again",
            "Measure the cloth again",
            lambda: _open_measuring_again(window),
            ("Ctrl+M",),
            tip="After washing or bonding: two lengths tell how much the cloth changed.",
            why_not=no_cloth,
        ),
    )


def _open_measuring_again(window: Window) -> None:
    """The lengths to type, in the Cloth step."""
    window.open_step(1)
    part = window.panels.cloth.remeasure
    part.head.setChecked(True)
    part.now["across"].field.setFocus()
