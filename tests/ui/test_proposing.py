"""Layouts are proposed before they are laid: drawn unlike what lies, walked through, taken in one step or left."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.rest import StillHad
from coverlayout.document.edits.job import change_preferences, change_rules, rename_project
from coverlayout.document.edits.placements import accept, pin, place
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.ladder import Ladder
from coverlayout.layout.question import AnotherAsked, Placed
from coverlayout.ui.look import Look
from coverlayout.ui.port import Heard
from coverlayout.ui.proposing.saying import proposal_said, search_said
from coverlayout.ui.proposing.walk import Proposed, Walk, same_layout
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle

MM = LengthStyle()
# Covers of 130 x 170 and a pocket of 60 x 90 on a cloth of 900 x 500.
START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 900.0, 500.0),),
    books=(Book("book-1", "Ledger", board_mm=(100.0, 140.0), liners="none", cover_turns="half"),),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, turns="quarter"),),
    next_number=9,
)
IDS = ("front-1", "back-1", "pocket-1")


def layout(left_mm: float, ids: tuple[str, ...] = IDS) -> tuple[Placed, ...]:
    """The pieces in a row, 200 mm from middle to middle."""
    return tuple(Placed(each, "cloth-1", left_mm + 200.0 * at, 150.0) for at, each in enumerate(ids))


def answer(left_mm: float, ids: tuple[str, ...] = IDS, *, room_mm: float = 9.0, **fields: object) -> Answer:
    made = Answer("fits", True, Remark.of("lay-fits", clearance_mm=room_mm), placed=layout(left_mm, ids))
    return replace(made, clearance_mm=room_mm, spare_mm=room_mm, **fields)  # type: ignore[arg-type]  # fields by name


def no_answer() -> Answer:
    return Answer("not found", False, Remark("lay-not-found"))


@pytest.fixture
def window(qtbot: QtBot, opened: Callable[[Project], Window], look: Look) -> Iterator[Window]:
    window = opened(START)
    window.resize(1300, 800)
    qtbot.waitUntil(window.isActiveWindow)
    window.asking.begin()
    yield window
    look.choose("light")


@pytest.fixture
def proposed(window: Window, port) -> Window:
    """The best layout and two that were found on the way to it."""
    window.menus.do("lay-out")
    port.tell("found", answer(100.0, room_mm=3.0))
    port.tell("found", answer(110.0, room_mm=6.0))
    port.tell("done", answer(120.0))
    return window


def lies(window: Window) -> tuple[Placed, ...]:
    return window.session.project.layout.placements


def left_seen(window: Window) -> float:
    """Where the front cover is painted."""
    lying = window.canvas.shown.seen.find("front-1")
    assert lying is not None
    return lying.placed.x_mm


# The walk


def test_the_best_comes_first_then_what_was_found_on_the_way_from_the_newest_back() -> None:
    best, found = answer(120.0), [answer(100.0), answer(110.0), answer(120.005)]
    walk = Walk.along(best, found)
    assert [each.placed[0].x_mm for each in walk.layouts] == [120.0, 110.0, 100.0]
    assert [each.origin for each in walk.layouts] == ["best", "on the way", "on the way"]
    assert walk.stepped(1).stepped(1).stepped(1) == walk
    assert walk.stepped(-1).at == 2


def test_a_different_one_comes_last_and_one_seen_already_is_shown_again() -> None:
    walk = Walk.along(answer(120.0), [answer(100.0)])
    more = walk.with_another(answer(300.0))
    assert (more.at, more.count, more.shown.origin) == (2, 3, "different")
    assert walk.with_another(answer(100.0)) == replace(walk, at=1)
    assert more.seen == (layout(120.0), layout(100.0), layout(300.0))


def test_layouts_are_the_same_when_no_ruler_tells_them_apart() -> None:
    first = layout(100.0)
    assert same_layout(first, tuple(reversed(first)))
    assert same_layout(first, (replace(first[0], turn_deg=360.0), *first[1:]))
    assert not same_layout(first, (replace(first[0], turn_deg=90.0), *first[1:]))
    assert not same_layout(first, (replace(first[0], cloth="cloth-2"), *first[1:]))
    assert not same_layout(first, first[:2])


# What is said


def test_of_the_best_the_reason_is_said_and_of_others_their_room() -> None:
    turned = Remark.of("lay-quarter-turn-print", pieces="front-1, pocket-1")
    walk = Walk.along(answer(120.0, notes=(turned,)), [answer(100.0, room_mm=4.74)])
    best = proposal_said(walk, 6.0, {}, MM)
    assert (best.word, best.symbol) == ("Fits", "tick")
    assert (
        best.sentence == "Everything fits; at the tightest place 9.0 mm are free; 2 turned a quarter, across the grain."
    )
    other = proposal_said(walk.stepped(1), 6.0, {}, MM, "No layout unlike these was found.")
    assert (other.word, other.symbol) == ("Fits, tight", "half ring")
    assert other.sentence == "No layout unlike these was found. 4.5 mm at the tightest place."


def test_a_wish_that_is_missed_is_said() -> None:
    lock = Remark.of("wish-unmet-lock", pieces="front-1", here_mm=7.0, miss_mm=3.0)
    link = Remark.of("wish-unmet-link", pieces="front-1, back-1", here_mm=9.0, miss_mm=9.0)
    fits = "Everything fits; at the tightest place 9.0 mm are free."

    def told(*notes: Remark) -> str:
        walk = Walk.along(answer(120.0, notes=notes))
        return proposal_said(walk, 6.0, {"front-1": "Front cover", "back-1": "Back cover"}, MM).sentence

    one = told(lock)
    assert one.startswith(f"{fits} Front cover: the wish for its place on the print could not be met")
    assert "7.0 mm off" in one
    assert told(lock, link) == f"{one} 1 more wish is missed."
    assert told(lock, link, link) == f"{one} 2 more wishes are missed."


def test_a_layout_without_room_to_tell_is_told_all_the_same() -> None:
    bare = replace(answer(120.0), clearance_mm=None)
    walk = Walk((Proposed(bare, "different"),))
    assert proposal_said(walk, 6.0, {}, MM).sentence == "Everything has its place."
    apart = proposal_said(walk, 6.0, {}, MM, apart="sides").sentence
    assert apart == "Everything has its place; on different prints: sides."


def test_a_search_tells_its_share_and_the_best_so_far() -> None:
    assert search_said(None, 0.337, MM, another=False).sentence.endswith("34 % done.")
    best = search_said(Walk.along(answer(1.0, room_mm=4.26)), 2.0, MM, another=False)
    assert best.sentence == "Best so far: 4.0 mm at the tightest place. 100 % done."
    assert "unlike these" in search_said(None, 0.0, MM, another=True).sentence


# In the window


def test_a_proposal_is_drawn_and_the_project_stays_as_it_is(proposed: Window) -> None:
    before = proposed.session.project
    shown = proposed.canvas.shown
    assert proposed.proposal_strip.isVisible()
    assert proposed.proposal_strip.title.text() == "Fits: proposal 1 of 3"
    assert left_seen(proposed) == 120.0
    assert all(shown.looks[each].proposed for each in IDS)
    assert all(lying.placed.cloth == WAITING for lying in proposed.canvas.bench.lying), "nothing lies there yet"
    assert proposed.session.project is before
    assert lies(proposed) == ()


def test_what_is_proposed_looks_unlike_what_lies(proposed: Window) -> None:
    drawn = proposed.canvas.grab().toImage()
    proposed.menus.do("take-proposal")
    QApplication.processEvents()
    proposed.canvas.work.cover(proposed.canvas.work.covered_px)
    assert proposed.canvas.grab().toImage() != drawn
    assert not any(look.proposed for look in proposed.canvas.shown.looks.values())


def test_next_and_previous_walk_along(proposed: Window) -> None:
    strip = proposed.proposal_strip
    strip.next.click()
    assert (left_seen(proposed), strip.title.text()) == (110.0, "Fits: proposal 2 of 3")
    proposed.menus.do("next-proposal")
    assert left_seen(proposed) == 100.0
    assert strip.title.text() == "Fits, tight: proposal 3 of 3"
    proposed.menus.do("next-proposal")
    assert left_seen(proposed) == 120.0, "after the last comes the first"
    strip.before.click()
    assert left_seen(proposed) == 100.0


def test_taking_is_one_step_that_undo_takes_back(proposed: Window) -> None:
    proposed.proposal_strip.next.click()
    proposed.proposal_strip.take.click()
    assert {placed.piece: placed.x_mm for placed in lies(proposed)} == {
        "front-1": 110.0,
        "back-1": 310.0,
        "pocket-1": 510.0,
    }
    assert not proposed.proposal_strip.isVisible()
    assert proposed.proposing.walk is None
    assert proposed.banner.isHidden()
    proposed.session.undo()
    assert proposed.session.project == START


def test_after_taking_every_piece_moves_freely(proposed: Window) -> None:
    proposed.menus.do("take-proposal")
    proposed.canvas.choose(("front-1",))
    proposed.canvas.keys.nudge((1.0, 0.0), 5.0)
    assert proposed.session.project.layout.place_of("front-1") == Placed("front-1", "cloth-1", 125.0, 150.0)


def test_the_keys_walk_take_and_leave(qtbot: QtBot, proposed: Window) -> None:
    strip = proposed.proposal_strip
    qtbot.waitUntil(strip.take.hasFocus)
    qtbot.keyClick(strip.take, Qt.Key.Key_Right)
    assert left_seen(proposed) == 110.0
    qtbot.keyClick(strip.take, Qt.Key.Key_Left)
    qtbot.keyClick(strip.take, Qt.Key.Key_N, Qt.KeyboardModifier.ShiftModifier)
    assert left_seen(proposed) == 100.0
    qtbot.keyClick(strip.take, Qt.Key.Key_Escape)
    assert proposed.proposing.walk is None
    assert lies(proposed) == ()
    qtbot.waitUntil(proposed.canvas.hasFocus)
    proposed.menus.do("lay-out")
    qtbot.waitUntil(strip.take.hasFocus)
    qtbot.keyClick(strip.take, Qt.Key.Key_Return)
    assert len(lies(proposed)) == 3


def test_on_the_cloth_escape_leaves_the_proposal_before_what_is_chosen(qtbot: QtBot, proposed: Window) -> None:
    proposed.canvas.choose(("front-1",))
    proposed.menus.do("let-go")
    assert proposed.proposing.walk is None
    assert proposed.canvas.chosen == ("front-1",)
    proposed.menus.do("let-go")
    assert proposed.canvas.chosen == ()


def test_a_different_one_is_asked_with_all_that_were_seen(proposed: Window, port) -> None:
    strip = proposed.proposal_strip
    proposed.menus.do("different-proposal")
    kind, asked = port.asked[-1][1:]
    assert kind == "another"
    assert isinstance(asked, AnotherAsked)
    assert asked.seen == (layout(120.0), layout(110.0), layout(100.0))
    assert {piece.id for piece in asked.question.pieces} == set(IDS)
    assert strip.leave.text() == "Cancel"
    port.tell("progress", share=0.5)
    assert "50 %" in strip.words.text()
    port.tell("done", answer(400.0))
    assert left_seen(proposed) == 400.0
    assert strip.title.text() == "Fits: proposal 4 of 4"
    assert port.asked[-1][1] == "ladder", "the job's own questions go on"


def test_none_that_is_different_is_said_and_the_proposal_stays(proposed: Window, port) -> None:
    proposed.menus.do("different-proposal")
    port.tell("done", no_answer())
    assert proposed.proposal_strip.words.text().startswith("No layout unlike these was found.")
    assert left_seen(proposed) == 120.0
    proposed.menus.do("different-proposal")
    port.tell("done", answer(110.0))
    assert left_seen(proposed) == 110.0, "one seen already is shown again"
    assert proposed.proposing.note


def test_the_search_for_a_different_one_can_be_given_up(proposed: Window, port) -> None:
    proposed.menus.do("different-proposal")
    cancelled = port.cancelled
    proposed.proposing.escape()
    assert port.cancelled == cancelled + 1
    assert left_seen(proposed) == 120.0, "the proposal stays"
    proposed.menus.do("different-proposal")
    port.tell("trouble", trouble=Remark("search-crashed"))
    assert proposed.proposing.search == ""
    assert proposed.banner.tone == "trouble"


def test_the_best_so_far_is_shown_and_can_be_kept(qtbot: QtBot, window: Window, port) -> None:
    window.menus.do("lay-out")
    strip = window.proposal_strip
    assert (strip.title.text(), strip.stop.isEnabled()) == ("Laying out", False)
    assert not strip.take.isVisible()
    port.tell("found", answer(100.0, room_mm=3.0))
    window.proposing._show_so_far()
    assert left_seen(window) == 100.0
    assert "Best so far: 3.0 mm" in strip.words.text()
    window.proposing.take()
    assert lies(window) == (), "a search is not taken"
    port.tell("found", answer(110.0, room_mm=4.0))
    strip.stop.click()
    assert window.proposing.search == ""
    assert port.cancelled == 1
    assert (left_seen(window), strip.title.text()) == (110.0, "Fits, tight: proposal 1 of 2")
    strip.take.click()
    assert len(lies(window)) == 3


def test_a_search_is_gone_at_once_by_escape_or_its_button(window: Window, port) -> None:
    window.menus.do("lay-out")
    port.tell("found", answer(100.0))
    number = port.asked[-1][0]
    window.proposal_strip.leave.click()
    assert port.cancelled == 1
    assert not window.proposal_strip.isVisible()
    port.heard.emit(Heard(number, "lay", "done", 1.0, answer(120.0)))
    assert window.proposing.walk is None
    assert left_seen(window) != 100.0


def test_after_a_search_was_given_up_the_cuts_are_looked_at_and_then_the_job(window: Window, port) -> None:
    window.menus.do("lay-out")
    window.proposing.escape()
    assert port.asked[-1][1] == "ladder"
    assert window.bar.least.figure == "…"
    port.tell("done", Ladder((), None, None))
    assert port.asked[-1][1] == "lay"
    assert window.bar.least.figure == "no cut"
    window.menus.do("lay-out")
    window.proposing.escape()
    window.menus.do("lay-out")
    assert port.asked[-1][1] == "lay", "asked for again, the lay comes first"
    port.tell("done", answer(120.0))
    assert left_seen(window) == 120.0


def test_a_search_that_fails_leaves_nothing_behind(window: Window, port) -> None:
    window.menus.do("lay-out")
    port.tell("trouble", trouble=Remark("search-crashed"))
    assert not window.proposing.under_way
    assert not window.proposal_strip.isVisible()


@pytest.mark.parametrize("how", ["edit", "move", "open"])
def test_another_job_or_table_ends_the_proposal_plainly(proposed: Window, how: str) -> None:
    session = proposed.session
    if how == "edit":
        session.do(change_rules(gap_mm=2.0))
    elif how == "move":
        session.do(place((Placed("front-1", "cloth-1", 700.0, 300.0),)))
    else:
        session.replace_all(replace(START, own_pieces=()), session.pictures, None)
    assert proposed.proposing.walk is None
    assert not proposed.proposal_strip.isVisible()
    assert proposed.canvas.shown.proposal is None
    assert proposed.banner.sentence.text() == Remark("proposal-outdated").text()


def test_another_unit_name_or_side_keeps_it(proposed: Window) -> None:
    session = proposed.session
    session.do(change_preferences(length_style=LengthStyle("in")))
    session.do(rename_project("Ledgers"))
    proposed.turn_over()
    assert proposed.proposing.walk is not None
    assert left_seen(proposed) == 120.0
    assert "in are free" in proposed.proposal_strip.words.text()


def test_a_hand_that_would_move_a_proposed_piece_puts_the_proposal_away(qtbot: QtBot, proposed: Window) -> None:
    canvas, before = proposed.canvas, proposed.session.project
    at = QPoint(*map(int, canvas.view.to_screen.at((120.0, 150.0))))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=at)
    assert proposed.proposing.walk is not None, "a press alone does nothing"
    qtbot.mouseMove(canvas, at + QPoint(20, 10))
    assert proposed.proposing.walk is None
    assert "nothing was moved" in proposed.banner.sentence.text()
    qtbot.mouseMove(canvas, at + QPoint(40, 10))
    assert canvas.gesture is None
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=at + QPoint(40, 10))
    assert proposed.session.project is before


def test_bare_cloth_is_still_dragged_to_look_elsewhere(qtbot: QtBot, proposed: Window) -> None:
    canvas = proposed.canvas
    view, at = canvas.view, QPoint(*map(int, canvas.view.to_screen.at((800.0, 450.0))))
    qtbot.mousePress(canvas, Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseMove(canvas, at + QPoint(30, 20))
    qtbot.waitUntil(lambda: canvas.view != view)
    qtbot.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=at + QPoint(30, 20))
    assert proposed.proposing.walk is not None


def test_keys_that_move_pieces_put_it_away_too(proposed: Window) -> None:
    proposed.canvas.choose(("front-1",))
    proposed.canvas.keys.lay_on()
    assert proposed.proposing.walk is None
    assert lies(proposed) == ()


def test_a_task_on_the_canvas_puts_it_away(proposed: Window) -> None:
    proposed.menus.do("measure")
    assert proposed.proposing.walk is None
    proposed.canvas.work.leave()


def test_what_is_pinned_stays_and_is_drawn_as_it_lies(qtbot: QtBot, window: Window, port) -> None:
    pinned = Placed("front-1", "cloth-1", 700.0, 300.0)
    window.session.do(place((pinned,)))
    window.session.do(pin(("front-1",)))
    window.menus.do("lay-out")
    port.tell("done", answer(100.0, ("back-1", "pocket-1")))
    looks = window.canvas.shown.looks
    assert (looks["front-1"].proposed, looks["back-1"].proposed) == (False, True)
    assert left_seen(window) == 700.0
    window.menus.do("take-proposal")
    assert window.session.project.layout.place_of("front-1") == pinned


def test_of_the_rest_what_was_found_is_proposed_and_what_was_not_is_told(window: Window, port) -> None:
    window.session.do(place((Placed("front-1", "cloth-1", 700.0, 300.0),)))
    window.menus.do("lay-rest")
    port.tell("found", answer(90.0, ("back-1", "pocket-1")))
    refused = Answer("does not fit", True, Remark("lay-no-way", (("pieces", "2"),)))
    part = answer(100.0, ("back-1",))
    port.tell("done", StillHad(part, refused, pieces=("back-1",), missing=("pocket-1",)))
    assert window.banner.sentence.text().startswith("It cannot all be done")
    assert window.proposing.walk == Walk.along(part)
    window.menus.do("different-proposal")
    assert [piece.id for piece in port.asked[-1][2].question.pieces] == ["back-1"]
    window.proposing.escape()
    window.proposal_strip.take.click()
    assert {placed.piece for placed in lies(window)} == {"front-1", "back-1"}


def test_when_nothing_of_the_rest_is_found_nothing_is_proposed(window: Window, port) -> None:
    window.menus.do("lay-rest")
    port.tell("done", StillHad(no_answer(), no_answer(), missing=IDS))
    assert not window.proposing.under_way
    assert window.banner.tone == "trouble"


def test_what_can_only_be_done_with_a_proposal_says_so(window: Window, port) -> None:
    for act in ("take-proposal", "next-proposal", "last-proposal", "different-proposal", "leave-proposal"):
        window.banner.clear()
        window.menus.do(act)
        assert window.banner.sentence.text() == Remark("act-no-proposal").text(), act
    window.menus.do("lay-out")
    port.tell("done", answer(120.0))
    window.menus.do("next-proposal")
    assert window.banner.sentence.text() == Remark("act-one-proposal").text()
    assert window.proposal_strip.title.text() == "Fits: a proposal"
    assert not window.proposal_strip.next.isEnabled()


def test_an_answer_from_elsewhere_can_be_proposed(window: Window) -> None:
    window.proposing.propose(answer(200.0), accept(layout(200.0)), "As many as can be had.")
    assert window.proposal_strip.words.text().startswith("As many as can be had. Everything fits")
    window.choose_look(2)
    assert window.proposal_strip.sign.theme.name == "dark"
    window.resize(1000, 700)
    QApplication.processEvents()
    assert window.proposal_strip.width() == window.canvas.width() - window.proposal_strip.x()
    window.proposing.leave()


def test_where_the_length_counts_the_length_is_said(qtbot: QtBot, window: Window, port) -> None:
    """Boards of 140 with turn-ins of 15 reach 85 below their middles at 150: 235 mm of the cloth's length."""
    window.session.do(change_rules(objective="least length"))
    window.menus.do("lay-out")
    port.tell("done", answer(120.0))
    assert "; takes 235.0 mm of the length." in window.proposal_strip.words.text()
    window.proposing.escape()
    assert window.proposing.length_mm is None


def test_where_a_search_was_stopped_a_late_press_starts_no_other(qtbot: QtBot, window: Window, port) -> None:
    strip = window.proposal_strip
    window.menus.do("lay-out")
    port.tell("done", answer(120.0))
    assert strip.different.isVisible()
    strip.different.click()
    assert window.proposing.search == ""
    qtbot.waitUntil(strip.different.isEnabled)
    strip.different.click()
    assert window.proposing.search == "another"
    port.tell("done", answer(130.0))
    assert strip.different.isEnabled(), "nothing else stood there before"


def test_the_strip_moves_no_piece_out_of_sight(proposed: Window) -> None:
    strip, canvas = proposed.proposal_strip, proposed.canvas
    top = canvas.view.box_px(canvas.bench.box).top_mm
    assert top >= strip.geometry().bottom() - canvas.y()
    proposed.proposing.leave()
    assert canvas.work.covered_px < strip.geometry().bottom()
