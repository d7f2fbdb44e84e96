"""What the verbs say: rooms never shown larger, sizes never smaller, JSON without NaN."""

from __future__ import annotations

import json
import math

import pytest

from coverlayout.app.verbs.telling import Opened, print_json, table
from coverlayout.book.book import OwnPiece
from coverlayout.document.project import Preferences, Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.layout.question import Placed
from coverlayout.units import LengthStyle

L_PIECE = OwnPiece(
    "own-1",
    "ell",
    outline_mm=((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0)),
    turns="quarter",
    reference_mm=(20.0, 75.0),
    count=2,
)


def job(style: LengthStyle | None = None) -> Opened:
    project = Project(own_pieces=(L_PIECE,), preferences=Preferences(style or LengthStyle()))
    return Opened(project, Pictures(), ())


def test_a_turned_piece_is_told_by_its_box() -> None:
    # Turned a quarter clockwise about (20, 75): x runs from 75 - 100 to 75, y from -20 to 40.
    second, first = Placed("ell-2", "c", 200.0, 50.0, 90.0), Placed("ell-1", "c", 20.0, 75.0)
    upright, turned = job().where([second, Placed("gone", "c", 0.0, 0.0), first])
    assert (upright.piece, upright.x_mm, upright.y_mm, upright.width_mm, upright.height_mm) == ("ell-1", 0, 0, 60, 100)
    assert (turned.x_mm, turned.y_mm, turned.width_mm, turned.height_mm, turned.turn_deg) == (175, 30, 100, 60, 90.0)
    assert json.loads(json.dumps(turned.as_record()))["piece"] == "ell-2"


def test_figures_are_shown_in_the_projects_unit() -> None:
    inches = job(LengthStyle("in", inch_parts=16))
    assert inches.show(25.4) == "1 in"
    assert inches.where_lines([Placed("ell-1", "c", 20.0, 75.0)])[1].split()[0] == "ell-1"
    assert job().room(4.99) == "4.5 mm"
    assert job().room(None) == "-"
    assert job().where_lines([]) == []


def test_a_sentence_is_said_once() -> None:
    remark = Remark.of("cuts-least", name="yard")
    assert job().texts([remark, remark]) == ["The least to buy: yard"]


def test_columns_stand_below_each_other() -> None:
    assert table(("a", "bb"), [("ccc", "d")]) == ["a    bb", "ccc   d"]


def test_no_figure_that_is_no_number_gets_into_json() -> None:
    with pytest.raises(ValueError):
        print_json({"spare_mm": math.nan})
