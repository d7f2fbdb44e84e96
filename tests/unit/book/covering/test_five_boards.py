"""The wrap and the walls of a slipcase: where every part of the cloth comes to lie on the open case."""

import math
from dataclasses import replace

import pytest
from shapely import union_all
from shapely.geometry import Polygon, box

from coverlayout.book.book import Book, TurnIns
from coverlayout.book.covering.five_boards import FiveBoards
from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, from_flat, on_back
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.geometry.frames import Affine
from coverlayout.geometry.shapes import Box, bounds

# Outside 32.5 mm thick (from -16.25 to 16.25 at the mouth), 144.25 deep, 208.5 high.
CASE = Book(
    "b",
    "Case",
    "slipcase",
    block_mm=(140.0, 200.0, 24.0),
    board_thickness_mm=3.0,
    slipcase_clearance_mm=1.25,
    liner_inset_mm=2.0,
    turn_ins=TurnIns(head_mm=13.0, tail_mm=17.0, spine_mm=9.0, fore_edge_mm=22.0),
)
FRONT = Box(16.25, 0.0, 144.25, 208.5)
CLOSED = Box(160.5, 0.0, 32.5, 208.5)


def five(book: Book) -> FiveBoards:
    return FiveBoards(book, measures(book, book.volumes[0]))


def on_book(face: FlatFace) -> Polygon:
    return Polygon(face.onto_book.ring(face.outline_mm))


def all_on_book(piece: Piece) -> dict[str, list[Polygon]]:
    found: dict[str, list[Polygon]] = {}
    for face in piece.faces:
        found.setdefault(face.name, []).append(Polygon(face.piece_to_book.ring(face.outline_mm)))
    return found


def test_where_the_outsides_lie() -> None:
    case = five(CASE)
    assert (case.front_wall, case.closed_side) == (FRONT, CLOSED)
    assert case.head == Box(160.5, -144.25, 32.5, 144.25)
    assert case.tail == Box(160.5, 208.5, 32.5, 144.25)
    assert (case.inside_mm, case.outside_mm) == (26.5, 32.5)


def test_the_cloth_of_the_front_wall() -> None:
    cloth = five(CASE).front_cloth()
    face = Box(16.25, 2.0, 142.25, 204.5)
    assert bounds(cloth.faces[0].outline_mm) == face
    assert cloth.board == face
    assert cloth.anchor_mm == face.middle
    assert bounds(cloth.outline_mm) == Box(-5.75, 2.0, 164.25, 204.5)
    marks = {mark.kind: mark.points_mm[0] for mark in cloth.marks}
    assert marks == {
        "board": (16.25, 2.0), "turn-in": (13.25, 2.0), "spine edge": (16.25, 2.0), "head": (16.25, 2.0),
    }  # fmt: skip


def test_the_wrap_laid_flat() -> None:
    wrap = five(CASE).wrap()
    assert bounds(wrap.outline_mm) == Box(160.5 - 13, -144.25 - 22, 32.5 + 26, 208.5 + 2 * 144.25 + 44)
    assert wrap.anchor_mm == (160.5 + 16.25, 104.25)
    assert wrap.board is not None
    assert wrap.board.middle == wrap.anchor_mm
    # What laps under the cloth of the walls is not seen.
    assert wrap.seen_mm is not None
    assert bounds(wrap.seen_mm) == Box(158.5, -166.25, 36.5, 541.0)


def test_marks_of_the_wrap() -> None:
    marks = five(CASE).wrap().marks
    lines = [(mark.kind, mark.points_mm[0]) for mark in marks if mark.kind in ("fold", "turn-in", "lap")]
    assert lines == [
        ("fold", (160.5, -144.25)), ("fold", (193.0, -144.25)), ("fold", (147.5, 0.0)), ("fold", (147.5, 208.5)),
        ("turn-in", (147.5, -147.25)), ("turn-in", (147.5, 355.75)),
        ("lap", (158.5, -144.25)), ("lap", (195.0, -144.25)),
    ]  # fmt: skip
    notches = [mark.points_mm for mark in marks if mark.kind == "mitre"]
    assert notches[0] == ((147.5, -13.0), (160.5, 0.0), (147.5, 13.0))
    assert notches[3] == ((206.0, 195.5), (193.0, 208.5), (206.0, 221.5))
    assert len(notches) == 4


def folded(wall: str, panel: str, along: float, over: float) -> tuple[float, float]:
    """Where a point of the lap comes to lie on a wall, by hand: `along` from its corner, `over` the wall's edge.

    The front wall has its closed edge at x = 160.5, the back wall at -160.5.
    """
    inward = -1.0 if wall == "front" else 1.0
    edge = 160.5 if wall == "front" else -160.5
    if panel == "closed side":
        return edge + inward * over, along
    return edge + inward * along, over if panel == "head" else 208.5 - over


@pytest.mark.parametrize("wall", ["front", "back"])
@pytest.mark.parametrize("panel", ["closed side", "head", "tail"])
def test_a_rim_lies_where_the_lap_folds_to(wall: str, panel: str) -> None:
    x, out = (160.5, -1.0) if wall == "front" else (193.0, 1.0)
    flat = {
        "closed side": (x + out * 1.5, 40.0),
        "head": (x + out * 1.5, -40.0),
        "tail": (x + out * 1.5, 208.5 + 40.0),
    }[panel]
    rims = [face for face in five(CASE).wrap().faces if face.name == f"{wall} rim"]
    (found,) = [face for face in rims if Polygon(face.outline_mm).buffer(1e-9).contains(Polygon([flat] * 3).centroid)]
    assert found.onto_book.at(flat) == pytest.approx(folded(wall, panel, 40.0, 1.5))
    assert found.onto_book.determinant == 1.0


@pytest.mark.parametrize("opens", ["left", "right"])
def test_both_walls_are_covered_exactly_once(opens: str) -> None:
    """By shapely: cloth and rims of a wall fill it without lying over each other; the same for the other outsides."""
    book = replace(CASE, opens=opens)  # type: ignore[arg-type]  # one of its two words
    volume = book.volumes[0]
    case = five(book)
    wrap = all_on_book(from_flat(book, volume, case.wrap()))
    front = all_on_book(from_flat(book, volume, case.front_cloth()))
    back = all_on_book(from_flat(book, volume, on_back(case.front_cloth())))
    sign = 1.0 if opens == "left" else -1.0
    for name, cloth, near in (("front", front, 16.25 * sign), ("back", back, -16.25 * sign)):
        far = near + math.copysign(144.25, near)
        wall = box(min(near, far), 0.0, max(near, far), 208.5)
        parts = [*cloth[name], *wrap[f"{name} rim"]]
        assert len(parts) == 4
        assert sum(part.area for part in parts) == pytest.approx(wall.area)
        assert union_all(parts).symmetric_difference(wall).area == pytest.approx(0.0, abs=1e-6)
    side = box(*sorted([160.5 * sign, 193.0 * sign])[:1], 0.0, sorted([160.5 * sign, 193.0 * sign])[1], 208.5)
    assert wrap["closed side"][0].symmetric_difference(side).area == pytest.approx(0.0, abs=1e-6)


def test_cloth_up_to_the_edges_leaves_no_rim() -> None:
    flush = five(replace(CASE, liner_inset_mm=0.0))
    assert [face.name for face in flush.wrap().faces] == ["head", "closed side", "tail"]


def test_every_map_turns_and_never_mirrors() -> None:
    wrap: FlatPiece = five(CASE).wrap()
    assert {face.onto_book.determinant for face in wrap.faces} == {1.0}
    assert [face.onto_book for face in wrap.faces[:3]] == [Affine()] * 3
