"""One cloth over back, spine and front: where each lies, its marks, what liners hide; no two sides are alike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.binding.covers import OnePieceCover, cover_piece, one_piece
from coverlayout.book.book import Book, Source, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.geometry.shapes import Box, area_mm2, checked_ring

# Boards 100 x 150, a gap of 30; head, tail and fore-edges turned in by different figures.
COVER = OnePieceCover(
    board_mm=(100.0, 150.0),
    gap_mm=30.0,
    spine_at="left",
    head_mm=14.0,
    tail_mm=17.0,
    fore_edge_mm=20.0,
    thickness_mm=2.0,
    mitre_mm=3.0,
    inset_mm=3.0,
)
MIRRORED = replace(COVER, spine_at="right")
BOOK = Book(
    "book-1",
    "Ledger",
    "flat-case",
    block_mm=(100.0, 150.0, 12.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    cover_turns="half",
    cover_source=Source("print-1"),
    volumes=(Volume(4),),
)


def test_the_front_lies_right_of_the_spine_when_the_book_opens_left() -> None:
    assert COVER.covered.outline == Box(0.0, 0.0, 20 + 100 + 30 + 100 + 20, 14 + 150 + 17)
    assert COVER.back == Box(20.0, 14.0, 100.0, 150.0)
    assert COVER.gap == Box(120.0, 14.0, 30.0, 150.0)
    assert COVER.front == Box(150.0, 14.0, 100.0, 150.0)
    assert COVER.spine_piece(13.0) == Box(128.5, 14.0, 13.0, 150.0)


def test_and_left_of_it_when_it_opens_right() -> None:
    assert MIRRORED.covered.outline == COVER.covered.outline
    assert MIRRORED.front == COVER.back
    assert MIRRORED.gap == COVER.gap
    assert MIRRORED.back == COVER.front


def test_all_of_it_comes_onto_the_book_by_one_shift() -> None:
    for cover in (COVER, MIRRORED):
        assert cover.to_book.at((135.0, 14.0)) == (0.0, 0.0)
        assert cover.to_book.at((150.0, 40.0)) == (15.0, 26.0)
        assert cover.to_book.at((20.0, 164.0)) == (-115.0, 150.0)
        assert [face.name for face in cover.faces()] == ["front", "spine", "back"]
        assert [face.outline_mm for face in cover.faces()] == [cover.front.ring(), cover.gap.ring(), cover.back.ring()]
        assert {face.piece_to_book for face in cover.faces()} == {cover.to_book}
    assert [face.name for face in replace(COVER, gap_mm=0.0).faces()] == ["front", "back"]


def test_liners_flush_at_the_joint_hide_the_turn_ins_of_the_boards_only() -> None:
    # 2 mm of edge and 3 mm of inset stay visible; between the boards all of the turn-in does.
    assert COVER.seen_mm == (
        (15.0, 9.0), (120.0, 9.0), (120.0, 0.0), (150.0, 0.0), (150.0, 9.0), (255.0, 9.0),
        (255.0, 169.0), (150.0, 169.0), (150.0, 181.0), (120.0, 181.0), (120.0, 169.0), (15.0, 169.0),
    )  # fmt: skip


def test_liners_inset_all_round_leave_more_to_be_seen_at_the_spine() -> None:
    inset = replace(COVER, inset_at_gap_mm=3.0).seen_mm
    assert inset is not None
    assert COVER.seen_mm is not None
    assert {(117.0, 0.0), (153.0, 0.0)} <= set(inset)
    # Two strips of 3 mm, 9 high at the head and 12 at the tail.
    assert area_mm2(inset) - area_mm2(COVER.seen_mm) == pytest.approx(2 * 3 * (9 + 12))


def test_what_is_seen_is_alike_whichever_way_it_opens() -> None:
    assert MIRRORED.seen_mm == COVER.seen_mm


def test_without_liners_all_is_seen_and_a_short_turn_in_is_seen_to_its_end() -> None:
    assert replace(COVER, inset_mm=None).seen_mm is None
    short = replace(COVER, head_mm=4.0, fore_edge_mm=0.0).seen_mm
    assert short is not None
    assert min(y for _, y in short) == 0.0
    assert min(x for x, _ in short) == 0.0
    assert len(short) == len(set(short))
    assert checked_ring(short, where="seen")
    # 230 x 159 of boards, edges and rims, and 12 mm of turn-in between the boards at the tail.
    assert area_mm2(short) == pytest.approx(230 * 159 + 30 * 12)


def test_the_marks_say_where_boards_and_joints_lie() -> None:
    kinds = [mark.kind for mark in COVER.marks(13.0)]
    assert kinds == ["board"] * 3 + ["turn-in", "liner"] + ["mitre"] * 4 + ["joint"] * 2 + ["head"]
    front, spine, back, fold, liner, *_ = COVER.marks(13.0)
    assert [mark.points_mm for mark in (front, spine, back)] == [
        COVER.front.ring(),
        COVER.spine_piece(13.0).ring(),
        COVER.back.ring(),
    ]
    assert fold.points_mm == Box(18.0, 12.0, 234.0, 154.0).ring()
    assert liner.points_mm == COVER.seen_mm
    joints = [mark.points_mm for mark in COVER.marks() if mark.kind == "joint"]
    assert joints == [((120.0, 14.0), (120.0, 164.0)), ((150.0, 14.0), (150.0, 164.0))]
    assert COVER.marks()[-1].points_mm == ((20.0, 14.0), (250.0, 14.0))
    assert len([mark for mark in COVER.marks() if mark.kind == "board"]) == 2
    assert "liner" not in [mark.kind for mark in replace(COVER, inset_mm=None).marks()]


@pytest.mark.parametrize("opens", ["left", "right"])
def test_a_book_gives_its_cover_the_measures(opens: str) -> None:
    book = replace(BOOK, opens=opens)  # type: ignore[arg-type]  # one of its two words
    figures = measures(book, book.volumes[0])
    cover = one_piece(book, figures, flush_at_gap=True)
    # Boards set back 3.5; the spine 12 + 2 x 2 - 0.5, joints of 10.
    assert (cover.board_mm, cover.gap_mm) == ((96.5, 156.0), 35.5)
    assert (cover.fore_edge_mm, cover.head_mm, cover.tail_mm) == (20.0, 14.0, 17.0)
    assert (cover.inset_mm, cover.inset_at_gap_mm) == (3.0, 0.0)
    assert one_piece(book, figures, flush_at_gap=False).inset_at_gap_mm == 3.0
    assert one_piece(replace(book, liners="none"), figures, flush_at_gap=False).inset_mm is None
    piece = cover_piece(book, book.volumes[0], cover, figures.spine_mm)
    assert (piece.id, piece.kind, piece.volume, piece.book_id) == ("cover-4", "cover", 4, "book-1")
    assert (piece.turns, piece.source) == ("half", Source("print-1"))
    assert (piece.width_mm, piece.height_mm) == (2 * 96.5 + 35.5 + 40, 156 + 31)
    assert piece.board is not None
    assert piece.anchor_mm == piece.board.middle == cover.front.middle
    at = piece.faces[0].piece_to_book.at(piece.anchor_mm)
    assert at == ((17.75 + 48.25) * (1 if opens == "left" else -1), 78.0)
