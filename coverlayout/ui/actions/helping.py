"""The actions of the Help menu."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.ui.actions.act import Act, Listed
from coverlayout.ui.keyboard.finder import find_action, show_keys

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["help_acts"]


def help_acts(window: Window) -> Listed:
    """Every action by its words, what the verdict stands on, all cuts, cautions, keys and lines."""
    asides = window.asides
    return (
        Act(
            "find-action",
            "Find an action …",
            partial(find_action, window),
            (QKeySequence.StandardKey.Find,),
            tip="Every action by its words, with its menu and its keys.",
        ),
        Act("keys", "All keys", partial(show_keys, window), tip="Every action that has a key."),
        None,
        Act(
            "how-known",
            "How do you know?",
            asides.explain,
            (QKeySequence.StandardKey.HelpContents,),
            tip="What the verdict in the bar below stands on.",
        ),
        Act(
            "all-cuts",
            "All cuts with their verdict …",
            asides.show_ladder,
            ("Ctrl+L",),
            tip="Which cuts you could buy hold the whole job, the least first.",
        ),
        Act("cautions", "Before you cut", asides.show_cautions, tip="What to mind at the knife."),
        Act("lines", "Lines on the cloth", asides.show_lines, tip="What each kind of line on the cloth means."),
    )
