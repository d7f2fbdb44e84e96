"""Wherever a print falls: what is said of all places agrees with the question asked for one place after another."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from wishing import printed_cloth

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.falling.covering import Covering, cover
from coverlayout.layout.falling.patches import every_place
from coverlayout.layout.falling.prints import falling_prints, movers, shifted, with_origin
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import KeepOut, Link, Lock, PieceAsked, Question, never
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

SIZES = st.integers(20, 70)
LATTICES = st.sampled_from(
    [
        Lattice((64.0, 0.0), (0.0, 48.0)),
        Lattice((40.0, 30.0), (0.0, 60.0)),
        Lattice((50.0, 0.0), (20.0, 45.0)),
        Lattice((50.0, 13.0), (-17.0, 61.0)),
        Lattice((40.0, 0.0)),
    ]
)


def quick(question: Question) -> Answer:
    return first_layout(replace(question, steps=4_000))


@st.composite
def jobs(draw: st.DrawFn) -> Question:
    """Two or three pieces, the first locked, the second perhaps linked to it, perhaps a flaw; some fit, some do not."""
    lattice = draw(LATTICES)
    pieces = tuple(
        PieceAsked(name, rectangle(draw(SIZES), draw(SIZES)), (3.0, 4.0), print_id="birds")
        for name in "abc"[: draw(st.integers(2, 3))]
    )
    flaws = ()
    if draw(st.booleans()):
        at = draw(st.integers(0, 100)), draw(st.integers(0, 80))
        flaws = (KeepOut("stain", "stain", Region.of(rectangle(12.0, 9.0, *map(float, at)))),)
    cloth = printed_cloth(
        draw(st.integers(90, 160)), draw(st.integers(70, 130)), lattice, origin_mm=(5.0, 7.0), known=False, flaws=flaws
    )
    links = (Link(("a", "b"), ((0.0, 0.0),) * 2, ((7.0, 3.0),)),) if draw(st.booleans()) else ()
    return Question(pieces, (cloth,), locks=(Lock("a", (3.0, 4.0), (11.0, 2.0)),), links=links)


def covered(question: Question) -> Covering:
    (falling,) = falling_prints(question)
    lattice = question.cloths[0].grounds[0].lattice_mm
    assert lattice is not None
    return cover(question, falling, every_place(lattice), quick, never, decisions=25, known_to_share=0.02)


@settings(max_examples=25, deadline=None)
@given(jobs(), st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=6, max_size=6))
def test_a_layout_for_a_patch_is_valid_at_every_place_in_it(question: Question, at: list[tuple[float, float]]) -> None:
    (falling,) = falling_prints(question)
    found = covered(question)
    for one in found.covered[:6]:
        for across, along in at:
            place = one.patch.at(across, along)
            by_mm = place[0] - one.patch.middle_mm[0], place[1] - one.patch.middle_mm[1]
            placed = shifted(one.placed, movers(question), "c", by_mm)
            report = Judge(with_origin(question, falling, place)).report(placed)
            assert report.breaches == ()
            assert report.waiting == ()
    assert found.covered_share + found.refused_share <= 1.0 + 1e-6


@settings(max_examples=25, deadline=None)
@given(jobs(), st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_all_or_nothing_agrees_with_one_place(question: Question, at: tuple[float, float]) -> None:
    (falling,) = falling_prints(question)
    lattice = question.cloths[0].grounds[0].lattice_mm
    assert lattice is not None
    found = covered(question)
    answer = quick(with_origin(question, falling, every_place(lattice).at(*at)))
    if found.everywhere:
        assert answer.verdict != "does not fit"
    if found.refused_share >= 1.0 - 1e-9:
        assert not answer.placed
