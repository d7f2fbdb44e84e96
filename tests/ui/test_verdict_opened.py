"""The verdict bar opened: cuts as bars with prices, the reason, what would make it fit, and the questions."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import ladder
from coverlayout.document.changing.change import FittingChange
from coverlayout.document.edits.books import change_book
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.edits.job import change_preferences, change_rules
from coverlayout.document.edits.placements import place
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.document.sizing.count import BooksCounted
from coverlayout.document.sizing.largest import LargestBoard
from coverlayout.document.sizing.length import BoltLength, LeastLength
from coverlayout.document.sizing.scale import ScalesTried, ScaleTried
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Proof, Verdict
from coverlayout.layout.buying.bundles import Bundle
from coverlayout.layout.ladder import Ladder, Rung
from coverlayout.layout.question import Placed
from coverlayout.ui.dialogs.ladder import paint_bar
from coverlayout.ui.look import Look
from coverlayout.ui.proposing.questions import Asked, _scale
from coverlayout.ui.theme import LIGHT
from coverlayout.ui.verdict import asking
from coverlayout.ui.verdict.chips import State, Symbol
from coverlayout.ui.verdict.rungs import CutBar, bars_of
from coverlayout.ui.window import Window
from coverlayout.units import LengthStyle

MM = LengthStyle()
QUARTER, HALF, YARD = "fat quarter, 44 in", "half yard, 44 in", "yard, 44 in"
SIZES = {QUARTER: (558.8, 457.2), HALF: (1117.6, 457.2), YARD: (1117.6, 914.4)}
# Two covers of 130 x 170 on a cloth of 500 x 400.
START = Project(
    cloths=(Cloth("cloth-1", "Cloth", 500.0, 400.0),),
    books=(Book("book-1", "Ledger", board_mm=(100.0, 140.0), liners="none", cover_turns="half"),),
    next_number=9,
)
LAID = (Placed("front-1", "cloth-1", 100.0, 120.0), Placed("back-1", "cloth-1", 300.0, 120.0))
FITS = Answer("fits", True, Remark.of("lay-fits", clearance_mm=9.0), placed=LAID, clearance_mm=9.0, spare_mm=9.0)
ROW = Remark.of("lay-no-way", pieces="2")
NO = Answer("does not fit", True, ROW, Proof("exhaustive", (("pieces", 2.0),)))


def rung(name: str, verdict: Verdict, spare_mm: float | None = None, price: float | None = None) -> Rung:
    return Rung(name, *SIZES[name], price, verdict, True, spare_mm, replace(NO, verdict=verdict, spare_mm=spare_mm))


def bundle(*cuts: str, price: float | None = None) -> Bundle:
    area_mm2 = sum(SIZES[cut][0] * SIZES[cut][1] for cut in cuts)
    return Bundle(cuts, price, area_mm2, "fits", True, question_for(START), FITS)


def cuts(*, prices: tuple[float | None, ...] = (None, None, None), cheapest: Bundle | None = None) -> Ladder:
    verdicts: tuple[tuple[str, Verdict, float | None], ...] = (
        (QUARTER, "does not fit", None),
        (HALF, "fits, tight", 2.26),
        (YARD, "fits", 31.0),
    )
    rungs = tuple(rung(*each, price) for each, price in zip(verdicts, prices, strict=True))
    return Ladder(rungs, HALF, YARD, cheapest)


@pytest.fixture
def window(
    qtbot: QtBot, opened: Callable[[Project], Window], look: Look, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Window]:
    # That a job is asked about only once it is quiet is tested with the window; here nobody need wait for it.
    monkeypatch.setattr(asking, "_QUIET_MS", 10)
    window = opened(START)
    window.resize(1280, 800)
    qtbot.waitUntil(window.isActiveWindow)
    window.asking.begin()
    yield window
    look.choose("light")


def answered(qtbot: QtBot, window: Window, port, answer: Answer, known: Ladder | None = None) -> None:
    """The job's answer and the cuts."""
    qtbot.waitUntil(lambda: bool(port.asked) and port.asked[-1][1] == "lay")
    port.tell("done", answer)
    port.tell("done", known or cuts())


# Before there is a cloth


def test_of_a_book_without_cloth_the_cuts_are_shown(qtbot: QtBot, window: Window, port) -> None:
    window.session.replace_all(replace(START, cloths=()), {}, None)
    qtbot.waitUntil(lambda: bool(port.asked) and port.asked[-1][1] == "ladder")
    assert [cut.name for cut in port.asked[-1][2]] == [cut.name for cut in ladder()]
    assert window.bar.least.figure == "…"
    port.tell("done", cuts())
    assert (window.bar.least.figure, window.asking.searching, window.asking.question) == (HALF, False, None)
    assert "Only the cloth is missing" in window.bar.spoken.said.sentence
    window.opened.toggle()
    assert [bar.name for bar in window.opened.ladder.bars.bars] == [QUARTER, HALF, YARD]
    assert port.asked[-1][1] == "ladder", "there is nothing to lay"
    asked = len(port.asked)
    window.session.do(change_book("book-1", board_mm=(110.0, 140.0)))
    qtbot.waitUntil(lambda: len(port.asked) > asked)
    assert port.asked[-1][1] == "ladder", "another book, other cuts"
    window.session.do(add_cloth(Cloth("", "Cloth", 500.0, 400.0)))
    qtbot.waitUntil(lambda: port.asked[-1][1] == "lay")


def test_where_wishes_quarrel_no_cut_is_offered(qtbot: QtBot, window: Window, port) -> None:
    proof = Proof("fits nowhere", (("piece", "front-1"), ("apart_mm", 8.0), ("wish", "two locks")))
    no = replace(NO, reason=Remark.of("lay-no-two-locks", piece="front-1", apart_mm=8.0), proof=proof)
    rungs = tuple(replace(rung(name, "does not fit"), answer=no) for name in SIZES)
    answered(qtbot, window, port, no, Ladder(rungs, None, None))
    assert (window.bar.least.figure, window.bar.least.note) == ("no cut", "while these wishes stand")
    window.opened.toggle()
    ladder_part = window.opened.ladder
    assert ladder_part.head.text().startswith("No cloth helps while all these wishes must hold")
    assert ladder_part.bars.bars == ()
    larger = tuple(rung(name, "does not fit") for name in SIZES)
    ladder_part.show_ladder(Ladder(larger, None, None), MM, "", old=False)
    assert len(ladder_part.bars.bars) == 3, "a no by size is another thing"


# Bars


def test_bars_are_as_long_as_areas_and_the_least_two_are_marked() -> None:
    quarter, half, yard = bars_of(cuts(), MM)
    assert (quarter.share, half.share, yard.share) == (pytest.approx(0.25), pytest.approx(0.5), pytest.approx(1.0))
    assert (quarter.mark, half.mark, yard.mark) == ("", "least", "least with room")
    assert (half.room, half.word, half.symbol) == ("2.0 mm", "fits, tight", "half ring")
    assert half.told == "half yard, 44 in, least, 1117.5 × 457.0 mm, fits, tight, 2.0 mm"


def test_with_all_prices_known_the_bars_are_prices() -> None:
    quarter, half, yard = bars_of(cuts(prices=(5.0, 8.0, 10.0)), MM, "francs")
    assert [bar.share for bar in (quarter, half, yard)] == [0.5, 0.8, 1.0]
    assert yard.price == "10.00 francs"
    missing = bars_of(cuts(prices=(5.0, None, 10.0)), MM)
    assert missing[0].share == pytest.approx(0.25), "areas, as long as one price is missing"
    assert (missing[0].price, missing[1].price) == ("5.00", "")


def test_the_cheapest_cuts_together_come_first() -> None:
    first, *others = bars_of(cuts(prices=(3.0, 8.0, 10.0), cheapest=bundle(QUARTER, QUARTER, price=6.0)), MM)
    assert len(others) == 3
    assert (first.name, first.cuts, first.mark) == (f"2 × {QUARTER}", (QUARTER, QUARTER), "cheapest together")
    assert (first.share, first.price, first.room) == (0.6, "6.00", "9.0 mm")
    area, *_ = bars_of(cuts(cheapest=bundle(QUARTER, HALF)), MM)
    assert (area.name, area.mark) == (f"{QUARTER} + {HALF}", "least cloth together")
    assert len(bars_of(cuts(cheapest=bundle(HALF)), MM)) == 3, "one cut alone stands among the cuts"


def test_a_cut_far_larger_than_needed_is_broken() -> None:
    roomy = Ladder((rung(QUARTER, "fits", 20.0, 1.0), rung(YARD, "fits", 90.0, 40.0)), QUARTER, QUARTER)
    small, large = bars_of(roomy, MM)
    assert (small.share, small.beyond, small.mark) == (0.2, False, "least, with room")
    assert (large.share, large.beyond) == (1.0, True)
    assert bars_of(Ladder((), None, None), MM) == ()


@pytest.mark.parametrize("beyond", [False, True])
def test_each_verdict_has_a_bar_of_its_own_shape(beyond: bool) -> None:
    """Told apart in grey as well: full, half, hollow, dotted."""
    states: tuple[tuple[State, Symbol], ...] = (
        ("fits", "tick"),
        ("tight", "half ring"),
        ("no", "cross"),
        ("muted", "dots"),
    )
    seen = set()
    for state, symbol in states:
        image = QImage(80, 20, QImage.Format.Format_Grayscale8)
        image.fill(255)
        painter = QPainter(image)
        paint_bar(painter, CutBar("a", ("a",), 0.8, "", "", state, symbol, beyond=beyond), QRectF(4, 4, 70, 12), LIGHT)
        painter.end()
        dark = sum(image.pixelColor(x, y).lightness() < 170 for x in range(80) for y in range(20))
        seen.add(dark)
    assert len(seen) == 4


# The opened bar


def test_a_click_on_the_verdict_opens_the_bar_and_another_shuts_it(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    qtbot.mouseClick(window.bar.spoken, Qt.MouseButton.LeftButton)
    opened = window.opened
    assert opened.isVisible()
    assert opened.geometry().bottom() + 1 == window.bar.y(), "the bar stays in sight"
    assert opened.ladder.bars.count() == 3
    assert opened.ladder.bars.chosen is not None
    assert opened.ladder.bars.chosen.name == HALF, "the least is marked"
    assert not opened.changes_head.isVisible()
    window.resize(1100, 700)
    QApplication.processEvents()
    assert (opened.width(), opened.geometry().bottom() + 1) == (1100, window.bar.y())
    qtbot.mouseClick(window.bar.spoken, Qt.MouseButton.LeftButton)
    assert not opened.isVisible()


def test_escape_shuts_it_and_the_cloth_has_the_keys(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("all-cuts")
    qtbot.waitUntil(window.opened.ladder.bars.hasFocus)
    qtbot.keyClick(window.opened.ladder.bars, Qt.Key.Key_Escape)
    assert not window.opened.isVisible()
    qtbot.waitUntil(window.canvas.hasFocus)
    window.menus.do("all-cuts")
    qtbot.keyClick(window, Qt.Key.Key_Escape)
    assert not window.opened.isVisible()


def test_a_proposal_shuts_it_so_that_the_cloth_is_seen(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("all-cuts")
    window.menus.do("lay-out")
    assert window.proposal_strip.isVisible()
    assert not window.opened.isVisible()
    qtbot.waitUntil(window.proposal_strip.take.hasFocus)


def test_how_it_is_known_unfolds_and_folds(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, NO)
    window.menus.do("how-known")
    assert window.opened.known.head.isChecked()
    assert any("none fits" in line for line in window.opened.known_words)
    window.menus.do("how-known")
    assert not window.opened.isVisible()


def test_a_cut_is_taken_by_its_button_or_by_return(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("all-cuts")
    part = window.opened.ladder
    part.bars.choose(YARD)
    part.bars.itemActivated.emit(part.bars.currentItem())
    assert window.session.project.cloths[0].cut_name == YARD
    window.session.undo()
    assert window.session.project == START


def test_cuts_bought_together_come_as_cloths_of_one_step(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS, cuts(cheapest=bundle(QUARTER, QUARTER)))
    window.menus.do("all-cuts")
    part = window.opened.ladder
    part.bars.choose(f"2 × {QUARTER}")
    assert not part.price.isEnabled(), "they have no price of their own"
    part.take.click()
    names = [cloth.cut_name for cloth in window.session.project.cloths]
    assert names == [QUARTER, QUARTER]
    assert len({cloth.name for cloth in window.session.project.cloths}) == 2
    part.bars.choose(f"2 × {QUARTER}")
    assert not part.take.isEnabled()
    assert "here are several" in part.why_not.text()
    window.session.undo()
    assert window.session.project == START


def test_a_price_is_typed_and_the_cuts_are_asked_anew(qtbot: QtBot, window: Window, port, hands) -> None:
    answered(qtbot, window, port, FITS)
    window.session.do(change_preferences(currency="francs"))
    window.menus.do("all-cuts")
    part = window.opened.ladder
    hands.type(part.price, "7,50")
    assert [(price.cut_name, price.amount) for price in window.session.project.prices] == [(HALF, 7.5)]
    qtbot.waitUntil(lambda: port.asked[-1][1] == "ladder")
    assert "how it was before" in part.head.text()
    port.tell("done", cuts(prices=(None, 7.5, None)))
    assert part.price.line.text() == "7.50"
    assert part.bars.chosen is not None
    assert part.bars.chosen.price == "7.50 francs"
    hands.type(part.price, "cheap")
    assert (
        part.price.trouble.text() == "“cheap” is no price; type a number such as 12.50, or nothing when it is not known"
    )
    hands.type(part.price, "-3")
    assert "is no price" in part.price.trouble.text()
    hands.type(part.price, "")
    assert window.session.project.prices == ()


def test_of_a_no_the_changes_are_asked_and_one_is_tried_in_one_step(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, NO)
    assert port.asked[-1][1:] == ("changes", window.session.project), "asked last, when all else is known"
    window.menus.do("how-known")
    opened = window.opened
    assert opened.changes_head.text() == Remark("opened-changes-wait").text()
    after = change_rules(gap_mm=0.5).change(START)
    said = Remark.of("change-gap", gap_exact_mm=0.5, spare_mm=9.0)
    change = FittingChange("gap", said, 0.5, after, FITS)
    port.tell("found", (change,))
    port.tell("done", (change,))
    assert opened.changes_head.text() == Remark("changes-head").text()
    (row,) = opened.changes
    assert row.words.text().startswith("Make the gap between pieces 0.5 mm")
    row.button.click()
    assert window.session.project.rules.gap_mm == 0.5
    assert len(window.session.project.layout.placements) == 2
    assert opened.changes == [], "they were those of the job before"
    window.session.undo()
    assert window.session.project == START


def test_a_no_is_said_before_what_the_bar_says_of_the_places(qtbot: QtBot, window: Window, port) -> None:
    window.session.do(place((Placed("front-1", "cloth-1", 10.0, 120.0),)))
    answered(qtbot, window, port, NO)
    window.menus.do("all-cuts")
    assert window.opened.reason.text().startswith("Not valid. All ways in which the 2 pieces")
    window.session.do(place((Placed("front-1", "cloth-1", 100.0, 120.0), Placed("back-1", "cloth-1", 300.0, 120.0))))
    first, second = window.opened.reason.text().split("\n")
    assert first.startswith(f"{Remark('opened-no').text()} All ways in which the 2 pieces")
    assert second.startswith("Fits. ")


def test_a_change_that_comes_too_late_is_refused_in_a_sentence(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, NO)
    window.menus.do("how-known")
    change = FittingChange("gap", Remark.of("change-gap", gap_exact_mm=0.5, spare_mm=9.0), 0.5, START, FITS)
    port.tell("done", (change,))
    (row,) = window.opened.changes
    window.asking.fitting_for = change_rules(gap_mm=3.0).change(START)
    row.button.click()
    assert window.session.project == START
    assert window.banner.sentence.text().startswith(Remark("change-outdated").text())


def test_no_change_at_all_is_said(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, NO)
    port.tell("done", ())
    window.menus.do("how-known")
    assert window.opened.changes_head.text() == Remark("changes-none").text()
    assert not window.asking.searching


def test_a_job_that_fits_asks_for_no_changes(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    assert port.asked[-1][1] == "ladder"
    assert not window.asking.searching


def test_in_a_narrow_window_sizes_give_way_to_the_bars(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("all-cuts")
    columns = []
    for width in (1500, 960):
        window.resize(width, 700)
        QApplication.processEvents()
        window.opened.grab()
        columns.append(window.opened.ladder.bars.itemDelegate().columns)
    wide, narrow = columns
    assert wide.size_px > 0
    assert narrow.size_px == 0
    assert min(wide.bar_px, narrow.bar_px) > 40


def test_it_is_dressed_with_the_window(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("all-cuts")
    light = window.opened.grab().toImage()
    window.choose_look(2)
    QApplication.processEvents()
    assert window.opened.grab().toImage() != light
    window.opened.shut()


# Questions


def made_of(window: Window, books: int) -> tuple[Project, Answer]:
    """So many books on the cloth, and where they lie."""
    first = START.books[0]
    volumes = tuple(replace(first.volumes[0], number=number) for number in range(1, books + 1))
    project = replace(START, books=(replace(first, volumes=volumes),), next_volume_number=books + 1)
    placed = tuple(
        Placed(piece.id, "cloth-1", 70.0 + 140.0 * (at % 3), 90.0 + 180.0 * (at // 3))
        for at, piece in enumerate(planned_pieces(project))
    )
    return project, replace(FITS, placed=placed)


def told_count(window: Window) -> object:
    project, answer = made_of(window, 2)
    return BooksCounted(2, "books", True, project, answer, refused=NO)


def told_largest(window: Window) -> object:
    project = replace(START, books=(replace(START.books[0], board_mm=(110.0, 154.0)),))
    return LargestBoard((110.0, 154.0), False, 111.0, project, FITS)


def told_length(window: Window) -> object:
    project = replace(START, cloths=(replace(START.cloths[0], length_mm=210.0),))
    return LeastLength((BoltLength("", 500.0, 210.0, False, 205.0, project, FITS),))


def told_scale(window: Window) -> object:
    tried = tuple(ScaleTried(percent, "fits", 9.0, 1, FITS) for percent in (94.0, 100.0, 88.5))
    return ScalesTried(tried, 94.0, 1, cut_short=True)


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (1, "The best scale: 50 %. At no other scale everything fits."),
        (2, "Everything fits at 2 scales: 50, 51 %."),
        (12, "Everything fits at 12 scales: 50, 51, 52, 53, 54, 55, 56, 57, 58, 59, 60, 61 %."),
        (14, "Everything fits at 14 scales: 50, 51, 52, 53, 54, 55, 56, 57, 58, 59, 60, 61 and 2 more."),
    ],
)
def test_scales_are_told_one_by_one(count: int, words: str) -> None:
    tried = [ScaleTried(50.0 + each, "fits", 9.0, 1, FITS) for each in range(count)]
    missed = ScaleTried(90.0, "does not fit", None, 0, NO)
    assert words in _scale(ScalesTried((*reversed(tried), missed), 50.0, 1), START).words


QUESTIONS: tuple[tuple[Asked, Callable[[Window], object], tuple[str, ...]], ...] = (
    ("count", told_count, ("2 books fit.", "No more can be had")),
    ("largest", told_largest, ("110 mm x 154 mm", "a width of 111.0 mm")),
    ("length", told_length, ("that we know, 500.0 mm wide: 210.0 mm", "Less than 205.0 mm")),
    ("scale", told_scale, ("The best scale: 94 %", "Everything fits at 3 scales: 88.5, 94, 100 %.")),
)


@pytest.mark.parametrize(("kind", "found", "words"), QUESTIONS, ids=[each[0] for each in QUESTIONS])
def test_a_question_is_answered_in_sentences(
    qtbot: QtBot,
    window: Window,
    port,
    kind: Asked,
    found: Callable[[Window], object],
    words: tuple[str, ...],
) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do(f"ask-{kind}")
    assert window.opened.isVisible()
    assert port.asked[-1][1:] == (kind, START)
    row = window.opened.asks.rows[kind]
    assert row.words.text() == "Looking …"
    row.ask.setFocus()
    row.ask.click()
    assert port.asked[-1][1:] == (kind, START)
    assert len([each for each in port.asked if each[1] == kind]) == 1, "it is asked already"
    assert row.ask.isEnabled(), "a button that is greyed loses the keys"
    port.tell("progress", share=0.4)
    port.tell("done", found(window))
    for each in words:
        assert each in row.words.text(), row.words.text()
    assert row.show_it.isVisible() == (kind != "scale")


def test_an_answer_is_shown_as_a_proposal_that_makes_it_so_in_one_step(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("ask-count")
    port.tell("done", told_count(window))
    window.opened.asks.rows["count"].show_it.click()
    assert not window.opened.isVisible(), "the cloth should be seen"
    assert window.session.project == START
    assert len(window.canvas.shown.seen.lying) == 4
    assert len(window.canvas.bench.lying) == 2
    strip = window.proposal_strip
    assert strip.words.text().startswith("2 books fit. Everything fits")
    assert not strip.different.isVisible()
    assert not strip.next.isVisible()
    window.menus.do("different-proposal")
    assert window.banner.sentence.text() == Remark("act-no-different").text()
    strip.take.click()
    assert len(window.session.project.books[0].volumes) == 2
    assert len(window.session.project.layout.placements) == 4
    window.session.undo()
    assert window.session.project == START


def test_a_no_to_a_question_has_nothing_to_show(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    asks = window.opened.asks.rows
    window.menus.do("ask-count")
    port.tell("done", BooksCounted(0, "sets of books", False, START, None))
    assert asks["count"].words.text() == "Not one of each book fits."
    window.menus.do("ask-largest")
    port.tell("done", LargestBoard(None, True, None, START, NO))
    assert asks["largest"].words.text().startswith("Not even the smallest board that can be made fits.")
    window.menus.do("ask-length")
    port.tell("done", LeastLength((BoltLength("", 100.0, None, True, None, START, NO),)))
    assert asks["length"].words.text().startswith("No length that is 100.0 mm wide holds it.")
    window.menus.do("ask-scale")
    port.tell("done", ScalesTried((), None, 0))
    assert asks["scale"].words.text().startswith("No scale was found")
    assert not any(row.show_it.isVisible() for row in asks.values())


def test_a_question_can_be_given_up_and_of_another_job_nothing_is_told(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("ask-scale")
    window.lay_button.click()
    assert window.questions.asked is None
    window.menus.do("ask-scale")
    port.tell("trouble", trouble=Remark("search-crashed"))
    assert window.opened.asks.rows["scale"].words.text() == Remark("search-crashed").text()
    assert window.questions.asked is None
    window.menus.do("ask-scale")
    port.tell("done", told_scale(window))
    assert "scale" in window.questions.told
    window.session.do(change_rules(gap_mm=1.0))
    assert window.questions.told == {}


def test_trouble_with_a_question_is_told_below_it_in_the_words_of_the_window(
    qtbot: QtBot, window: Window, port
) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("ask-largest")
    port.tell("trouble", trouble=Remark.of("largest-which-book", file="the project", books="Ledger, Diary"))
    words = window.opened.asks.rows["largest"].words.text()
    assert words.startswith("There are several books (Ledger, Diary)")
    assert "--" not in words
    assert not window.banner.isVisible()


def test_the_pieces_of_one_more_book_are_called_by_their_names(qtbot: QtBot, window: Window, port) -> None:
    answered(qtbot, window, port, FITS)
    window.menus.do("ask-count")
    why = Remark.of("lay-no-area", pieces="front-1, back-3", need_cm2=300.0, have_cm2=200.0)
    refused = replace(NO, reason=why)
    many = replace(START, books=(replace(START.books[0], volumes=(Volume(1), Volume(2))),))
    port.tell("done", BooksCounted(2, "books", True, many, FITS, refused))
    words = window.opened.asks.rows["count"].words.text()
    assert "Front cover 1, back cover 3" in words


def test_without_a_job_there_is_nothing_to_ask(window: Window) -> None:
    window.session.replace_all(Project(), window.session.pictures, None)
    window.menus.do("ask-count")
    assert window.banner.sentence.text() == Remark("act-nothing-to-ask").text()
    assert not window.opened.asks.rows["count"].ask.isEnabled()
    window.questions.ask("count")
    assert window.questions.asked is None


def test_every_cut_of_the_tests_is_on_the_ladder() -> None:
    assert set(SIZES) <= {cut.name for cut in ladder()}
