"""The easier job of a question: boxes around grounds, upright rectangles alone, sheets by who needs them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.proofs.relaxing import confined, lean_of, relaxed
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Question

L_SHAPE = ((0.0, 0.0), (80.0, 0.0), (80.0, 30.0), (20.0, 30.0), (20.0, 60.0), (0.0, 60.0))


def sizes(question: Question) -> dict[str, list[list[tuple[float, float]]]]:
    return {
        item.id: [[(pose.width_mm, pose.height_mm) for pose in poses] for poses in item.poses]
        for item in relaxed(question).items
    }


def test_only_upright_rectangles_stay_and_nothing_is_in_the_way() -> None:
    pieces = (
        piece("a", 40, 20),
        piece("b", 40, 20, (0.0, 90.0)),
        piece("square", 30, 30, ANY),
        piece("l", 0, 0, outline=L_SHAPE),
        piece("any", 10, 5, None),
        piece("slanted", 10, 5, (0.0, 45.0)),
    )
    on = cloth(0, 0, outline=L_SHAPE, keep_outs=(flaw(rectangle(5, 5)),))
    question = Question(pieces, (on,), locks=(Lock("a", (0.0, 0.0), (1.0, 1.0)),))
    assert sizes(question) == {"a": [[(40, 20)]], "b": [[(40, 20), (20, 40)]], "square": [[(30, 30)]]}
    job = relaxed(question)
    assert (job.sheets[0].box, job.sheets[0].blocks, job.exact) == (Box(0.0, 0.0, 80.0, 60.0), (), False)


def test_a_crooked_print_gives_the_box_in_its_own_frame() -> None:
    # A square of 100 stands on its corner in a frame turned by 45 degrees: 141.42 mm both ways.
    ring = rectangle(100, 100)
    question = Question((piece("a", 40, 20),), (cloth(0, 0, outline=ring, up_deg=45.0),))
    box = relaxed(question).sheets[0].box
    assert box.width_mm == pytest.approx(141.4214, abs=1e-3)
    assert box.height_mm == pytest.approx(141.4214, abs=1e-3)
    # The up at 92 degrees leans by 2 from the edges: a piece upright to it lies across, nearly.
    leaning = Question((piece("a", 40, 20),), (cloth(100, 100, up_deg=92.0),))
    assert lean_of(leaning.cloths[0].grounds[0]) == pytest.approx(2.0)
    assert sizes(leaning) == {"a": [[(20, 40)]]}


def test_pieces_by_the_sheets_they_need() -> None:
    cloths = (cloth(100, 100, name="c1"), cloth(100, 100, name="c2"), cloth(50, 50, name="c3", print_id="p"))
    only_second = replace(piece("a", 10, 10), cloth_ids=("c2",))
    first_two = replace(piece("b", 10, 10), cloth_ids=("c1", "c2"))
    pieces: tuple[PieceAsked, ...] = (only_second, first_two, piece("d", 10, 10, print_id="none"), piece("e", 5, 5))
    found = [
        (sheets, [item.id for item in items]) for sheets, items in confined(relaxed(Question(pieces, cloths)).items)
    ]
    assert found == [((1,), ["a"]), ((0, 1), ["a", "b"]), ((0, 1, 2), ["a", "b", "e"])]


def test_ground_without_area_is_no_sheet_for_anyone() -> None:
    on = ClothAsked("c", "c", rectangle(50, 50), (Ground("g", Region.nothing()),))
    assert sizes(Question((piece("a", 10, 10),), (on,))) == {"a": [[]]}
