"""Measuring a cloth again is one step: a change in size, everything on the cloth moved along, all judged anew."""

from __future__ import annotations

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import BaseLine, Cloth, Flaw
from coverlayout.cloth.remeasuring import Remeasured
from coverlayout.cloth.usable import size_now_mm
from coverlayout.document.measuring.again import measure_again
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

PROJECT = Project(
    cloths=(
        Cloth(
            "cloth-1",
            "Swatch",
            300.0,
            200.0,
            flaws=(Flaw("flaw-1", "tea", ((200.0, 20.0), (220.0, 24.0), (210.0, 50.0))),),
            base_line=BaseLine((50.0, 40.0), (250.0, 60.0)),
        ),
    ),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, turns="free"),),
    layouts=(Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", 100.0, 120.0, 30.0),)),),
)


def test_one_step_and_everything_goes_along():
    session = Session(PROJECT)
    session.do(measure_again("cloth-1", Remeasured(300.0, 291.0), Remeasured(100.0, 99.0), name="Swatch"))
    cloth = session.project.cloths[0]
    assert session.undo_name == "Measure Swatch again"
    assert size_now_mm(cloth) == pytest.approx((291.0, 198.0))
    place = session.project.layout.placements[0]
    assert (place.x_mm, place.y_mm, place.turn_deg) == (pytest.approx(97.0), pytest.approx(118.8), 30.0)
    assert (cloth.flaws, cloth.base_line) == (PROJECT.cloths[0].flaws, PROJECT.cloths[0].base_line)
    session.undo()
    assert session.project == PROJECT


def test_a_second_time_starts_from_the_size_it_has_now():
    once = measure_again("cloth-1", Remeasured(300.0, 291.0), None).change(PROJECT)
    twice = measure_again("cloth-1", Remeasured(291.0, 290.0), None, change_name="bonding").change(once)
    assert [change.name for change in twice.cloths[0].changes] == ["measured again", "bonding"]
    assert size_now_mm(twice.cloths[0])[0] == pytest.approx(290.0)


def test_the_layout_is_judged_on_the_cloth_as_it_is_now():
    # The pocket turned by 30 degrees reaches 30 cos 30 + 45 sin 30 = 48.5 to its left.
    tight = measure_again("cloth-1", Remeasured(300.0, 160.0), None).change(PROJECT)
    before, now = (judge_for(project).report(placed_now(project)) for project in (PROJECT, tight))
    assert before.breaches == ()
    # The anchor then lies at 100 x 160 / 300 = 53.33.
    assert now.clearance_mm == pytest.approx(53.3333 - 48.4808, abs=1e-3)


def test_a_cloth_that_is_not_there_or_lengths_that_cannot_be_leave_the_project():
    with pytest.raises(BadInput) as caught:
        measure_again("cloth-9", Remeasured(300.0, 291.0), None).change(PROJECT)
    assert caught.value.code == "id-unknown"
    with pytest.raises(BadInput) as caught:
        measure_again("cloth-1", None, None)
    assert caught.value.code == "remeasure-nothing"
