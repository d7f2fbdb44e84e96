"""The menus: every action with its words and its keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar

from coverlayout.document.edits.job import change_preferences
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["UNITS", "Menus"]

_Key = QKeySequence.StandardKey
UNITS = (
    ("Millimetres, to 0.5", LengthStyle("mm", 0.5)),
    ("Millimetres, to 0.1", LengthStyle("mm", 0.1)),
    ("Millimetres, whole", LengthStyle("mm", 1.0)),
    ("Inches, decimals", LengthStyle("in")),
    ("Inches, to 1/16", LengthStyle("in", inch_parts=16)),
    ("Inches, to 1/32", LengthStyle("in", inch_parts=32)),
)


class Menus(QMenuBar):
    """File, Edit, View and Help of a window."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        # A bar inside the header on every system: its place is part of the window's order.
        self.setNativeMenuBar(False)
        self._window = window
        self.undo = self._action("Undo", window.session.undo, _Key.Undo)
        self.redo = self._action("Redo", window.session.redo, _Key.Redo)
        self._file()
        edit = self.addMenu("&Edit")
        edit.addActions([self.undo, self.redo])
        self._view()
        self._help()

    def minimumSizeHint(self) -> QSize:
        """Every menu stands in the bar by its name; nothing folds away."""
        return self.sizeHint()

    def _action(
        self, words: str, act: Callable[[], object], *keys: QKeySequence.StandardKey | str, tip: str = ""
    ) -> QAction:
        action = QAction(words, self._window)
        found: list[QKeySequence] = []
        for key in keys:
            keys_of = QKeySequence.keyBindings(key) if isinstance(key, _Key) else [QKeySequence(key)]
            found += [each for each in keys_of if each not in found]
        action.setShortcuts(found)
        action.setToolTip(tip or words)
        action.triggered.connect(lambda _checked=False: act())
        self._window.addAction(action)
        return action

    def _file(self) -> None:
        keeping, menu = self._window.keeping, self.addMenu("&File")
        menu.addAction(self._action("New", keeping.new, _Key.New))
        menu.addAction(self._action("Open …", keeping.ask_to_open, _Key.Open))
        menu.addSeparator()
        menu.addAction(self._action("Save", keeping.save, _Key.Save))
        menu.addAction(self._action("Save as …", keeping.ask_where_to_save, _Key.SaveAs, "Ctrl+Shift+S"))
        menu.addSeparator()
        menu.addAction(self._action("Open a picture …", self._window.panels.prints.ask_for_picture, "Ctrl+I"))
        menu.addAction(self._action("Export measurements …", self._window.panels.cutting.ask_for_folder, "Ctrl+E"))
        menu.addSeparator()
        menu.addAction(self._action("Rename the project …", self._window.asides.ask_for_name))
        menu.addSeparator()
        menu.addAction(self._action("Quit", self._window.close, _Key.Quit, "Ctrl+Q"))

    def _view(self) -> None:
        canvas, menu = self._window.canvas, self.addMenu("&View")
        menu.addAction(self._action("Show everything", canvas.fit, "Ctrl+0"))
        menu.addAction(self._action("Nearer", canvas.zoom_in, _Key.ZoomIn, "Ctrl+="))
        menu.addAction(self._action("Further away", canvas.zoom_out, _Key.ZoomOut))
        menu.addAction(self._action("True size", canvas.true_size, "Ctrl+1"))
        menu.addAction(self._action("Match true size to this screen …", self._window.asides.ask_for_card))
        menu.addSeparator()
        menu.addAction(self._action("Turn the cloth over", self._window.turn_over, "Ctrl+B"))
        menu.addSeparator()
        for number, words in enumerate(("Print", "Cloth", "Book", "Placement", "Cutting"), start=1):
            act = self._opener(number - 1)
            menu.addAction(self._action(f"Step {number}: {words}", act, f"Alt+{number}"))
        menu.addSeparator()
        self.units = self._group(menu.addMenu("Lengths in"), [words for words, _ in UNITS], self._choose_unit)
        looks = ("As the system", "Light", "Dark")
        self.looks = self._group(menu.addMenu("Look"), looks, self._window.choose_look)

    def _opener(self, step: int) -> Callable[[], None]:
        def act() -> None:
            self._window.steps.open(step)
            self._window.steps.heads[step].setFocus()

        return act

    def _group(self, menu: QMenu, words: Sequence[str], choose: Callable[[int], None]) -> list[QAction]:
        group = QActionGroup(menu)
        made = []
        for at, word in enumerate(words):
            action = self._action(word, partial(choose, at))
            action.setCheckable(True)
            group.addAction(action)
            menu.addAction(action)
            made.append(action)
        made[0].setChecked(True)
        return made

    def _choose_unit(self, at: int) -> None:
        self._window.session.do(change_preferences(length_style=UNITS[at][1]))

    def _help(self) -> None:
        menu = self.addMenu("&Help")
        menu.addAction(self._action("How do you know?", self._window.asides.explain, _Key.HelpContents))
        menu.addAction(self._action("All cuts with their verdict …", self._window.asides.show_ladder, "Ctrl+L"))
        menu.addAction(self._action("Before you cut", self._window.asides.show_cautions))
        menu.addAction(self._action("Keys on the cloth", self._window.asides.show_keys))
        menu.addAction(self._action("Lines on the cloth", self._window.asides.show_lines))

    def show_session(self) -> None:
        """Undo and Redo say what they would take back or make again; the unit in force is marked."""
        session = self._window.session
        for action, word, name in ((self.undo, "Undo", session.undo_name), (self.redo, "Redo", session.redo_name)):
            action.setEnabled(name is not None)
            action.setText(word if name is None else f"{word}: {name}")
            action.setToolTip(f"Nothing to {word.lower()}" if name is None else f"{word}: {name}")
        style = session.project.preferences.length_style
        for action, (_, each) in zip(self.units, UNITS, strict=True):
            action.setChecked(each == style)
