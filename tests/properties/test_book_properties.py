"""What holds for any book: front and back are mirror twins, turn-ins move no motif, pieces lie right on the book."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.geometry.shapes import Region, area_mm2, checked_ring

EDGE = st.floats(0.0, 30.0)
BOOKS = st.builds(
    Book,
    id=st.just("b"),
    name=st.just("Book"),
    board_mm=st.tuples(st.floats(60.0, 300.0), st.floats(60.0, 300.0)),
    turn_ins=st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE),
    liner_inset_mm=st.floats(0.0, 20.0),
    opens=st.sampled_from(["left", "right"]),
    volumes=st.just((Volume(1, 14.0),)),
)


CASES = st.builds(
    Book,
    id=st.just("b"),
    name=st.just("Book"),
    structure=st.sampled_from(["exposed-spine-wrap", "flat-case", "rounded-case"]),
    board_mm=st.tuples(st.floats(60.0, 300.0), st.floats(60.0, 300.0)),
    board_thickness_mm=st.floats(0.5, 4.0),
    joint_mm=st.none() | st.floats(0.0, 20.0),
    spine_piece=st.none() | st.sampled_from(["board", "strip", "none"]),
    turn_ins=st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE),
    liners=st.sampled_from(["cloth", "paper", "none"]),
    liner_inset_mm=st.floats(0.0, 20.0),
    opens=st.sampled_from(["left", "right"]),
    volumes=st.builds(lambda thickness: (Volume(1, thickness),), st.floats(1.0, 80.0)),
).filter(lambda book: book.structure != "exposed-spine-wrap" or measures(book, book.volumes[0]).thickness_mm > 0.01)


@given(CASES)
def test_the_cloth_of_a_wrap_goes_over_the_block_and_both_boards(book: Book) -> None:
    """What was measured with the boards is the cloth over the spine, to the last digit; the block is the rest."""
    wrap = replace(book, structure="exposed-spine-wrap")
    figures = measures(wrap, wrap.volumes[0])
    assert figures.over_spine_mm == wrap.volumes[0].thickness_mm
    assert figures.thickness_mm + 2 * book.board_thickness_mm == pytest.approx(figures.over_spine_mm)


def flipped(piece: Piece) -> dict[str, list[tuple[float, float]]]:
    """Every mark with x counted from the right edge, points in rising order."""
    return {
        f"{mark.kind} {k}": sorted((round(piece.width_mm - x, 6), round(y, 6)) for x, y in mark.points_mm)
        for k, mark in enumerate(sorted(piece.marks, key=lambda mark: (mark.kind, min(y for _, y in mark.points_mm))))
        if mark.kind != "mitre"
    }


def as_drawn(piece: Piece) -> dict[str, list[tuple[float, float]]]:
    return {
        f"{mark.kind} {k}": sorted((round(x, 6), round(y, 6)) for x, y in mark.points_mm)
        for k, mark in enumerate(sorted(piece.marks, key=lambda mark: (mark.kind, min(y for _, y in mark.points_mm))))
        if mark.kind != "mitre"
    }


@given(BOOKS)
def test_the_back_is_the_front_in_the_mirror(book: Book) -> None:
    front, back, liner_front, liner_back = pieces(book)
    for one, other in ((front, back), (liner_front, liner_back)):
        flip, drawn = flipped(one), as_drawn(other)
        assert flip.keys() == drawn.keys()
        for name in flip:
            for ours, theirs in zip(flip[name], drawn[name], strict=True):
                assert ours == pytest.approx(theirs, abs=1e-5)


@given(BOOKS)
def test_opening_to_the_other_side_swaps_front_and_back(book: Book) -> None:
    other = replace(book, opens="right" if book.opens == "left" else "left")
    front, back, *_ = pieces(book)
    other_front, other_back, *_ = pieces(other)
    assert (front.marks, front.anchor_mm) == (other_back.marks, other_back.anchor_mm)
    assert (back.marks, back.anchor_mm) == (other_front.marks, other_front.anchor_mm)


@given(BOOKS, st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE))
def test_turn_ins_move_nothing_on_the_face(book: Book, turn_ins: TurnIns) -> None:
    for before, after in zip(pieces(book), pieces(replace(book, turn_ins=turn_ins)), strict=True):
        (face, changed) = (before.faces[0], after.faces[0])
        old = [face.piece_to_book.at(point) for point in (*face.outline_mm, before.anchor_mm)]
        new = [changed.piece_to_book.at(point) for point in (*changed.outline_mm, after.anchor_mm)]
        for (x, y), (x2, y2) in zip(old, new, strict=True):
            assert (x, y) == pytest.approx((x2, y2), abs=1e-9)


@given(BOOKS)
def test_what_is_seen_lies_between_the_face_and_the_cut(book: Book) -> None:
    for piece in pieces(book):
        if piece.board is not None and piece.seen_mm is not None:
            face = piece.board.width_mm * piece.board.height_mm
            assert face - 1e-6 <= area_mm2(piece.seen_mm) <= area_mm2(piece.outline_mm) + 1e-6
            assert all(-1e-9 <= x <= piece.width_mm + 1e-9 for x, _ in piece.seen_mm)


def on_book(piece: Piece, name: str) -> tuple[float, float, float, float]:
    """Left, right, top and bottom of a face on the open book."""
    face = next(face for face in piece.faces if face.name == name)
    xs, ys = zip(*(face.piece_to_book.at(point) for point in face.outline_mm), strict=True)
    return min(xs), max(xs), min(ys), max(ys)


@given(CASES)
def test_the_front_lies_on_the_side_it_opens_from_and_the_spine_between(book: Book) -> None:
    cover = pieces(book)[0]
    width, height = book.board_mm or (0.0, 0.0)
    gap = measures(book, book.volumes[0]).gap_mm
    hand = 1.0 if book.opens == "left" else -1.0
    for name, side in (("front", hand), ("back", -hand)):
        inner, outer = side * gap / 2, side * (gap / 2 + width)
        assert on_book(cover, name) == pytest.approx((min(inner, outer), max(inner, outer), 0.0, height), abs=1e-6)
    assert on_book(cover, "spine") == pytest.approx((-gap / 2, gap / 2, 0.0, height), abs=1e-6)
    assert cover.width_mm == pytest.approx(2 * width + gap + 2 * book.turn_ins.fore_edge_mm)
    assert cover.height_mm == pytest.approx(height + book.turn_ins.head_mm + book.turn_ins.tail_mm)


@given(CASES)
def test_opening_to_the_other_side_mirrors_the_whole_case(book: Book) -> None:
    other = replace(book, opens="right" if book.opens == "left" else "left")
    for one, mirrored in zip(pieces(book), pieces(other), strict=True):
        for face, twin in zip(one.faces, mirrored.faces, strict=True):
            left, right, top, bottom = on_book(one, face.name)
            assert on_book(mirrored, twin.name) == pytest.approx((-right, -left, top, bottom), abs=1e-6)


@given(CASES)
def test_liners_lie_within_their_boards_by_the_inset(book: Book) -> None:
    cover, *liners = pieces(book)
    assert bool(liners) is (book.liners == "cloth")
    for liner in liners:
        name = liner.faces[0].name.removeprefix("inside ")
        left, right, top, bottom = on_book(cover, name)
        inset, at_spine = book.liner_inset_mm, book.liner_inset_mm if book.structure == "exposed-spine-wrap" else 0.0
        at_left, at_right = (at_spine, inset) if left >= 0 else (inset, at_spine)
        within = (left + at_left, right - at_right, top + inset, bottom - inset)
        assert on_book(liner, f"inside {name}") == pytest.approx(within, abs=1e-6)


@given(CASES, st.builds(TurnIns, EDGE, EDGE, EDGE, EDGE))
def test_turn_ins_of_a_case_move_nothing_on_its_faces(book: Book, turn_ins: TurnIns) -> None:
    for before, after in zip(pieces(book), pieces(replace(book, turn_ins=turn_ins)), strict=True):
        for face, changed in zip(before.faces, after.faces, strict=True):
            assert on_book(before, face.name) == pytest.approx(on_book(after, changed.name), abs=1e-6)
        old, new = (piece.faces[0].piece_to_book.at(piece.anchor_mm) for piece in (before, after))
        assert old == pytest.approx(new, abs=1e-6)


@given(CASES)
def test_what_is_seen_of_a_case_is_an_outline_between_its_boards_and_its_cut(book: Book) -> None:
    cover = pieces(book)[0]
    if cover.seen_mm is None:
        assert book.liners == "none"
        return
    assert checked_ring(cover.seen_mm, where="seen")
    seen, cut = Region.of(cover.seen_mm), Region.of(cover.outline_mm)
    assert seen.minus(cut).area_mm2 < 1e-3
    assert cover.board is not None
    assert Region.of(cover.board.ring()).minus(seen).area_mm2 < 1e-3
