"""Measuring a cloth again in the Cloth step, and what the verdict says of it."""

from __future__ import annotations

import pytest
from canvas_samples import job
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Change
from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.edits.cloths import add_change, add_cloth
from coverlayout.document.edits.job import rename_project
from coverlayout.document.edits.placements import move_by
from coverlayout.document.session import Session
from coverlayout.ui.panels.cloth_panel import ClothPanel
from coverlayout.ui.theme import LIGHT
from coverlayout.ui.verdict.asking import Asking
from coverlayout.ui.verdict.bar import VerdictBar
from coverlayout.ui.verdict.judged import Judged
from coverlayout.ui.verdict.speaker import Speaker


@pytest.fixture
def session() -> Session:
    return Session(job())


@pytest.fixture
def panel(qtbot: QtBot, session: Session, hands) -> ClothPanel:
    panel = ClothPanel(session, hands.hear)
    qtbot.addWidget(panel)
    session.listen(lambda old, new: panel.show_project(new))
    panel.show_project(session.project)
    return panel


@pytest.fixture
def speaker(qtbot: QtBot, session: Session, port, hands) -> Speaker:
    bar = VerdictBar(LIGHT)
    qtbot.addWidget(bar)
    asking = Asking(session, port, hands.hear, bar)
    speaker = Speaker(session, asking, bar, Judged())
    session.listen(speaker.look_at)
    speaker.look_at(session.project, session.project)
    yield speaker
    asking.end()


def test_two_lengths_become_one_change_in_size(panel: ClothPanel, session: Session, hands) -> None:
    part = panel.remeasure
    assert part.was["across"].line.text() == "460"
    assert part.was["along"].line.text() == "330"
    hands.type(part.now["across"], "446.2")
    hands.type(part.was["along"], "200")
    hands.type(part.now["along"], "199")
    assert part.follows.text() == "Across −3 %, along −0.5 %."
    part.take.click()
    (change,) = session.project.cloths[0].changes
    assert (change.name, change.across_percent, change.along_percent) == (
        "measured again",
        pytest.approx(-3.0),
        pytest.approx(-0.5),
    )
    assert session.undo_name == "Measure Linen again"
    assert size_now_mm(session.project.cloths[0]) == pytest.approx((446.2, 328.35))
    assert part.was["across"].line.text() == "446.2"
    assert part.now["across"].line.text() == ""
    assert part.follows.text() == ""


def test_a_name_and_one_direction_are_enough(panel: ClothPanel, session: Session, hands) -> None:
    part = panel.remeasure
    hands.type(part.name, "bonding")
    hands.type(part.now["along"], "333.3")
    assert part.follows.text() == "Across 0 %, along +1 %."
    part.take.click()
    assert session.project.cloths[0].changes == (Change("bonding", 0.0, pytest.approx(1.0)),)
    assert part.name.line.text() == "measured again"


def test_what_cannot_be_is_said_and_nothing_changes(panel: ClothPanel, session: Session, hands) -> None:
    part = panel.remeasure
    before = session.project
    part.take.click()
    assert part.follows.text().startswith("Type what one length was")
    hands.type(part.now["across"], "100")
    assert "look whether both times" in part.follows.text()
    part.take.click()
    hands.type(part.now["across"], "460")
    assert part.follows.text().startswith("Nothing has changed")
    part.take.click()
    assert session.project == before


def test_a_short_length_is_cautioned(panel: ClothPanel, hands) -> None:
    part = panel.remeasure
    hands.type(part.was["across"], "50")
    hands.type(part.now["across"], "49")
    assert part.follows.text().startswith("Across −2 %, along 0 %. Across: 50.0 mm is short")


def test_lengths_of_another_cloth_are_forgotten(panel: ClothPanel, session: Session, hands) -> None:
    part = panel.remeasure
    hands.type(part.now["across"], "446.2")
    session.do(rename_project("Six"))
    assert part.now["across"].line.text() == "446.2"
    cloth = session.project.cloths[0]
    session.do(add_cloth(cloth))
    panel.show_cloth(session.project.cloths[1].id)
    assert part.now["across"].line.text() == ""


def test_without_a_cloth_nothing_is_taken(panel: ClothPanel, session: Session) -> None:
    session.replace_all(type(session.project)(), session.pictures, None)
    panel.remeasure.take.click()
    assert session.project.cloths == ()


def test_the_verdict_says_what_measuring_again_changed(
    panel: ClothPanel, speaker: Speaker, session: Session, hands
) -> None:
    hands.type(panel.remeasure.now["across"], "437")
    panel.remeasure.take.click()
    # The back cover's board lies at 255, 395 the liner's: (395 - 255) 0.95 - 72.15 - 54.15 = 6.7; front and back lie
    # 155 x 0.95 - 144.3 = 2.95 apart where it was 10.7; the liner at the right had 10.85 and has 7.6.
    assert speaker.said.sentence.startswith("After measuring again, ")
    assert "before it" in speaker.said.sentence
    session.do(rename_project("Six"))
    assert not speaker.said.sentence.startswith("After"), "it is said until something else is changed"


def test_a_piece_that_no_longer_fits_is_called_by_its_name(speaker: Speaker, session: Session) -> None:
    session.do(add_change("cloth-1", Change("washing", -20.0, 0.0)))
    # 155 x 0.8 - 144.3 = -20.3 between front and back.
    assert speaker.said.word == "Not valid"
    assert speaker.said.sentence.startswith("After washing, ")
    assert "front-1" not in speaker.said.sentence
    assert "cover" in speaker.said.sentence
    session.undo()
    assert "everything lies right" in speaker.said.sentence or "After the change in size" in speaker.said.sentence


def test_moving_a_piece_or_opening_another_project_says_nothing_of_sizes(speaker: Speaker, session: Session) -> None:
    session.do(add_change("cloth-1", Change("washing", -1.0, 0.0)))
    session.do(move_by(("front-1",), 1.0, 0.0, "front cover"))
    assert not speaker.said.sentence.startswith("After")
    session.replace_all(job(), session.pictures, None)
    assert not speaker.said.sentence.startswith("After")
