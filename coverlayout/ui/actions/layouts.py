"""The actions of the Layout menu."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coverlayout.ui.actions.act import Act, Listed

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["layout_acts"]


def layout_acts(window: Window) -> Listed:
    """Laying out, and the named layouts."""
    return (Act("lay-out", "Lay out for me", window.asking.lay_out),)
