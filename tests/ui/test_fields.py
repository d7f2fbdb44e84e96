"""Typed fields: any unit, one sentence when it is wrong, nothing given that was not touched."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QStyleOptionComboBox
from pytestqt.qtbot import QtBot

from coverlayout.errors import BadInput
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.fields.figures import (
    exact_length,
    exact_number,
    points_text,
    read_count,
    read_length,
    read_points,
)
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.fields.rows import Fold, RowList, button, tick
from coverlayout.ui.fields.steps import Steps
from coverlayout.ui.look import Look
from coverlayout.units import LengthStyle

MM = LengthStyle()
SIXTEENTHS = LengthStyle("in", inch_parts=16)


@pytest.mark.parametrize(
    ("length_mm", "style", "text"),
    [
        (114.3, MM, "114.3"),
        (15.0, MM, "15"),
        (0.0, MM, "0"),
        (-0.0, MM, "0"),
        (1234.5678, MM, "1234.568"),
        (114.3, SIXTEENTHS, "4 1/2"),
        (12.7, SIXTEENTHS, "1/2"),
        (25.4, SIXTEENTHS, "1"),
        (-12.7, SIXTEENTHS, "-1/2"),
        (-38.1, SIXTEENTHS, "-1 1/2"),
        (100.0, SIXTEENTHS, "3.937"),
        (114.3, LengthStyle("in"), "4.5"),
    ],
)
def test_a_field_shows_the_exact_length(length_mm: float, style: LengthStyle, text: str) -> None:
    assert exact_length(length_mm, style) == text


@pytest.mark.parametrize("length_mm", [114.3, 15.0, 6.35, 100.0, 0.79375])
@pytest.mark.parametrize("style", [MM, SIXTEENTHS, LengthStyle("in"), LengthStyle("in", inch_parts=32)])
def test_what_a_field_shows_reads_back_the_same(length_mm: float, style: LengthStyle) -> None:
    read = read_length("field", "15mm", lambda: style)
    assert read(exact_length(length_mm, style)) == pytest.approx(length_mm, abs=0.002)


def test_points_are_shown_and_read_line_by_line() -> None:
    points = ((25.4, 50.8), (76.2, 114.3))
    inches = LengthStyle("in")
    assert points_text(points, inches) == "1,2\n3,4.5"
    assert read_points("Outline", lambda: inches)("1,2\n3,4.5\n") == points
    assert read_points("Outline", lambda: inches)("  \n") is None


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "1000", "two", "", "٣"])
def test_a_count_is_a_whole_number_in_its_range(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        read_count("Books")(text)
    assert fault.value.code == "count-out-of-range"


def test_exact_numbers_have_no_tail() -> None:
    assert [exact_number(number) for number in (2.5, 100.0, -3.0, 1e-9)] == ["2.5", "100", "-3", "0"]


def length_entry(qtbot: QtBot, give: Callable[[float], None], style: LengthStyle = MM) -> Entry:
    entry = Entry(
        "Turn-in",
        read_length("Turn-in", "15mm", lambda: style, "0"),
        lambda value: exact_length(value, style),
        give,
        tip="How much folds over.",
        unit=style.unit,
    )
    qtbot.addWidget(entry)
    entry.show_value(15.0)
    entry.show()
    qtbot.waitExposed(entry)
    return entry


def typed(qtbot: QtBot, entry: Entry, text: str) -> None:
    entry.line.setFocus()
    entry.line.selectAll()
    qtbot.keyClicks(entry.line, text)
    qtbot.keyClick(entry.line, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("text", "length_mm"), [("4 1/2 in", 114.3), ("11.43cm", 114.3), ('4.5"', 114.3), ("20", 20.0)]
)
def test_a_length_is_taken_in_any_unit(qtbot: QtBot, text: str, length_mm: float) -> None:
    given: list[float] = []
    entry = length_entry(qtbot, given.append)
    typed(qtbot, entry, text)
    assert given == [length_mm]
    assert not entry.trouble.isVisible()


def test_a_bare_number_is_in_the_unit_of_the_field(qtbot: QtBot) -> None:
    given: list[float] = []
    entry = length_entry(qtbot, given.append, LengthStyle("in"))
    typed(qtbot, entry, "2")
    assert given == [50.8]


def test_a_wrong_length_says_one_sentence_and_gives_nothing(qtbot: QtBot) -> None:
    given: list[float] = []
    entry = length_entry(qtbot, given.append)
    typed(qtbot, entry, "-1mm")
    assert given == []
    assert entry.trouble.text() == "Turn-in -1mm: the length must be 0 or more, like 15mm"
    assert entry.trouble.isVisible()
    assert entry.line.text() == "-1mm"
    assert entry.line.property("state") == "no"
    # Another edit of the project comes by: what is being typed stays, with its sentence.
    entry.show_value(15.0)
    assert entry.line.text() == "-1mm"
    typed(qtbot, entry, "16")
    assert given == [16.0]
    assert not entry.trouble.isVisible()


def test_a_refusal_of_the_project_is_said_under_the_field(qtbot: QtBot) -> None:
    def refuse(value: float) -> None:
        raise BadInput("turn-in-short", book="Ledger", turn_in_mm=value, thickness_mm=2.0)

    entry = length_entry(qtbot, refuse)
    typed(qtbot, entry, "1")
    assert "does not reach round a board" in entry.trouble.text()
    assert entry.line.text() == "1"


def test_escape_gives_the_typing_up(qtbot: QtBot) -> None:
    given: list[float] = []
    entry = length_entry(qtbot, given.append)
    entry.line.selectAll()
    qtbot.keyClicks(entry.line, "junk")
    qtbot.keyClick(entry.line, Qt.Key.Key_Escape)
    assert entry.line.text() == "15"
    qtbot.keyClick(entry.line, Qt.Key.Key_Return)
    assert given == []


def test_walking_through_a_field_changes_nothing(qtbot: QtBot) -> None:
    given: list[float] = []
    entry = length_entry(qtbot, given.append)
    entry.show_value(33.3333333)
    qtbot.keyClick(entry.line, Qt.Key.Key_Return)
    typed(qtbot, entry, "33.333")
    assert given == []


def test_a_field_is_named_for_those_who_hear_the_screen(qtbot: QtBot) -> None:
    entry = length_entry(qtbot, lambda value: None)
    assert entry.line.accessibleName() == "Turn-in"
    assert entry.line.accessibleDescription() == "How much folds over."
    typed(qtbot, entry, "x")
    assert entry.line.accessibleDescription() == entry.trouble.text()


def test_a_choice_gives_the_chosen_value_and_shows_another(qtbot: QtBot) -> None:
    given: list[Any] = []
    choice = Choice("Liners", (("cloth", "of cloth"), ("none", "none")), given.append, tip="")
    qtbot.addWidget(choice)
    choice.show_value("none")
    assert (choice.value, choice.box.currentText()) == ("none", "none")
    assert given == []
    choice.box.setCurrentIndex(0)
    choice.box.activated.emit(0)
    assert given == ["cloth"]
    choice.show_value("unheard of")
    assert choice.value is None


def test_a_long_figure_is_read_from_its_beginning(qtbot: QtBot) -> None:
    entry = length_entry(qtbot, lambda value: None)
    entry.show_value(1234.567)
    assert entry.line.cursorPosition() == 0
    entry.line.setFocus()
    qtbot.waitUntil(entry.line.hasFocus)
    entry.line.setCursorPosition(4)
    entry.line.clearFocus()
    assert entry.line.cursorPosition() == 0


def test_words_without_room_end_in_dots_and_stay_whole(qtbot: QtBot) -> None:
    choice = Choice("Cut", (("a", "fat eighth, 42 in"),), lambda value: None, tip="")
    qtbot.addWidget(choice)
    choice.show_value("a")
    told = []
    for width_px in (400, 90):
        choice.box.resize(width_px, 30)
        option = QStyleOptionComboBox()
        choice.box.initStyleOption(option)
        told.append(option.currentText)
    assert told[0] == choice.box.currentText() == "fat eighth, 42 in"
    assert told[1].endswith("…")


def test_an_open_list_is_as_wide_as_its_longest_row(qtbot: QtBot) -> None:
    longest = "a cut with a name that is far longer than its box"
    many = tuple((at, f"cut {at}") for at in range(30))
    choice = Choice("Cut", ((-1, longest), *many), lambda value: None, tip="")
    qtbot.addWidget(choice)
    choice.box.fit_list()
    view = choice.box.view()
    assert view.minimumWidth() > view.fontMetrics().horizontalAdvance(longest) > choice.box.sizeHint().width()


def test_points_are_given_when_the_field_is_left(qtbot: QtBot) -> None:
    given: list[Any] = []
    entry = PointsEntry(
        "Corners", read_points("Corners", lambda: MM), lambda points: points_text(points, MM), given.append, tip=""
    )
    qtbot.addWidget(entry)
    entry.show_value(((0.0, 0.0), (10.0, 0.0), (10.0, 5.0)))
    entry.finish()
    assert given == []
    entry.text.setPlainText("0,0\n20,0\n20,5")
    entry.finish()
    assert given == [((0.0, 0.0), (20.0, 0.0), (20.0, 5.0))]
    entry.text.setPlainText("0,0\n20")
    entry.finish()
    assert len(given) == 1
    assert "points are x,y pairs" in entry.trouble.text()


class NameRow(Entry):
    def __init__(self, key: int) -> None:
        super().__init__(f"Name {key}", str.strip, str, lambda value: None, tip="")


def test_rows_come_and_go_with_what_they_show(qtbot: QtBot) -> None:
    added: list[int] = []
    rows = RowList(NameRow, "Add", lambda: added.append(1), tip="")
    qtbot.addWidget(rows)
    rows.show_values({})
    assert not rows.none.isHidden()
    rows.show_values({1: "stain", 2: "crease"})
    first = rows.row(1)
    assert (rows.row(2).line.text(), rows.none.isHidden()) == ("crease", True)
    rows.show_values({1: "spot"})
    assert rows.row(1) is first
    assert first.line.text() == "spot"
    with pytest.raises(KeyError):
        rows.row(2)
    rows.add_button.click()
    assert added == [1]


def test_a_fold_opens_on_its_line_and_sums_itself_up(qtbot: QtBot) -> None:
    fold = Fold("Flaws", tip="Stains and creases.")
    qtbot.addWidget(fold)
    fold.set_note("2")
    assert (fold.inside.isHidden(), "Flaws: 2" in fold.head.text()) == (True, True)
    fold.head.click()
    assert not fold.inside.isHidden()


def test_buttons_and_ticks_hear_the_hand_only(qtbot: QtBot) -> None:
    heard: list[Any] = []
    made, box = button("Go", lambda: heard.append("go"), tip="Goes."), tick("on", heard.append, tip="")
    qtbot.addWidget(made)
    qtbot.addWidget(box)
    made.click()
    box.setChecked(True)
    assert heard == ["go"]
    box.click()
    assert heard == ["go", False]


def test_one_step_is_open_at_a_time(qtbot: QtBot) -> None:
    steps = Steps()
    qtbot.addWidget(steps)
    bodies = [Fold(name, tip="") for name in ("one", "two", "three")]
    for body in bodies:
        steps.add(body.head.accessibleName(), body, tip="")
    assert steps.open_step == -1
    steps.open(1)
    assert [body.isHidden() for body in bodies] == [True, False, True]
    steps.heads[2].click()
    assert (steps.open_step, bodies[1].isHidden()) == (2, True)
    steps.heads[2].click()
    assert steps.open_step == -1
    qtbot.keyClick(steps.heads[0], Qt.Key.Key_Return)
    assert steps.open_step == 0
    steps.heads[0].set_summary("Quince, half-drop")
    assert steps.heads[0].accessibleDescription() == "Quince, half-drop"


def test_points_are_shown_to_a_hundredth_and_those_left_alone_stay_exact(qtbot: QtBot) -> None:
    given: list[Any] = []
    entry = PointsEntry(
        "Corners", read_points("Corners", lambda: MM), lambda points: points_text(points, MM), given.append, tip=""
    )
    qtbot.addWidget(entry)
    exact = ((404.90028490028493, 369.1737891737892), (359.4301994301994, 378.37606837606836), (0.0, 365.0))
    entry.show_value(exact)
    assert entry.text.toPlainText() == "404.9,369.17\n359.43,378.38\n0,365"
    entry.finish()
    assert given == []
    entry.text.setPlainText("404.9,369.17\n359.43,378.38\n0,366.5")
    entry.finish()
    assert given == [(exact[0], exact[1], (0.0, 366.5))]
    # One taken out, one put in between: the others are still the points they were.
    entry.text.setPlainText("404.9,369.17\n380,375\n359.43,378.38")
    entry.finish()
    assert given[1] == (exact[0], (380.0, 375.0), exact[1])


def test_two_points_that_read_alike_stay_two(qtbot: QtBot) -> None:
    given: list[Any] = []
    entry = PointsEntry(
        "Corners", read_points("Corners", lambda: MM), lambda points: points_text(points, MM), given.append, tip=""
    )
    qtbot.addWidget(entry)
    near = ((10.001, 5.0), (10.004, 5.0), (20.0, 30.0))
    entry.show_value(near)
    entry.text.setPlainText("10,5\n10,5\n20,31")
    entry.finish()
    assert given == [(near[0], near[1], (20.0, 31.0))]


# Without a screen nothing can be raised or grab the keys, and Qt says so.
@pytest.mark.qt_log_ignore("This plugin does not support")
def test_the_list_of_a_choice_opens_with_every_row_whole(qtbot: QtBot, look: Look) -> None:
    words = ("one way up", "two ways up", "any way up")
    choice = Choice("Which way is up", tuple((each, each) for each in words), lambda value: None, tip="")
    qtbot.addWidget(choice)
    choice.resize(200, 60)
    with qtbot.waitExposed(choice):
        choice.show()
    choice.box.showPopup()
    view = choice.box.view()
    rows = [view.visualRect(view.model().index(at, 0)) for at in range(len(words))]
    assert all(view.viewport().rect().contains(row) for row in rows)
    assert view.window().geometry().top() >= choice.box.mapToGlobal(choice.box.rect().bottomLeft()).y()
    choice.box.hidePopup()


def test_scrolling_past_a_choice_leaves_it_and_the_keys_alone(qtbot: QtBot) -> None:
    given: list[object] = []
    choice = Choice("Way", (("a", "one"), ("b", "two")), given.append, tip="t")
    choice.show_value("a")
    qtbot.addWidget(choice)
    choice.show()
    qtbot.waitExposed(choice)
    middle = QPointF(choice.box.rect().center())
    turned = QWheelEvent(
        middle,
        choice.box.mapToGlobal(middle),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(choice.box, turned)
    assert (choice.value, given) == ("a", [])
    assert not choice.box.focusPolicy() & Qt.FocusPolicy.WheelFocus & ~Qt.FocusPolicy.StrongFocus
