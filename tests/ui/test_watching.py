"""The file while its project is open: another window's, another program's, gone; told, never written over unasked."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.file import backup_of, load, save
from coverlayout.document.project import Project
from coverlayout.document.session import Pictures, Session
from coverlayout.document.storage.claims import Claim
from coverlayout.ui.dialogs.unsaved import Decision
from coverlayout.ui.files import keeping as keeping_module
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

TIDES = Project(name="Tide tables", cloths=(Cloth("cloth-1", "Cloth", 300.0, 200.0),))

# Another window of the program, in a process of its own: claims a file and waits.
OTHER = """
import sys
from pathlib import Path
from coverlayout.document.storage.claims import Claim
claim = Claim()
print(claim.take(Path(sys.argv[1])), flush=True)
sys.stdin.read()
"""


@pytest.fixture
def window(qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    window = Window(session, port, look)
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.show()
    yield window
    window.keeping.leave()


@pytest.fixture
def keeping(window: Window) -> Keeping:
    return window.keeping


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A project on a disk that may go away."""
    folder = tmp_path / "stick"
    folder.mkdir()
    save(folder / "tides.coverlayout", TIDES, Pictures())
    return folder / "tides.coverlayout"


@pytest.fixture
def decide(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    answers: list[str] = []

    def answer(parent: object, name: str) -> Decision:
        return answers.pop(0)  # type: ignore[return-value]  # the tests write decisions

    monkeypatch.setattr(keeping_module, "ask_unsaved", answer)
    return answers


def press(window: Window, words: str) -> None:
    next(made for made in window.banner._buttons if made.text() == words).click()


def words_of(window: Window) -> list[str]:
    return [made.text() for made in window.banner._buttons]


def change(session: Session) -> None:
    session.do(add_cloth(Cloth("", "Mine", 100.0, 100.0)))


def by_another(path: Path, name: str = "Theirs") -> None:
    save(path, replace(TIDES, name=name), Pictures())


def looked(qtbot: QtBot, window: Window) -> None:
    """The maker comes back to the window, and the disk has answered."""
    application = QGuiApplication.instance()
    assert isinstance(application, QGuiApplication)
    application.focusWindowChanged.emit(window.windowHandle())
    qtbot.waitUntil(lambda: not window.keeping.watching._looking)


def test_a_version_saved_by_another_program_is_asked_about(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path
) -> None:
    keeping.open_path(path)
    change(session)
    by_another(path)
    assert not keeping.save()
    assert window.banner.sentence.text().startswith("tides.coverlayout was changed by another program")
    assert words_of(window) == ["Save as …", "Open theirs", "Save over it"]
    assert load(path).project.name == "Theirs"
    assert session.unsaved
    qtbot.waitUntil(window.banner.picture.isVisible)
    said = window.banner.sentence.text()
    assert "other things were changed. If you save over it" in said
    looked(qtbot, window)
    assert window.banner.sentence.text() == said, "coming back from a menu says nothing new"
    press(window, "Save over it")
    assert load(path).project == session.project
    assert load(backup_of(path)).project.name == "Theirs", "their version stays beside it"
    assert not session.unsaved
    change(session)
    assert keeping.save(), "it is ours again"


def test_their_version_can_be_opened_instead(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path, decide: list[str]
) -> None:
    keeping.open_path(path)
    change(session)
    by_another(path)
    keeping.save()
    decide += ["stay", "drop"]
    press(window, "Open theirs")
    assert session.project.name == TIDES.name
    keeping.save()
    press(window, "Open theirs")
    assert session.project.name == "Theirs"
    assert not session.unsaved


def test_mine_can_be_saved_elsewhere(
    keeping: Keeping, window: Window, session: Session, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeping.open_path(path)
    change(session)
    by_another(path)
    keeping.save()
    mine = path.with_name("mine.coverlayout")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *words: (str(mine), ""))
    press(window, "Save as …")
    assert load(mine).project == session.project
    assert load(path).project.name == "Theirs"
    assert session.path == mine
    assert not Claim().is_elsewhere(path), "the file before is free for others"


def test_choosing_the_same_file_in_the_dialog_or_by_a_link_asks_too(
    keeping: Keeping, window: Window, session: Session, path: Path
) -> None:
    link = path.with_name("link.coverlayout")
    link.symlink_to(path)
    keeping.open_path(link)
    change(session)
    assert keeping.save()
    assert link.is_symlink()
    assert load(path).project == session.project
    by_another(path)
    assert not keeping.save_to(path)
    assert "changed by another program" in window.banner.sentence.text()


def test_what_lies_there_may_be_no_project_at_all(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path, decide: list[str]
) -> None:
    keeping.open_path(path)
    change(session)
    path.write_bytes(b"a letter")
    assert not keeping.save()
    qtbot.waitUntil(lambda: "no project that can be read" in window.banner.sentence.text())
    assert window.banner.picture.isHidden()
    mine = session.project
    decide.append("drop")
    press(window, "Open theirs")
    assert "not a project of this program" in window.banner.sentence.text()
    assert path.read_bytes() == b"a letter"
    assert session.project is mine, "what cannot be opened takes nothing away"


def test_coming_back_to_the_window_tells_of_a_change_once(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path
) -> None:
    keeping.open_path(path)
    looked(qtbot, window)
    assert window.banner.isHidden()
    by_another(path)
    looked(qtbot, window)
    assert window.banner.sentence.text().startswith("tides.coverlayout was changed by another program meanwhile")
    assert not session.unsaved
    press(window, "Keep mine")
    assert session.unsaved, "what is here lies in no file now"
    looked(qtbot, window)
    assert window.banner.isHidden(), "told once"
    by_another(path, "Theirs again")
    assert not keeping.save()


def test_coming_back_can_open_the_other_version(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path
) -> None:
    keeping.open_path(path)
    by_another(path)
    looked(qtbot, window)
    press(window, "Open theirs")
    assert session.project.name == "Theirs"
    looked(qtbot, window)
    assert window.banner.isHidden()


def test_a_file_that_is_gone_is_told_and_the_work_kept(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path
) -> None:
    keeping.open_path(path)
    path.unlink()
    looked(qtbot, window)
    assert window.banner.sentence.text().startswith("tides.coverlayout is not in its folder any more")
    assert session.unsaved, "closing the window would lose the work"
    keeping.copies.wait()
    assert (keeping.copies._keeper._own / "project.json").is_file()
    press(window, "Save it there again")
    assert load(path).project == TIDES
    assert not session.unsaved


def test_a_save_whose_file_is_gone_asks_first(
    keeping: Keeping, window: Window, session: Session, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeping.open_path(path)
    change(session)
    path.unlink()
    assert not keeping.save()
    assert words_of(window) == ["Save as …", "Save it there again"]
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *words: ("", ""))
    press(window, "Save as …")
    assert list(path.parent.iterdir()) == []
    assert session.unsaved


def test_a_disk_that_is_gone_is_one_sentence_and_a_way_out(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeping.open_path(path)
    change(session)
    shutil.rmtree(path.parent)
    looked(qtbot, window)
    assert "and its folder" in window.banner.sentence.text()
    assert words_of(window) == ["Save as …", "Close"]
    assert not keeping.save()
    assert "is not there; choose another folder" in window.banner.sentence.text()
    mine = path.parents[1] / "mine.coverlayout"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *words: (str(mine), ""))
    press(window, "Save as …")
    assert load(mine).project == session.project


def test_a_file_that_may_not_be_written_is_one_sentence_and_a_way_out(
    keeping: Keeping, window: Window, session: Session, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keeping.open_path(path)
    change(session)
    with monkeypatch.context() as patch:
        patch.setattr("os.access", lambda *words: False)  # root may write everything
        assert not keeping.save()
    assert "may not be written; choose another folder" in window.banner.sentence.text()
    assert words_of(window) == ["Save as …", "Close"]
    press(window, "Close")
    assert session.unsaved
    keeping.copies.wait()
    assert (keeping.copies._keeper._own / "project.json").is_file(), "the work is in its recovery copy"


@pytest.fixture
def other_window(path: Path) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-c", OTHER, str(path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdin is not None
        assert process.stdout.readline().strip() == "True"
        yield process
        process.stdin.close()


def test_a_file_open_in_another_window_is_asked_about(
    keeping: Keeping, window: Window, session: Session, path: Path, other_window: subprocess.Popen[str]
) -> None:
    before = session.project
    keeping.open_path(path)
    assert "tides.coverlayout is open in another window" in window.banner.sentence.text()
    assert session.project is before
    press(window, "Leave it")
    assert session.project is before
    keeping.open_path(path)
    press(window, "Open it all the same")
    assert session.project == TIDES
    change(session)
    assert keeping.save(), "nobody else has saved"
    change(session)
    by_another(path)
    assert not keeping.save(), "the one who saves second is asked"


def test_saving_over_a_file_of_another_window_is_refused(
    keeping: Keeping, window: Window, session: Session, path: Path, other_window: subprocess.Popen[str]
) -> None:
    change(session)
    assert not keeping.save_to(path)
    assert "is open in another window and was not written over" in window.banner.sentence.text()
    assert load(path).project == TIDES
    assert session.unsaved


def test_a_closed_window_leaves_its_file_to_others(keeping: Keeping, session: Session, path: Path) -> None:
    keeping.open_path(path)
    assert Claim().is_elsewhere(path)
    keeping.new()
    assert not Claim().is_elsewhere(path)
    keeping.open_path(path)
    keeping.leave()
    assert not Claim().is_elsewhere(path)


def test_a_folder_where_nothing_can_be_claimed_hinders_nobody(
    keeping: Keeping, session: Session, path: Path, tmp_path: Path
) -> None:
    (tmp_path / "no folder").write_bytes(b"")
    keeping.watching._claim = Claim(tmp_path / "no folder" / "open")
    keeping.open_path(path)
    assert session.project == TIDES
    change(session)
    assert keeping.save()
