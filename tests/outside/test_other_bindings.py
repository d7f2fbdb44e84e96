"""Quarter, half, limp and side-sewn books, accordions and slipcases against published rules, and folded by shapely."""

import math
from dataclasses import replace

import pytest
from shapely import union_all
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon, box
from shapely.ops import split

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import boards, pieces
from coverlayout.geometry.frames import Ring

IN = 25.4
HALF = Book(
    "b",
    "Ledger",
    "half-case",
    board_mm=(150.0, 220.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    volumes=(Volume(1, 20.0),),
)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces(book)}


def seen_area(book: Book, kinds: tuple[str, ...]) -> float:
    """What is seen of these pieces on the front board, in mm2."""
    faces = [face for piece in pieces(book) if piece.kind in kinds for face in piece.faces if face.name == "front"]
    return sum(Polygon(face.outline_mm).area for face in faces)


def test_the_spine_of_a_quarter_binding_takes_about_a_quarter_of_the_board() -> None:
    """A booksellers' glossary: spine material on about 1/4 of the board's top edge, and no corners."""
    quarter = replace(HALF, structure="quarter-case")
    figures = measures(quarter, quarter.volumes[0])
    assert figures.spine_on_board_mm / figures.board_mm[0] == 0.25
    assert not [piece for piece in pieces(quarter) if piece.kind == "corner"]
    assert made(quarter)["spine-1"].width_mm == pytest.approx(figures.gap_mm + 2 * 37.5)


def test_a_half_binding_shows_spine_and_corners_as_large_as_its_sides() -> None:
    """A university library's page on styles, 2006: spine and corners to sides about 1:1; measured without laps."""
    half = replace(HALF, side_lap_mm=0.0)
    cloth, sides = seen_area(half, ("spine piece", "corner")), seen_area(half, ("side",))
    assert cloth / sides == pytest.approx(1.0, rel=1e-6)
    assert cloth + sides == pytest.approx(150.0 * 220.0)


def test_on_a_wide_board_corners_that_just_meet_keep_the_same_share() -> None:
    """The same page; corners as wide as the spine's cloth would be 123 mm on a board only 150 high."""
    wide = replace(HALF, board_mm=(300.0, 150.0), side_lap_mm=0.0)
    assert measures(wide, wide.volumes[0]).corner_leg_mm == 75.0
    ratio = seen_area(wide, ("spine piece", "corner")) / seen_area(wide, ("side",))
    assert ratio == pytest.approx(1.0, rel=1e-6)


def test_a_three_quarter_binding_by_figures_of_its_own() -> None:
    """The same page: about 3:1. On 150 x 220 mm corners of 47 mm need a spine s with 220 s + 47^2 = 24750."""
    leg = 47.0
    spine = (0.75 * 150 * 220 - leg**2) / 220
    wide = replace(HALF, side_lap_mm=0.0, spine_on_board_mm=spine, corner_leg_mm=leg)
    ratio = seen_area(wide, ("spine piece", "corner")) / seen_area(wide, ("side",))
    assert ratio == pytest.approx(3.0, rel=1e-6)


def test_the_width_of_a_half_cloth_side() -> None:
    """A school manual of 1912: visible board 4 in, 1/8 in lap and 3/4 in turn-in make 4 7/8; as long as the cloth.

    The cloth is as long as the board and 1 1/2 in. The board is taken 5 in wide, its first inch under the cloth.
    """
    book = replace(
        HALF,
        structure="quarter-case",
        board_mm=(5 * IN, 8 * IN),
        spine_on_board_mm=1 * IN,
        side_lap_mm=IN / 8,
        turn_ins=TurnIns.all_round(0.75 * IN),
    )
    side, strip = made(book)["side-front-1"], made(book)["spine-1"]
    assert side.width_mm / IN == pytest.approx(4.875, abs=1e-9)
    assert side.height_mm / IN == strip.height_mm / IN == pytest.approx(9.5, abs=1e-9)


def test_a_corner_reaches_as_far_as_the_cloth_of_the_spine() -> None:
    """Common practice, no source."""
    figures = measures(HALF, HALF.volumes[0])
    assert figures.corner_leg_mm == figures.spine_on_board_mm
    narrow = replace(HALF, spine_on_board_mm=33.0)
    assert measures(narrow, narrow.volumes[0]).corner_leg_mm == 33.0


def test_a_slipcase_scored_from_one_board() -> None:
    """A university library's manual of 1999: a book of 20.3 x 13.0 x 2.2 cm takes a board of 25.2 x 28.2 cm."""
    book = Book("b", "Case", "slipcase", block_mm=(130.0, 203.0, 22.0), slipcase_of="one scored board")
    (board,) = boards(book, book.volumes[0])
    assert (board.height_mm / 10, board.width_mm / 10) == pytest.approx((25.2, 28.2), abs=1e-9)


def test_a_slipcase_of_five_boards_has_one_to_two_millimetres_each_way() -> None:
    """Common practice, no source; a conservation dictionary: it slides, is not pulled out and does not fall out."""
    book = Book("b", "Case", "slipcase", block_mm=(130.0, 203.0, 22.0))
    wall, side, ends = boards(book, book.volumes[0])
    rooms = (side.width_mm - 22) / 2, (ends.height_mm - 130), (wall.height_mm - 2 * 2 - 203) / 2
    for room in rooms:
        assert 1.0 <= room <= 2.0


def test_a_limp_wrap_is_two_widths_a_thickness_and_its_flaps() -> None:
    """2 W + T + flaps (common practice, no source), with nothing turned in; a conservation dictionary: yapp edges."""
    wrap = Book("b", "N", "limp-wrap", block_mm=(100.0, 150.0, 4.0), turn_ins=TurnIns.all_round(0.0), liners="none")
    assert made(wrap)["cover-1"].width_mm == 204.0
    flaps = replace(wrap, turned_in_flap_mm=40.0)
    assert made(flaps)["cover-1"].width_mm == 284.0
    closing = replace(wrap, fore_edge_flap_mm=50.0)
    assert made(closing)["cover-1"].width_mm == 204 + 4 + 50
    yapp = replace(wrap, square_mm=6.0)
    assert (made(yapp)["cover-1"].width_mm, made(yapp)["cover-1"].height_mm) == (216.0, 162.0)


def test_a_side_sewn_cover_keeps_its_sewing_off_the_board() -> None:
    """A conservation dictionary: holes 1/4 to 3/4 in from the spine edge; worksheets keep 5 to 10 mm free there."""
    book = Book("b", "Notes", "side-sewn", page_mm=(100.0, 150.0))
    front = made(book)["front-1"]
    hole = next(mark.points_mm[0][0] for mark in front.marks if mark.kind == "fold")
    spine_edge = next(mark.points_mm[0][0] for mark in front.marks if mark.kind == "spine edge")
    assert 0.25 * IN <= hole - spine_edge <= 0.75 * IN
    board = front.faces[0]
    assert board.name == "front"
    assert min(x for x, _ in board.outline_mm) - hole >= 5.0


def test_an_accordion_has_two_covers_and_no_spine() -> None:
    """A university's glossary and a print studio's page: two covers, no spine."""
    book = Book("b", "Zigzag", "accordion", page_mm=(90.0, 120.0))
    assert {piece.kind for piece in pieces(book)} == {"cover", "liner"}
    assert [(board.name, board.count) for board in boards(book, book.volumes[0])] == [("cover board", 2)]


def folded_in(cloth: Polygon, board: tuple[float, float, float, float], thickness: float) -> list[Polygon]:
    """Every turn-in folded over the board's edges onto its inside, as seen through the board from outside.

    A point `d` beyond an edge comes to lie `d - thickness` inside it, where that is above 0.
    """
    left, top, right, bottom = board
    far = 1000.0
    sides = {
        "left": (box(-far, -far, left - thickness, far), [-1, 0, 0, 1, 2 * left - thickness, 0]),
        "right": (box(right + thickness, -far, far, far), [-1, 0, 0, 1, 2 * right + thickness, 0]),
        "head": (box(-far, -far, far, top - thickness), [1, 0, 0, -1, 0, 2 * top - thickness]),
        "tail": (box(-far, bottom + thickness, far, far), [1, 0, 0, -1, 0, 2 * bottom + thickness]),
    }
    inside = []
    for beyond, by in sides.values():
        part = cloth.intersection(beyond)
        if not part.is_empty:
            inside.append(affine_transform(part, by))
    return inside


@pytest.mark.parametrize("end", ["head", "tail"])
def test_a_corner_folded_over_its_board_closes_without_a_gap(end: str) -> None:
    """By shapely alone: the mitre is cut, both turn-ins are folded in; they meet with the mitre's overlap only.

    Across the mitre they overlap by 2 d - sqrt2 b, here d = 3 on board b = 2 (derived; 3.1716 mm).
    """
    piece = made(replace(HALF, spine_on_board_mm=50.0, corner_leg_mm=45.0))[f"corner-front-{end}-1"]
    mitre = LineString(next(mark.points_mm for mark in piece.marks if mark.kind == "mitre"))
    corner = next(mark.points_mm for mark in piece.marks if mark.kind == "board")
    cloth = max(split(Polygon(piece.outline_mm), mitre).geoms, key=lambda part: part.area)
    at_x, at_y = square_corner(corner)
    turned = (at_x - 500.0, at_y, at_x, at_y + 500.0) if end == "head" else (at_x - 500.0, at_y - 500.0, at_x, at_y)
    parts = folded_in(cloth, turned, 2.0)
    assert len(parts) == 2
    # Nothing is bare beside the corner: both turn-ins together fill the smaller turn-in's square there.
    inner = min(14.0, 17.0) - 2
    low = at_y if end == "head" else at_y - inner
    bare = box(at_x - inner, low, at_x, low + inner).difference(union_all(parts))
    reach = 2 * 3.0 - math.sqrt(2) * 2.0
    # The slant of the cut lies `reach` across the diagonal: the square's corner itself is covered.
    assert bare.area == pytest.approx(0.0, abs=1e-9)
    across = parts[0].intersection(parts[1])
    assert width_across(across) == pytest.approx(reach)


def square_corner(triangle: Ring) -> tuple[float, float]:
    """The corner of a right triangle with upright legs that both legs share."""
    xs, ys = [x for x, _ in triangle], [y for _, y in triangle]
    return max(xs), max(set(ys), key=ys.count)


def width_across(strip: Polygon) -> float:
    """The width of a strip whose long edges slant by 45 degrees."""
    return min(
        max(x * slant + y for x, y in strip.exterior.coords) - min(x * slant + y for x, y in strip.exterior.coords)
        for slant in (-1, 1)
    ) / math.sqrt(2)
