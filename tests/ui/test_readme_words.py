"""What the README calls by name is there: its pictures, its actions, its keys."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from canvas_samples import job, session_of
from PIL import Image
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QAbstractButton, QLabel, QMenu, QTabBar
from pytestqt.qtbot import QtBot

from coverlayout.document.recovery import Keeper
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
MOST_BYTES = 250_000
# Keys the canvas hears itself, and words of the table that are no keys.
HEARD_BY_CANVAS = {"Tab", "Alt+Shift"}


@pytest.fixture
def window(qtbot: QtBot, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    session = session_of(job())
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda _closing: session.mark_saved(tmp_path / "closing"))
    window.show()
    qtbot.waitUntil(lambda: window._painted)
    yield window
    session.mark_saved(tmp_path / "closing")
    window.close()


def test_every_link_leads_somewhere_and_pictures_are_light() -> None:
    linked = re.findall(r"\]\(([^)]+)\)", README)
    assert len(linked) > 8
    for path in linked:
        assert (ROOT / path).is_file(), path
    pictures = [ROOT / path for path in linked if path.endswith(".png")]
    assert sorted(pictures) == sorted((ROOT / "resources" / "screens").glob("*.png"))
    for path in pictures:
        assert path.stat().st_size < MOST_BYTES, path.name
        with Image.open(path) as picture:
            assert picture.size == (1440, 900), path.name


def test_what_is_called_by_name_stands_in_the_window(window: Window) -> None:
    told = {" ".join(words.split()) for words in re.findall(r"(?<![*\w])\*([^*\n]+(?:\n[^*\n]+)?)\*(?![*\w])", README)}
    assert len(told) > 25
    window.open_step(1)
    # Their fields are made when they are first opened.
    for part in window.panels.book.parts:
        part.open()
    there = {act.words for _, act in window.menus.every()} | {menu.title() for menu in window.findChildren(QMenu)}
    there |= {each.text() for kind in (QAbstractButton, QLabel) for each in window.findChildren(kind)}
    there |= {each.tabText(at) for each in window.findChildren(QTabBar) for at in range(each.count())}
    known = {words.replace("&", "").removeprefix("+").removesuffix("…").strip().casefold() for words in there}
    known |= {words.split(":")[0] for words in known}
    assert [words for words in sorted(told) for part in words.split(" > ") if part.casefold() not in known] == []


def test_every_key_of_the_table_is_bound(window: Window) -> None:
    table = README[README.index("| key | does |") :].split("\n\n")[0]
    cells = [row.split("|")[1] for row in table.splitlines()[2:]]
    told = {key for cell in cells for key in re.findall(r"`([^`]+)`", cell)} - HEARD_BY_CANVAS
    assert len(told) > 25
    acts = [act for _, act in window.menus.every()]
    bound = {keys.toString() for act in acts for keys in (*act.everywhere, *act.with_canvas)}
    # The toolkit has a name of its own for the main key.
    alike = {"Delete": "Del", "Escape": "Esc"}
    assert [key for key in sorted(told) if QKeySequence(alike.get(key, key)).toString() not in bound] == []
