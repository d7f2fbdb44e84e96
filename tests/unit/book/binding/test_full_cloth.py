"""Cases in full cloth and the wrap of an open spine: sizes, boards, liners and where they lie on the book."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.binding.full_cloth import boards_of_case, pieces_of_full_cloth
from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.pieces import Piece
from coverlayout.geometry.frames import Point

CASE = Book(
    "book-1",
    "Ledger",
    "flat-case",
    block_mm=(100.0, 150.0, 12.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    volumes=(Volume(4),),
)
WRAP = replace(CASE, structure="exposed-spine-wrap")
ROUND = replace(CASE, structure="rounded-case")


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_full_cloth(book, book.volumes[0])}


def face_of(piece: Piece, name: str) -> list[Point]:
    face = next(face for face in piece.faces if face.name == name)
    return [face.piece_to_book.at(point) for point in face.outline_mm]


def across(points: list[Point]) -> tuple[float, float]:
    return min(x for x, _ in points), max(x for x, _ in points)


def test_a_case_is_one_piece_of_cloth_and_two_liners() -> None:
    pieces = made(CASE)
    assert list(pieces) == ["cover-4", "liner-front-4", "liner-back-4"]
    # Boards 96.5 x 156, between them 12 + 4 - 0.5 and two joints of 10.
    assert (pieces["cover-4"].width_mm, pieces["cover-4"].height_mm) == (2 * 96.5 + 35.5 + 40, 156 + 14 + 17)
    assert (pieces["liner-front-4"].width_mm, pieces["liner-front-4"].height_mm) == (96.5 - 3, 156 - 6)
    for liners in ("paper", "none"):
        assert list(made(replace(CASE, liners=liners))) == ["cover-4"]


def test_the_wrap_has_no_joints_and_liners_inset_on_all_sides() -> None:
    pieces = made(WRAP)
    assert (pieces["cover-4"].width_mm, pieces["cover-4"].height_mm) == (2 * 100 + 12 + 40, 150 + 14 + 17)
    assert (pieces["liner-back-4"].width_mm, pieces["liner-back-4"].height_mm) == (94.0, 144.0)
    allowed = made(replace(WRAP, spine_allowance_mm=1.5))["cover-4"]
    assert allowed.width_mm == 252 + 1.5


@pytest.mark.parametrize(("opens", "hand"), [("left", 1.0), ("right", -1.0)])
def test_the_faces_lie_on_the_book_as_it_opens(opens: str, hand: float) -> None:
    cover = made(replace(CASE, opens=opens))["cover-4"]  # type: ignore[arg-type]  # one of its two words
    front, spine, back = (across(face_of(cover, name)) for name in ("front", "spine", "back"))
    assert front == pytest.approx(tuple(sorted((hand * 17.75, hand * 114.25))))
    assert back == pytest.approx(tuple(sorted((-hand * 17.75, -hand * 114.25))))
    assert spine == pytest.approx((-17.75, 17.75))
    assert {round(y, 9) for _, y in face_of(cover, "front")} == {0.0, 156.0}


@pytest.mark.parametrize(("opens", "hand"), [("left", 1.0), ("right", -1.0)])
def test_liners_lie_within_their_boards(opens: str, hand: float) -> None:
    for book, at_spine, edge, fore_edge in ((CASE, 0.0, 17.75, 114.25), (WRAP, 3.0, 6.0, 106.0)):
        pieces = made(replace(book, opens=opens))  # type: ignore[arg-type]  # one of its two words
        for cover, side in (("front", hand), ("back", -hand)):
            lying = across(face_of(pieces[f"liner-{cover}-4"], f"inside {cover}"))
            assert lying == pytest.approx(tuple(sorted((side * (edge + at_spine), side * (fore_edge - 3.0)))))
            # Seen from its print side it lies the other way round.
            assert pieces[f"liner-{cover}-4"].faces[0].piece_to_book.determinant == -1.0


def test_a_rounded_spine_counts_by_its_arc() -> None:
    third_mm = 2 * math.pi / 3 * 12 / math.sqrt(3)
    cover = made(ROUND)["cover-4"]
    # A third of a circle over 12 mm, joints of 5, boards as wide as the page.
    assert cover.width_mm == pytest.approx(2 * 100 + third_mm + 10 + 40)
    assert across(face_of(cover, "spine")) == pytest.approx((-third_mm / 2 - 5, third_mm / 2 + 5))
    half_mm = made(replace(ROUND, spine_rise_mm=6.0))["cover-4"].width_mm
    assert half_mm == pytest.approx(250 + math.pi * 6)
    assert made(replace(ROUND, spine_rise_mm=0.0))["cover-4"].width_mm == pytest.approx(250 + 12)
    assert made(replace(ROUND, spine_width_mm=14.0))["cover-4"].width_mm == pytest.approx(250 + 14)


def test_a_case_without_a_spine_piece_keeps_the_gap_of_block_and_joints() -> None:
    bare = replace(CASE, spine_piece="none")
    cover = made(bare)["cover-4"]
    # Joints of 3 and boards as wide as the page, where there is no spine piece.
    assert cover.width_mm == pytest.approx(2 * 100 + 12 + 6 + 40)
    assert len([mark for mark in cover.marks if mark.kind == "board"]) == 2
    assert boards_of_case(bare, bare.volumes[0]) == (BoardPiece("cover board", 100.0, 156.0, 2.0, 2),)


def test_boards_and_what_stiffens_the_spine() -> None:
    assert boards_of_case(CASE, CASE.volumes[0]) == (
        BoardPiece("cover board", 96.5, 156.0, 2.0, 2),
        BoardPiece("spine piece", 15.5, 156.0, 2.0),
    )
    strip = replace(CASE, spine_piece="strip")
    assert boards_of_case(strip, strip.volumes[0])[1] == BoardPiece("spine strip", 12.0, 156.0, 0.4, material="card")
    cover, strip_of_round = boards_of_case(ROUND, ROUND.volumes[0])
    assert (cover.width_mm, strip_of_round.material) == (100.0, "card")
    assert strip_of_round.width_mm == pytest.approx(12 * 1.2091996, abs=1e-6)
    assert [board.name for board in boards_of_case(WRAP, WRAP.volumes[0])] == ["cover board"]


def test_each_volume_has_a_spine_of_its_own() -> None:
    two = replace(CASE, volumes=(Volume(1, 10.0), Volume(2, 20.0)))
    widths = [pieces_of_full_cloth(two, volume)[0].width_mm for volume in two.volumes]
    assert widths[1] - widths[0] == pytest.approx(10.0)
    assert [boards_of_case(two, volume)[1].width_mm for volume in two.volumes] == [13.5, 23.5]
