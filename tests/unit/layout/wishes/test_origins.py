"""Wherever the print falls: the verdict, the room, the share of places and the longer piece, against sums."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from wishing import decide_in_row, printed_cloth, strip_piece, striped

from coverlayout.errors import Remark
from coverlayout.geometry.shapes import bounds, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import ClothAsked, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.wishes.origins import every_origin, origin_matters
from coverlayout.motif.lattice import Lattice

A_AT_4 = Lock("a", (0.0, 0.0), (4.0, 0.0))
SQUARE = Lattice((40.0, 0.0), (0.0, 30.0))


def row(width_mm: float, wish_mm: float = 0.0) -> Question:
    pieces = (strip_piece("a", 35), strip_piece("b", 30))
    return Question(pieces, (striped(width_mm, 40.0, known=False),), locks=(A_AT_4,), spare_wish_mm=wish_mm)


def one_on(length_mm: float, **fields: object) -> Question:
    """One piece of 50 x 60 on a cloth 90 wide, so that across it fits wherever the print falls."""
    piece = PieceAsked("a", rectangle(50.0, 60.0), (0.0, 0.0), print_id="birds")
    cloth = printed_cloth(90.0, length_mm, SQUARE, known=False)
    return Question((piece,), (cloth,), locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),), **fields)  # type: ignore[arg-type] # by name


def decide_one(question: Question) -> Answer:
    """One locked piece among whole repeats: by counting them, on the first cloth whose print is known.

    A second piece stands for the print's origin: it may lie anywhere on the last cloth.
    """
    piece, *origin = question.pieces
    box, places = bounds(piece.outline_mm), [(0.0, 0.0), (0.0, 0.0)]
    if origin:
        free = question.cloths[-1].grounds[0].usable.bounds
        places = [(free.left_mm + 0.01, free.right_mm - 0.01), (free.top_mm + 0.01, free.bottom_mm - 0.01)]
    cloths = question.cloths[:-1] if origin else question.cloths
    known = [cloth for cloth in cloths if cloth.grounds[0].origin_known]
    for cloth in known:
        room, to_cloth = cloth.grounds[0].usable.bounds, cloth.grounds[0].print_to_cloth
        assert to_cloth is not None
        axes = (
            (to_cloth.dx, room.left_mm - box.left_mm, room.right_mm - box.right_mm, 40.0),
            (to_cloth.dy, room.top_mm - box.top_mm, room.bottom_mm - box.bottom_mm, 30.0),
        )
        at, fell = [], []
        for (start, low, high, step), (least, most) in zip(axes, places, strict=True):
            repeats = math.ceil((low - most - start - 1e-9) / step)
            shift = max(least, low - start - repeats * step)
            if start + repeats * step + shift > high + 1e-9:
                break
            at.append(start + repeats * step + shift)
            fell.append(shift)
        else:
            lies = [Placed(piece.id, cloth.id, at[0], at[1])]
            lies += [Placed(one.id, question.cloths[-1].id, fell[0], fell[1]) for one in origin]
            return replace(first_layout(replace(question, pieces=())), verdict="fits", placed=tuple(lies))
    return Answer("does not fit" if known else "not found", bool(known), Remark.of("lay-not-found"))


def test_only_a_must_for_a_place_on_cloth_not_at_hand_asks_where_the_print_falls() -> None:
    assert origin_matters(row(100.0))
    assert not origin_matters(replace(row(100.0), locks=()))
    linked = Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    assert not origin_matters(replace(row(100.0), locks=(), links=(linked,)))


def test_it_fits_wherever_the_print_falls() -> None:
    found = every_origin(row(95.0), decide_in_row)
    assert found.everywhere
    assert found.answer.verdict == "fits"
    assert found.answer.proved
    assert found.answer.notes[-1].code == "origin-example"
    assert found.example is not None
    assert Judge(found.example).report(found.answer.placed).verdict in ("valid", "valid, tight")
    assert sum(one.patch.share for one in found.layouts) == pytest.approx(1.0)
    assert "wherever" in found.answer.reason.text()


def test_the_room_is_what_can_be_had_everywhere() -> None:
    # One piece 50 x 60 on 90 + 2 x 3 by 90 + 2 x 5: 3 mm room across and 5 along wherever it falls, and not more.
    cloth = printed_cloth(96.0, 100.0, SQUARE, known=False)
    wishing = replace(one_on(90.0, spare_wish_mm=2.5), cloths=(cloth,))
    roomy = every_origin(wishing, decide_one)
    assert (roomy.answer.verdict, roomy.answer.spare_mm) == ("fits", 2.5)
    tight = every_origin(replace(wishing, spare_wish_mm=6.0), decide_one)
    assert tight.answer.verdict == "fits, tight"
    assert tight.answer.spare_mm is not None
    assert 2.2 <= tight.answer.spare_mm <= 3.0
    assert not tight.answer.spare_proved
    assert tight.answer.reason.code == "origin-tight"


def test_cloth_in_doubt_must_do_everywhere_too() -> None:
    smaller = printed_cloth(90.0, 89.0, SQUARE, known=False)
    doubtful = replace(one_on(90.0, spare_wish_mm=0.0), cloths_if_smaller=(smaller,))
    found = every_origin(doubtful, decide_one)
    assert (found.answer.verdict, found.answer.reason.code) == ("fits, tight", "origin-tight-doubt")
    assert found.answer.notes[0].code == "lay-smaller-not-found"
    enough = replace(doubtful, cloths_if_smaller=(printed_cloth(90.0, 90.0, SQUARE, known=False),))
    assert every_origin(enough, decide_one).answer.verdict == "fits"


def test_where_it_depends_the_share_and_the_longer_piece_are_told() -> None:
    # 80 long: the piece of 60 lies at 0 to 20 of the 30 that a repeat is long, two thirds of the places; 10 mm more
    # are enough for all.
    found = every_origin(one_on(80.0), decide_one)
    # A layout may be off by 0.01 mm at each of its ends.
    assert found.least_share <= 2 / 3 + 2 * 0.01 / 30
    assert found.most_share >= 2 / 3
    assert found.most_share - found.least_share <= 0.05
    assert (found.answer.verdict, found.answer.proved) == ("does not fit", True)
    assert found.longer_mm == 10.0
    assert found.answer.placed == ()
    assert "10 mm longer" in found.answer.notes[0].text()
    percents = dict(found.answer.reason.figures)
    assert float(percents["least"]) <= 100 * 2 / 3 <= float(percents["most"])


def test_where_no_place_will_do_that_is_said() -> None:
    never_wide = replace(one_on(80.0), cloths=(printed_cloth(45.0, 80.0, SQUARE, known=False),))
    found = every_origin(never_wide, decide_one)
    # It is too wide for the cloth, whatever its wishes: that is the reason, and no place is asked about.
    assert (found.answer.verdict, found.answer.reason.code) == ("does not fit", "lay-no-place")
    assert (found.least_share, found.most_share, found.longer_mm) == (0.0, 0.0, None)


def test_cloth_of_any_other_outline_is_not_made_longer() -> None:
    question = one_on(80.0)
    (cloth,) = question.cloths
    notched = cloth.grounds[0].usable.minus(cloth.grounds[0].usable.inset(20.0))
    crooked: ClothAsked = replace(cloth, grounds=(replace(cloth.grounds[0], usable=notched),))
    assert every_origin(replace(question, cloths=(crooked,)), decide_one).longer_mm is None


def test_of_two_cloths_not_at_hand_one_that_does_is_enough() -> None:
    short = printed_cloth(90.0, 80.0, SQUARE, known=False, name="short")
    long = printed_cloth(90.0, 90.0, SQUARE, known=False, name="long")
    found = every_origin(replace(one_on(80.0), cloths=(short, long)), decide_one)
    assert found.everywhere
    assert found.answer.placed[0].cloth == "long"
    neither = every_origin(replace(one_on(80.0), cloths=(short, replace(short, id="other"))), decide_one)
    assert neither.answer.verdict == "not found"
    assert neither.most_share == 1.0
    assert neither.least_share == pytest.approx(2 / 3, abs=0.02)


def test_cloth_in_hand_that_does_answers_for_every_place() -> None:
    hand = printed_cloth(90.0, 90.0, SQUARE, name="hand")
    bought = printed_cloth(90.0, 80.0, SQUARE, known=False)
    found = every_origin(replace(one_on(80.0, number=7), cloths=(bought, hand)), decide_one)
    assert found.everywhere
    assert found.answer.placed[0].cloth == "hand"
    assert found.answer.question_number == 7


def test_what_is_linked_to_a_cut_piece_is_not_claimed() -> None:
    link = Link(("a", "cut"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    found = every_origin(replace(one_on(90.0), links=(link,)), decide_one)
    assert (found.answer.verdict, found.least_share, found.most_share) == ("not found", 0.0, 1.0)


def test_a_stop_is_told() -> None:
    found = every_origin(one_on(80.0), decide_one, lambda share: True)
    assert found.answer.cut_short
    assert found.answer.verdict == "not found"
