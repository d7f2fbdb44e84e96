"""What a maker does in a day at the window, once each, so that a watch can tell the longest stall of all of it."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from stall_watch import WatchedApplication

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.stocks import add_stock, change_stock
from coverlayout.document.edits.zones import divide_cloth
from coverlayout.document.project import Stock
from coverlayout.ui.keyboard.finder import Finder
from coverlayout.ui.stock.dialog import StockDialog
from coverlayout.ui.window import Window

__all__ = ["a_day"]

_LEFT = Qt.MouseButton.LeftButton
_ARROWS = (Qt.Key.Key_Right, Qt.Key.Key_Down)
_SETTLED_MS = 150
_MOST_SEARCH_S = 25.0
_STILL_MS = 600


def a_day(watched: WatchedApplication, window: Window) -> None:
    """Everything in a row, every part watched under its own name."""
    for part in (_hands, _looks, _keys, _marks, _proposals, _cloths, _layouts, _tasks, _lists, _book, _stock):
        for name, do in part(window):
            watched.during(name, do)
            QTest.qWait(_SETTLED_MS)
    QTest.qWait(_STILL_MS)


_Steps = Iterator[tuple[str, Callable[[], object]]]


def _acts(window: Window, *names: str) -> _Steps:
    for name in names:
        why_not = window.menus.acts[name].why_not
        # What is refused would be measured as nothing at all.
        assert why_not is None or not why_not(), f"{name}: {why_not()}"
        yield name, lambda name=name: window.menus.do(name)  # type: ignore[misc]  # bound now


def _drag(window: Window, start: QPoint, step: QPoint) -> None:
    """Press, move in small steps as a hand does, let go."""
    canvas = window.canvas
    QTest.mousePress(canvas, _LEFT, pos=start)
    for k in range(1, 12):
        QTest.mouseMove(canvas, start + step * k)
        QTest.qWait(5)
    QTest.mouseRelease(canvas, _LEFT, pos=start + step * 11)


def _place(window: Window, piece_id: str) -> QPoint:
    canvas = window.canvas
    x, y = canvas.view.to_screen.at(canvas.bench.outlines[piece_id][1].middle)
    return QPoint(round(x), round(y))


def _at(window: Window, cloth: int, x_mm: float, y_mm: float) -> QPoint:
    canvas = window.canvas
    x, y = canvas.view.to_screen.at(canvas.bench.sheets[cloth].to_table.at((x_mm, y_mm)))
    return QPoint(round(x), round(y))


def _hands(window: Window) -> _Steps:
    """Carry and drop, take back, with and without the loupe; move a print."""
    # The parts of a drag are events of their own, watched each for itself.
    for piece in ("front-3", "liner-back-2", "back-7"):
        _drag(window, _place(window, piece), QPoint(7, 5))
        QTest.qWait(_SETTLED_MS)
    yield from _acts(window, "undo", "redo", "undo", "loupe")
    _drag(window, _place(window, "front-5"), QPoint(7, 5))
    QTest.qWait(_SETTLED_MS)
    yield from _acts(window, "loupe-strength", "undo", "loupe")
    yield "move the print", lambda: window.canvas.set_moving_print(True)
    _drag(window, QPoint(700, 900), QPoint(3, 2))
    yield "print moved", lambda: window.canvas.set_moving_print(False)
    yield from _acts(window, "undo")


def _looks(window: Window) -> _Steps:
    """Both sides, nearer and farther, only the covers, another unit and look."""
    yield from _acts(window, "turn-over", "turn-over", "nearer", "farther", "fit")
    yield from _acts(window, "covers-only", "covers-only", "unit-in-16", "undo", "look-dark", "look-light")
    for step in range(5):
        yield f"step {step + 1}", lambda step=step: window.open_step(step)  # type: ignore[misc]  # bound now
    yield "placement", lambda: window.open_step(3)


def _keys(window: Window) -> _Steps:
    """Choose, move by arrows pressed and held, turn, on to a guide, line up, copy, put aside."""
    canvas = window.canvas
    canvas.setFocus()
    yield "choose", lambda: canvas.choose(("front-3", "back-3", "liner-front-3"))
    for key in _ARROWS:
        QTest.keyClick(canvas, key)
        QTest.qWait(_SETTLED_MS)
    for _ in range(12):
        canvas.keys.nudge((1.0, 0.0), 1.0, held=True)
        QTest.qWait(15)
    yield "held arrow", lambda: canvas.keys.nudge((1.0, 0.0), 1.0, held=True)
    yield "on to a guide", lambda: canvas.keys.to_guide((1.0, 0.0))
    yield from _acts(window, "align-left", "undo", "same-turn", "pin", "pin", "turn", "take-off", "undo")
    yield from _acts(window, "choose-all", "let-go", "choose-next", "choose-kind", "let-go")


def _marks(window: Window) -> _Steps:
    """Cut, spoiled, and the rest laid."""
    canvas = window.canvas
    yield "choose", lambda: canvas.choose(("front-4",))
    yield from _acts(window, "mark-cut")
    yield "choose", lambda: canvas.choose(("back-4",))
    yield from _acts(window, "mark-spoiled", "lay-rest")
    QTest.qWait(_STILL_MS)
    _until(lambda: not window.asking.laying)
    yield from _acts(window, "take-proposal", "undo", "undo", "undo")
    yield "choose", lambda: canvas.choose(("front-3", "back-3"))
    yield from _acts(window, "lay-chosen")
    QTest.qWait(_STILL_MS)
    _until(lambda: not window.asking.laying)
    yield from _acts(window, "take-proposal")


def _proposals(window: Window) -> _Steps:
    """Everything laid out, walked through, seen from the back, put away and taken."""
    yield from _acts(window, "lay-out")
    QTest.qWait(_STILL_MS)
    yield "stopped", window.proposing.stop
    _until(lambda: window.proposing.walk is not None and not window.proposing.search)
    if window.proposing.walk is not None and window.proposing.walk.count > 1:
        yield from _acts(window, "next-proposal", "next-proposal", "last-proposal")
    yield from _acts(window, "turn-over", "turn-over", "nearer", "fit")
    _drag(window, QPoint(700, 900), QPoint(3, 2))
    yield from _acts(window, "leave-proposal", "lay-out")
    QTest.qWait(_STILL_MS)
    yield "stopped", window.proposing.stop
    _until(lambda: window.proposing.walk is not None and not window.proposing.search)
    yield from _acts(window, "take-proposal", "undo")


def _until(done: Callable[[], bool]) -> None:
    until = time.monotonic() + _MOST_SEARCH_S
    while not done() and time.monotonic() < until:
        QTest.qWait(20)


def _cloths(window: Window) -> _Steps:
    """A cloth divided, its base line measured from, pieces carried to another cloth, one more cloth."""
    session, cloth = window.session, _last_cloth(window)
    yield "cloth", lambda: window.open_step(1)
    yield "divide into zones", lambda: session.do(divide_cloth(cloth.id, 6, 3, 0.0))
    yield from _acts(window, "undo", "measure-from-line", "undo", "measure-again", "divide-cloth", "next-cloth")
    yield "choose", lambda: window.canvas.choose(("front-3", "back-3"))
    yield from _acts(window, "pieces-next-cloth", "undo", "copy-cloth", "undo")
    yield "placement", lambda: window.open_step(3)


def _last_cloth(window: Window) -> Cloth:
    return window.session.project.cloths[-1]


def _layouts(window: Window) -> _Steps:
    """What is left, listed and drawn; layouts copied, switched, compared."""
    yield from _acts(window, "what-is-left", "draw-left", "cut-from-left")
    _shut()
    window.canvas.choose(("back-8",))
    _drag(window, _place(window, "back-8"), QPoint(7, 5))
    QTest.qWait(_STILL_MS)
    yield from _acts(window, "undo", "draw-left", "what-is-left")
    yield from _acts(window, "copy-layout", "next-layout", "next-layout", "compare-layouts")
    QTest.qWait(_STILL_MS)
    _drag(window, _place(window, "back-8"), QPoint(3, 2))
    QTest.qWait(_STILL_MS)
    yield from _acts(window, "undo", "compare-layouts", "new-layout", "undo", "undo")


def _tasks(window: Window) -> _Steps:
    """Measure, look through a template, draw a flaw, change points, set a base line."""
    canvas = window.canvas
    canvas.sight.fit()
    yield from _acts(window, "measure")
    _drag(window, _at(window, 0, 300.0, 300.0), QPoint(9, 6))
    yield "left", canvas.work.leave
    yield "choose", lambda: canvas.choose(("front-2",))
    yield from _acts(window, "window-template")
    for k in range(12):
        QTest.mouseMove(canvas, _at(window, 0, 300.0 + 20 * k, 500.0))
        QTest.qWait(5)
    yield "left", canvas.work.leave
    yield from _acts(window, "draw-stain")
    for x_mm, y_mm in ((700.0, 900.0), (760.0, 905.0), (740.0, 960.0)):
        QTest.mouseMove(canvas, _at(window, 1, x_mm, y_mm))
        QTest.mouseClick(canvas, _LEFT, pos=_at(window, 1, x_mm, y_mm))
        QTest.qWait(20)
    assert canvas.work.task is not None
    yield "flaw drawn", canvas.work.task.accept
    yield from _acts(window, "undo", "change-points")
    yield "left", canvas.work.leave
    yield from _acts(window, "base-line")
    yield "left", canvas.work.leave


def _lists(window: Window) -> _Steps:
    """The list of all actions searched, and the asides."""
    yield from _acts(window, "find-action")
    QTest.keyClicks(window.findChild(Finder).field, "turn over", delay=20)
    _shut()
    yield from _acts(window, "all-cuts", "how-known", "cautions", "lines")
    _shut()
    for kind in ("count", "largest", "length", "scale"):
        yield from _acts(window, f"ask-{kind}")
        QTest.qWait(_STILL_MS)
        yield "cancelled", window.cancel_search
    rows = window.opened.asks.rows.values()
    for row in rows:
        if row.show_it.isVisible():
            yield "shown", row.show_it.click
            yield "left", window.proposing.leave
    yield "shut", window.opened.shut


def _shut() -> None:
    """Close every dialog."""
    QTest.qWait(_SETTLED_MS)
    for widget in QApplication.topLevelWidgets():
        if isinstance(widget, QDialog) and widget.isVisible():
            widget.close()
    QTest.qWait(_SETTLED_MS)


def _book(window: Window) -> _Steps:
    """Open every part of the book step, look at both pictures, bind the books another way and back."""
    panel = window.panels.book
    yield "open the book step", lambda: window.open_step(2)
    for part in panel.parts:
        if panel.has(part, panel.shown_book):
            yield f"open {part.head.accessibleName()}", part.open
    yield "lay the picture flat", lambda: panel.drawing.tabs.setCurrentIndex(1)
    yield "bind another way", lambda: panel.change(structure="accordion")
    yield "bind back again", window.session.undo


def _stock(window: Window) -> _Steps:
    """Say what board comes as, see it laid on its sheets, change it, see what the books cost."""
    session = window.session
    yield from _acts(window, "stock")
    dialog = window.findChild(StockDialog)
    yield "board added", lambda: session.do(add_stock(Stock("", "grey board", "board", 700.0, 1000.0)))
    _until(lambda: window.stock.is_known)
    yield "board changed", lambda: session.do(change_stock(session.project.stocks[-1].id, grain="short", price=6.5))
    _until(lambda: window.stock.is_known)
    yield "what the books cost", lambda: dialog.show_part("costs")
    _shut()
    yield from _acts(window, "undo", "undo")
