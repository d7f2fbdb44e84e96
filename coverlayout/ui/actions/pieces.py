"""The actions of the Pieces menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["piece_acts"]


def piece_acts(window: Window) -> Listed:
    """What is done with the chosen pieces."""
    keys = window.canvas.keys
    return (Act("take-off", "Take off the cloth", keys.put_aside, ("Delete", "Backspace"), on_canvas=True),)
