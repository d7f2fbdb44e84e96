"""Does the whole job in the real window by keys alone, no mouse and no method called; what was seen goes out as JSON.

Run as a program of its own on a display: `hands_on_the_keys.py job FOLDER`. Only file dialogs are answered for it.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hands_on_the_window import motif, seen, with_path
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget
from seat import Seat, until

from coverlayout.ui.keyboard.finder import Finder
from coverlayout.ui.window import Window

Key, With = Qt.Key, Qt.KeyboardModifier
NONE, CTRL, ALT, SHIFT = With.NoModifier, With.ControlModifier, With.AltModifier, With.ShiftModifier


class Presses(QObject):
    """Counts every press of a mouse button and every turn of a wheel."""

    count = 0
    _KINDS = (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonDblClick, QEvent.Type.Wheel)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        self.count += event.type() in self._KINDS
        return False


class Fingers:
    """Presses keys for whatever has them now, and waits for what they do."""

    def __init__(self, window: Window) -> None:
        self.window = window

    def here(self) -> QWidget:
        """What has the keys."""
        until(lambda: QApplication.focusWidget() is not None, "somebody to have the keys")
        found = QApplication.focusWidget()
        assert found is not None
        return found

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE, times: int = 1) -> None:
        for _ in range(times):
            QTest.keyClick(self.here(), key, modifiers)
            QApplication.processEvents()

    def write(self, text: str) -> None:
        """Letters in place of what stands in the field that has the keys, and on with Tab."""
        assert isinstance(self.here(), QLineEdit), self.here()
        self.press(Key.Key_A, CTRL)
        QTest.keyClicks(self.here(), text)
        self.press(Key.Key_Tab)

    def tab_to(self, name: str) -> None:
        """Tab until what is called that has the keys."""
        for _ in range(60):
            now = self.here()
            if name in (now.accessibleName(), getattr(now, "text", lambda: "")()):
                return
            self.press(Key.Key_Tab)
        raise AssertionError(f"Tab leads to no {name}")

    def choose(self, name: str, words: str) -> None:
        """From a list: open it, its first letters, Return."""
        self.tab_to(name)
        box = self.here()
        assert isinstance(box, QComboBox)
        self.press(Key.Key_Down, ALT)
        until(lambda: QApplication.activePopupWidget() is not None, f"the list {name}")
        until(lambda: self.here() is not box, f"the keys in the list {name}")
        QTest.keyClicks(self.here(), words)
        self.press(Key.Key_Return)
        until(lambda: box.currentText() == words, words)
        until(lambda: QApplication.activePopupWidget() is None, f"the list {name} closed")

    def find(self, words: str) -> str:
        """Say in words what is wanted and do the first action that they lead to; its name."""
        self.press(Key.Key_F, CTRL)
        until(lambda: isinstance(QApplication.activeWindow(), Finder), "the list of actions")
        until(lambda: isinstance(QApplication.focusWidget(), QLineEdit), "the keys in the list of actions")
        QTest.keyClicks(self.here(), words)
        finder = QApplication.activeWindow()
        assert isinstance(finder, Finder)
        found: str = finder.table.item(0, 0).text()
        self.press(Key.Key_Return)
        until(self.window.isActiveWindow, "the window in front")
        until(self.window.canvas.hasFocus, "the keys back on the cloth")
        return found

    def to_cloth(self) -> None:
        """Round the parts of the window until the cloth has the keys."""
        for _ in range(7):
            if self.window.canvas.hasFocus():
                return
            self.press(Key.Key_F6)
        raise AssertionError("F6 does not lead to the cloth")


def place(window: Window, piece: str) -> tuple[float, float]:
    placed = window.session.project.layout.place_of(piece)
    assert placed is not None, f"{piece} waits"
    return placed.x_mm, placed.y_mm


def job(window: Window, folder: Path) -> dict[str, object]:
    """From the empty window to the papers."""
    fingers = Fingers(window)
    told: dict[str, object] = {"empty": seen(window)}
    print_and_cloth(fingers, folder, told)
    flaw(fingers, told)
    book(fingers, told)
    by_hand(fingers, told)
    looked_at(fingers, told)
    the_rest(fingers, told)
    papers(fingers, folder, told)
    return told


def print_and_cloth(fingers: Fingers, folder: Path, told: dict[str, object]) -> None:
    session = fingers.window.session
    with_path(lambda: fingers.press(Key.Key_I, CTRL), folder / "quince.png")
    until(lambda: bool(session.project.prints), "the picture")
    told["picture leads to"] = fingers.here().accessibleName()
    fingers.tab_to("Printed size")
    fingers.write("64 x 96 mm")
    fingers.choose("How it repeats", "half-drop")
    fingers.press(Key.Key_2, ALT)
    fingers.tab_to("Width × length")
    fingers.write("22 x 18 in")
    until(lambda: bool(session.project.cloths), "the cloth")


def flaw(fingers: Fingers, told: dict[str, object]) -> None:
    """A stain in the corner, drawn as a rectangle with the crosshair: 40 by 30 mm."""
    window = fingers.window
    told["flaw found"] = fingers.find("draw stain")
    until(lambda: window.canvas.work.task is not None, "the drawing")
    told["drawing says"] = window.strip.guide.text()
    fingers.press(Key.Key_R)
    # From the middle of what is seen to the lower right.
    fingers.press(Key.Key_Right, SHIFT, times=9)
    fingers.press(Key.Key_Down, SHIFT, times=8)
    fingers.press(Key.Key_Return)
    fingers.press(Key.Key_Right, SHIFT, times=4)
    fingers.press(Key.Key_Down, SHIFT, times=3)
    fingers.press(Key.Key_Right, CTRL, times=5)
    fingers.press(Key.Key_Return)
    until(lambda: bool(window.session.project.cloths[0].flaws), "the stain")
    told["flaw"] = window.session.project.cloths[0].flaws[0].points_mm


def book(fingers: Fingers, told: dict[str, object]) -> None:
    window = fingers.window
    fingers.press(Key.Key_3, ALT)
    fingers.tab_to("Width × height")
    fingers.write("4.5x6in")
    until(lambda: len(window.canvas.bench.lying) == 4, "four pieces")
    fingers.press(Key.Key_Return, CTRL)
    until(lambda: window.proposing.walk is not None and not window.proposing.search, "a proposal")
    told["proposed"] = window.proposal_strip.title.text()
    fingers.press(Key.Key_Return)
    until(lambda: len(window.session.project.layout.placements) == 4, "everything laid")
    told["laid"] = seen(window)


def by_hand(fingers: Fingers, told: dict[str, object]) -> None:
    """The front cover by arrows and on to guides; then it is pinned, and stays against keys and search."""
    window = fingers.window
    fingers.to_cloth()
    fingers.press(Key.Key_Tab)
    told["chosen"] = window.canvas.chosen
    told["before"] = place(window, "front-1")
    fingers.press(Key.Key_Left, SHIFT)
    fingers.press(Key.Key_Up, times=3)
    fingers.press(Key.Key_Right, CTRL, times=2)
    told["moved"] = place(window, "front-1")
    fingers.press(Key.Key_Left, ALT | SHIFT)
    told["guide"] = window.banner.sentence.text()
    told["at guide"] = place(window, "front-1")
    fingers.press(Key.Key_P)
    told["pinned"] = window.session.project.layout.pinned
    fingers.press(Key.Key_Right, SHIFT)
    told["pin says"] = window.banner.sentence.text()
    told["held"] = place(window, "front-1")


def looked_at(fingers: Fingers, told: dict[str, object]) -> None:
    """From the back, measured there: 50 mm across and 20 along; then the print side again."""
    window = fingers.window
    fingers.press(Key.Key_B)
    told["side"] = window.session.project.preferences.side
    fingers.press(Key.Key_M)
    until(lambda: window.canvas.work.task is not None, "the measuring")
    # Into the stain, where nothing is near to catch the ends.
    fingers.press(Key.Key_Return)
    fingers.press(Key.Key_Right, SHIFT, times=5)
    fingers.press(Key.Key_Down, SHIFT, times=2)
    fingers.press(Key.Key_Return)
    told["measured"] = window.strip.guide.text()
    fingers.press(Key.Key_Escape)
    until(lambda: window.canvas.work.task is None, "the measuring left")
    told["flip found"] = fingers.find("flip fabric")
    told["side again"] = window.session.project.preferences.side


def the_rest(fingers: Fingers, told: dict[str, object]) -> None:
    """The back liner is taken off by words and laid again with the rest; the pinned cover lies where it lay."""
    window = fingers.window
    for _ in range(4):
        if window.canvas.chosen != ("liner-back-1",):
            fingers.press(Key.Key_Tab)
    told["take off found"] = fingers.find("put aside")
    told["one waits"] = seen(window)
    fingers.press(Key.Key_Return, CTRL | SHIFT)
    until(lambda: window.proposing.walk is not None and not window.proposing.search, "the rest proposed")
    fingers.press(Key.Key_T, CTRL)
    until(lambda: window.proposing.walk is None, "the rest laid")
    told["all lie"] = seen(window)
    told["pinned lies"] = place(window, "front-1")


def papers(fingers: Fingers, folder: Path, told: dict[str, object]) -> None:
    window = fingers.window
    there = folder / "papers"
    there.mkdir()
    with_path(lambda: fingers.press(Key.Key_E, CTRL), there)
    until(lambda: str(there) in window.banner.sentence.text(), "the papers")
    with_path(lambda: fingers.press(Key.Key_S, CTRL), folder / "keys.coverlayout")
    until(lambda: not window.session.unsaved, "saved")
    told["saved"] = seen(window)
    told["places"] = {placed.piece: (placed.x_mm, placed.y_mm) for placed in window.session.project.layout.placements}
    fingers.press(Key.Key_Q, CTRL)
    until(lambda: not window.isVisible(), "the window closed")


def main() -> None:
    way, folder = sys.argv[1], Path(sys.argv[2])
    assert way == "job"
    motif(folder / "quince.png")
    seat = Seat(None)
    presses = Presses()
    seat.application.installEventFilter(presses)
    told = job(seat.window, folder)
    told["presses of the mouse"] = presses.count
    seat.leave(told)


if __name__ == "__main__":
    main()
