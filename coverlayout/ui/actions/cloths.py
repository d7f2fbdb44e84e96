"""The actions of the Cloth menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["cloth_acts"]


def cloth_acts(window: Window) -> Listed:
    """What is done with the cloths."""
    return (Act("turn-over", "Turn the cloth over", window.turn_over, ("Ctrl+B",)),)
