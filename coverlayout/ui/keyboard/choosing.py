"""The actions that choose pieces without a mouse."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["choosing_acts", "none_chosen"]

_Key = QKeySequence.StandardKey


def choosing_acts(window: Window) -> Listed:
    """All, all of a kind, none; and on from piece to piece."""
    keys, canvas = window.canvas.keys, window.canvas

    def no_pieces() -> str:
        return "" if canvas.bench.lying else sentence("act-no-pieces", {})

    return (
        Act(
            "choose-all",
            "Choose all pieces",
            keys.choose_all,
            (_Key.SelectAll,),
            tip="On the cloth and beside it.",
            why_not=no_pieces,
            on_canvas=True,
        ),
        Act(
            "choose-kind",
            "Choose all of this kind",
            keys.choose_kind,
            ("K",),
            tip="All front covers when a front cover is chosen, and so on.",
            why_not=partial(none_chosen, window),
            on_canvas=True,
        ),
        *_one_after_another(window, no_pieces),
        Act(
            "let-go",
            "Let go",
            keys.escape,
            ("Escape",),
            tip="Gives up what is under way; with nothing under way, no piece stays chosen.",
            on_canvas=True,
        ),
    )


def _one_after_another(window: Window, no_pieces: Callable[[], str]) -> Listed:
    keys = window.canvas.keys
    return (
        Act(
            "choose-next",
            "Choose the next piece",
            partial(_round, window, forward=True),
            tip="After the last piece the Tab key leaves the cloth.",
            why_not=no_pieces,
            held_keys=_native("Tab"),
        ),
        Act(
            "choose-previous",
            "Choose the piece before",
            partial(_round, window, forward=False),
            why_not=no_pieces,
            held_keys=_native("Shift+Tab"),
        ),
        Act(
            "choose-next-too",
            "Choose the next piece too",
            keys.add_next,
            ("A",),
            tip="Those chosen before stay chosen.",
            why_not=no_pieces,
            on_canvas=True,
            repeats=True,
        ),
        Act(
            "choose-instead",
            "Choose the next instead of the last",
            keys.pass_on,
            ("Shift+A",),
            tip="Goes on from the piece chosen last and keeps the others: so any pieces can be chosen together.",
            why_not=no_pieces,
            on_canvas=True,
            repeats=True,
        ),
    )


def _round(window: Window, *, forward: bool) -> None:
    """From the menu it begins anew after the last piece; only the key leaves the cloth there."""
    if not window.canvas.keys.next_piece(forward=forward):
        window.canvas.choose(())
        window.canvas.keys.next_piece(forward=forward)


def none_chosen(window: Window) -> str:
    """Why nothing can be done with the chosen pieces: there are none; empty when there are."""
    return "" if window.canvas.chosen else sentence("act-none-chosen", {})


def _native(keys: str) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
