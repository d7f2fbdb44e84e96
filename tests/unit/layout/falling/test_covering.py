"""Patches of places, each with one layout for all of it, or refused: against sums on one row and the judge."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest
from wishing import decide_in_row, printed_cloth, strip_piece, striped

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.falling.covering import Covering, cover
from coverlayout.layout.falling.patches import every_place
from coverlayout.layout.falling.prints import falling_prints, movers, shifted, with_origin
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Link, Lock, PieceAsked, Question, never
from coverlayout.layout.rules import Judge
from coverlayout.layout.wishes.wish import Decide
from coverlayout.motif.lattice import Lattice

A_AT_4 = Lock("a", (0.0, 0.0), (4.0, 0.0))


def row(width_mm: float, step_mm: float = 40.0) -> Question:
    pieces = (strip_piece("a", 35), strip_piece("b", 30))
    return Question(pieces, (striped(width_mm, step_mm, known=False),), locks=(A_AT_4,), spare_wish_mm=0.0)


def covering(
    question: Question, decide: Decide = decide_in_row, decisions: int = 400, known_to_share: float | None = 0.02
) -> Covering:
    (falling,) = falling_prints(question)
    lattice = question.cloths[0].grounds[0].lattice_mm
    assert lattice is not None
    return cover(
        question, falling, every_place(lattice), decide, never, decisions=decisions, known_to_share=known_to_share
    )


# Strips of 35 and 30 beside each other on w: a at 0 to w - 65, or at 30 to w - 35, whole stripes of 40 mm aside.
@pytest.mark.parametrize(
    ("width_mm", "share"),
    [(60.0, 0.0), (66.0, 2 / 40), (80.0, 25 / 40), (94.0, 39 / 40), (95.0, 1.0), (120.0, 1.0)],
)
def test_the_share_of_places_is_caught_between_two_bounds(width_mm: float, share: float) -> None:
    found = covering(row(width_mm))
    # A layout may be off by 0.01 mm at each of its ends.
    assert found.covered_share <= min(share + 4 * 0.01 / 40, 1.0 + 1e-9)
    assert 1.0 - found.refused_share >= share - 1e-9
    assert 1.0 - found.refused_share - found.covered_share <= 0.02 + 1e-9
    assert found.everywhere == (share == 1.0)
    assert (found.refusal is not None) == (share < 1.0)


def test_one_refused_place_ends_it_where_only_everywhere_is_asked() -> None:
    found = covering(row(60.0), known_to_share=None)
    assert found.refusal is not None
    assert not found.everywhere
    assert covering(row(120.0), known_to_share=None).everywhere


def test_layouts_hold_for_every_place_of_their_patch_and_patches_lie_side_by_side() -> None:
    question = row(80.0)
    (falling,) = falling_prints(question)
    dice = random.Random(8)
    found = covering(question)
    ends = sorted((one.patch.corner_mm[0], one.patch.at(1, 1)[0]) for one in found.covered)
    assert all(end <= start + 1e-9 for (_, end), (start, _) in itertools.pairwise(ends))
    for one in found.covered:
        for across in (0.01, 0.99, dice.uniform(0.01, 0.99)):
            place = one.patch.at(across, 0.0)
            by_mm = place[0] - one.patch.middle_mm[0], place[1] - one.patch.middle_mm[1]
            placed = shifted(one.placed, movers(question), "c", by_mm)
            here = with_origin(question, falling, place)
            assert Judge(here).report(placed).breaches == ()
            assert decide_in_row(here).placed


def test_what_moves_keeps_its_places_among_itself() -> None:
    # b is linked to a, 36 mm further on: both move, only 1 mm apart, and 71 of 111 with stripes every 40 always fit.
    link = Link(("a", "b"), ((0.0, 0.0),) * 2, ((36.0, 0.0),))
    assert covering(replace(row(111.0), links=(link,))).everywhere
    assert not covering(replace(row(104.0), links=(link,))).everywhere


def test_patches_too_small_and_decisions_used_up_are_left_open_and_nothing_is_claimed() -> None:
    few = covering(row(80.0), decisions=3)
    assert few.left_open > 0
    assert not few.everywhere
    assert few.covered_share + few.refused_share < 1.0

    def unsure(question: Question) -> Answer:
        return replace(decide_in_row(question), verdict="not found", proved=False, placed=())

    blind = covering(row(120.0), unsure, decisions=10_000)
    assert (blind.covered_share, blind.refused_share, blind.refusal) == (0.0, 0.0, None)
    assert blind.left_open == 4096


def test_a_watch_ends_it_at_once() -> None:
    question = row(80.0)
    (falling,) = falling_prints(question)
    found = cover(question, falling, every_place(Lattice((40.0, 0.0))), decide_in_row, lambda share: True, decisions=9)
    assert found.cut_short
    assert not found.everywhere


def test_the_rest_is_laid_around_what_moves() -> None:
    # a and b are linked one upon the other with a gap that growing would close; c lies beside them wherever they go.
    def piece(name: str, width_mm: float, height_mm: float) -> PieceAsked:
        return PieceAsked(name, rectangle(width_mm, height_mm), (0.0, 0.0), print_id="birds")

    pieces = (piece("a", 60, 49), piece("b", 60, 49), piece("c", 30, 100))
    link = Link(("a", "b"), ((0.0, 0.0),) * 2, ((0.0, 50.0),))
    cloth = printed_cloth(170, 160, Lattice((40.0, 0.0), (0.0, 100.0)), known=False)
    stripes = replace(cloth, grounds=(replace(cloth.grounds[0], lattice_mm=Lattice((40.0, 0.0))),))
    question = Question(pieces, (stripes,), locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),), links=(link,))
    # Seen from stripes alone b lies beside a or above it wherever it likes; the engine's own layouts are kept.
    found = covering(question, first_layout, decisions=200)
    assert found.covered_share > 0.0
    (falling,) = falling_prints(question)
    for one in found.covered:
        assert (
            Judge(with_origin(question, falling, one.patch.at(0.0, 0.0)))
            .report(shifted(one.placed, movers(question), "c", (-one.patch.side_mm[0] / 2, 0.0)))
            .breaches
            == ()
        )
