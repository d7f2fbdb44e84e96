"""One action of the window: its words, its keys, what it does, and why it cannot be done now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtGui import QKeySequence

__all__ = ["Act", "Group", "Key", "Listed"]

Key = QKeySequence.StandardKey | str
"""A standard key of the platform, or a sequence such as "Ctrl+L"."""


@dataclass(frozen=True)
class Act:
    """An action. Every way to it (menu, key, list of all actions, menu on the canvas) is made from this one value.

    `why_not` gives the sentence why it cannot be done now, empty when it can. `ticked` tells whether it is on, for an
    action that is on or off. `on_canvas`: its keys count only while the canvas has the focus, so that plain letters
    stay free for the fields. `words_now`: words that change, such as what Undo would take back.
    """

    name: str
    words: str
    do: Callable[[], object]
    keys: tuple[Key, ...] = ()
    tip: str = ""
    why_not: Callable[[], str] | None = None
    ticked: Callable[[], bool] | None = None
    on_canvas: bool = False
    words_now: Callable[[], str] | None = None


@dataclass(frozen=True)
class Group:
    """Actions in a menu of their own within a menu; None parts them by a line. `made`: made anew when it opens."""

    words: str
    acts: tuple[Act | Group | None, ...] = ()
    made: Callable[[], tuple[Act | Group | None, ...]] | None = None


Listed = tuple[Act | Group | None, ...]
"""What a menu holds, in order."""
