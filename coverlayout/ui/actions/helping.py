"""The actions of the Help menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["help_acts"]


def help_acts(window: Window) -> Listed:
    """What the verdict stands on, all cuts, cautions, keys and lines."""
    asides = window.asides
    return (
        Act("how-known", "How do you know?", asides.explain, (QKeySequence.StandardKey.HelpContents,)),
        Act("all-cuts", "All cuts with their verdict …", asides.show_ladder, ("Ctrl+L",)),
        Act("cautions", "Before you cut", asides.show_cautions),
        Act("keys", "Keys on the cloth", asides.show_keys),
        Act("lines", "Lines on the cloth", asides.show_lines),
    )
