"""Shapes and measures as they are put down: the right rule for each measure, waves over what is shortened."""

from __future__ import annotations

import pytest
from drawn_books import drawn_book

from coverlayout.book.book import Structure
from coverlayout.book.measures import measures
from coverlayout.book.picturing.sketch import Sketch
from coverlayout.geometry.shapes import Box, bounds


def sketch_of(structure: Structure, **more: object) -> Sketch:
    book, volume = drawn_book(structure, **more)
    return Sketch(book, measures(book, volume))


@pytest.mark.parametrize(
    ("structure", "name", "rule_name"),
    [
        ("flat-case", "setback", "board setback"),
        ("flat-case", "inset", "liner inset"),
        ("half-case", "lap", "side lap"),
        ("flat-case", "mitre", "mitre distance"),
        ("limp-wrap", "flap", "fore-edge flap"),
        ("flat-case", "tail square", "square"),
        ("slipcase", "clearance", "slipcase clearance"),
        ("quarter-case", "spine on board", "spine on board"),
        ("flat-case", "turn-in at the head", "turn-in"),
    ],
)
def test_each_measure_follows_its_rule(structure: Structure, name: str, rule_name: str) -> None:
    sketch = sketch_of(structure)
    sketch.measure(name, ((0.0, 0.0), (1.0, 0.0)), 1.0, "above")
    found = sketch.measures[0].rule
    assert found is not None
    assert found.name == rule_name
    assert not found.structures or structure in found.structures


def test_the_room_of_a_scored_slipcase_has_a_rule_of_its_own() -> None:
    sketch = sketch_of("slipcase", slipcase_of="one scored board")
    sketch.measure("clearance", ((0.0, 0.0), (1.0, 0.0)), 5.0, "left")
    assert sketch.measures[0].is_called("scored slipcase room")


@pytest.mark.parametrize("name", ["spine", "block thickness", "rise", "fore-edge square", "cut width"])
def test_what_is_worked_out_has_no_rule(name: str) -> None:
    sketch = sketch_of("flat-case")
    sketch.measure(name, ((0.0, 0.0), (1.0, 0.0)), 1.0, "above")
    assert sketch.measures[0].rule is None


def test_the_joint_of_a_case_without_spine_piece_follows_the_row_for_that() -> None:
    sketch = sketch_of("flat-case", spine_piece="none")
    sketch.measure("joint", ((0.0, 0.0), (1.0, 0.0)), 3.0, "above")
    found = sketch.measures[0].rule
    assert found is not None
    assert found.value == 3.0


def test_waves_cut_from_above_everything_to_below_it() -> None:
    sketch = sketch_of("flat-case")
    sketch.box("board", (0.0, 2.0), (40.0, 12.0), "front board")
    sketch.breaks((20.0,), 3.0)
    band = bounds(next(shape for shape in sketch.shapes if shape.role == "break").points_mm)
    assert (band.top_mm, band.bottom_mm) == (-1.0, 15.0)
    assert band.left_mm < 20.0 < band.right_mm
    assert [shape.role for shape in sketch.shapes] == ["board", "break", "wave", "wave"]


def test_a_book_that_opens_right_comes_out_mirrored() -> None:
    sketch = sketch_of("flat-case", opens="right")
    sketch.line("cloth", ((1.0, 0.0), (5.0, 0.0)))
    sketch.word("front", Box(2.0, 0.0, 4.0, 4.0))
    picture = sketch.picture("A book")
    assert picture.shapes[0].points_mm == ((-1.0, 0.0), (-5.0, 0.0))
    assert picture.words[0].at_mm == (-4.0, 2.0)
    assert picture.words[0].room_mm == 4.0


def test_what_can_be_spared_is_told_last() -> None:
    sketch = sketch_of("half-case")
    for name in ("lap", "joint", "board thickness", "block thickness"):
        sketch.measure(name, ((0.0, 0.0), (1.0, 0.0)), 1.0, "above")
    told = [measure.name for measure in sketch.picture("A case").measures]
    assert told == ["joint", "block thickness", "lap", "board thickness"]
