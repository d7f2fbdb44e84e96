"""Files of the window: saved, opened, asked about once, recovered; trouble is one sentence and changes nothing."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.books import add_book
from coverlayout.document.edits.cloths import add_cloth, change_cloth
from coverlayout.document.edits.job import rename_project
from coverlayout.document.file import load, save
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.document.recovery import Keeper, recovery_folder
from coverlayout.document.session import Pictures, Session
from coverlayout.document.storage.stamp import Stamp
from coverlayout.errors import Remark
from coverlayout.ui.dialogs import unsaved
from coverlayout.ui.dialogs.unsaved import Decision, ask_unsaved
from coverlayout.ui.files import keeping as keeping_module
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

LAYOUTS = (Layout("layout-1", "Layout 1"), Layout("layout-2", "Layout 2"))


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
def decide(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Answers the question about unsaved work with the first word of the list, and notes that it was asked."""
    answers: list[str] = []

    def answer(parent: object, name: str) -> Decision:
        assert answers, f"asked about {name} though nothing would be lost"
        return answers.pop(0)  # type: ignore[return-value]  # the tests write decisions

    monkeypatch.setattr(keeping_module, "ask_unsaved", answer)
    return answers


def change(session: Session) -> None:
    session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))


def test_saving_asks_where_the_first_time_only(
    keeping: Keeping, session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    change(session)
    session.do(rename_project("Six: ledgers/?"))
    offered = []

    def where(parent: object, title: str, start: str, kinds: str) -> tuple[str, str]:
        offered.append(Path(start).name)
        return str(tmp_path / "ledgers"), kinds

    monkeypatch.setattr(QFileDialog, "getSaveFileName", where)
    assert keeping.save()
    assert offered == ["Six ledgers.coverlayout"]
    assert session.path == tmp_path / "ledgers.coverlayout"
    assert not session.unsaved
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=3.0))
    assert keeping.save()
    assert len(offered) == 1
    assert load(tmp_path / "ledgers.coverlayout").project == session.project


def test_giving_up_the_choice_of_a_file_saves_nothing(
    keeping: Keeping, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    change(session)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *words: ("", ""))
    assert not keeping.save()
    assert session.unsaved


def test_a_folder_that_is_not_there_is_one_sentence(keeping: Keeping, window: Window, session: Session) -> None:
    change(session)
    assert not keeping.save_to(Path("/nowhere/at all/ledgers.coverlayout"))
    assert window.banner.tone == "trouble"
    assert window.banner.sentence.text()
    assert "\n" not in window.banner.sentence.text()
    assert session.unsaved


def test_a_project_opens_with_its_name(keeping: Keeping, window: Window, session: Session, tmp_path: Path) -> None:
    save(tmp_path / "a.coverlayout", Project(name="Salt works"), Pictures())
    keeping.open_path(tmp_path / "a.coverlayout")
    assert window.header.name.text() == "Salt works"
    assert (window.header.state.text(), session.path) == ("saved", tmp_path / "a.coverlayout")
    assert session.undo_name is None


def test_a_damaged_file_changes_nothing(keeping: Keeping, window: Window, session: Session, tmp_path: Path) -> None:
    (tmp_path / "torn.coverlayout").write_bytes(b"PK\x03\x04 torn")
    before = session.project
    window.open_path(tmp_path / "torn.coverlayout")
    assert session.project is before
    assert window.banner.tone == "trouble"
    assert "torn.coverlayout" in window.banner.sentence.text()


def test_unsaved_work_is_asked_about_once(
    keeping: Keeping, session: Session, tmp_path: Path, decide: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    keeping.new()
    change(session)
    mine = session.project
    decide.append("stay")
    keeping.new()
    assert session.project is mine
    decide.append("drop")
    keeping.new()
    assert session.project == Project()
    change(session)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *words: (str(tmp_path / "b.coverlayout"), ""))
    decide.append("save")
    keeping.new()
    assert load(tmp_path / "b.coverlayout").project.cloths
    assert session.project == Project()


def test_a_window_with_unsaved_work_stays_when_told(window: Window, session: Session, decide: list[str]) -> None:
    change(session)
    decide.append("stay")
    assert not window.close()
    assert window.isVisible()
    decide.append("drop")
    assert window.close()


def test_the_file_dialogs_lead_to_the_same_doors(
    keeping: Keeping, window: Window, session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    save(tmp_path / "a.coverlayout", Project(name="Salt works"), Pictures())
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *words: (str(tmp_path / "a.coverlayout"), ""))
    keeping.ask_to_open()
    assert session.project.name == "Salt works"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *words: (str(tmp_path / "gone.png"), ""))
    window.panels.prints.ask_for_picture()
    assert "gone.png cannot be read" in window.banner.sentence.text()
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *words: "")
    window.panels.cutting.ask_for_folder()


def test_an_edit_is_kept_at_once_and_gone_when_saved(
    qtbot: QtBot, keeping: Keeping, session: Session, tmp_path: Path
) -> None:
    change(session)
    keeping.copies.wait()
    (copy,) = list(recovery_folder().iterdir())
    assert (copy / "project.json").is_file()
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=3.0))
    # The second edit comes too soon for a copy of its own; it follows within 2 s.
    assert b'"trim_mm":3.0' not in (copy / "project.json").read_bytes().replace(b" ", b"")
    qtbot.waitUntil(lambda: b'"trim_mm":3.0' in (copy / "project.json").read_bytes().replace(b" ", b""), timeout=2000)
    assert keeping.save_to(tmp_path / "a.coverlayout")
    keeping.copies.wait()
    assert not copy.exists()


def test_undoing_back_to_the_saved_state_needs_no_copy(keeping: Keeping, session: Session) -> None:
    change(session)
    session.undo()
    keeping.copies.wait()
    assert not any(recovery_folder().iterdir())


def test_the_first_file_gives_the_project_its_name(keeping: Keeping, session: Session, tmp_path: Path) -> None:
    change(session)
    assert keeping.save_to(tmp_path / "leafbook.coverlayout")
    assert session.project.name == "leafbook"
    assert load(tmp_path / "leafbook.coverlayout").project.name == "leafbook"
    assert not session.unsaved
    assert keeping.save_to(tmp_path / "second.coverlayout")
    assert session.project.name == "leafbook", "a copy under another name is the same project"


def test_a_named_project_and_one_that_cannot_be_saved_keep_their_name(
    keeping: Keeping, session: Session, tmp_path: Path
) -> None:
    change(session)
    assert not keeping.save_to(tmp_path / "no folder" / "leafbook.coverlayout")
    assert session.project.name == "Untitled"
    assert session.undo_name == "Add cloth Cloth"
    assert keeping.save_to(tmp_path / " .coverlayout")
    assert session.project.name == "Untitled", "blanks are no name"


def test_trouble_goes_once_the_same_thing_succeeds(
    keeping: Keeping, window: Window, session: Session, tmp_path: Path
) -> None:
    change(session)
    keeping.save_to(Path("/nowhere/ledgers.coverlayout"))
    assert window.banner.isVisible()
    assert keeping.save_to(tmp_path / "ledgers.coverlayout")
    assert window.banner.isHidden()
    (tmp_path / "torn.coverlayout").write_bytes(b"PK\x03\x04 torn")
    keeping.open_path(tmp_path / "torn.coverlayout")
    assert window.banner.isVisible()
    keeping.open_path(tmp_path / "ledgers.coverlayout")
    assert window.banner.isHidden()


def test_trouble_goes_with_the_next_edit_and_the_next_choice(window: Window, session: Session) -> None:
    window.say("something was refused", True)
    change(session)
    assert window.banner.isHidden()
    session.do(add_book(Book("", "Ledger", board_mm=(100.0, 140.0))))
    window.say("something was refused", True)
    window.canvas.choose(("front-1",))
    assert window.banner.isHidden()


def test_a_new_project_begins_with_the_first_step(keeping: Keeping, window: Window, session: Session) -> None:
    window.steps.open(3)
    keeping.new()
    assert window.steps.open_step == 0


@pytest.mark.parametrize(("words", "decision"), [("Save", "save"), ("Don't save", "drop"), ("Cancel", "stay")])
def test_the_question_has_three_plain_answers(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch, words: str, decision: str
) -> None:
    def answer(box: QMessageBox) -> int:
        assert "Salt works" in box.text()
        next(made for made in box.buttons() if made.text() == words).click()
        return 0

    monkeypatch.setattr(unsaved.QMessageBox, "exec", answer)
    assert ask_unsaved(window, "Salt works") == decision


def test_a_copy_that_cannot_be_written_is_told_once(
    qtbot: QtBot, window: Window, keeping: Keeping, session: Session, tmp_path: Path
) -> None:
    (tmp_path / "taken").write_text("a file where a folder should be")
    keeping.copies._keeper = Keeper(tmp_path / "taken")
    change(session)
    qtbot.waitUntil(lambda: window.banner.tone == "trouble")
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=2.0))
    assert window.banner.isVisible(), "an edit does not make it untrue"
    window.banner.clear()
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=3.0))
    with qtbot.waitSignal(keeping.copies.refused):
        keeping._soon.flush()
    QApplication.sendPostedEvents()
    assert window.banner.isHidden()


class SlowKeeper(Keeper):
    """A disk that takes its time, and what was written on it."""

    def __init__(self) -> None:
        super().__init__()
        self.written: list[float] = []
        self.discarded = 0
        self.begun, self.go_on = threading.Event(), threading.Event()

    def keep(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None = None) -> None:
        self.begun.set()
        assert self.go_on.wait(5.0)
        self.written.append(project.cloths[0].trim_mm)

    def discard(self) -> None:
        super().discard()
        self.discarded += 1


def test_a_slow_disk_holds_nothing_up_and_gets_only_the_newest_state(keeping: Keeping, session: Session) -> None:
    disk = SlowKeeper()
    keeping.copies._keeper = disk
    change(session)
    assert disk.begun.wait(5.0)
    for trim_mm in (1.0, 2.0, 3.0):
        session.do(change_cloth(session.project.cloths[0].id, trim_mm=trim_mm))
        keeping._soon.flush()
    assert disk.written == []
    disk.go_on.set()
    keeping.copies.wait()
    assert disk.written == [0.0, 3.0]


class TimedKeeper(Keeper):
    """A disk that takes `slow_s` for every copy, and when the work in each copy was whole on it."""

    def __init__(self, slow_s: float) -> None:
        super().__init__()
        self._slow_s = slow_s
        self.whole: list[tuple[float, float]] = []

    def keep(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None = None) -> None:
        super().keep(project, pictures, path, known)
        time.sleep(self._slow_s)
        self.whole.append((project.cloths[0].trim_mm, time.monotonic()))


@pytest.mark.parametrize("slow_s", [0.0, 0.6])
def test_every_edit_is_kept_within_two_seconds_while_more_keep_coming(
    qtbot: QtBot, keeping: Keeping, session: Session, slow_s: float
) -> None:
    """Edits every 50 ms, faster than any copy is due, on a quick disk and on one that takes 0.6 s for each copy."""
    disk = TimedKeeper(slow_s)
    keeping.copies._keeper = disk
    change(session)
    made = {0.0: time.monotonic()}
    for number in range(1, 51):
        qtbot.wait(50)
        session.do(change_cloth(session.project.cloths[0].id, trim_mm=number / 10))
        made[number / 10] = time.monotonic()
    qtbot.waitUntil(lambda: bool(disk.whole) and disk.whole[-1][0] == 5.0, timeout=3000)
    kept_in_s = [min(whole for trim_mm, whole in disk.whole if trim_mm >= edit) - at for edit, at in made.items()]
    assert max(kept_in_s) <= 2.0
    assert len(disk.whole) < 12, "not every edit is a copy of its own"


def test_looking_at_another_side_or_layout_is_not_asked_about(
    keeping: Keeping, session: Session, window: Window, decide: list[str], tmp_path: Path
) -> None:
    change(session)
    session.do(Edit(Remark.of("edit-move", piece="a layout"), lambda project: replace(project, layouts=LAYOUTS)))
    assert keeping.save_to(tmp_path / "two layouts.coverlayout")
    window.turn_over()
    session.do(Edit(Remark.of("edit-move", piece="a layout"), lambda project: replace(project, layout_id="layout-2")))
    assert window.header.state.text() == "saved"
    keeping.new()
    assert session.project == Project(), "nothing was asked"


def test_a_sample_opens_as_a_project_of_its_own(keeping: Keeping, session: Session, tmp_path: Path) -> None:
    save(tmp_path / "a.coverlayout", Project(name="Salt works"), Pictures())
    keeping.open_as_new(tmp_path / "a.coverlayout")
    assert (session.project.name, session.path, session.unsaved) == ("Salt works", None, False)
    before = session.project
    keeping.open_as_new(tmp_path / "gone.coverlayout")
    assert session.project is before


class BrokenKeeper(Keeper):
    """A fault of the program while a copy is written."""

    def keep(self, project: Project, pictures: Pictures, path: Path | None, known: Stamp | None = None) -> None:
        raise RuntimeError("no copy")


def test_a_fault_while_copying_holds_nothing_up_and_the_next_copy_is_kept(
    keeping: Keeping, session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faults: list[str] = []
    monkeypatch.setattr(threading, "excepthook", lambda told: faults.append(str(told.exc_value)))
    good, keeping.copies._keeper = keeping.copies._keeper, BrokenKeeper()
    change(session)
    keeping.copies.wait()
    keeping.copies._keeper = good
    assert keeping.copies._thread is not None
    keeping.copies._thread.join(5.0)
    assert faults == ["no copy"]
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=2.0))
    keeping._soon.flush()
    keeping.copies.wait()
    keeping.copies.wait()
    assert len(list(recovery_folder().iterdir())) == 1
    assert keeping.save_to(tmp_path / "a.coverlayout")


def test_what_still_waits_is_not_written_after_saving(keeping: Keeping, session: Session, tmp_path: Path) -> None:
    disk = SlowKeeper()
    keeping.copies._keeper = disk
    change(session)
    assert disk.begun.wait(5.0)
    session.do(change_cloth(session.project.cloths[0].id, trim_mm=2.0))
    keeping._soon.flush()
    threading.Timer(0.05, disk.go_on.set).start()
    assert keeping.save_to(tmp_path / "a.coverlayout")
    keeping.copies.wait()
    assert disk.written == [0.0]


def test_a_slow_disk_does_not_hold_up_an_undo(keeping: Keeping, session: Session) -> None:
    disk = SlowKeeper()
    keeping.copies._keeper = disk
    change(session)
    assert disk.begun.wait(5.0)
    session.undo()
    assert not session.unsaved
    assert disk.discarded == 0, "the copy is still being written, and the window goes on"
    disk.go_on.set()
    keeping.copies.wait()
    assert disk.discarded == 1
