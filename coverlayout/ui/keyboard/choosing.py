"""The actions that choose pieces without a mouse."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas
    from coverlayout.ui.window import Window

__all__ = ["choosing_acts", "none_chosen"]

_Key = QKeySequence.StandardKey


def choosing_acts(window: Window) -> Listed:
    """All, all of a kind, none; and on from piece to piece."""
    canvas = window.canvas

    def no_pieces() -> str:
        return "" if canvas.bench.lying else sentence("act-no-pieces", {})

    return (
        Act(
            "choose-all",
            "Choose all pieces",
            partial(_choose_all, canvas),
            (_Key.SelectAll,),
            tip="On the cloth and beside it.",
            why_not=no_pieces,
            on_canvas=True,
        ),
        Act(
            "choose-kind",
            "Choose all of this kind",
            partial(_choose_kind, canvas),
            ("K",),
            tip="All front covers when a front cover is chosen, and so on.",
            why_not=partial(none_chosen, window),
            on_canvas=True,
        ),
        *_one_after_another(window, no_pieces),
        Act(
            "let-go",
            "Let go",
            partial(_let_go, window),
            ("Escape",),
            tip="Gives up what is under way; with nothing under way, no piece stays chosen.",
            on_canvas=True,
        ),
    )


def _let_go(window: Window) -> None:
    """A drag comes first, then a search or a proposal, then what is chosen."""
    if window.canvas.gesture is None and window.proposing.under_way:
        window.proposing.escape()
    else:
        window.canvas.keys.escape()


def _one_after_another(window: Window, no_pieces: Callable[[], str]) -> Listed:
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
            tip="Before the first piece the keys leave the cloth.",
            why_not=no_pieces,
            held_keys=_native("Shift+Tab"),
        ),
        Act(
            "choose-next-too",
            "Choose the next piece too",
            partial(_add_next, window.canvas),
            ("A",),
            tip="Those chosen before stay chosen.",
            why_not=no_pieces,
            on_canvas=True,
            repeats=True,
        ),
        Act(
            "choose-instead",
            "Choose the next instead of the last",
            partial(_pass_on, window.canvas),
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


def _choose_all(canvas: Canvas) -> None:
    canvas.choose(tuple(lying.piece.id for lying in canvas.bench.lying))


def _choose_kind(canvas: Canvas) -> None:
    """All pieces of the name that a chosen one has."""
    names = {lying.piece.name for each in canvas.chosen if (lying := canvas.bench.find(each)) is not None}
    canvas.choose(tuple(lying.piece.id for lying in canvas.bench.lying if lying.piece.name in names))


def _add_next(canvas: Canvas) -> None:
    """The piece after the one chosen last too; after the last of all it begins anew."""
    found = _next_not_chosen(canvas)
    if found is not None:
        canvas.choose((*canvas.chosen, found))


def _pass_on(canvas: Canvas) -> None:
    """In place of the piece chosen last the next one that is not chosen; the others stay chosen."""
    found = _next_not_chosen(canvas)
    if found is not None:
        canvas.choose((*canvas.chosen[:-1], found))


def _next_not_chosen(canvas: Canvas) -> str | None:
    ids = [lying.piece.id for lying in canvas.bench.lying]
    after = ids.index(canvas.chosen[-1]) + 1 if canvas.chosen else 0
    return next((each for each in ids[after:] + ids[:after] if each not in canvas.chosen), None)


def none_chosen(window: Window) -> str:
    """Why nothing can be done with the chosen pieces: there are none; empty when there are."""
    return "" if window.canvas.chosen else sentence("act-none-chosen", {})


def _native(keys: str) -> str:
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
