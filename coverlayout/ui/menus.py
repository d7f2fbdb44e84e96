"""The menus: every action with its words and its keys, and the one list of them all."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar

from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.actions.cloths import cloth_acts
from coverlayout.ui.actions.editing import edit_acts
from coverlayout.ui.actions.files import file_acts
from coverlayout.ui.actions.helping import help_acts
from coverlayout.ui.actions.layouts import layout_acts
from coverlayout.ui.actions.pieces import piece_acts
from coverlayout.ui.actions.views import view_acts
from coverlayout.ui.keyboard.moving import looking_acts, moving_acts
from coverlayout.ui.parts.piece_work import PieceWork

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["Menus"]


class Menus(QMenuBar):
    """All menus of a window, made from its acts. `acts` and `actions_of` are what the list of all actions shows."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        # A bar inside the header on every system: its place is part of the window's order.
        self.setNativeMenuBar(False)
        self._window = window
        self.acts: dict[str, Act] = {}
        """Every act by its name, but for those that are made anew when their menu opens."""
        self.menu_of: dict[str, str] = {}
        """The menu each act stands in, by its name."""
        self._actions: dict[str, QAction] = {}
        self._groups: list[tuple[str, Group]] = []
        self._menus = {words: self._made(words, listed) for words, listed in self._listed()}
        for menu in self._menus.values():
            self.addMenu(menu)
        self.undo, self.redo = self._actions["undo"], self._actions["redo"]
        self.show_session()

    def _listed(self) -> tuple[tuple[str, Listed], ...]:
        window, work = self._window, PieceWork(self._window)
        return (
            ("&File", file_acts(window)),
            ("&Edit", edit_acts(window, work)),
            ("&Pieces", (*moving_acts(window), None, *piece_acts(window, work))),
            ("&Cloth", cloth_acts(window)),
            ("&Layout", layout_acts(window)),
            ("&View", (*view_acts(window), None, *looking_acts(window))),
            ("&Help", help_acts(window)),
        )

    def minimumSizeHint(self) -> QSize:
        """Every menu stands in the bar by its name; nothing folds away."""
        return self.sizeHint()

    def _made(self, words: str, listed: Listed) -> QMenu:
        menu = QMenu(words, self)
        menu.setToolTipsVisible(True)
        menu.aboutToShow.connect(partial(self._refresh, menu))
        menu.aboutToHide.connect(partial(self._enable_all, menu))
        self._fill(menu, listed, words.replace("&", ""))
        return menu

    def _fill(self, menu: QMenu, listed: Listed, under: str) -> None:
        for item in listed:
            if item is None:
                menu.addSeparator()
            elif isinstance(item, Group):
                inner = self._made(item.words, item.acts)
                if item.made is not None:
                    inner.aboutToShow.connect(partial(self._make_anew, inner, item))
                    self._groups.append((f"{under}, {item.words}", item))
                menu.addMenu(inner)
                self.menu_of |= {act.name: f"{under}, {item.words}" for act in _acts_in(item.acts)}
            else:
                menu.addAction(self._action(item))
                self.menu_of[item.name] = under

    def _make_anew(self, menu: QMenu, group: Group) -> None:
        assert group.made is not None
        menu.clear()
        for item in group.made():
            if isinstance(item, Act):
                self._show(menu.addAction(item.words, partial(self.do, item)), item)

    def _action(self, act: Act) -> QAction:
        assert act.name not in self.acts, f"two actions are called {act.name}"
        action = QAction(_with_held(act.words, act), self._window)
        action.setCheckable(act.ticked is not None)
        action.setToolTip(act.tip or act.words)
        everywhere, on_canvas = act.everywhere, act.with_canvas
        self._bind(action, act, everywhere or on_canvas, on_canvas=bool(on_canvas) and not everywhere)
        if everywhere and on_canvas:
            # An action has one reach: where keys of both kinds lead to it, the canvas gets a twin of it.
            self._bind(QAction(act.words, self._window.canvas), act, on_canvas, on_canvas=True)
        self.acts[act.name], self._actions[act.name] = act, action
        return action

    def _bind(self, action: QAction, act: Act, keys: list[QKeySequence], *, on_canvas: bool) -> None:
        action.setShortcuts(keys)
        action.setAutoRepeat(act.repeats)
        if on_canvas:
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        (self._window.canvas if on_canvas else self._window).addAction(action)
        action.triggered.connect(lambda _checked=False: self.do(act))

    def action(self, name: str) -> QAction:
        """The action of that name. KeyError when there is none."""
        return self._actions[name]

    def do(self, act: Act | str) -> None:
        """Do it; when it cannot be done now, say why instead."""
        act = self.acts[act] if isinstance(act, str) else act
        why_not = act.why_not() if act.why_not else ""
        if why_not:
            self._window.say(why_not, False)
        else:
            act.do()
        if act.ticked and act.name in self._actions:
            self._actions[act.name].setChecked(act.ticked())

    def every(self) -> Iterator[tuple[str, Act]]:
        """Every act with its menu, in their order, those last that are made anew when their menu opens."""
        for name, act in self.acts.items():
            yield self.menu_of[name], act
        for menu, group in self._groups:
            yield from ((menu, act) for act in _acts_in(group.made() if group.made else ()))

    def pop_up_pieces(self, at: QPoint) -> None:
        """The menu of the chosen pieces, at a place on the screen."""
        self._menus["&Pieces"].popup(at)

    def _show(self, action: QAction, act: Act) -> None:
        """Words, tick and whether it can be done, as they are now."""
        why_not = act.why_not() if act.why_not else ""
        action.setEnabled(not why_not)
        action.setToolTip(why_not or act.tip or act.words)
        if act.words_now:
            action.setText(_with_held(act.words_now(), act))
        if act.ticked:
            action.setChecked(act.ticked())

    def _refresh(self, menu: QMenu) -> None:
        for action in menu.actions():
            act = next((self.acts[name] for name, each in self._actions.items() if each is action), None)
            if act is not None:
                self._show(action, act)

    def _enable_all(self, menu: QMenu) -> None:
        # An action that is off would not even hear its key; by its key it says why it cannot be done.
        for action in menu.actions():
            action.setEnabled(True)
        self.show_session()

    def show_session(self) -> None:
        """Undo and Redo stand in the header too: they always say what they would take back or make again."""
        for name in ("undo", "redo"):
            act, action = self.acts[name], self._actions[name]
            self._show(action, act)
            action.setToolTip(action.text() if action.isEnabled() else f"Nothing to {name}")


def _acts_in(listed: Listed) -> Iterator[Act]:
    for item in listed:
        if isinstance(item, Act):
            yield item
        elif isinstance(item, Group):
            yield from _acts_in(item.acts)


def _with_held(words: str, act: Act) -> str:
    """The words of a menu entry, with the keys that the canvas hears itself where keys stand."""
    return f"{words}\t{act.held_keys}" if act.held_keys else words
