"""A project made from a job file: every field finds its place, and what cannot be kept is one sentence."""

import json
from typing import Any

import pytest

from coverlayout.book.book import PartOfBook
from coverlayout.cloth.cloth import Flaw
from coverlayout.document.job import project_from_job
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.motif.lattice import Lattice

A_PRINT = {"a_mm": [72, 0], "b_mm": [36, 40], "origin_mm": [3, 8]}
COVER = {"id": "front", "width_mm": 138, "height_mm": 178, "turns": [0], "print": "A"}
LINER = {"id": "liner", "width_mm": 100, "height_mm": 136, "turns": [0, 90, 180, 270]}


def job(**fields: Any) -> bytes:
    cloth = {"width_mm": 304.8, "length_mm": 280}
    return json.dumps({"format": "packing-instance-1", "id": "own", "cloth": cloth, **fields}).encode()


def made(**fields: Any) -> Project:
    return project_from_job(job(**fields), "job.json")


def refused(**fields: Any) -> str:
    with pytest.raises(BadInput) as caught:
        made(**fields)
    return str(caught.value)


def test_the_cloth_its_trim_and_the_gap() -> None:
    project = made(gap_mm=2, edge_mm=3, pieces=[LINER])
    (cloth,) = project.cloths
    assert (cloth.width_mm, cloth.length_mm, cloth.trim_mm, cloth.doubt) == (304.8, 280.0, 3.0, 0.0)
    assert (project.name, project.rules.gap_mm, project.rules.objective) == ("own", 2.0, "room")
    assert question_for(project).cloths[0].grounds[0].usable.bounds == Box(3.0, 3.0, 298.8, 274.0)


def test_pieces_keep_their_ids_turns_and_reference() -> None:
    (front, liner) = planned_pieces(made(pieces=[{**COVER, "reference_mm": [69, 70]}, LINER]))
    assert (front.id, front.width_mm, front.height_mm, front.turns, front.anchor_mm) == (
        "front",
        138,
        178,
        "none",
        (69, 70),
    )
    assert (liner.id, liner.turns, liner.anchor_mm) == ("liner", "quarter", (50.0, 68.0))
    # A print without repeat vectors and without zones tells nothing.
    assert front.source.print_id is None


def test_an_outline_that_starts_anywhere_comes_home() -> None:
    corner = [[-5, 10], [105, 10], [105, 48], [35, 48], [35, 100], [-5, 100]]
    piece = {"id": "corner", "outline_mm": corner, "turns": [180, 0], "board_mm": [0, 12, 30, 20]}
    (made_piece,) = planned_pieces(made(pieces=[piece]))
    assert made_piece.outline_mm[:3] == ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0))
    assert made_piece.seen_mm == rectangle(30.0, 20.0, 5.0, 2.0)
    assert made_piece.turns == "half"


def test_flaws_may_be_fine_in_the_turn_in() -> None:
    outline = [[145, 194], [151, 200], [145, 206]]
    project = made(pieces=[LINER], keep_outs=[{"name": "knot", "outline_mm": outline, "fine_in_turn_in": True}])
    points = ((145.0, 194.0), (151.0, 200.0), (145.0, 206.0))
    assert project.cloths[0].flaws == (Flaw("flaw-1", "knot", points, fine_where_hidden=True),)


def test_one_print_lies_on_the_whole_cloth_with_its_lock() -> None:
    project = made(pieces=[{**COVER, "lock": {"offset_mm": [12, 20]}}, LINER], prints={"A": A_PRINT})
    assert project.prints[0].lattice == Lattice((72.0, 0.0), (36.0, 40.0))
    assert project.locks == (LockWish("lock-1", "front", (12.0, 20.0)),)
    question = question_for(project)
    (ground,) = question.cloths[0].grounds
    assert ground.print_to_cloth is not None
    assert ground.print_to_cloth.at(question.locks[0].place_mm) == (15.0, 28.0)
    assert [piece.print_id for piece in question.pieces] == ["print-1", None]


def test_links_and_run_ons() -> None:
    project = made(
        pieces=[COVER, {**COVER, "id": "back"}, LINER],
        prints={"A": {"a_mm": [48, 0]}},
        phase_links=[{"pieces": ["front", "back"]}, {"pieces": ["front", "back"], "differences_mm": [[10, -2]]}],
    )
    assert project.prints[0].lattice.b_mm is None
    assert project.links == (
        LinkWish("link-1", ("front", "back")),
        LinkWish("link-2", ("front", "back"), ((10.0, -2.0),)),
    )


def test_zones_carry_their_prints() -> None:
    zones = [
        {"print": "A", "outline_mm": [[0, 0], [150, 0], [150, 280], [0, 280]]},
        {"print": "plain", "outline_mm": [[150, 0], [304, 0], [304, 280], [150, 280]]},
    ]
    project = made(
        pieces=[COVER, {**LINER, "print": "plain"}, {**LINER, "id": "x", "print": "gone"}],
        zones=zones,
        prints={"A": A_PRINT},
    )
    assert [a_print.name for a_print in project.prints] == ["A", "plain", "gone"]
    question = question_for(project)
    assert [ground.print_id for ground in question.cloths[0].grounds] == ["print-1", "print-2"]
    assert [piece.print_id for piece in question.pieces] == ["print-1", "print-2", "print-3"]
    assert question.cloths[0].grounds[0].lattice_mm == Lattice((72.0, 0.0), (36.0, 40.0))


def test_several_prints_without_zones_all_lie_everywhere() -> None:
    project = made(pieces=[COVER, {**LINER, "print": "B"}], prints={"A": A_PRINT, "B": {"a_mm": [10, 0]}})
    grounds = question_for(project).cloths[0].grounds
    assert [(ground.print_id, ground.usable.area_mm2) for ground in grounds] == [
        ("print-1", pytest.approx(304.8 * 280)),
        ("print-2", pytest.approx(304.8 * 280)),
    ]


def test_an_outline_is_counted_from_the_corner_of_the_box_around_it() -> None:
    outline = [[20, 0], [300, 10], [280, 250], [25, 240]]
    with pytest.raises(BadInput, match=r"20 mm from the left and 0 mm from the top"):
        made(cloth={"width_mm": 304.8, "length_mm": 280, "outline_mm": outline}, pieces=[LINER])


def test_a_crooked_cloth_keeps_its_outline() -> None:
    outline = [[0, 0], [300, 10], [280, 250], [20, 240]]
    project = made(cloth={"width_mm": 304.8, "length_mm": 280, "outline_mm": outline}, pieces=[LINER], edge_mm=5)
    assert project.cloths[0].outline_mm == ((0.0, 0.0), (300.0, 10.0), (280.0, 250.0), (20.0, 240.0))


def test_cloth_off_the_bolt_is_long_enough_for_everything() -> None:
    cloth = {"width_mm": 10, "length_mm": None}
    wide = {"id": "wide", "width_mm": 9, "height_mm": 2}
    project = made(cloth=cloth, question="least_length", pieces=[wide, {**wide, "id": "tall"}], gap_mm=1, edge_mm=0.5)
    assert project.cloths[0].length_mm == 9 + 1 + 9 + 1 + 1
    assert project.rules.objective == "least length"
    outlined = {**cloth, "outline_mm": [[0, 0], [10, 0], [10, 70]]}
    assert made(cloth=outlined, pieces=[wide]).cloths[0].length_mm == 70.0


def test_a_book_is_a_list_of_parts() -> None:
    parts = [
        {"name": "cover", "count": 2, "grow_mm": 15, "turns": [0]},
        {"name": "liner", "count": 1, "grow_mm": -3, "turns": [0, 90, 180, 270], "width_mm": 20},
    ]
    project = made(question="count", book={"board_mm": [114.3, 152.4], "pieces": parts})
    assert [piece.id for piece in planned_pieces(project)] == ["cover-1-1", "cover-1-2", "liner-1-1"]
    assert project.books[0].parts[1] == PartOfBook("liner", 1, -3.0, "quarter", 20.0)
    assert project.next_volume_number == 2
    sized_later = made(question="largest", book={"board_ratio": [3, 4], "pieces": parts})
    assert planned_pieces(sized_later) == ()


def test_what_cannot_be_kept_is_one_sentence() -> None:
    assert "the turns 0, 90 cannot be kept" in refused(pieces=[{**LINER, "turns": [0, 90]}])
    assert "the turns 45 cannot" in refused(
        book={"board_mm": [9, 9], "pieces": [{"name": "c", "count": 1, "grow_mm": 0, "turns": [45]}]}
    )
    assert "give width_mm and height_mm" in refused(pieces=[{"id": "x", "width_mm": 3}])
    zones = [{"print": "A", "outline_mm": [[0, 0], [9, 0], [9, 9]]}]
    assert "liner: the cloth has zones" in refused(pieces=[LINER], zones=zones)
    assert "front: a lock or a link needs" in refused(pieces=[{**COVER, "lock": {"offset_mm": [1, 2]}}])
    assert "no piece called back" in refused(
        pieces=[COVER], prints={"A": A_PRINT}, phase_links=[{"pieces": ["front", "back"]}]
    )
    book = {"board_mm": [9, 9], "pieces": [{"name": "c", "count": 1, "grow_mm": 0}]}
    assert "needs a length_mm" in refused(cloth={"width_mm": 100}, book=book)


@pytest.mark.parametrize(
    "fields",
    [
        {"pieces": [LINER, LINER]},
        {"pieces": [{**LINER, "width_mm": 0}]},
        {"pieces": [{**LINER, "width_mm": 1e9}]},
        {"pieces": [{"id": "x", "outline_mm": [[0, 0], [9, 9], [9, 0], [0, 8]]}]},
        {"cloth": {"width_mm": -1, "length_mm": 5}},
        {"gap_mm": -1},
        {"edge_mm": -1},
        {"pieces": [LINER], "prints": {"A": {"a_mm": [0, 0]}}},
        {"keep_outs": [{"outline_mm": [[0, 0]]}]},
        {"book": {"pieces": []}},
    ],
)
def test_figures_that_cannot_be_are_refused_like_everywhere(fields: dict[str, Any]) -> None:
    assert "\n" not in refused(**fields)
