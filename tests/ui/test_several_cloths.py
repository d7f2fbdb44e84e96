"""Several cloths and zones in the window: pieces carried between them, sources chosen, all by the list of acts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, with_side
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import OwnPiece, Source, Volume
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.edits.books import add_own_piece, change_book, remove_own_piece, set_structure
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.cloths.sources import choices_of, words_of
from coverlayout.ui.keyboard.search import Sought, found
from coverlayout.ui.tasks.drawing import Drawing
from coverlayout.ui.tasks.points import ChangePoints
from coverlayout.ui.window import Window

LEFT = Qt.MouseButton.LeftButton
Open = Callable[[Project], Window]


def carry(window: Window, piece: str, by_mm: Point) -> None:
    """Carry a piece by its middle over the table; guides let it be."""
    canvas = window.canvas
    canvas.hand.snapping = False
    x, y = canvas.bench.outlines[piece][1].middle
    stops = [canvas.view.to_screen.at((x + share * by_mm[0], y + share * by_mm[1])) for share in (0.0, 0.3, 0.8, 1.0)]
    start, *ways = [QPoint(*map(round, stop)) for stop in stops]
    QTest.mousePress(canvas, LEFT, pos=start)
    for way in ways:
        QTest.mouseMove(canvas, way)
        QApplication.processEvents()
    QTest.mouseRelease(canvas, LEFT, pos=ways[-1])
    QApplication.processEvents()


def placed(window: Window, piece: str) -> Placed:
    found = window.session.project.layout.place_of(piece)
    assert found is not None
    return found


def test_a_piece_goes_from_one_cloth_to_the_other_and_one_undo_takes_it_back(opened: Open) -> None:
    """The second cloth begins at 460 + 27.6 (6 %), its print lies turned a quarter: the piece turns along."""
    window = opened(job(linen(), leftover(), up="two-way"))
    before = window.session.project
    near = 1.5 / window.canvas.view.px_per_mm
    carry(window, "liner-front-1", (487.6 + 150.0 - 395.0, 45.0))
    there = placed(window, "liner-front-1")
    assert (there.cloth, there.turn_deg) == ("cloth-2", 90.0)
    assert (there.x_mm, there.y_mm) == (pytest.approx(150.0, abs=near), pytest.approx(140.0, abs=near))
    assert window.session.undo_name == "Move front liner"
    window.session.undo()
    assert window.session.project == before


def test_from_the_back_it_is_the_same_cloth_and_the_mirrored_place(opened: Open) -> None:
    """Seen from the back the leftover, 300 wide, lies mirrored: 120 from its left as seen is 180 on its print side."""
    window = opened(with_side(job(linen(), leftover(), up="two-way"), "back"))
    near = 1.5 / window.canvas.view.px_per_mm
    # 395 from the left of the print side is 460 - 395 = 65 as seen.
    carry(window, "liner-front-1", (487.6 + 120.0 - 65.0, 45.0))
    there = placed(window, "liner-front-1")
    assert (there.cloth, there.turn_deg) == ("cloth-2", 90.0)
    assert (there.x_mm, there.y_mm) == (pytest.approx(180.0, abs=near), pytest.approx(140.0, abs=near))


def test_within_one_cloth_a_piece_turns_with_the_zone_it_comes_to(opened: Open) -> None:
    left = Zone("zone-1", "left", rectangle(230.0, 330.0), LaidPrint("print-1"))
    right = Zone("zone-2", "right", rectangle(230.0, 330.0, 230.0), LaidPrint("print-1", (5.0, 5.0), 270.0))
    window = opened(job(replace(linen(), zones=(left, right))))
    carry(window, "front-1", (230.0, 0.0))
    assert placed(window, "front-1").turn_deg == 270.0
    carry(window, "front-1", (-230.0, 0.0))
    assert placed(window, "front-1").turn_deg == 0.0


def test_zones_are_drawn_with_their_names_on_the_resting_picture(opened: Open) -> None:
    zone = Zone("zone-1", "left", rectangle(230.0, 330.0), LaidPrint("print-1"))
    plain, zoned = opened(job()), opened(job(replace(linen(), zones=(zone,))))
    drawing = zoned.canvas.scene().drawing
    (seen,) = drawing.zones
    x, y = zoned.canvas.view.to_screen.at((0.0, 0.0))
    assert (seen.name, seen.cloth) == ("left", "cloth-1")
    assert seen.path.boundingRect().left() == pytest.approx(x)
    assert seen.tag.left() == pytest.approx(x + 4)
    assert seen in drawing.tagged
    assert plain.canvas.grab().toImage() != zoned.canvas.grab().toImage()
    assert seen.tag.center().y() == pytest.approx(y + 4), "on the edge, where no piece has its signs"


def test_a_cloth_with_pieces_that_goes_is_told_and_comes_back(opened: Open) -> None:
    window = opened(job())
    window.open_step(1)
    window.menus.do("remove-cloth")
    assert window.session.project.cloths == ()
    waiting = "3 waiting beside the cloth again: front cover, back cover, front liner"
    assert window.banner.sentence.text().startswith(waiting)
    window.session.undo()
    assert window.session.project == job()


def test_where_pieces_come_from_is_chosen_in_the_book_step_and_judged(opened: Open, hands) -> None:
    window = opened(job(linen(), leftover()))
    window.open_step(2)
    sources = window.panels.book.sources
    assert not sources.isHidden()
    assert sources.head.text().endswith("anywhere")
    covers = sources.choices[("book-1", "covers")]
    hands.choose(covers, "cloth Leftover")
    project = window.session.project
    assert project.books[0].cover_source == Source(cloth_id="cloth-2")
    assert sources.head.text().endswith("1 of 2 set")
    broken = judge_for(project).report(placed_now(project)).breaches
    assert {(breach.rule, breach.pieces) for breach in broken} == {("zone", ("front-1",)), ("zone", ("back-1",))}
    window.session.do(change_book("book-1", liners="none"))
    assert ("book-1", "liners") not in sources.choices
    window.session.do(add_own_piece(OwnPiece("", "pocket", 60.0, 90.0)))
    own = window.session.project.own_pieces[0].id
    hands.choose(sources.choices[(own, "own")], "print Leaf")
    assert window.session.project.own_pieces[0].source == Source(print_id="print-1")
    window.session.do(remove_own_piece(own))
    assert list(sources.choices) == [("book-1", "covers")]


def test_several_sources_are_found_by_words_and_come_into_view(opened: Open, hands) -> None:
    window = opened(job(linen(), leftover()))
    for asked in ("print of the sides", "come from"):
        listed = [Sought(act.words, menu, act.tip) for menu, act in window.menus.every()]
        assert any(listed[at].words.startswith("Pieces come from") for at in found(asked, listed)[:2]), asked
    window.menus.do("book-sources")
    sources = window.panels.book.sources
    assert (window.steps.open_step, sources.head.isChecked()) == (2, True)
    assert sources.first is sources.choices[("book-1", "covers")].box


def test_the_choice_says_what_it_counts_for(opened: Open, hands) -> None:
    window = opened(job(linen(), leftover()))
    window.open_step(2)
    window.session.do(set_structure("book-1", "half-case", volumes=(Volume(1, 12.0),)))
    sources = window.panels.book.sources
    assert [choice.title.text() for choice in sources.choices.values()] == ["Spine and corners", "Sides", "Liners"]
    column = sources.choices["book-1", "sides"].parentWidget().layout()
    assert [column.indexOf(choice) for choice in sources.choices.values()] == [0, 1, 2]


def test_one_cloth_and_one_print_leave_nothing_to_choose(opened: Open) -> None:
    window = opened(job())
    window.open_step(2)
    assert window.panels.book.sources.isHidden()


def test_a_source_of_several_words_stays_among_the_choices() -> None:
    zone = Zone("zone-1", "left", rectangle(230.0, 330.0), LaidPrint("print-1"))
    project = job(replace(linen(), zones=(zone,)))
    both = Source("print-1", "cloth-1", "zone-1")
    assert words_of(project, both) == "print Leaf, cloth Linen, left of Linen"
    assert choices_of(project, both)[-1][0] == both
    assert [words for _, words in choices_of(project, Source())] == [
        "anywhere",
        "print Leaf",
        "cloth Linen",
        "left of Linen",
    ]


def test_every_act_of_the_cloths_does_what_it_says(opened: Open) -> None:
    window = opened(job())
    menus, row = window.menus, window.panels.cloth.row
    for name in ("draw-crease", "draw-stain", "draw-hole", "draw-frayed-edge", "draw-zone", "trace-outline"):
        menus.do(name)
        assert isinstance(window.canvas.work.task, Drawing), name
    menus.do("change-points")
    assert isinstance(window.canvas.work.task, ChangePoints)
    window.canvas.work.leave()
    assert menus.acts["cut-zone"].why_not() == "No cloth is divided into zones yet: draw one first."
    assert menus.acts["next-cloth"].why_not() == "There is only one cloth: add another first."
    menus.do("add-cloth")
    menus.do("copy-cloth")
    assert [cloth.name for cloth in window.session.project.cloths] == ["Linen", "Cloth 2", "Cloth 3"]
    menus.do("cloth-earlier")
    assert [cloth.name for cloth in window.session.project.cloths] == ["Linen", "Cloth 3", "Cloth 2"]
    menus.do("cloth-later")
    menus.do("next-cloth")
    assert row.name.line.text() == "Linen"
    menus.do("rename-cloth")
    assert row.name.line.hasSelectedText()
    menus.do("divide-cloth")
    assert window.steps.open_step == 1
    assert not window.panels.cloth.zones.inside.isHidden()
    window.panels.cloth.zones.divide.click()
    menus.do("cut-zone")
    assert isinstance(window.canvas.work.task, Drawing)


def test_a_part_asks_for_a_task_and_gets_it(opened: Open) -> None:
    window = opened(job())
    window.open_step(1)
    window.panels.cloth.flaws.draw.click()
    task = window.canvas.work.task
    assert isinstance(task, Drawing)
    assert task.title == "Draw a crease"
    flaw = window.panels.cloth.flaws.rows.row("flaw-1")
    flaw.by_hand.click()
    changing = window.canvas.work.task
    assert isinstance(changing, ChangePoints)
    assert changing.target is not None
    assert changing.target.name == "Crease"


def test_three_cloths_lie_side_by_side(opened: Open) -> None:
    window = opened(job(linen(), leftover(), Cloth("cloth-3", "Plain", 200.0, 150.0)))
    boxes = [sheet.box for sheet in window.canvas.bench.sheets]
    # 460, then 6 % of it, then 300 and 20 at least.
    assert [box.left_mm for box in boxes] == pytest.approx([0.0, 487.6, 807.6])
    assert [box.top_mm for box in boxes] == pytest.approx([0.0, 0.0, 0.0])


@pytest.mark.parametrize("name", ["divide-cloth", "rename-cloth", "measure-again"])
def test_what_is_asked_for_comes_into_sight_with_the_keys(qtbot: QtBot, opened: Open, name: str) -> None:
    window = opened(job())
    window.resize(1280, 600)
    cloth = window.panels.cloth
    field = {
        "divide-cloth": cloth.zones.columns.line,
        "rename-cloth": cloth.row.name.line,
        "measure-again": cloth.remeasure.now["across"].field,
    }[name]
    window.menus.do(name)
    shown = window.steps.viewport()
    qtbot.waitUntil(lambda: shown.rect().contains(field.rect().translated(field.mapTo(shown, QPoint(0, 0)))))
    assert window.focusWidget() is field
