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
    stay free for the fields; `canvas_keys` are such keys beside others that count everywhere. `held_keys`: keys that
    the canvas hears itself because holding them down means something, such as the arrows; they are told, not bound.
    `repeats`: a key held down does it again and again. `words_now`: words that change, such as what Undo would take
    back.
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
    canvas_keys: tuple[str, ...] = ()
    held_keys: str = ""
    repeats: bool = False

    @property
    def everywhere(self) -> list[QKeySequence]:
        """The keys that count in the whole window, on this platform."""
        return [] if self.on_canvas else _bound(self.keys)

    @property
    def with_canvas(self) -> list[QKeySequence]:
        """The keys that count only while the canvas has the focus, on this platform."""
        return _bound((*(self.keys if self.on_canvas else ()), *self.canvas_keys))

    @property
    def keys_told(self) -> str:
        """All its keys as they stand on this platform's keyboard, the first ones of each kind; empty without any."""
        bound = [keys[0] for keys in (self.everywhere, self.with_canvas) if keys]
        told = [key.toString(QKeySequence.SequenceFormat.NativeText) for key in bound]
        return ", ".join([*told, *([self.held_keys] if self.held_keys else [])])


@dataclass(frozen=True)
class Group:
    """Actions in a menu of their own within a menu; None parts them by a line. `made`: made anew when it opens."""

    words: str
    acts: tuple[Act | Group | None, ...] = ()
    made: Callable[[], tuple[Act | Group | None, ...]] | None = None


Listed = tuple[Act | Group | None, ...]
"""What a menu holds, in order."""


def _bound(keys: tuple[Key, ...]) -> list[QKeySequence]:
    found: list[QKeySequence] = []
    for key in keys:
        bindings = [QKeySequence(key)] if isinstance(key, str) else QKeySequence.keyBindings(key)
        found += [each for each in bindings if each not in found]
    return found
