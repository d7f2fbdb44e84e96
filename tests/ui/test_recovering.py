"""Work left behind by a program that ended badly: shown with its picture, opened, put off, thrown away, never lost."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.file import load, save
from coverlayout.document.project import Layout, Project
from coverlayout.document.recovery import Keeper, LeftBehind, discard, left_behind, recovery_folder
from coverlayout.document.session import Pictures, Session
from coverlayout.document.storage.stamp import Stamp
from coverlayout.layout.question import Placed
from coverlayout.ui.dialogs.unsaved import Decision
from coverlayout.ui.files import keeping as keeping_module
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.look import Look
from coverlayout.ui.window import Window

BOOKMARK = OwnPiece("own-1", "Bookmark", 40.0, 160.0)
TIDES = Project(
    name="Tide tables",
    cloths=(Cloth("cloth-1", "Cloth", 300.0, 200.0),),
    own_pieces=(BOOKMARK,),
    layouts=(Layout("layout-1", "Layout 1", (Placed("own-1", "cloth-1", 60.0, 90.0),)),),
)


@pytest.fixture
def window(qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    for copy in left_behind():
        discard(copy)
    window = Window(session, port, look)
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.show()
    yield window
    window.keeping.leave()
    for copy in left_behind():
        discard(copy)


@pytest.fixture
def keeping(window: Window) -> Keeping:
    return window.keeping


def left_by_a_killed_program(
    path: Path | None = None, project: Project = TIDES, known: Stamp | None = None, when_s: float | None = None
) -> Path:
    """A copy as a killed program leaves it: its lock is free, its folder is there."""
    keeper = Keeper()
    keeper.keep(project, Pictures(), path, known)
    assert keeper._lock is not None
    keeper._lock.close()
    if when_s is not None:
        os.utime(keeper._own / "project.json", (when_s, when_s))
    return keeper._own


def offered(qtbot: QtBot, window: Window) -> str:
    window.keeping.offer_left_behind()
    qtbot.waitUntil(lambda: window.banner.tone == "question" and not window.banner.isHidden())
    return window.banner.sentence.text()


def words_of(window: Window) -> list[str]:
    return [made.text() for made in window.banner._buttons]


def press(window: Window, words: str) -> None:
    next(made for made in window.banner._buttons if made.text() == words).click()


def test_work_left_behind_is_offered_with_time_name_and_picture(qtbot: QtBot, window: Window) -> None:
    left_by_a_killed_program(when_s=time.mktime((2026, 3, 9, 17, 5, 0, 0, 0, -1)))
    words = offered(qtbot, window)
    assert "“Tide tables”, never saved to a file" in words
    assert "on 9 March at 17:05? One piece is laid in it." in words
    picture = window.banner.picture
    assert picture.isVisible()
    assert picture.pixmap().deviceIndependentSize().toSize().width() == 168
    drawn = picture.pixmap().toImage()
    assert len({drawn.pixel(x, drawn.height() // 2) for x in range(drawn.width())}) > 5, "there is a cloth in it"


def test_work_left_behind_is_opened_and_kept_anew(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session
) -> None:
    own = left_by_a_killed_program()
    offered(qtbot, window)
    press(window, "Open it")
    assert session.project == TIDES
    assert session.unsaved
    assert not own.exists()
    assert len(list(recovery_folder().iterdir())) == 1, "it is unsaved still, so its copy is kept"


def test_work_left_behind_can_wait_or_go(qtbot: QtBot, window: Window) -> None:
    left_by_a_killed_program()
    offered(qtbot, window)
    press(window, "Later")
    assert len(left_behind()) == 1
    offered(qtbot, window)
    assert words_of(window) == ["Open it", "Later", "Throw it away …"], "the one that destroys is last"
    press(window, "Throw it away …")
    assert len(left_behind()) == 1, "nothing is gone before it was asked once more"
    assert words_of(window)[-1] == "Keep it", "a second click at the same place keeps the work"
    press(window, "Keep it")
    press(window, "Throw it away …")
    press(window, "Throw it away")
    assert left_behind() == ()
    assert window.banner.isHidden()


def test_several_copies_are_offered_one_after_the_other(
    qtbot: QtBot, window: Window, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    for age, name in enumerate(("newest", "middle", "oldest")):
        left_by_a_killed_program(project=replace(TIDES, name=name), when_s=1_700_000_000 - age)
    assert "“newest”" in offered(qtbot, window)
    assert window.banner.sentence.text().endswith("(1 of 3)")
    press(window, "Later")
    assert "“middle”" in window.banner.sentence.text()
    press(window, "Open it")
    assert session.project.name == "middle"
    assert "“oldest”" in window.banner.sentence.text(), "the others are offered even so"
    assert window.banner.sentence.text().endswith("(3 of 3)")
    monkeypatch.setattr(keeping_module, "ask_unsaved", lambda parent, name: "stay")
    press(window, "Open it")
    assert session.project.name == "middle", "what was just opened is unsaved, and stays when told"
    assert len(left_behind()) == 2


def test_opening_a_copy_asks_about_unsaved_work_once(
    qtbot: QtBot, window: Window, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def answer(parent: object, name: str) -> Decision:
        asked.append(name)
        return "drop"

    monkeypatch.setattr(keeping_module, "ask_unsaved", answer)
    left_by_a_killed_program()
    session.do(add_cloth(Cloth("", "Mine", 100.0, 100.0)))
    offered(qtbot, window)
    press(window, "Open it")
    assert asked == ["Untitled"]
    assert session.project == TIDES


def test_the_offer_waits_while_other_things_are_said(qtbot: QtBot, window: Window, session: Session) -> None:
    left_by_a_killed_program()
    offered(qtbot, window)
    window.say("Front cover may lie no other way", False)
    assert window.banner.picture.isHidden()
    session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))
    assert window.banner.tone == "question"
    assert "Tide tables" in window.banner.sentence.text()
    assert window.banner.picture.isVisible(), "the picture comes back with its question"
    press(window, "Later")
    assert window.banner.isHidden()
    window.say("another remark", False)
    window.banner.clear()
    assert window.banner.isHidden(), "what was answered does not come back"


def test_opening_a_file_offers_its_own_copy_and_says_how_it_differs(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "tides.coverlayout"
    save(path, TIDES, Pictures())
    moved = replace(TIDES, layouts=(Layout("layout-1", "Layout 1", (Placed("own-1", "cloth-1", 61.0, 90.0),)),))
    left_by_a_killed_program(path, moved)
    left_by_a_killed_program(tmp_path / "another.coverlayout")
    keeping.open_path(path)
    qtbot.waitUntil(lambda: window.banner.tone == "question")
    words = window.banner.sentence.text()
    assert "“Tide tables” (tides.coverlayout)" in words
    assert words.endswith("One piece lies elsewhere than in the saved file.")
    press(window, "Open it")
    assert (session.project, session.path) == (moved, path)
    assert len(left_behind()) == 1, "the other file's copy is still there"


def test_a_damaged_copy_is_one_sentence_and_stays_until_told(qtbot: QtBot, window: Window, session: Session) -> None:
    own = left_by_a_killed_program()
    (own / "project.json").write_text("{")
    before = session.project
    assert "damaged and cannot be opened" in offered(qtbot, window)
    assert window.banner.picture.isHidden()
    press(window, "Keep it")
    assert own.exists()
    offered(qtbot, window)
    press(window, "Remove it …")
    assert own.exists(), "asked once more"
    press(window, "Throw it away")
    assert left_behind() == ()
    assert session.project is before


def test_a_copy_that_is_spoiled_while_it_is_offered_is_said(qtbot: QtBot, window: Window, session: Session) -> None:
    own = left_by_a_killed_program()
    before = session.project
    offered(qtbot, window)
    (own / "project.json").write_text("{")
    press(window, "Open it")
    assert window.banner.tone == "trouble"
    assert "damaged" in window.banner.sentence.text()
    assert session.project is before
    assert own.exists()


def test_work_without_any_cloth_is_offered_with_the_bare_table(qtbot: QtBot, window: Window) -> None:
    left_by_a_killed_program(project=Project(name="Only a name"))
    assert "It holds nothing laid yet." in offered(qtbot, window)
    assert window.banner.picture.isVisible()


def test_recovered_work_does_not_go_over_what_another_program_wrote_since(
    qtbot: QtBot, keeping: Keeping, window: Window, session: Session, tmp_path: Path
) -> None:
    path = tmp_path / "tides.coverlayout"
    save(path, TIDES, Pictures())
    left_by_a_killed_program(path, replace(TIDES, name="mine"), Stamp.of(path))
    save(path, replace(TIDES, name="theirs"), Pictures())
    offered(qtbot, window)
    press(window, "Open it")
    assert session.project.name == "mine"
    assert not keeping.save()
    assert "changed by another program" in window.banner.sentence.text()
    assert load(path).project.name == "theirs"


def test_work_whose_file_is_gone_is_told_by_what_it_holds(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    left_by_a_killed_program(tmp_path / "gone.coverlayout")
    assert offered(qtbot, window).endswith("One piece is laid in it.")


def test_a_copy_that_is_spoiled_between_finding_and_drawing_is_damaged(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = left_by_a_killed_program()

    def found_and_spoiled(path: Path | None = None) -> tuple[LeftBehind, ...]:
        copies = left_behind(path=path)
        (own / "project.json").write_text("{")
        return copies

    monkeypatch.setattr("coverlayout.ui.files.recovering.left_behind", found_and_spoiled)
    assert "damaged and cannot be opened" in offered(qtbot, window)
