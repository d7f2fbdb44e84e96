"""Pieces held to places of the print: their lists, and which of two lists go together."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from laying import ANY, flaw, piece
from wishing import printed_cloth

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.geometry.tolerance import LOCK_MM
from coverlayout.layout.exact import held as held_module
from coverlayout.layout.exact.apart import Needs, apart_of
from coverlayout.layout.exact.held import HeldTogether, held_of
from coverlayout.layout.exact.job import exact_job
from coverlayout.layout.exact.steps import Step, steps_of
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Question
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))


def held(question: Question, slack_mm: float = 0.0) -> tuple[HeldTogether, tuple[Step, ...]]:
    job = exact_job(question, 14)
    assert job is not None
    steps, _ = steps_of(job)
    apart = apart_of(job, None)
    bounds = apart.bounds(Needs.of(question.gap_mm, 0.0, slack_mm))
    return held_of(job, steps, apart, bounds, LOCK_MM if slack_mm else 0.0)


def places(known: HeldTogether, number: int) -> list[tuple[float, float]]:
    return sorted((round(x, 4), round(y, 4)) for x, y in known.held[number].place.tolist())


def test_a_locked_piece_has_its_places_and_the_lock_is_said() -> None:
    question = Question(
        (piece("a", 30, 20),),
        (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0)),),
        locks=(Lock("a", (1.0, 2.0), ZERO),),
    )
    known, left = held(question)
    assert left == ()
    assert known.held[0].piece == 0
    assert places(known, 0) == [(x, y) for x in (2.0, 52.0, 102.0) for y in (6.0, 46.0)]


def test_places_on_a_stain_are_struck_out() -> None:
    stain = flaw(rectangle(4, 4, 60, 10))
    question = Question(
        (piece("a", 30, 20),),
        (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0), flaws=(stain,)),),
        locks=(Lock("a", (1.0, 2.0), ZERO),),
    )
    known, _ = held(question)
    assert (52.0, 6.0) not in places(known, 0)
    assert len(places(known, 0)) == 5


def test_equal_pieces_take_their_places_in_one_order() -> None:
    pieces = piece("a", 30, 20), piece("b", 30, 20)
    locks = tuple(Lock(name, (1.0, 2.0), ZERO) for name in "ab")
    known, left = held(Question(pieces, (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0)),), locks=locks))
    (fit,) = known.together.values()
    # Three places across, two along, none of which overlap: every two of them once.
    assert len(known.held[0].seat) == 6
    assert fit.sum() == 6 * 5 / 2
    assert not np.tril(fit).any()
    assert left == ()


def test_pieces_that_are_not_equal_take_them_in_any_order() -> None:
    pieces = piece("a", 30, 20), piece("b", 30, 19)
    locks = tuple(Lock(name, (1.0, 2.0), ZERO) for name in "ab")
    known, _ = held(Question(pieces, (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0)),), locks=locks))
    (fit,) = known.together.values()
    assert fit.sum() == 6 * 5
    # Of one shape and locked by different points, they cannot change places either.
    moved = (Lock("a", (1.0, 2.0), ZERO), Lock("b", (6.0, 2.0), ZERO))
    known, _ = held(
        Question((pieces[0], piece("b", 30, 20)), (printed_cloth(180, 100, SQUARE, origin_mm=(6.0, 8.0)),), locks=moved)
    )
    (fit,) = known.together.values()
    assert np.tril(fit, -1).any()


def test_neighbours_that_would_overlap_do_not_go_together() -> None:
    pieces = piece("a", 60, 20), piece("b", 30, 19)
    locks = tuple(Lock(name, (1.0, 2.0), ZERO) for name in "ab")
    known, _ = held(Question(pieces, (printed_cloth(170, 50, SQUARE, origin_mm=(3.0, 8.0)),), locks=locks))
    (fit,) = known.together.values()
    a, b = known.held
    for i, j in np.ndindex(fit.shape):
        (ax, ay), (bx, by) = a.place[i], b.place[j]
        clear = bx >= ax + 60 or ax >= bx + 30 or by >= ay + 20 or ay >= by + 19
        assert fit[i, j] == clear
    assert not fit.all()


def test_two_held_pieces_keep_their_link() -> None:
    pieces = piece("a", 30, 20, (0.0, 180.0)), piece("b", 26, 18, (0.0, 180.0))
    # Each may lie at any place of a fine print; the link asks for 8 mm more across, turned with the pieces.
    locks = tuple(Lock(name, ZERO, ZERO) for name in "ab")
    link = Link(("a", "b"), (ZERO, ZERO), ((50.0, 0.0),))
    wide = Lattice((25.0, 0.0), (0.0, 20.0))
    two = printed_cloth(160, 60, wide)
    coarse = replace(two.grounds[0], lattice_mm=Lattice((50.0, 0.0), (0.0, 40.0)))
    known, left = held(Question(pieces, (two,), locks=locks, links=(link,)))
    (fit,) = known.together.values()
    a, b = known.held
    assert left == ()
    assert fit.any()
    for i, j in np.argwhere(fit):
        assert a.seat[i] == b.seat[j]
    known, _ = held(
        Question(
            pieces,
            (replace(two, grounds=(coarse,)),),
            locks=locks,
            links=(replace(link, differences_mm=((25.0, 0.0),)),),
        )
    )
    assert not next(iter(known.together.values())).any()


@pytest.mark.parametrize("names", [("a", "b"), ("b", "a")])
def test_a_piece_linked_to_a_locked_one_follows_it(names: tuple[str, str]) -> None:
    pieces = piece("a", 30, 20), piece("b", 26, 18)
    step = (5.0, 3.0) if names == ("a", "b") else (-5.0, -3.0)
    question = Question(
        pieces,
        (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0)),),
        locks=(Lock("a", (1.0, 2.0), ZERO),),
        links=(Link(names, (ZERO, ZERO), (step,)),),
    )
    known, left = held(question)
    assert [one.piece for one in known.held] == [0, 1]
    assert left == ()
    inside = [(x, y) for x, y in places(known, 1) if -0.1 <= x <= 134.1 and -0.1 <= y <= 82.1]
    assert inside == [(x, y) for x in (7.0, 57.0, 107.0) for y in (9.0, 49.0)]


def test_a_chain_of_links_follows_to_its_end() -> None:
    pieces = tuple(piece(name, 20, 20) for name in "abcd")
    links = (
        Link(("c", "d"), (ZERO, ZERO), (ZERO,)),
        Link(("b", "c"), (ZERO, ZERO), (ZERO,)),
        Link(("a", "b"), (ZERO, ZERO), (ZERO,)),
    )
    known, left = held(
        Question(pieces, (printed_cloth(160, 100, SQUARE),), locks=(Lock("a", ZERO, ZERO),), links=links)
    )
    assert [one.piece for one in known.held] == [0, 1, 2, 3]
    assert left == ()


def test_two_locks_on_one_piece_hold_both() -> None:
    locks = (Lock("a", ZERO, ZERO), Lock("a", (10.0, 0.0), (10.02, 0.0)))
    known, left = held(
        Question((piece("a", 20, 20),), (printed_cloth(160, 100, SQUARE, origin_mm=(3.0, 8.0)),), locks=locks)
    )
    assert len(known.held[0].seat) == 3 * 2
    assert left == ()
    apart = (Lock("a", ZERO, ZERO), Lock("a", (10.0, 0.0), (13.0, 0.0)))
    known, _ = held(Question((piece("a", 20, 20),), (printed_cloth(160, 100, SQUARE),), locks=apart))
    assert len(known.held[0].seat) == 0


def test_stripes_and_links_of_pieces_without_a_lock_are_left_to_the_search() -> None:
    question = Question(
        (piece("a", 20, 20), piece("b", 20, 30)),
        (printed_cloth(160, 100, Lattice((25.0, 0.0))),),
        locks=(Lock("a", ZERO, ZERO),),
        links=(Link(("a", "b"), (ZERO, ZERO), (ZERO,)),),
    )
    known, left = held(question)
    assert known.held == ()
    assert len(left) == 2
    plain = replace(question, cloths=(printed_cloth(160, 100, SQUARE),), locks=())
    known, left = held(plain)
    assert (known.held, len(left)) == ((), 1)
    # A piece locked on one ground and striped on another is none for the lists either.
    mixed = ClothAsked(
        "c",
        "c",
        rectangle(200, 100),
        (
            Ground("g", Region.of(rectangle(100, 100)), "p", 0.0, SQUARE, shift(0.0, 0.0)),
            Ground("h", Region.of(rectangle(100, 100, 100, 0)), "q", 0.0, Lattice((25.0, 0.0)), shift(0.0, 0.0)),
        ),
    )
    known, left = held(replace(question, cloths=(mixed,), links=()))
    assert (known.held, len(left)) == ((), 1)


def test_lists_too_long_are_left_to_the_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    pieces = piece("a", 30, 20), piece("b", 26, 18)
    question = Question(
        pieces,
        (printed_cloth(160, 100, SQUARE),),
        locks=(Lock("a", ZERO, ZERO), Lock("b", ZERO, ZERO)),
        links=(Link(("a", "b"), (ZERO, ZERO), (ZERO,)),),
    )
    monkeypatch.setattr(held_module, "_MOST_PAIRS", 3)
    known, left = held(question)
    assert len(known.held) == 2
    assert known.together == {}
    assert [(step.first, step.second) for step in left] == [(1, 2)]
    monkeypatch.setattr(held_module, "_MOST_PLACES", 3)
    known, left = held(question)
    assert known.held == ()
    assert len(left) == 3
    monkeypatch.setattr(held_module, "_MOST_PLACES", 0)
    assert held(replace(question, locks=question.locks[:1]))[0].held == ()


@pytest.mark.parametrize("most", [30, 59])
def test_followers_with_far_too_many_places_are_left_alone(monkeypatch: pytest.MonkeyPatch, most: int) -> None:
    question = Question(
        (piece("a", 30, 20), piece("b", 26, 18)),
        (printed_cloth(160, 100, Lattice((25.0, 0.0), (0.0, 20.0))),),
        locks=(Lock("a", ZERO, ZERO),),
        links=(Link(("a", "b"), (ZERO, ZERO), (ZERO,)),),
    )
    # Six places across and five along; the link has about a hundred ways from each.
    monkeypatch.setattr(held_module, "_MOST_PLACES", most)
    known, left = held(question)
    assert [one.piece for one in known.held] == [0]
    assert len(left) == 1


def test_a_link_over_turned_seats_keeps_to_seats_that_go_together() -> None:
    # Turned by 180 degrees the difference turns as well.
    pieces = piece("a", 30, 20, (0.0, 180.0)), piece("b", 26, 18, ANY)
    link = Link(("a", "b"), ((2.0, 1.0), (3.0, 3.0)), ((7.0, 4.0),))
    known, _ = held(
        Question(pieces, (printed_cloth(160, 100, SQUARE),), locks=(Lock("a", (2.0, 1.0), ZERO),), links=(link,))
    )
    (fit,) = known.together.values()
    a, b = known.held
    for i, j in np.argwhere(fit):
        assert a.seat[i] == {0: 0, 2: 1}[int(b.seat[j])]
        sign = 1.0 if a.seat[i] == 0 else -1.0
        point = np.array((2.0, 1.0)) if sign > 0 else np.array((28.0, 19.0))
        other = np.array((3.0, 3.0)) if sign > 0 else np.array((23.0, 15.0))
        way = (b.place[j] + other) - (a.place[i] + point) - sign * np.array((7.0, 4.0))
        repeats = way / (50.0, 40.0)
        assert np.abs(repeats - np.round(repeats)).max() < 1e-4
    assert fit.any()


def test_ways_near_those_listed_are_those_found_one_by_one() -> None:
    rng = np.random.default_rng(7)
    ways = np.array([(3.0 + 11 * i + 2.5 * k, 1.0 + 7 * k - i) for i in range(-6, 7) for k in range(-6, 7)])
    asked = rng.uniform(-60, 60, (40, 30, 2))
    asked[::2, ::3] = ways[rng.integers(0, len(ways), (20, 10))] + rng.uniform(-0.12, 0.12, (20, 10, 2))
    looks: list[int] = []
    found = held_module._near(asked, ways, 0.06, lambda: looks.append(1))
    alone = (np.abs(asked[:, :, None] - ways) <= 0.06).all(axis=3).any(axis=2)
    assert found.any()
    assert np.array_equal(found, alone)
    assert 0 < len(looks) <= 13, "only those near across are compared, one by one"
    assert not held_module._near(asked, np.zeros((0, 2)), 0.06, lambda: None).any()


def test_long_lists_are_compared_under_the_eyes_of_the_clock() -> None:
    fine = Lattice((10.0, 0.0), (0.0, 10.0))
    question = Question(
        tuple(piece(name, 60, 50) for name in "abc"),
        (printed_cloth(200, 200, fine),),
        locks=(Lock("a", (1.0, 2.0), ZERO),),
        links=(Link(("a", "b", "c"), (ZERO,) * 3, ((1.0, 0.0), (0.0, 2.0))),),
    )
    looks: list[int] = []
    job = exact_job(question, 14)
    assert job is not None
    steps, _ = steps_of(job)
    apart = apart_of(job, None, lambda: looks.append(1))
    before = len(looks)
    assert before
    known, _ = held_of(job, steps, apart, apart.bounds(Needs.of(0.0, 0.0, 0.0)), 0.0, look=lambda: looks.append(1))
    assert len(looks) > before
    # Every place at which they lie on the cloth, and none far out of it: each 10 mm of 200 - 60 by 200 - 50.
    for table in known.held:
        assert 14 * 15 <= len(table.place) <= 15 * 16
        assert table.place.min() >= -1.0
        assert (table.place.max(axis=0) <= (141.0, 151.0)).all()
    assert len(known.held) == 3
