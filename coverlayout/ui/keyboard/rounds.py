"""Going round the parts of the window by key: top line, work order, cloth, what stands beside it, what is said, bar."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["go_round"]


def go_round(window: Window, step: int) -> None:
    """Give the keys to the next part (-1: to the one before), where they were in it last; hidden parts are passed."""
    parts = _parts(window)
    now = QApplication.focusWidget()
    here = next((at for at, part in enumerate(parts) if now is part or (now and part.isAncestorOf(now))), None)
    order = [(here + step * (k + 1)) % len(parts) for k in range(len(parts))] if here is not None else range(len(parts))
    for at in order:
        target = _target(window, parts[at])
        if target is not None:
            target.setFocus(Qt.FocusReason.ShortcutFocusReason)
            return


def _parts(window: Window) -> tuple[QWidget, ...]:
    around = window.around
    beside = around.switcher, around.comparing.second, around.left_list
    return window.header, window.steps, window.strip, window.canvas, *beside, window.banner, window.bar


def _target(window: Window, part: QWidget) -> QWidget | None:
    """What takes the keys in a part: what had them last, else its first control; None when there is none."""
    if not part.isVisible():
        return None
    if part is window.canvas:
        return part
    last = part.focusWidget()
    if last is not None and _takes_keys(last):
        return last
    if part is window.steps and window.steps.open_step >= 0:
        return window.steps.heads[window.steps.open_step]
    return next((each for each in _in_tab_order(part) if _takes_keys(each)), None)


def _in_tab_order(part: QWidget) -> list[QWidget]:
    found: list[QWidget] = []
    each = part.nextInFocusChain()
    while each is not None and each is not part:
        if part.isAncestorOf(each):
            found.append(each)
        each = each.nextInFocusChain()
    return found


def _takes_keys(widget: QWidget) -> bool:
    return widget.isVisible() and widget.isEnabled() and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
