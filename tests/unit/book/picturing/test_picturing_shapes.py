"""A picture as a value: its box, its mirror image, and a measure by its name, its rule's or its field's."""

from __future__ import annotations

import pickle

import pytest

from coverlayout.book.picturing.shapes import MeasureLine, Picture, Shape, Words
from coverlayout.book.rules.table import rule

JOINT = MeasureLine("joint", rule("joint", "flat-case", "board"), (1.0, 2.0), (9.0, 2.0), 10.0, "above")
SPINE = MeasureLine("spine", None, (-3.0, 0.0), (-3.0, 20.0), 19.5, "left")
PICTURE = Picture(
    "A book",
    (Shape(((0.0, 0.0), (8.0, 0.0), (8.0, 5.0)), True, "board", "front board"),),
    (JOINT, SPINE),
    (Words("front", (4.0, 2.0), 8.0),),
)


def test_the_box_holds_shapes_and_ends_of_measures() -> None:
    box = PICTURE.box
    assert (box.left_mm, box.top_mm, box.right_mm, box.bottom_mm) == (-3.0, 0.0, 9.0, 20.0)


def test_a_mirrored_picture_changes_left_and_right_and_no_figure() -> None:
    over = PICTURE.mirrored()
    assert over.shapes[0].points_mm == ((0.0, 0.0), (-8.0, 0.0), (-8.0, 5.0))
    assert [measure.side for measure in over.measures] == ["above", "right"]
    assert [measure.length_mm for measure in over.measures] == [10.0, 19.5]
    assert over.measures[0].start_mm == (-1.0, 2.0)
    assert over.words[0].at_mm == (-4.0, 2.0)
    assert over.mirrored() == PICTURE


@pytest.mark.parametrize("name", ["spine", "spine allowance", "spine width"])
def test_the_spine_answers_to_the_fields_it_follows(name: str) -> None:
    assert PICTURE.measured(name) is SPINE


def test_a_measure_answers_to_its_rule() -> None:
    inset = MeasureLine("inset", rule("liner inset", "flat-case"), (0.0, 0.0), (3.0, 0.0), 3.0, "above")
    assert inset.is_called("inset")
    assert inset.is_called("liner inset")
    assert not inset.is_called("joint")


@pytest.mark.parametrize("name", ["", "hinge"])
def test_what_is_not_measured_is_not_found(name: str) -> None:
    assert PICTURE.measured(name) is None


def test_an_unusual_figure_is_told_by_its_rule() -> None:
    # A joint of 5 to 12 mm is what the table calls usual beside a spine piece of board.
    assert not JOINT.unusual
    assert MeasureLine("joint", JOINT.rule, (0.0, 0.0), (1.0, 0.0), 30.0, "above").unusual
    assert not SPINE.unusual


def test_a_picture_is_a_plain_value() -> None:
    assert pickle.loads(pickle.dumps(PICTURE)) == PICTURE
    assert hash(PICTURE) == hash(PICTURE.mirrored().mirrored())
    assert PICTURE.roles == {"board"}
