"""What the window remembers: kept over a restart, done without when the file is spoiled."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from coverlayout.ui.files.remembered import Remembered


def test_look_and_true_size_are_there_again(qapp: QApplication, tmp_path: Path) -> None:
    screen = QGuiApplication.primaryScreen()
    first = Remembered(tmp_path / "new folder")
    assert (first.look, first.px_per_mm(screen)) == ("system", None)
    first.remember_px_per_mm(screen, 4.25)
    first.remember_look("dark")
    again = Remembered(tmp_path / "new folder")
    assert (again.look, again.px_per_mm(screen)) == ("dark", 4.25)


@pytest.mark.parametrize(
    "spoiled", ["", "{", "[]", '{"look": "loud", "screens": 3}', "[" * 100_000, '{"look": ["dark"]}']
)
def test_a_spoiled_file_is_done_without(qapp: QApplication, tmp_path: Path, spoiled: str) -> None:
    (tmp_path / "window.json").write_text(spoiled)
    found = Remembered(tmp_path)
    assert (found.look, found.px_per_mm(QGuiApplication.primaryScreen())) == ("system", None)
    found.remember_look("light")
    assert Remembered(tmp_path).look == "light"


@pytest.mark.parametrize("figure", ["0", "1e9", "NaN", "true", '"4.25"'])
def test_a_size_that_no_screen_has_is_not_believed(qapp: QApplication, tmp_path: Path, figure: str) -> None:
    screen = QGuiApplication.primaryScreen()
    Remembered(tmp_path).remember_px_per_mm(screen, 12345.0)
    text = (tmp_path / "window.json").read_text().replace("12345.0", figure)
    (tmp_path / "window.json").write_text(text)
    assert Remembered(tmp_path).px_per_mm(screen) is None


def test_a_folder_that_refuses_is_no_trouble(qapp: QApplication, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file where a folder should be")
    kept = Remembered(tmp_path / "taken")
    kept.remember_look("dark")
    assert kept.look == "dark"
