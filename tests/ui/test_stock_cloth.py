"""In step 2: what is bonded on the back of the cloth, and what the cloth costs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.ui.panels.cloth_panel import ClothPanel

YARD = Cloth("cloth-1", "Yard", 900.0, 500.0)


def panel_of(qtbot: QtBot, hands, *cloths: Cloth) -> tuple[ClothPanel, Session]:
    session = Session(Project(cloths=cloths))
    panel = ClothPanel(session, hands.hear)
    qtbot.addWidget(panel)
    session.listen(lambda _old, new: panel.show_project(new))
    panel.show_project(session.project)
    return panel, session


@pytest.mark.parametrize(
    ("words", "backing"),
    [("none", "none"), ("web", "web"), ("web, tissue", "web and tissue"), ("paste, paper", "paste and paper")],
)
def test_the_backing_is_one_step(qtbot: QtBot, hands, words: str, backing: str) -> None:
    panel, session = panel_of(qtbot, hands, YARD)
    assert panel.backing.value == "none"
    hands.choose(panel.backing, words)
    assert session.project.cloths[0].backing == backing
    assert panel.backing.value == backing
    session.undo()
    assert session.project.cloths[0] == YARD


def test_a_cloth_with_an_unbacked_strip_has_web_until_it_is_said_otherwise(qtbot: QtBot, hands) -> None:
    panel, session = panel_of(qtbot, hands, replace(YARD, web_short_mm=3.0))
    assert panel.backing.value == "web"
    hands.choose(panel.backing, "none")
    assert session.project.cloths[0].backing == "none"
    assert session.project.cloths[0].web_short_mm == 0.0, "what is not there stops short of nothing"


def test_web_begins_short_of_the_edge_by_the_rule(qtbot: QtBot, hands) -> None:
    """3 mm, an eighth of an inch for those who think in inches (common practice, no source)."""
    panel, session = panel_of(qtbot, hands, YARD)
    hands.choose(panel.backing, "web, tissue")
    assert session.project.cloths[0].web_short_mm == 3.0
    hands.type(panel.web_short, "5")
    hands.choose(panel.backing, "web")
    assert session.project.cloths[0].web_short_mm == 5.0, "what was typed stays"
    panel, session = panel_of(qtbot, hands, replace(YARD, id="cloth-2"))
    hands.choose(panel.backing, "paste, paper")
    assert session.project.cloths[0].web_short_mm == 0.0


def test_the_price_is_one_step_and_cleared_it_is_not_known(qtbot: QtBot, hands) -> None:
    panel, session = panel_of(qtbot, hands, YARD)
    hands.type(panel.price, "12,5")
    assert session.project.cloths[0].price == 12.5
    assert panel.price.line.text() == "12.50"
    hands.type(panel.price, "")
    assert session.project.cloths[0].price is None
    hands.type(panel.price, "dear")
    assert panel.price.trouble.isVisibleTo(panel)
    assert session.project.cloths[0].price is None


def test_both_sleep_without_a_cloth(qtbot: QtBot, hands) -> None:
    panel, session = panel_of(qtbot, hands)
    assert not panel.backing.isEnabled()
    assert not panel.price.isEnabled()
    hands.choose(panel.backing, "web")
    assert session.project.cloths == ()


def test_the_price_is_in_the_currency_of_the_maker(qtbot: QtBot, hands) -> None:
    panel, session = panel_of(qtbot, hands, replace(YARD, price=3.0))
    session.do(change_preferences(currency="EUR"))
    assert panel.price.line._unit.text() == "EUR"
