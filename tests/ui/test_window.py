"""The window as a whole: it follows the session, asks the port, lays out as one step, and says what it means."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QLibraryInfo, QMimeData, QPoint, QPointF, QRectF, Qt, QUrl, QVersionNumber
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage, QPainter
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QInputDialog,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth, Flaw
from coverlayout.cloth.cuts import ladder
from coverlayout.document.edits.books import add_book
from coverlayout.document.edits.cloths import add_cloth, add_flaw, change_cloth, lay_print
from coverlayout.document.edits.job import rename_project
from coverlayout.document.edits.placements import place
from coverlayout.document.edits.prints import add_print
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Session
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.ladder import Ladder, Rung
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Placed, Question
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.ui.dialogs.card import CardDialog
from coverlayout.ui.dialogs.line_key import LINES, LineKey
from coverlayout.ui.dialogs.reading import Reading
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.port import Heard
from coverlayout.ui.window import Window

Open = Callable[[], Window]


@pytest.fixture
def window(qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "settings"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1280, 800)
    window.show()
    qtbot.waitUntil(lambda: window._painted)
    window.asking.begin()
    yield window
    look.choose("light")


@pytest.fixture
def job(window: Window, session: Session) -> Session:
    """One small book on plenty of cloth."""
    session.do(add_cloth(Cloth("", "Cloth", 500.0, 400.0)))
    session.do(add_book(Book("", "Ledger", board_mm=(100.0, 140.0))))
    return session


def asked_for(qtbot: QtBot, port, kind: str) -> Question:
    qtbot.waitUntil(lambda: bool(port.asked) and port.asked[-1][1] == kind)
    return port.asked[-1][2]


def ladder_of(name: str) -> Ladder:
    answer = Answer("fits", True, Remark.of("searching"))
    return Ladder((Rung(name, 558.8, 457.2, None, "fits", True, 20.0, answer),), name, name)


def dialog(window: Window, kind: type[QDialog]) -> QDialog:
    (found,) = [each for each in window.findChildren(kind) if each.isVisible()]
    return found


def test_an_empty_window_says_what_comes_first(window: Window, port) -> None:
    assert window.bar.spoken.said.word == "Nothing to judge yet"
    assert window.steps.open_step == 0
    assert not window.lay_button.isEnabled()
    assert port.started
    assert port.asked == []
    assert window.header.state.text() == "new"


def test_a_job_is_asked_about_once_it_is_quiet(qtbot: QtBot, window: Window, job: Session, port) -> None:
    assert window.bar.spoken.said.word == "Searching"
    question = asked_for(qtbot, port, "lay")
    assert len(port.asked) == 1
    assert [piece.id for piece in question.pieces] == ["front-1", "back-1", "liner-front-1", "liner-back-1"]
    answer = lay(question)
    port.tell("done", answer)
    assert window.bar.spoken.said.word == "Fits"
    assert window.bar.room.note == "the most room there is"
    asked_for(qtbot, port, "ladder")
    port.tell("done", ladder_of("fat quarter, 44 in"))
    assert window.bar.least.figure == "fat quarter, 44 in"
    assert not window.asking.searching
    # Moving a piece is no other job: nothing is asked, and the answer stays.
    job.do(place((Placed("front-1", job.project.cloths[0].id, 100.0, 100.0),)))
    assert not window.asking.answer_old
    assert len(port.asked) == 2


def test_another_job_makes_the_answer_one_of_before(qtbot: QtBot, window: Window, job: Session, port) -> None:
    port_question = asked_for(qtbot, port, "lay")
    port.tell("done", lay(port_question))
    job.do(add_book(Book("", "Second", board_mm=(100.0, 140.0))))
    assert window.bar.room.note == "as of before"
    assert port.cancelled == 0, "the newest question takes the older one's place; the worker stays warm"
    qtbot.waitUntil(lambda: len(port.asked) == 3)
    assert len(port.asked[-1][2].pieces) == 8


def test_lay_out_is_one_step_that_undo_takes_back(qtbot: QtBot, window: Window, job: Session, port) -> None:
    window.lay_button.click()
    assert window.lay_button.text() == "Cancel"
    assert len(port.asked) == 1
    port.tell("progress", share=0.25)
    answer = lay(asked_for(qtbot, port, "lay"))
    port.tell("found", answer)
    assert job.project.layout.placements == ()
    port.tell("done", answer)
    assert window.lay_button.text() == "Lay out for me"
    assert job.project.layout.placements == (), "it is only proposed"
    window.proposal_strip.take.click()
    assert len(job.project.layout.placements) == 4
    assert window.bar.spoken.said.word == "Fits"
    window.menus.undo.trigger()
    assert job.project.layout.placements == ()
    window.lay_button.click()
    assert window.proposal_strip.isVisible(), "the answer is known: it is proposed at once"
    window.proposal_strip.take.click()
    assert len(job.project.layout.placements) == 4


def test_a_search_can_be_cancelled(qtbot: QtBot, window: Window, job: Session, port) -> None:
    window.lay_button.click()
    number = port.asked[-1][0]
    window.lay_button.click()
    assert (port.cancelled, window.lay_button.text()) == (1, "Lay out for me")
    port.heard.emit(Heard(number, "lay", "done", 1.0, lay(port.asked[number - 1][2])))
    assert window.asking.answer is None
    assert job.project.layout.placements == ()


def test_an_answer_without_places_is_told(qtbot: QtBot, window: Window, job: Session, port) -> None:
    window.lay_button.click()
    port.tell("done", Answer("does not fit", True, Remark.of("piece-waits", pieces=4)))
    assert window.banner.sentence.text().startswith("Nothing was laid")
    assert window.bar.spoken.said.word == "Does not fit"
    assert window.bar.spoken.said.sentence not in window.banner.sentence.text()
    next(made for made in window.banner._buttons if made.text() == "How do you know?").click()
    assert window.opened.isVisible()
    window.opened.shut()
    assert window.banner.isHidden()


def test_what_is_said_lies_over_the_canvas_and_moves_nothing(qtbot: QtBot, window: Window, job: Session) -> None:
    before, view = window.canvas.geometry(), window.canvas.view
    window.say("The program has something to say. " * 12, True)
    QApplication.processEvents()
    assert window.banner.isVisible()
    assert (window.canvas.geometry(), window.canvas.view) == (before, view)
    assert window.banner.width() == window.canvas.width() - window.banner.x()
    assert window.banner.height() < window.canvas.height() / 4
    assert window.banner.geometry().bottom() == window.canvas.geometry().bottom()
    window.resize(1100, 800)
    QApplication.processEvents()
    assert window.banner.width() == window.canvas.width() - window.banner.x()
    # A press on the words is no press on the cloth below them.
    qtbot.mousePress(window.banner, Qt.MouseButton.LeftButton)
    assert window.canvas.gesture is None


def test_while_a_piece_is_dragged_nothing_said_moves_the_view(qtbot: QtBot, window: Window, job: Session) -> None:
    cloth = job.project.cloths[0].id
    job.do(place((Placed("front-1", cloth, 100.0, 120.0),)))
    canvas = window.canvas
    at = canvas.view.to_screen.at((100.0, 120.0))
    window.say("something", True)
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(*map(int, at)))
    view = canvas.view
    window.say("something else", True)
    window.banner.clear()
    QApplication.processEvents()
    assert canvas.view == view
    assert canvas.view.to_screen.at((100.0, 120.0)) == at
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=QPoint(*map(int, at)))


def test_an_answer_to_the_job_before_never_lays_the_job_there_is(
    qtbot: QtBot, window: Window, job: Session, port
) -> None:
    window.lay_button.click()
    number, kind, question = port.asked[-1]
    answer = lay(question)
    job.do(add_book(Book("", "Second", board_mm=(100.0, 140.0))))
    port.heard.emit(Heard(number, kind, "done", 1.0, answer))
    assert job.project.layout.placements == ()
    assert window.asking.answer is None
    # The other way round: known and then of before, it is not laid either, and undoing asks again.
    job.undo()
    qtbot.waitUntil(lambda: len(port.asked) == 2)
    port.tell("done", answer)
    assert window.asking.answer == answer
    job.do(change_cloth(job.project.cloths[0].id, width_mm=400.0))
    window.lay_button.click()
    assert window.proposing.walk is None
    job.undo()
    assert window.asking.answer_old
    assert not window.asking.laying, "the wish to lay was for the job before"
    window.lay_button.click()
    assert window.proposing.walk is None
    assert job.project.layout.placements == ()


def test_closing_while_searching_ends_the_search(
    qtbot: QtBot, session: Session, port, look: Look, tmp_path: Path
) -> None:
    closing = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path))
    qtbot.addWidget(closing)
    closing.show()
    closing.asking.begin()
    session.do(add_cloth(Cloth("", "Cloth", 500.0, 400.0)))
    session.do(add_book(Book("", "Ledger", board_mm=(100.0, 140.0))))
    closing.lay_button.click()
    question = asked_for(qtbot, port, "lay")
    session.mark_saved(tmp_path / "saved")
    assert closing.close()
    assert port.cancelled == 1
    port.tell("done", lay(question))
    assert session.project.layout.placements == ()


def test_the_piece_in_hand_is_named_first(qtbot: QtBot, window: Window, job: Session) -> None:
    cloth = job.project.cloths[0].id
    job.do(place((Placed("front-1", cloth, 100.0, 120.0), Placed("back-1", cloth, 110.0, 120.0))))
    job.do(place((Placed("liner-front-1", cloth, 300.0, 120.0), Placed("liner-back-1", cloth, 310.0, 120.0))))
    job.do(place((Placed("liner-front-1", cloth, 301.0, 120.0),)))
    assert window.bar.spoken.said.sentence.startswith("Front liner lies")
    assert window.bar.spoken.said.sentence.endswith("2 more pieces lie wrong")
    canvas = window.canvas
    start = canvas.view.to_screen.at((120.0, 60.0))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(*map(int, start)))
    qtbot.mouseMove(canvas, QPoint(int(start[0]) + 2, int(start[1]) + 12))
    qtbot.waitUntil(lambda: window.bar.spoken.said.sentence.startswith("Back cover lies"))
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=QPoint(int(start[0]) + 2, int(start[1]) + 12))
    assert window.bar.spoken.said.sentence.startswith("Back cover lies")


def test_buttons_of_the_header_stay_where_they_are(window: Window, job: Session) -> None:
    def places() -> list[QPoint]:
        QApplication.processEvents()
        return [part.pos() for part in (window.header.back, window.header.zoom, window.header.undo)]

    before = places()
    job.do(rename_project("A project with a name far longer than there is room for at the top"))
    assert places() == before
    window.turn_over()
    assert places() == before
    job.mark_saved(Path("salt.coverlayout"))
    window.keeping.kept.emit()
    assert places() == before


def test_in_a_narrow_window_the_name_gives_way_before_a_menu(window: Window, job: Session) -> None:
    job.do(rename_project("A project with a name far longer than there is room for at the top"))
    shown = []
    for width_px in (1440, 960):
        window.resize(width_px, 600)
        QApplication.processEvents()
        assert window.menus.width() >= window.menus.sizeHint().width()
        assert window.lay_button.width() >= QPushButton.sizeHint(window.lay_button).width(), "its words are whole"
        assert window.header.state.geometry().right() < window.header.state.parentWidget().width()
        shown.append(window.header.name.text())
    assert all(words.endswith("…") for words in shown)
    assert len(shown[1]) < len(shown[0])


def test_trouble_of_the_search_is_one_sentence(qtbot: QtBot, window: Window, job: Session, port) -> None:
    asked_for(qtbot, port, "lay")
    port.tell("trouble", trouble=Remark("search-crashed"))
    assert window.banner.sentence.text().startswith("The search stopped by itself")
    assert window.banner.tone == "trouble"
    qtbot.keyClick(window.banner, Qt.Key.Key_Escape)
    assert window.banner.isHidden()


def test_the_bar_follows_a_drag_and_keeps_the_last_answer(qtbot: QtBot, window: Window, job: Session, port) -> None:
    cloth = job.project.cloths[0].id
    job.do(place((Placed("front-1", cloth, 100.0, 120.0), Placed("back-1", cloth, 300.0, 120.0))))
    port.tell("done", lay(asked_for(qtbot, port, "lay")))
    room = window.bar.room.figure
    canvas = window.canvas
    start = canvas.view.to_screen.at((300.0, 120.0))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=QPoint(*map(int, start)))
    said = set()
    for across in range(0, 160, 8):
        at = canvas.view.to_screen.at((300.0 - across, 120.0))
        qtbot.mouseMove(canvas, QPoint(*map(int, at)))
        qtbot.wait(5)
        said.add(window.bar.spoken.said.word)
    assert said == {"Incomplete", "Not valid"}
    assert window.bar.room.figure == room
    before = job.project
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=QPoint(*map(int, at)))
    assert job.project != before
    assert "not as they may lie" in window.panels.placement.summary(job.project)
    job.undo()
    assert job.project.layout.place_of("back-1") == Placed("back-1", cloth, 300.0, 120.0)


def test_a_piece_is_chosen_in_the_list_and_on_the_cloth(window: Window, job: Session) -> None:
    job.do(place((Placed("front-1", job.project.cloths[0].id, 100.0, 120.0),)))
    window.steps.open(3)
    window.panels.placement.pieces.item(0).setSelected(True)
    assert window.canvas.chosen == ("front-1",)
    window.canvas.choose(("back-1",))
    assert window.panels.placement.chosen_ids == ("back-1",)


def test_undo_and_redo_say_what_they_would_do(window: Window, job: Session) -> None:
    name = job.undo_name
    assert window.menus.undo.text() == f"Undo: {name}"
    assert f"Undo: {name}" in window.header.undo.toolTip()
    window.header.undo.click()
    assert window.menus.redo.isEnabled()
    window.header.redo.click()
    assert len(job.project.books) == 1
    assert not window.header.redo.isEnabled()
    assert len(window.menus.redo.shortcuts()) >= 1


def test_the_other_side_is_one_click(window: Window, job: Session) -> None:
    window.header.back.click()
    assert job.project.preferences.side == "back"
    assert window.header.back.isChecked()
    window.turn_over()
    assert job.project.preferences.side == "print"
    assert window.header.print_side.isChecked()


def test_units_are_chosen_in_the_menu(window: Window, job: Session) -> None:
    window.menus.action("unit-in-16").trigger()
    assert (job.project.preferences.length_style.unit, job.project.preferences.length_style.inch_parts) == ("in", 16)
    window.steps.open(2)
    window.panels.book.boards.open()
    assert window.panels.book.boards.turn_in.line._unit.text() == "in"
    window.steps.open(1)
    assert window.panels.cloth.size_entry.line.text() == "19.685 × 15.748"


def test_both_looks_are_complete(window: Window, job: Session, tmp_path: Path) -> None:
    light = window.grab().toImage()
    window.choose_look(2)
    assert Remembered(tmp_path / "settings").look == "dark"
    assert window.bar.theme.name == "dark"
    assert window.grab().toImage() != light
    window.choose_look(1)
    assert window.bar.theme.name == "light"


def test_how_it_is_known_is_told_in_plain_words(qtbot: QtBot, window: Window, job: Session, port) -> None:
    port.tell("done", lay(asked_for(qtbot, port, "lay")))
    window.menus.do("how-known")
    assert window.opened.known.head.isChecked()
    words = " ".join(window.opened.known_words)
    assert "rules that share nothing with the search" in words
    assert "the most room there is" in words
    assert "front-1" not in words
    window.menus.do("how-known")
    assert not window.opened.isVisible()
    window.asides.show_cautions()
    dialog(window, Reading).reject()


def test_a_cut_is_taken_from_the_ladder(qtbot: QtBot, window: Window, job: Session, port) -> None:
    job.do(add_flaw(job.project.cloths[0].id, Flaw("", "stain", ((10.0, 10.0), (30.0, 10.0), (30.0, 30.0)))))
    window.asides.show_ladder()
    shown = window.opened.ladder
    assert "still being looked at" in shown.head.text()
    window.opened.shut()
    port.tell("done", lay(asked_for(qtbot, port, "lay")))
    port.tell("done", ladder_of("fat quarter, 44 in"))
    window.bar._chips[0].click()
    assert window.opened.isVisible()
    assert shown.bars.chosen is not None
    assert shown.bars.item(0).text() == "fat quarter, 44 in, least, with room, 558.5 × 457.0 mm, fits, 20.0 mm"
    shown.take.click()
    assert job.project.cloths[0].cut_name == "fat quarter, 44 in"
    assert job.project.cloths[0].flaws == (), "the cut was judged without them, and they lie on the old cloth"
    assert "Undo brings them back" in window.banner.sentence.text()
    assert job.project.cloths[0].width_mm == next(c.width_mm for c in ladder() if c.name == "fat quarter, 44 in")


def test_several_cuts_are_taken_together_or_the_reason_is_given(
    qtbot: QtBot, window: Window, job: Session, port
) -> None:
    port.tell("done", lay(asked_for(qtbot, port, "lay")))
    port.tell("done", ladder_of("2 x half yard, 44 in"))
    window.asides.show_ladder()
    shown = window.opened.ladder
    assert not shown.take.isEnabled()
    assert "2 x half yard, 44 in means that many cuts" in shown.why_not.text()
    shown.bars.choose("")
    assert not shown.take.isEnabled()
    prints = [Print("", name, Lattice((64.0, 0.0), (0.0, 96.0))) for name in ("Wader", "Tide line")]
    for each in prints:
        job.do(add_print(each))
    first, second = (a_print.id for a_print in job.project.prints)
    job.do(lay_print(job.project.cloths[0].id, LaidPrint(first)))
    job.do(add_cloth(Cloth("", "Remnant", 760.0, 440.0, laid=LaidPrint(second))))
    before = job.project
    window.asides.show_ladder("2 x half yard, 44 in")
    assert shown.why_not.isHidden()
    shown.take.click()
    assert [cloth.cut_name for cloth in job.project.cloths] == ["half yard, 44 in"] * 2
    assert [cloth.laid.print_id for cloth in job.project.cloths if cloth.laid] == [first, second]
    assert {cloth.width_mm for cloth in job.project.cloths} == {44 * 25.4}
    job.undo()
    assert job.project == before, "one step"


def test_lines_on_the_cloth_have_a_key(window: Window) -> None:
    window.asides.show_lines()
    shown = dialog(window, LineKey)
    shown.grab()
    words = " ".join(text for _, text in LINES)
    for wanted in ("knife", "board", "turn-in", "liner", "mitre", "spine", "head", "flaw", "chosen"):
        assert wanted in words
    pictures = []
    for draw, _ in LINES:
        sample = QImage(96, 34, QImage.Format.Format_Grayscale8)
        sample.fill(Qt.GlobalColor.white)
        with QPainter(sample) as painter:
            draw(painter, QRectF(0, 0, 96, 34))
        pictures.append(sample)
    assert all(pictures[a] != pictures[b] for a in range(len(pictures)) for b in range(a)), "told apart without colour"
    shown.reject()


def test_true_size_is_matched_with_a_card(window: Window, job: Session, tmp_path: Path) -> None:
    window.asides.ask_for_card()
    card = dialog(window, CardDialog)
    assert isinstance(card, CardDialog)
    card.slider.setValue(127 * 4)
    assert card.px_per_mm == pytest.approx(5.0)
    card.card.grab()
    card._match()
    window.canvas.sight.true_size()
    assert window.canvas.view.px_per_mm == pytest.approx(5.0)
    assert window.header.zoom.text() == "100 %"
    assert Remembered(tmp_path / "settings").px_per_mm(window.screen()) == pytest.approx(5.0)


def test_the_project_is_renamed(window: Window, job: Session, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("Six ledgers", True))
    window.asides.ask_for_name()
    assert window.header.name.text() == "Six ledgers"
    assert window.windowTitle() == "Six ledgers (not saved) – Coverlayout"
    monkeypatch.setattr(QInputDialog, "getText", lambda *words: ("  ", True))
    window.asides.ask_for_name()
    assert window.banner.tone == "trouble"
    assert job.project.name == "Six ledgers"


def _drag_enter(data: QMimeData, buttons: Qt.MouseButton, keys: Qt.KeyboardModifier) -> QDragEnterEvent:
    """A picture carried in: from Qt 6.12 on events count in floats, and whole pixels are on their way out."""
    place = QPoint(600, 400) if QLibraryInfo.version() < QVersionNumber(6, 12) else QPointF(600, 400)
    return QDragEnterEvent(place, Qt.DropAction.CopyAction, data, buttons, keys)


def drop(window: Window, path: Path) -> bool:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = _drag_enter(data, buttons, keys)
    enter.ignore()
    QApplication.sendEvent(window, enter)
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(QPointF(600, 400), Qt.DropAction.CopyAction, data, buttons, keys))
    return enter.isAccepted()


def test_a_picture_dropped_on_the_window_opens(qtbot: QtBot, window: Window, job: Session, tmp_path: Path) -> None:
    Image.new("RGB", (40, 60), (90, 120, 60)).save(tmp_path / "moss.png")
    assert drop(window, tmp_path / "moss.png")
    qtbot.waitUntil(lambda: len(job.project.prints) == 1)
    assert job.project.prints[0].name == "moss"
    assert window.steps.open_step == 0
    assert drop(window, tmp_path / "letter.txt")
    assert "letter.txt is neither a picture nor a project" in window.banner.sentence.text()
    assert len(job.project.prints) == 1


def test_dragging_the_print_is_switched_on_for_the_cloth(window: Window, job: Session, tmp_path: Path) -> None:
    Image.new("RGB", (40, 60), (90, 120, 60)).save(tmp_path / "moss.png")
    window.open_path(tmp_path / "moss.png")
    window.panels.prints.place.drag.click()
    assert window.canvas.cursor().shape() == Qt.CursorShape.SizeAllCursor


def test_every_action_has_words_and_the_keys_are_told_apart(window: Window) -> None:
    keys = [key.toString() for action in window.actions() for key in action.shortcuts()]
    assert len(keys) == len(set(keys))
    assert all(action.text() for action in window.actions())
    for wanted in ("Ctrl+S", "Ctrl+O", "Ctrl+N", "Ctrl+Z", "Ctrl+0", "Ctrl+B", "Alt+1", "Alt+5"):
        assert wanted in keys


def test_nothing_is_cut_off_in_a_small_window(window: Window, job: Session) -> None:
    window.resize(1280, 800)
    for step in range(5):
        window.steps.open(step)
        QApplication.processEvents()
        inside = window.steps.widget()
        assert inside.width() <= window.steps.viewport().width()
        assert inside.minimumSizeHint().width() <= window.steps.viewport().width()
    assert window.minimumSizeHint().width() <= 1280
    assert window.minimumSizeHint().height() <= 800


def test_every_control_has_a_name_for_those_who_hear_the_screen(window: Window, job: Session) -> None:
    kinds = (QLineEdit, QComboBox, QAbstractButton, QPlainTextEdit, QAbstractItemView)
    for step in range(5):
        window.steps.open(step)
        for control in window.findChildren(QWidget):
            if isinstance(control, kinds) and control.isVisible() and control.focusPolicy() != Qt.FocusPolicy.NoFocus:
                words = control.accessibleName() or (control.text() if isinstance(control, QAbstractButton) else "")
                assert words, f"{control} in step {step + 1} has no name"


def test_tab_goes_through_a_step_from_top_to_bottom(qtbot: QtBot, window: Window, job: Session) -> None:
    window.steps.open(2)
    book = window.panels.book
    window.activateWindow()
    book.sized_by.box.setFocus()
    met = []
    book.boards.open()
    for _ in range(10):
        met.append(QApplication.focusWidget())
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    boards = book.boards
    assert met[:4] == [book.sized_by.box, book.size_entry.line, book.copies.line, book.thickness.line]
    assert met[4:7] == [book.drawing.tabs, book.drawing.larger, boards.head]
    assert met[7:] == [boards.thickness.line, boards.figures["square_mm"].line, boards.turn_in.line]


def test_undo_in_a_field_takes_back_the_step_once_nothing_is_being_typed(
    qtbot: QtBot, window: Window, job: Session
) -> None:
    window.steps.open(2)
    window.activateWindow()
    window.panels.book.boards.open()
    line = window.panels.book.boards.turn_in.line
    line.setFocus()
    qtbot.waitUntil(line.hasFocus)
    line.selectAll()
    qtbot.keyClicks(line, "18")
    qtbot.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert len(job.project.books) == 1, "while typing, undo is the field's own"
    line.selectAll()
    qtbot.keyClicks(line, "18")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert job.project.books[0].turn_ins.head_mm == 18.0
    qtbot.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert job.project.books[0].turn_ins.head_mm == 15.0
    assert line.text() == "15"


@pytest.mark.parametrize(("step", "title"), [(2, "Width × length"), (3, "Width × height")])
def test_a_step_asked_for_by_key_has_the_keys_in_its_size(qtbot: QtBot, window: Window, step: int, title: str) -> None:
    window.session.do(add_cloth(Cloth("", "Cloth", 300.0, 200.0)))
    window.session.do(add_book(Book("", "Ledger", page_mm=(114.3, 152.4))))
    window.menus.do(f"step-{step}")
    assert window.steps.open_step == step - 1
    line = window.panels.cloth.size_entry.line if step == 2 else window.panels.book.size_entry.line
    qtbot.waitUntil(line.hasFocus)
    assert line.selectedText() == line.text() != ""
    assert line.accessibleName() == title


def test_a_step_without_a_field_awake_gives_its_topmost_control_the_keys(qtbot: QtBot, window: Window) -> None:
    window.menus.do("step-4")
    assert window.steps.open_step == 3
    qtbot.waitUntil(lambda: window.focusWidget() is window.panels.placement.pieces)


def test_a_checked_button_with_the_keys_has_an_edge_that_is_seen(qtbot: QtBot, window: Window) -> None:
    """The edge of a pressed-in button in the accent is the button's own colour."""
    side = window.header.findChildren(QPushButton)
    checked = next(each for each in side if each.isChecked())
    window.canvas.setFocus()
    qtbot.waitUntil(window.canvas.hasFocus)
    plain = checked.grab().toImage()
    checked.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.waitUntil(checked.hasFocus)
    assert checked.grab().toImage() != plain


def test_a_new_project_begins_with_empty_fields(window: Window, hands) -> None:
    window.open_step(2)
    hands.choose(window.panels.book.structure, "Round-back case")
    window.keeping.new()
    window.open_step(2)
    assert window.panels.book.structure.value == "separate-boards"
    assert window.panels.book.waits.isHidden()
