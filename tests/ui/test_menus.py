"""Every action stands in a menu, has its own keys on every platform, and says why it cannot be done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from canvas_samples import job, session_of
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from coverlayout.document.recovery import Keeper
from coverlayout.ui.actions.act import Act, Group
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

Key, With, Standard = Qt.Key, Qt.KeyboardModifier, QKeySequence.StandardKey
# The standard keys as the documentation of QKeySequence lists them, for the platforms this test does not run on.
STANDARD: dict[str, dict[QKeySequence.StandardKey, tuple[str, ...]]] = {
    "Windows": {
        Standard.HelpContents: ("F1",),
        Standard.Open: ("Ctrl+O",),
        Standard.Save: ("Ctrl+S",),
        Standard.SaveAs: (),
        Standard.New: ("Ctrl+N",),
        Standard.Quit: (),
        Standard.Undo: ("Ctrl+Z", "Alt+Backspace"),
        Standard.Redo: ("Ctrl+Y", "Shift+Ctrl+Z", "Alt+Shift+Backspace"),
        Standard.Cut: ("Ctrl+X", "Shift+Del"),
        Standard.Copy: ("Ctrl+C", "Ctrl+Ins"),
        Standard.Paste: ("Ctrl+V", "Shift+Ins"),
        Standard.SelectAll: ("Ctrl+A",),
        Standard.Find: ("Ctrl+F",),
        Standard.ZoomIn: ("Ctrl++",),
        Standard.ZoomOut: ("Ctrl+-",),
    },
    # On the Mac the names Ctrl and Cmd change places; within Qt it is Ctrl on all platforms.
    "macOS": {
        Standard.HelpContents: ("Ctrl+?",),
        Standard.Open: ("Ctrl+O",),
        Standard.Save: ("Ctrl+S",),
        Standard.SaveAs: ("Ctrl+Shift+S",),
        Standard.New: ("Ctrl+N",),
        Standard.Quit: ("Ctrl+Q",),
        Standard.Undo: ("Ctrl+Z",),
        Standard.Redo: ("Ctrl+Shift+Z",),
        Standard.Cut: ("Ctrl+X", "Meta+K"),
        Standard.Copy: ("Ctrl+C",),
        Standard.Paste: ("Ctrl+V", "Meta+Y"),
        Standard.SelectAll: ("Ctrl+A",),
        Standard.Find: ("Ctrl+F",),
        Standard.ZoomIn: ("Ctrl++",),
        Standard.ZoomOut: ("Ctrl+-",),
    },
    "KDE and GNOME": {
        Standard.HelpContents: ("F1",),
        Standard.Open: ("Ctrl+O",),
        Standard.Save: ("Ctrl+S",),
        Standard.SaveAs: ("Ctrl+Shift+S",),
        Standard.New: ("Ctrl+N",),
        Standard.Quit: ("Ctrl+Q",),
        Standard.Undo: ("Ctrl+Z", "F14"),
        Standard.Redo: ("Ctrl+Shift+Z",),
        Standard.Cut: ("Ctrl+X", "F20", "Shift+Del"),
        Standard.Copy: ("Ctrl+C", "F16", "Ctrl+Ins"),
        Standard.Paste: ("Ctrl+V", "F18", "Shift+Ins"),
        Standard.SelectAll: ("Ctrl+A",),
        Standard.Find: ("Ctrl+F",),
        Standard.ZoomIn: ("Ctrl++",),
        Standard.ZoomOut: ("Ctrl+-",),
    },
}


@pytest.fixture
def window(qtbot: QtBot, port, look: Look, tmp_path: Path) -> Window:
    session = session_of(job())
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1240, 700)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    window.canvas.setFocus()
    qtbot.waitUntil(window.canvas.hasFocus)
    window.asking.begin()
    return window


def keys_on(platform: str, act: Act) -> list[str]:
    """The keys of an act there, those of the canvas and those of the window together: they must not meet."""
    found = [QKeySequence(key) for key in act.canvas_keys]
    for key in act.keys:
        given = (key,) if isinstance(key, str) else STANDARD[platform][key]
        found += [QKeySequence(each) for each in given]
    return sorted({each.toString() for each in found})


@pytest.mark.parametrize("platform", STANDARD)
def test_no_two_actions_share_a_key_on_any_platform(window: Window, platform: str) -> None:
    used = Counter(key for act in window.menus.acts.values() for key in keys_on(platform, act))
    assert used["Ctrl+Z"] == 1
    assert [key for key, count in used.items() if count > 1] == []
    assert "" not in used, "every key is one Qt knows"


def test_no_two_actions_share_a_key_here(window: Window) -> None:
    used = Counter(
        key.toString()
        for act in window.menus.acts.values()
        for key in {each.toString(): each for each in (*act.everywhere, *act.with_canvas)}.values()
    )
    assert [key for key, count in used.items() if count > 1] == []
    bound = Counter(
        key.toString() for owner in (window, window.canvas) for action in owner.actions() for key in action.shortcuts()
    )
    assert bound == used, "what is bound is what the acts say, each once"


def test_plain_letters_count_only_on_the_canvas(window: Window) -> None:
    for act in window.menus.acts.values():
        for key in act.everywhere:
            pressed = key[0]
            held = pressed.keyboardModifiers() & (With.ControlModifier | With.AltModifier | With.MetaModifier)
            assert held or pressed.key() >= Key.Key_F1, f"{act.name}: {key.toString()} would be typed into fields"


def in_menus(menu: QMenu) -> Iterator[QAction]:
    for action in menu.actions():
        if action.menu() is not None:
            yield from in_menus(action.menu())
        elif not action.isSeparator():
            yield action


def test_every_action_stands_in_a_menu_once_with_plain_words(window: Window) -> None:
    menus = window.menus
    shown = [action for top in menus.actions() for action in in_menus(top.menu())]
    for name, act in menus.acts.items():
        assert shown.count(menus.action(name)) == 1, name
        assert act.words[0].isupper(), f"{name}: {act.words}"
        assert not act.words.endswith((".", " ")), f"{name}: {act.words}"
        assert act.tip.endswith("."), f"{name} teaches nothing: {act.tip}"
        assert act.tip.rstrip(".") != act.words, name
        assert menus.menu_of[name].split(", ")[0] in {top.text().replace("&", "") for top in menus.actions()}
    assert len({(menus.menu_of[name], act.words) for name, act in menus.acts.items()}) == len(menus.acts)


def test_every_menu_opens_by_its_own_letter(window: Window) -> None:
    words = [top.text() for top in window.menus.actions()]
    letters = [text[text.index("&") + 1] for text in words]
    assert len(set(letters)) == len(letters)


def test_an_open_menu_greys_what_cannot_be_done_and_its_key_says_why(qtbot: QtBot, window: Window) -> None:
    menus = window.menus
    top = next(action.menu() for action in menus.actions() if action.text() == "&Pieces")
    window.canvas.choose(())
    top.aboutToShow.emit()
    assert not menus.action("turn").isEnabled()
    assert menus.action("turn").toolTip() == "Choose a piece first: Tab goes from piece to piece on the cloth."
    top.aboutToHide.emit()
    QTest.keyClick(window.canvas, Key.Key_R)
    assert window.banner.sentence.text().startswith("Choose a piece first")
    QTest.keyClick(window.canvas, Key.Key_PageDown)
    window.canvas.choose(("front-1",))
    QTest.keyClick(window.canvas, Key.Key_PageDown)
    assert window.banner.sentence.text() == "There is no cloth further on that way."
    QTest.keyClick(window.canvas, Key.Key_Return)
    assert window.banner.sentence.text() == "None of the chosen pieces waits beside the cloth."
    assert window.session.project == job()


def test_with_nothing_to_undo_the_header_says_so_whatever_menu_was_open(window: Window) -> None:
    header = window.header
    assert not header.undo.isEnabled()
    top = next(action.menu() for action in window.menus.actions() if action.text() == "&Edit")
    top.aboutToShow.emit()
    top.aboutToHide.emit()
    assert (header.undo.isEnabled(), header.redo.isEnabled()) == (False, False)
    assert header.undo.toolTip() == "Nothing to undo"


def test_a_tick_follows_its_key(window: Window) -> None:
    action = window.menus.action("catch-at-guides")
    QTest.keyClick(window.canvas, Key.Key_G)
    assert (window.canvas.hand.snapping, action.isChecked()) == (False, False)
    QTest.keyClick(window.canvas, Key.Key_G)
    assert (window.canvas.hand.snapping, action.isChecked()) == (True, True)


def test_held_keys_repeat_only_what_is_meant_to(window: Window) -> None:
    menus = window.menus
    assert menus.action("undo").autoRepeat()
    assert not menus.action("turn").autoRepeat()
    assert menus.action("move-left").text() == "Move to the left\t←"
    assert menus.acts["fit"].keys_told == "Ctrl+0, F"


def test_moving_and_choosing_are_in_the_menus_too(window: Window) -> None:
    menus, canvas = window.menus, window.canvas
    menus.action("choose-previous").trigger()
    assert canvas.chosen == ("liner-back-1",)
    menus.action("choose-next").trigger()
    assert canvas.chosen == ("front-1",), "after the last it begins anew"
    menus.action("move-right").trigger()
    menus.action("move-down").trigger()
    moved = window.session.project.layout.place_of("front-1")
    assert moved is not None
    assert (moved.x_mm, moved.y_mm) == (101.0, 117.0)


def test_acts_made_anew_are_in_the_list_of_all(window: Window) -> None:
    made = Act("made-now", "Something made now", lambda: None)
    window.menus._groups.append(("View, Made", Group("Made", made=lambda: (made, None))))
    assert ("View, Made", made) in list(window.menus.every())


def test_the_parts_of_the_window_are_gone_round_by_key(qtbot: QtBot, window: Window) -> None:
    window.banner.clear()
    parts = (window.canvas, window.bar, window.header, window.steps)
    met = []
    for _ in range(4):
        now = QApplication.focusWidget()
        met.append(next(part for part in parts if part is now or part.isAncestorOf(now)))
        QTest.keyClick(now, Key.Key_F6)
    assert met == list(parts)
    assert window.canvas.hasFocus()
    QTest.keyClick(window.canvas, Key.Key_F6, With.ShiftModifier)
    assert QApplication.focusWidget() is window.steps.heads[window.steps.open_step]
    # Where the keys were in a part they come back to.
    window.panels.placement.pieces.setFocus()
    QTest.keyClick(window.panels.placement.pieces, Key.Key_F6)
    QTest.keyClick(window.canvas, Key.Key_F6, With.ShiftModifier)
    assert window.panels.placement.pieces.hasFocus()
    window.say("Something to read.", False)
    QTest.keyClick(window.panels.placement.pieces, Key.Key_F6)
    QTest.keyClick(window.canvas, Key.Key_F6)
    assert window.banner.isAncestorOf(QApplication.focusWidget())


def met_on_the_way_round(parts: tuple[QWidget, ...]) -> list[QWidget]:
    """The parts that F6 leads to, one after another, from the first on."""
    parts[0].setFocus()
    met = []
    for _ in parts:
        now = QApplication.focusWidget()
        met.append(next(part for part in parts if part is now or part.isAncestorOf(now)))
        QTest.keyClick(now, Key.Key_F6)
    return met


def test_what_stands_beside_the_cloth_is_on_the_way_round(qtbot: QtBot, window: Window) -> None:
    around = window.around
    window.menus.do("copy-layout")
    for act, beside in (("compare-layouts", around.comparing.second), ("what-is-left", around.left_list)):
        window.menus.do(act)
        window.banner.clear()
        parts = (window.canvas, around.switcher, beside, window.bar, window.header, window.steps)
        assert met_on_the_way_round(parts) == list(parts)


def test_tab_walks_the_whole_window_without_a_trap(window: Window) -> None:
    first, met = window.canvas, []
    for _ in range(200):
        now = QApplication.focusWidget()
        if not met or met[-1] is not now:
            met.append(now)
        if len(met) > 1 and now is first:
            break
        QTest.keyClick(now, Key.Key_Tab)
    assert met[-1] is first, "it comes round again"
    for part in (window.header, window.steps, window.bar):
        assert any(part.isAncestorOf(each) for each in met), part
