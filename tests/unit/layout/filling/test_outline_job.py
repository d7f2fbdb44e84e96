"""Kinds of piece, their stands and the angles that are tried."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import ANY, cloth, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.outline_job import OutlineJob, turns_of
from coverlayout.layout.question import Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.effort import Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

WEDGE = ((0.0, 0.0), (90.0, 0.0), (60.0, 120.0), (0.0, 120.0))
PRINTED = Ground("g", Region.of(rectangle(300, 200)), "p", 0.0, Lattice((50.0, 0.0), (0.0, 60.0)), shift(3.0, 8.0))


def test_equal_pieces_are_one_kind_and_turns_that_change_nothing_one_stand() -> None:
    pieces = (piece("a", 40, 30, ANY), piece("b", 40, 30, ANY), piece("w", 0, 0, (0.0, 180.0), outline=WEDGE))
    job = OutlineJob(Question(pieces, (cloth(300, 200),)), Effort(1000))
    assert [kind.pieces for kind in job.kinds] == [(0, 1), (2,)]
    assert [[stand.turn_deg for stand in kind.stands] for kind in job.kinds] == [[0.0, 90.0], [0.0, 180.0]]
    assert [kind.area_mm2 for kind in job.kinds] == [1200.0, 9000.0]
    first, second = job.kinds[0].stands
    assert job.barrier(first, second) is job.barrier(first, second)


def test_held_pieces_are_kinds_of_their_own_with_all_their_turns() -> None:
    on = replace(cloth(300, 200), grounds=(PRINTED,))
    pieces = tuple(piece(name, 40, 30, (0.0, 180.0)) for name in "abcd")
    link = Link(("a", "c"), ((0.0, 0.0),) * 2, ((0.0, 0.0),))
    job = OutlineJob(Question(pieces, (on,), locks=(Lock("d", (0.0, 0.0), (0.0, 0.0)),), links=(link,)), Effort(1000))
    assert [kind.pieces for kind in job.kinds] == [(0,), (1,), (2,), (3,)]
    assert [len(kind.stands) for kind in job.kinds] == [2, 1, 2, 2]
    assert job.partners(0) == (0, 2)
    assert job.partners(1) == ()
    field = job.kinds[3].first[0]
    assert field is not None
    assert field.held
    lies = {"c": (Placed("c", "c", 100.0, 90.0, 180.0), PRINTED)}
    stand, free = job.kinds[0].stands[1], job.kinds[0].first[1]
    assert free is not None
    followed = job.held_field(pieces[0], stand, free, lies)
    assert followed is not None
    assert all((x - 100.0) % 50.0 == 0.0 and (y - 90.0) % 60.0 == 0.0 for x, y in followed.places.tolist())
    assert job.held_field(pieces[0], job.kinds[0].stands[0], free, lies) is None


def test_a_piece_has_stands_only_where_it_may_lie() -> None:
    kept = replace(piece("a", 40, 30), cloth_ids=("c2",))
    job = OutlineJob(Question((kept,), (cloth(50, 50), cloth(60, 60, name="c2"))), Effort(1000))
    assert [stand.cloth.id for stand in job.kinds[0].stands] == ["c2"]
    job = OutlineJob(Question((piece("a", 70, 30),), (cloth(50, 50),)), Effort(1000))
    assert job.kinds[0].first == (None,)


def test_any_angle_means_edges_along_edges_first() -> None:
    kite = ((100.0, 0.0), (200.0, 50.0), (100.0, 100.0), (0.0, 50.0))
    on = cloth(0, 0, outline=kite).grounds[0]
    turns = turns_of(piece("strip", 60, 30, None), on)
    assert turns[:4] == (0.0, 90.0, 180.0, 270.0)
    # The kite's edges rise 50 over 100: 26.565 degrees.
    assert any(turn_deg == pytest.approx(26.565051) for turn_deg in turns[4:12])
    assert {15.0 * k for k in range(24)} <= set(turns)
    question = Question((piece("strip", 60, 30, None),), (cloth(0, 0, outline=kite),))
    few = OutlineJob(question, Effort(10_000), angles=5)
    assert [len(kind.stands) for kind in few.kinds] == [5]
    assert len({stand.shape_key for stand in few.kinds[0].stands}) == 5


def test_steps_end_while_stands_are_made() -> None:
    pieces = tuple(piece(f"p-{k}", 40 + k, 30, ANY) for k in range(20))
    with pytest.raises(OutOfSteps):
        OutlineJob(Question(pieces, (cloth(300, 200),)), Effort(100))
