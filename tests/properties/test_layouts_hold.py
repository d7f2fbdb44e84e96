"""Whatever is asked: a layout found breaks no rule by an independent check, and asking again gives the same answer."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from laying import ANY, clearance_of, cloth, faults, flaw, piece, polygon_of

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import lay
from coverlayout.layout.question import KeepOut, PieceAsked, Placed, Question

lengths = st.floats(15.0, 120.0, allow_nan=False)
turns = st.sampled_from([(0.0,), (0.0, 180.0), ANY])


@st.composite
def pieces(draw: st.DrawFn) -> tuple[PieceAsked, ...]:
    shapes = draw(st.lists(st.tuples(lengths, lengths, turns, st.integers(1, 3)), min_size=1, max_size=3))
    found = []
    for k, (width, height, allowed, count) in enumerate(shapes):
        anchor = (width * 0.3, height * 0.6)
        found += [piece(f"p{k}-{n}", width, height, allowed, anchor=anchor) for n in range(count)]
    return tuple(found)


@st.composite
def keep_outs(draw: st.DrawFn, *, slanted: bool) -> tuple[KeepOut, ...]:
    found = []
    for k in range(draw(st.integers(0, 2))):
        x, y = draw(st.floats(0.0, 200.0)), draw(st.floats(0.0, 200.0))
        width, height = draw(st.floats(2.0, 40.0)), draw(st.floats(2.0, 40.0))
        ring = rectangle(width, height, x, y)
        ring = ((x, y), (x + width, y + height / 3), (x + width / 2, y + height)) if slanted else ring
        found.append(flaw(ring, f"flaw-{k}", spoiled=draw(st.booleans())))
    return tuple(found)


@settings(max_examples=30)
@given(pieces(), lengths, lengths, st.floats(0.0, 8.0), keep_outs(slanted=False))
def test_upright_layouts_hold(
    asked: tuple[PieceAsked, ...], width: float, length: float, gap: float, flaws: tuple[KeepOut, ...]
) -> None:
    on = cloth(width + 120.0, length + 120.0, keep_outs=flaws)
    question = Question(asked, (on,), gap_mm=gap, steps=6_000)
    answer = lay(question)
    if answer.verdict in ("fits", "fits, tight"):
        assert faults(question, answer.placed) == []
        assert answer.spare_mm is not None
        assert answer.clearance_mm is not None
        assert answer.clearance_mm <= answer.spare_mm + 1e-6
        if not flaws:
            assert abs(answer.clearance_mm - clearance_of(question, answer.placed)) < 1e-6
    else:
        assert answer.placed == ()
        assert (answer.verdict == "does not fit") == answer.proved == (answer.proof is not None)
    assert lay(question) == answer


def assert_no_more_room(question: Question, answer: Answer) -> None:
    """Where the room is said to be proved, no layout nudged about by chance has more."""
    rng = random.Random(1)
    for reach_mm in (1.0, 5.0, 30.0) if answer.spare_proved else ():
        for _ in range(40):
            nudged = [
                replace(
                    one,
                    x_mm=one.x_mm + rng.uniform(-reach_mm, reach_mm),
                    y_mm=one.y_mm + rng.uniform(-reach_mm, reach_mm),
                )
                for one in answer.placed
            ]
            assert faults(question, nudged) or room_of(question, nudged) <= (answer.spare_mm or 0.0) + 0.011


def room_of(question: Question, placed: Sequence[Placed]) -> float:
    """The clearance by shapely, holes left by spoiled pieces counted as neighbours."""
    holes = [keep_out.region.shape for keep_out in question.cloths[0].keep_outs if keep_out.spoiled]
    pieces = {one.id: one for one in question.pieces}
    to_holes = [hole.distance(polygon_of(pieces[one.piece], one)) for hole in holes for one in placed]
    return min([clearance_of(question, placed), *to_holes])


@settings(max_examples=8)
@given(pieces(), st.floats(-10.0, 10.0), st.floats(0.0, 5.0), keep_outs(slanted=True))
def test_crooked_layouts_hold(asked: tuple[PieceAsked, ...], up: float, gap: float, flaws: tuple[KeepOut, ...]) -> None:
    ragged = ((0.0, 10.0), (260.0, 0.0), (240.0, 230.0), (120.0, 200.0), (20.0, 240.0))
    on = cloth(0, 0, outline=ragged, up_deg=up, keep_outs=flaws)
    question = Question(asked, (on,), gap_mm=gap, steps=2_000)
    answer = lay(question)
    if answer.verdict in ("fits", "fits, tight"):
        assert faults(question, answer.placed) == []
        assert answer.spare_mm is not None
        assert_no_more_room(question, answer)
    else:
        assert (answer.verdict == "does not fit") == (answer.proof is not None)
    assert lay(question) == answer


@settings(max_examples=20)
@given(pieces(), lengths, lengths)
def test_a_no_is_never_said_of_cloth_that_holds_the_pieces(
    asked: tuple[PieceAsked, ...], width: float, length: float
) -> None:
    # A row of all pieces as they are fits beside each other by construction.
    row = sum(max(x for x, _ in one.outline_mm) for one in asked)
    high = max(y for one in asked for _, y in one.outline_mm)
    question = Question(asked, (cloth(row, high),), spare_wish_mm=0.0, steps=6_000)
    assert lay(question).verdict != "does not fit"
    # Cloth that is larger both ways holds them too.
    larger = replace(question, cloths=(cloth(row + width, high + length),))
    assert lay(larger).verdict != "does not fit"
