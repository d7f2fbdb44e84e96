"""Few pieces turned among layouts with enough room: half turned ones set upright, then searches with fewer turns."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, core, faults, piece

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.lay import lay
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Placed, Question
from coverlayout.layout.ranking.upright import fewer_turned, heads_up, turned
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

HALF = (0.0, 180.0)
# A triangle 60 wide and 40 high that hangs from its long side; its anchor is off the middle.
HANGING = ((0.0, 0.0), (60.0, 0.0), (30.0, 40.0))


def judge_of(*pieces: PieceAsked, up_deg: float = 0.0) -> Judge:
    return Judge(Question(pieces, (cloth(200.0, 100.0, up_deg=up_deg),), spare_wish_mm=2.0))


def test_turned_pieces_are_counted_from_the_print_and_only_where_they_could_lie_better() -> None:
    names = ("up", "down", "across", "must")
    pieces = (piece("up", 30, 20, ANY), piece("down", 30, 20, ANY), piece("across", 20, 20, ANY))
    judge = judge_of(*pieces, piece("must", 20, 20, (90.0,)), up_deg=10.0)
    lies = tuple(
        Placed(name, "c", 30.0 + 45 * k, 50.0, deg)
        for k, (name, deg) in enumerate(zip(names, (10, 190, 280, 100), strict=True))
    )
    assert turned(judge, lies) == (1, 1)


@pytest.mark.parametrize("up_deg", [0.0, 359.04])
def test_a_half_turned_rectangle_is_set_up_in_the_very_same_ground(up_deg: float) -> None:
    # The anchor is 5, 3 mm off the middle: half turned about the middle it moves by twice that.
    off = piece("a", 40, 20, HALF, anchor=(25.0, 13.0))
    judge = judge_of(off, up_deg=up_deg)
    before = Placed("a", "c", 80.0, 50.0, (up_deg + 180.0) % 360.0)
    (after,) = heads_up(judge, (before,), 2.0)
    assert after.turn_deg == pytest.approx(up_deg)
    old, new = ({_rounded(at) for at in judge.laid(one, ()).shape.region.parts()[0][0]} for one in (before, after))  # type: ignore[union-attr]  # both lie on the cloth
    assert old == new
    if up_deg == 0.0:
        assert (after.x_mm, after.y_mm) == pytest.approx((90.0, 56.0))


def _rounded(at: Point) -> Point:
    return round(at[0], 6), round(at[1], 6)


def test_what_would_reach_another_piece_upside_up_stays_while_others_are_righted() -> None:
    slot = piece("slot", 60, 40, HALF, outline=HANGING)
    other = piece("other", 60, 40, (0.0,), outline=HANGING)
    free = piece("free", 20, 20, HALF)
    judge = judge_of(slot, other, free)
    # Beside a hanging triangle another one stands on its long side, their slanted sides along each other.
    lies = (
        Placed("slot", "c", 73.0, 50.0, 180.0),
        Placed("other", "c", 40.0, 50.0, 0.0),
        Placed("free", "c", 170.0, 50.0, 180.0),
    )
    assert judge.report(lies).breaches == ()
    righted = heads_up(judge, lies, 0.5)
    assert [one.turn_deg for one in righted] == [180.0, 0.0, 0.0]
    assert judge.report(righted).breaches == ()


def test_nothing_half_turned_is_left_as_it_is() -> None:
    judge = judge_of(piece("a", 40, 20, HALF))
    lies = (Placed("a", "c", 80.0, 50.0),)
    assert heads_up(judge, lies, 2.0) is lies


def test_all_upright_is_asked_first_and_ends_the_search() -> None:
    judge = judge_of(piece("a", 40, 20, ANY), piece("b", 30, 30, None))
    lies = (Placed("a", "c", 60.0, 50.0, 90.0), Placed("b", "c", 150.0, 50.0, 15.0))
    upright = (Placed("a", "c", 60.0, 50.0), Placed("b", "c", 150.0, 50.0))
    asked: list[tuple[PieceAsked, ...]] = []

    def layout_of(pieces: tuple[PieceAsked, ...]) -> tuple[Placed, ...]:
        asked.append(pieces)
        return upright

    assert list(fewer_turned(judge, lies, 2.0, layout_of)) == [upright]
    assert [[one.turns_deg for one in pieces] for pieces in asked] == [[(0.0,), (0.0,)]]


def test_one_after_another_is_tried_where_all_together_find_none() -> None:
    judge = judge_of(piece("a", 40, 20, ANY), piece("b", 40, 20, ANY), piece("c", 30, 20, ANY), piece("d", 9, 9))
    lies = tuple(Placed(name, "c", 30.0 + 50 * k, 50.0, 90.0) for k, name in enumerate("abc"))
    lies = (*lies, Placed("d", "c", 180.0, 50.0))
    mended = (*lies[:2], replace(lies[2], turn_deg=0.0), lies[3])
    asked: list[tuple[tuple[float, ...] | None, ...]] = []

    def layout_of(pieces: tuple[PieceAsked, ...]) -> tuple[Placed, ...] | None:
        asked.append(tuple(one.turns_deg for one in pieces))
        return mended if pieces[2].turns_deg == (0.0,) and pieces[0].turns_deg != (0.0,) else None

    assert list(fewer_turned(judge, lies, 2.0, layout_of)) == [mended]
    any_better_first = (0.0, 180.0, 90.0, 270.0)
    # Nothing of a, then c alone; b is like a and is not asked again, neither alone nor beside c.
    assert asked == [
        ((0.0,), (0.0,), (0.0,), (0.0,)),
        ((0.0,), any_better_first, any_better_first, (0.0,)),
        (HALF, any_better_first, any_better_first, (0.0,)),
        (any_better_first, any_better_first, (0.0,), (0.0,)),
    ]


def test_a_proposal_without_the_room_or_with_a_fault_is_not_taken() -> None:
    judge = judge_of(piece("a", 40, 20, ANY))
    lies = (Placed("a", "c", 100.0, 50.0, 90.0),)
    assert list(fewer_turned(judge, lies, 30.0, lambda pieces: (Placed("a", "c", 21.0, 50.0),))) == []
    assert list(fewer_turned(judge, lies, 2.0, lambda pieces: (Placed("a", "c", 10.0, 50.0),))) == []


def test_on_ample_cloth_all_lies_upright_though_turned_liners_have_more_room() -> None:
    question = Question(book_pieces(), (cloth(558.8, 457.2),))
    answer = lay(question)
    assert [one.turn_deg for one in answer.placed] == [0.0] * 4
    assert faults(question, answer.placed) == []
    assert answer.notes == ()
    assert answer.spare_proved
    # Two covers above two liners, all upright: three rooms along 457.2 mm beside 182.4 and 146.4, 42.8 each.
    assert answer.clearance_mm is not None
    assert answer.clearance_mm >= (457.2 - 182.4 - 146.4) / 3 - 1.0
    assert answer.clearance_mm == pytest.approx(clearance_of(question, answer.placed), abs=1e-6)


def test_below_the_wish_the_roomiest_layout_keeps_its_turned_liners() -> None:
    answer = lay(core(304.8))
    assert (answer.verdict, answer.spare_proved) == ("fits, tight", True)
    assert answer.clearance_mm == answer.spare_mm == pytest.approx(4.7, abs=0.001)
    assert [one.turn_deg % 180.0 for one in answer.placed] == [0.0, 0.0, 90.0, 90.0]


def test_room_found_on_the_way_to_an_upright_layout_is_room_to_spare() -> None:
    # Few steps: the search for room in any turn ends early, the one in fewer turns may come further.
    ell = ((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0))
    pieces = (piece("ell", 60, 100, None, outline=ell), piece("a", 15, 15, ANY), piece("b", 15, 15, ANY))
    on = cloth(200.0, 150.0, fixed=[(piece("cut", 15, 15), Placed("cut", "c", 0.0, 0.0))])
    for steps in (4000, 8000, 20_000):
        answer = lay(Question(pieces, (on,), steps=steps))
        assert answer.spare_mm is not None
        assert answer.clearance_mm is not None
        assert answer.clearance_mm <= answer.spare_mm
        if answer.spare_mm < 6.0:
            assert answer.clearance_mm == pytest.approx(answer.spare_mm, abs=0.01)
            assert answer.verdict == "fits, tight"


def test_as_many_as_can_be_are_upright_where_not_all_can() -> None:
    # 100 mm high: a of 90 x 30 may stand upright; b of 30 x 140 cannot, it must lie across.
    question = Question((piece("a", 90, 30, ANY), piece("b", 30, 140, ANY)), (cloth(160.0, 100.0),), spare_wish_mm=6.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert [one.turn_deg % 180.0 for one in answer.placed] == [0.0, 90.0]
    assert [dict(note.figures)["pieces"] for note in answer.notes] == ["b"]


def test_on_a_crooked_one_way_print_no_liner_lies_head_down() -> None:
    # A swatch drawn by four corners whose print lies 0.96 degrees anticlockwise.
    ring = ((10.0, 0.0), (420.0, 8.0), (400.0, 380.0), (0.0, 370.0))
    up_deg = 359.04
    ground = Ground("all", Region.of(ring), "p", up_deg, one_way=True)
    pieces = tuple(replace(one, print_id="p") for one in book_pieces())
    question = Question(pieces, (ClothAsked("c", "c", ring, (ground,)),))
    answer = lay(question)
    assert answer.verdict == "fits"
    assert [one.turn_deg for one in answer.placed] == pytest.approx([up_deg] * 4)
    assert faults(question, answer.placed) == []
    assert answer.notes == ()
    assert lay(question) == answer


def test_a_locked_liner_is_asked_for_upright_by_its_lock() -> None:
    # The point of its lock is (7, 5) of 40 x 20 mm: half turned in its place it moves by (26, 10), no repeat of 40 mm.
    lattice = Lattice((40.0, 0.0), (0.0, 40.0))
    ground = Ground("all", Region.of(rectangle(200, 100)), "p", 0.0, lattice, shift(0.0, 0.0), one_way=True)
    asked = piece("a", 40, 20, (180.0, 0.0), anchor=(7.0, 5.0), print_id="p")
    question = Question((asked,), (ClothAsked("c", "c", rectangle(200, 100), (ground,)),))
    locked = replace(question, locks=(Lock("a", (7.0, 5.0), (0.0, 0.0)),))
    for answer in (lay(question), lay(locked)):
        assert answer.verdict == "fits"
        assert answer.placed[0].turn_deg == 0.0
    assert (answer.placed[0].x_mm % 40.0, answer.placed[0].y_mm % 40.0) == pytest.approx((0.0, 0.0))
