"""Rows too wide, rectangles without room together, more of them than grounds: each just holds and just does not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.beside import no_room_together, rows_too_wide
from coverlayout.layout.proofs.nowhere import Spots
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.question import ClothAsked, PieceAsked, Question


def row(question: Question) -> Proof | None:
    return rows_too_wide(relaxed(question))


def together(question: Question) -> Proof | None:
    return no_room_together(question, Spots(question))


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    assert proof.name == "side by side"
    return dict(proof.figures)


def some(count: int, width: float, height: float, turns: tuple[float, ...] = (0.0,)) -> tuple[PieceAsked, ...]:
    return tuple(piece(f"cover-{k}", width, height, turns) for k in range(count))


def two_cloths(width: float, length: float) -> tuple[ClothAsked, ...]:
    return cloth(width, length, name="c1"), cloth(width, length, name="c2")


def test_three_covers_side_by_side() -> None:
    # Each two of them are higher together than the cloth is long: 433 mm are needed across.
    covers = some(3, 144.3, 182.4)
    told = figures(row(Question(covers, (cloth(419, 304.8),))))
    expected = {"pieces": "cover-0, cover-1, cover-2", "count": 3.0, "have_mm": 419.0, "way": "across", "sheets": 1.0}
    assert {name: value for name, value in told.items() if name != "need_mm"} == expected
    assert told["need_mm"] == pytest.approx(432.9)
    assert row(Question(covers, (cloth(432.9, 304.8),))) is None
    assert row(Question(covers, (cloth(419, 364.8),))) is None
    turned = some(3, 182.4, 144.3)
    assert figures(row(Question(turned, (cloth(304.8, 419),))))["way"] == "along"


def test_a_gap_counts_between_pieces_side_by_side() -> None:
    pair = (piece("a", 50, 60), piece("b", 45, 60))
    assert row(Question(pair, (cloth(96, 100),), gap_mm=1.0)) is None
    assert figures(row(Question(pair, (cloth(96, 100),), gap_mm=1.1)))["need_mm"] == pytest.approx(96.1)
    # Above each other but for the gap they may stand corner to corner: no proof.
    assert row(Question(pair, (cloth(96, 121),), gap_mm=2.0)) is None


def test_every_choice_of_turns_is_refuted() -> None:
    # Two pieces of 60 x 70 on 100 x 125: upright above each other need 140, beside 120; turned and upright 130 or 130.
    assert row(Question(some(2, 60, 70, ANY), (cloth(100, 119.9),))) is not None
    assert row(Question(some(2, 60, 70, ANY), (cloth(100, 120),))) is None
    assert row(Question(book_pieces(), (cloth(304.8, 304.8),))) is None
    assert row(Question(book_pieces(1, (0.0,)), (cloth(304.8, 304.8),))) is not None
    # Too many choices of turns: each with its smaller sides, of which six still stand in a row.
    crowd = tuple(piece(f"p{k}", 60, 70 + k, ANY) for k in range(9))
    assert row(Question(crowd, (cloth(500, 119),))) is not None
    assert row(Question(crowd, (cloth(500, 121),))) is None


def test_rows_over_several_cloths() -> None:
    # Two rows of 100: three covers of 40 are 120, but each cloth holds two.
    covers = some(5, 40, 60)
    assert row(Question(covers[:4], two_cloths(100, 100))) is None
    told = figures(row(Question(covers, two_cloths(90, 100))))
    assert (told["need_mm"], told["have_mm"], told["sheets"]) == (200.0, 180.0, 2.0)
    told = figures(row(Question(covers, two_cloths(110, 100))))
    assert (told["count"], told["most"], told["way"]) == (5.0, 4.0, "across")
    assert row(Question(covers, two_cloths(120, 100))) is None
    # Pieces of the second cloth alone.
    bound = tuple(replace(one, cloth_ids=("c2",)) for one in covers[:3])
    assert row(Question(bound, two_cloths(110, 100))) is not None


def test_two_that_find_no_room_together() -> None:
    pair = (piece("a", 60, 70), piece("b", 50, 45))
    told = figures(together(Question(pair, (cloth(100, 100),))))
    need = {"need_width_mm": 110.0, "need_height_mm": 115.0, "have_width_mm": 100.0, "have_height_mm": 100.0}
    assert told == {"pieces": "a, b", "count": 2.0, "wish": "pair", **need}
    assert together(Question(pair, (cloth(110, 100),))) is None
    assert together(Question(pair, (cloth(100, 115),))) is None
    turning = tuple(replace(one, turns_deg=ANY) for one in pair)
    assert together(Question(turning, (cloth(100, 105),))) is None
    assert "need_width_mm" not in figures(together(Question(turning, (cloth(100, 104.9),))))


def test_a_crease_between_two() -> None:
    pair = (piece("a", 60, 70), piece("b", 35, 70))
    crease = flaw(rectangle(8, 100, 50, 0))
    # 92 mm without the crease, but 60 lie only right of it and 35 only left: then beside each other; wider ones not.
    assert together(Question(pair, (cloth(120, 100, keep_outs=(crease,)),))) is None
    wider = (pair[0], piece("b", 51, 70))
    assert together(Question(wider, (cloth(120, 100),))) is None
    assert together(Question(wider, (cloth(120, 100, keep_outs=(crease,)),))) is not None


def test_a_gap_between_two_is_kept_corner_to_corner() -> None:
    pair = (piece("a", 50, 50), piece("b", 50, 50))
    # 3 across and 4 along are 5 from corner to corner.
    assert together(Question(pair, (cloth(103, 104),), gap_mm=5.0)) is None
    assert together(Question(pair, (cloth(103, 104),), gap_mm=5.1)) is not None
    assert together(Question(pair, (cloth(103, 99),), gap_mm=4.0)) is not None


def test_a_crooked_print_turns_the_pieces_with_it() -> None:
    # On 100 x 100 two of 50 x 90 just lie beside each other; leaning by 5 degrees they do not.
    pair = some(2, 49.9, 90)
    assert together(Question(pair, (cloth(100, 100),))) is None
    assert together(Question(pair, (cloth(100, 100, up_deg=5.0),))) is not None
    assert together(Question(some(2, 45, 80), (cloth(100, 100, up_deg=2.0),))) is None


def test_no_more_than_one_on_a_cloth() -> None:
    covers = some(3, 60, 70, ANY)
    assert together(Question(covers[:2], two_cloths(100, 100))) is None
    told = figures(together(Question(covers, two_cloths(100, 100))))
    assert told == {"pieces": "cover-0, cover-1, cover-2", "count": 3.0, "most": 2.0, "sheets": 2.0}
    mixed = (*covers[:2], piece("b", 45, 45))
    assert together(Question(mixed, two_cloths(100, 100))) is not None
    small = (*covers[:2], piece("b", 40, 40))
    assert together(Question(small, two_cloths(100, 100))) is None


def test_slanted_pieces_and_other_outlines_are_left_alone() -> None:
    slanted = (piece("a", 60, 70, (0.0, 45.0)), piece("b", 60, 70, (45.0,)))
    assert together(Question(slanted, (cloth(105, 105),))) is None
    l_shape = ((0.0, 0.0), (90.0, 0.0), (90.0, 20.0), (20.0, 20.0), (20.0, 90.0), (0.0, 90.0))
    assert together(Question((piece("l", 0, 0, outline=l_shape), piece("b", 60, 60)), (cloth(100, 100),))) is None
