"""Wishes that contradict each other around a ring of pieces, by figures added up by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, piece

from coverlayout.geometry.frames import Point, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Proof
from coverlayout.layout.laying.first import first_layout
from coverlayout.layout.proofs.bounds import quarrel, refuted
from coverlayout.layout.proofs.rechecking import holds
from coverlayout.layout.quarrels.rings import never_agree_around
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Question
from coverlayout.motif.lattice import Lattice

SHEARED = Lattice((48.0, 20.0), (0.0, 60.0))


def ground(name: str = "g", up_deg: float = 0.0, lattice: Lattice | None = SHEARED) -> Ground:
    to_cloth = turn(up_deg).then(shift(3.0, 8.0))
    own = None if lattice is None else lattice.mapped(turn(up_deg))
    return Ground(name, Region.of(rectangle(400, 400)), "A", up_deg, own, to_cloth)


def on(*grounds: Ground) -> tuple[ClothAsked, ...]:
    return (ClothAsked("c", "c", rectangle(400, 400), grounds),)


def link(first: str, other: str, difference: Point = (0.0, 0.0), must: bool = True) -> Link:
    return Link((first, other), ((0.0, 0.0), (0.0, 0.0)), (difference,), must)


def figures(proof: Proof | None) -> dict[str, float | str]:
    assert proof is not None
    return dict(proof.figures)


THREE = piece("a", 40, 60), piece("b", 30, 50), piece("d", 20, 35)
# b lies 10 right of a, d 5 right and 7 below b: 15 right and 7 below a. One repeat more is 63, 27; 7 off is 70, 27.
CLOSES = link("a", "b", (10.0, 0.0)), link("b", "d", (5.0, 7.0)), link("a", "d", (63.0, 27.0))
OFF = (*CLOSES[:2], link("a", "d", (70.0, 27.0)))


def test_three_links_that_close_and_three_that_do_not() -> None:
    assert never_agree_around(Question(THREE, on(ground()), links=CLOSES)) is None
    asked = Question(THREE, on(ground()), links=OFF)
    proof = never_agree_around(asked)
    assert figures(proof) == {
        "pieces": "a, b, d",
        "wish": "ring of links",
        "tied": "a and b, b and d, a and d",
        "apart_mm": pytest.approx(7.0),
    }
    assert proof is not None
    assert holds(asked, proof)
    assert not holds(replace(asked, links=CLOSES), proof)
    assert refuted(asked) == proof
    assert first_layout(asked).reason.code == "lay-no-ring"
    # A leaning print carries all of it along; a wish that is no must does not count.
    assert figures(never_agree_around(replace(asked, cloths=on(ground(up_deg=3.0)))))["apart_mm"] == pytest.approx(7.0)
    assert never_agree_around(replace(asked, links=(*OFF[:2], replace(OFF[2], must=False)))) is None


def test_the_tolerances_of_all_three_are_borne() -> None:
    near = (*CLOSES[:2], link("a", "d", (63.17, 27.0)))
    assert never_agree_around(Question(THREE, on(ground()), links=near)) is None
    far = (*CLOSES[:2], link("a", "d", (63.19, 27.0)))
    assert never_agree_around(Question(THREE, on(ground()), links=far)) is not None


def test_every_common_turn_must_contradict() -> None:
    # Points 20 right of the corners of b alone: in a quarter turn 20 below it. The ring closes turned by a half alone.
    turned = tuple(replace(each, turns_deg=ANY) for each in THREE)
    links = link("a", "b", (10.0, 0.0)), link("b", "d", (5.0, 7.0)), link("a", "d", (-15.0 - 48.0, -7.0 - 20.0))
    assert never_agree_around(Question(turned, on(ground()), links=links)) is not None
    stripes = ground(lattice=Lattice((30.0, 0.0)))
    along = link("a", "b", (10.0, 0.0)), link("b", "d", (5.0, 0.0)), link("a", "d", (15.0, 7.0))
    # Across stripes that stand upright only x counts; a quarter turned, 7 along becomes 7 across.
    assert never_agree_around(Question(THREE, on(stripes), links=along)) is None
    quarter = tuple(replace(each, turns_deg=(90.0,)) for each in THREE)
    asked = Question(quarter, on(stripes), links=along)
    proof = never_agree_around(asked)
    assert figures(proof)["apart_mm"] == pytest.approx(7.0)
    assert proof is not None
    assert holds(asked, proof)


def test_a_chain_between_two_locks() -> None:
    # The chain puts d 15 right and 7 below a; the places put it 20 right and 7 below.
    locks = Lock("a", (0.0, 0.0), (10.0, 5.0)), Lock("d", (0.0, 0.0), (30.0, 12.0))
    asked = Question(THREE, on(ground()), locks=locks, links=CLOSES[:2])
    proof = never_agree_around(asked)
    assert figures(proof) == {
        "pieces": "d, b, a",
        "wish": "chain between locks",
        "tied": "b and d, a and b",
        "locked": "a and d",
        "apart_mm": pytest.approx(5.0),
    }
    assert proof is not None
    assert holds(asked, proof)
    agreeing = replace(asked, locks=(locks[0], Lock("d", (0.0, 0.0), (25.0 + 48.0, 12.0 + 20.0))))
    assert never_agree_around(agreeing) is None
    assert not holds(agreeing, proof)


def test_where_the_print_falls_does_not_matter() -> None:
    locks = Lock("a", (0.0, 0.0), (10.0, 5.0)), Lock("d", (0.0, 0.0), (30.0, 12.0))
    unknown = on(replace(ground(), origin_known=False))
    asked = Question(THREE, unknown, locks=locks, links=CLOSES[:2])
    assert quarrel(asked) is not None
    answer = first_layout(asked)
    assert (answer.verdict, answer.reason.code) == ("does not fit", "lay-no-chain")


def test_nothing_is_said_where_pieces_have_a_choice() -> None:
    asked = Question(THREE, on(ground()), links=OFF)
    assert never_agree_around(replace(asked, cloths=on(ground("g"), ground("h")))) is None
    assert never_agree_around(replace(asked, cloths=on(replace(ground(), alike_deg=(180.0,))))) is None
    assert never_agree_around(replace(asked, cloths=on(ground(lattice=None)))) is None
    assert never_agree_around(replace(asked, cloths=())) is None
    assert never_agree_around(replace(asked, pieces=(*THREE[:2], replace(THREE[2], turns_deg=None)))) is None
    assert never_agree_around(replace(asked, pieces=THREE[:2])) is None
    assert never_agree_around(replace(asked, links=())) is None


def test_a_long_ring_is_told_as_its_shortest_part_that_contradicts() -> None:
    many = tuple(piece(f"p{k:02}", 20, 20) for k in range(40))
    chain = [link(f"p{k:02}", f"p{k + 1:02}", (1.0, 0.0)) for k in range(39)]
    # Thirty-nine steps of 1, and back from the tenth to the fifth by 5 and 9 more.
    links = (*chain, link("p10", "p05", (-14.0, 0.0)))
    looks: list[int] = []
    proof = never_agree_around(Question(many, on(ground()), links=links), lambda: looks.append(1))
    assert figures(proof)["pieces"] == "p05, p06, p07, p08, p09, p10"
    assert looks == [1]
