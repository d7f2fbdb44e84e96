"""Wishes that can never hold at once, and linked pieces without room for both, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, book_pieces, cloth, flaw, piece

from coverlayout.geometry.frames import Affine, Point, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.proofs.agreeing import never_agree, no_room_for_linked
from coverlayout.layout.proofs.nowhere import Spots
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

SQUARE = Lattice((50.0, 0.0), (0.0, 50.0))
SHEARED = Lattice((48.0, 20.0), (0.0, 60.0))
L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))


def ground(
    width: float, length: float, lattice: Lattice | None = SQUARE, name: str = "g", up_deg: float = 0.0
) -> Ground:
    to_cloth: Affine = turn(up_deg).then(shift(3.0, 8.0))
    own = None if lattice is None else lattice.mapped(turn(up_deg))
    return Ground(name, Region.of(rectangle(width, length)), "A", up_deg, own, to_cloth)


def on(*grounds: Ground) -> tuple[ClothAsked, ...]:
    return (ClothAsked("c", "c", rectangle(300, 300), grounds),)


def link(first: str, other: str, difference: Point = (0.0, 0.0), must: bool = True) -> Link:
    return Link((first, other), ((0.0, 0.0), (0.0, 0.0)), (difference,), must)


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    return dict(proof.figures)


PAIR = piece("a", 40, 60), piece("b", 30, 50)


def test_two_locks_of_one_piece() -> None:
    locks = Lock("a", (0.0, 0.0), (10.0, 0.0)), Lock("a", (20.0, 30.0), (80.0, 30.0))
    asked = Question(PAIR, on(ground(300, 300)), locks=locks)
    # The second point lies 20 right and 30 down of the first; the places are 70 and 30 apart: one repeat of 50 more.
    assert never_agree(asked) is None
    off = replace(asked, locks=(locks[0], replace(locks[1], place_mm=(76.0, 33.0))))
    assert figures(never_agree(off)) == {"piece": "a", "other": "a", "wish": "two locks", "apart_mm": 5.0}
    # Turned a quarter, the point lies at (-30, 20) from the first; then places that far apart do.
    turned = replace(off, pieces=(replace(PAIR[0], turns_deg=ANY), PAIR[1]))
    assert never_agree(turned) is not None
    suits = replace(turned, locks=(locks[0], replace(locks[1], place_mm=(30.0, 20.0))))
    assert never_agree(suits) is None
    assert never_agree(replace(suits, pieces=PAIR)) is not None
    # A print that leans carries its places and its pieces with it.
    assert never_agree(replace(asked, cloths=on(ground(300, 300, up_deg=2.0)))) is None


def test_nothing_is_said_of_what_is_not_known_or_no_must() -> None:
    locks = Lock("a", (0.0, 0.0), (10.0, 0.0)), Lock("a", (0.0, 0.0), (20.0, 0.0))
    asked = Question(PAIR, on(ground(300, 300)), locks=locks)
    assert never_agree(asked) is not None
    # Wherever the print falls, both places are off by the same.
    assert never_agree(replace(asked, cloths=on(replace(ground(300, 300), origin_known=False)))) is not None
    assert never_agree(replace(asked, pieces=(replace(PAIR[0], turns_deg=None), PAIR[1]))) is None
    assert never_agree(replace(asked, locks=(locks[0], replace(locks[1], must=False)))) is None
    assert never_agree(replace(asked, cloths=on(ground(300, 300, None)))) is None
    assert never_agree(replace(asked, cloths=on(replace(ground(300, 300), print_to_cloth=None)))) is None


def test_locks_and_a_link() -> None:
    locks = Lock("a", (0.0, 0.0), (10.0, 0.0)), Lock("b", (5.0, 0.0), (25.0, 0.0))
    asked = Question(PAIR, on(ground(300, 300)), locks=locks, links=(link("a", "b", (10.0, 0.0)),))
    # The lock of b puts its corner at 20 in the repeat, ten right of that of a.
    assert never_agree(asked) is None
    off = replace(asked, links=(link("a", "b", (10.0, 7.0)),))
    assert figures(never_agree(off)) == {"piece": "a", "other": "b", "wish": "locks and link", "apart_mm": 7.0}
    back = replace(asked, links=(link("b", "a", (-10.0, 0.0)),))
    assert never_agree(back) is None
    assert never_agree(replace(asked, links=(link("b", "a", (10.0, 0.0)),))) is not None
    assert never_agree(replace(off, links=(link("a", "b", (10.0, 7.0), must=False),))) is None
    assert never_agree(replace(off, cloths=on(replace(ground(300, 300), origin_known=False)))) is not None
    # Three wishes together may be off by a little each.
    assert never_agree(replace(asked, links=(link("a", "b", (10.0, 0.15)),))) is None
    assert never_agree(replace(asked, links=(link("a", "b", (10.0, 0.2)),))) is not None


def test_two_links_of_one_pair() -> None:
    asked = Question(PAIR, on(ground(300, 300)), links=(link("a", "b"), link("b", "a", (50.0, 0.0))))
    assert never_agree(asked) is None
    off = replace(asked, links=(link("a", "b"), link("b", "a", (44.0, 0.0))))
    assert figures(never_agree(off)) == {"piece": "a", "other": "b", "wish": "two links", "apart_mm": 6.0}
    # Turned or not, the two stay apart in the same way.
    assert never_agree(replace(off, pieces=tuple(replace(p, turns_deg=ANY) for p in PAIR))) is not None


def test_a_link_without_a_repeat_or_a_turn_in_common() -> None:
    asked = Question(PAIR, on(ground(300, 300, None)), links=(link("a", "b"),))
    assert figures(never_agree(asked)) == {"piece": "a", "other": "b", "wish": "no repeat", "apart_mm": 0.0}
    other_print = replace(ground(300, 300, name="h"), print_id="B")
    prints = replace(PAIR[0], print_id="A"), replace(PAIR[1], print_id="B")
    assert (
        figures(never_agree(replace(asked, pieces=prints, cloths=on(ground(300, 300), other_print))))["wish"]
        == "no repeat"
    )
    turned = PAIR[0], replace(PAIR[1], turns_deg=(90.0, 270.0))
    assert figures(never_agree(replace(asked, pieces=turned, cloths=on(ground(300, 300)))))["wish"] == "no turn"
    alike = replace(ground(300, 300), alike_deg=(90.0,))
    assert never_agree(replace(asked, pieces=turned, cloths=on(alike))) is None
    assert (
        never_agree(replace(asked, pieces=(replace(PAIR[0], turns_deg=(180.0,)), turned[1]), cloths=on(alike))) is None
    )
    assert never_agree(replace(asked, pieces=turned, cloths=on(replace(alike, alike_deg=(180.0,))))) is not None
    assert never_agree(replace(asked, pieces=PAIR, cloths=on(alike))) is None
    # Where there is no ground at all, something plainer is wrong.
    assert never_agree(replace(asked, cloths=())) is None


def test_links_over_several_grounds() -> None:
    asked = Question(
        PAIR, on(ground(90, 300), ground(90, 300, name="h")), links=(link("a", "b"), link("a", "b", (9, 0)))
    )
    assert never_agree(asked) is None
    bare = replace(ground(90, 300, name="h"), print_to_cloth=None)
    assert never_agree(replace(asked, cloths=on(ground(90, 300), bare), links=(link("a", "b"),))) is None


def linked(repeat: float, side: float = 304.8) -> Question:
    """Two covers with the same place of the print in the middle: own questions, answers by a constraint solver."""
    pieces = book_pieces()
    tied = Link(("front-1", "back-1"), (pieces[0].anchor_mm, pieces[1].anchor_mm), ((0.0, 0.0),))
    whole = replace(ground(side, side, Lattice((repeat, 0.0), (0.0, repeat))))
    return Question(pieces, on(whole), links=(tied,))


def room_for(asked: Question) -> Proof | None:
    return no_room_for_linked(asked, Spots(asked))


@pytest.mark.parametrize(("repeat", "side"), [(48.0, 304.8), (48.0, 305.0), (64.0, 304.8), (64.0, 311.2)])
def test_covers_at_one_place_of_the_repeat_find_no_room(repeat: float, side: float) -> None:
    told = figures(room_for(linked(repeat, side)))
    # Side by side they are 192 mm apart at the least, and reach over 192 + 144.3.
    sizes = {
        "need_width_mm": pytest.approx(336.3),
        "need_height_mm": 182.4,
        "have_width_mm": side,
        "have_height_mm": side,
    }
    assert told == {"pieces": "front-1, back-1", "count": 2.0, "wish": "link", **sizes}


def test_covers_at_one_place_of_another_repeat_find_room() -> None:
    assert room_for(linked(50.0)) is None
    assert room_for(linked(48.0, 336.3)) is None
    assert room_for(linked(48.0, 336.2)) is not None
    # Three to the width: 144 is 0.3 mm less than a cover is wide, and 144.25 is within what a no must bear.
    assert room_for(linked(48.0 + 0.25 / 3)) is None
    assert room_for(linked(48.0 + 0.2 / 3)) is not None


def test_a_gap_and_a_flaw_count_between_linked_pieces() -> None:
    assert room_for(replace(linked(50.0), gap_mm=5.0)) is None
    assert room_for(replace(linked(50.0), gap_mm=6.0)) is not None
    asked = linked(50.0)
    # They take 294.3 of 304.8 mm side by side: a crease of 12 mm at the left leaves too little, one of 10 enough.
    for wide, told in ((12.0, True), (10.0, False)):
        creased = replace(asked.cloths[0], keep_outs=(flaw(rectangle(wide, 304.8)),))
        assert (room_for(replace(asked, cloths=(creased,))) is not None) == told
    creased = replace(asked.cloths[0], keep_outs=(flaw(rectangle(12, 304.8)),))
    assert "need_width_mm" not in figures(room_for(replace(asked, cloths=(creased,))))


def test_a_sheared_repeat_counts_as_it_is() -> None:
    pieces = piece("a", 40, 60), piece("b", 40, 60)
    # Across by one repeat of 48 the second lies 20 lower, so both together are 88 x 80 mm; above each other 40 x 120.
    for width, length, room in (
        (88, 80, True),
        (87.9, 119.9, False),
        (88, 79.9, False),
        (40, 120, True),
        (87, 119, False),
    ):
        asked = Question(pieces, on(ground(width, length, SHEARED)), links=(link("a", "b"),))
        assert (room_for(asked) is None) == room, (width, length)
    turned = tuple(replace(one, turns_deg=(90.0,)) for one in pieces)
    assert room_for(Question(turned, on(ground(88, 80, SHEARED)), links=(link("a", "b"),))) is not None


def test_pieces_of_other_outlines_interlock() -> None:
    pieces = piece("a", 0, 0, outline=L_SHAPE), piece("b", 40, 30)
    # The second fits the corner of the L at (20, 20), and stays there with a repeat of 20.
    twenty = Lattice((20.0, 0.0), (0.0, 20.0))
    assert room_for(Question(pieces, on(ground(61, 51, twenty)), links=(link("a", "b"),))) is None
    assert room_for(Question(pieces, on(ground(61, 51, twenty)), links=(link("a", "b", (5.0, 0.0)),))) is not None
    assert room_for(Question(pieces, on(ground(61, 51, twenty)), links=(link("a", "b"),), gap_mm=1.0)) is not None


def test_where_more_is_possible_nothing_is_said() -> None:
    asked = linked(48.0)
    both = on(asked.cloths[0].grounds[0], ground(304.8, 304.8, Lattice((48.0, 0.0), (0.0, 48.0)), name="h"))
    assert room_for(replace(asked, cloths=both)) is None
    alike = replace(asked.cloths[0].grounds[0], alike_deg=(180.0,))
    assert room_for(replace(asked, cloths=on(alike))) is None
    stripes = replace(asked.cloths[0].grounds[0], lattice_mm=Lattice((48.0, 0.0)))
    assert room_for(replace(asked, cloths=on(stripes))) is None
    assert room_for(linked(0.5)) is None
    # A second ground too small for either does not count.
    small = on(asked.cloths[0].grounds[0], ground(100, 100, name="h"))
    assert room_for(replace(asked, cloths=small)) is not None


def test_the_first_of_many_alike_speaks_for_all() -> None:
    pieces = tuple(piece(f"p{k}", 40, 60) for k in range(6))
    links = tuple(link(f"p{k}", f"p{k + 1}") for k in range(5))
    assert room_for(Question(pieces, on(ground(200, 200)), links=links)) is None
    free: tuple[PieceAsked, ...] = (*pieces, piece("x", 5, 5, None))
    assert never_agree(Question(free, on(ground(200, 200)), links=(link("p0", "x"),))) is None
    assert never_agree(Question(free, (cloth(200, 200),), links=(link("p0", "elsewhere"),))) is None
