"""Yes and no of the exhaustive search, at the very edge of what is possible."""

from __future__ import annotations

import math
import os
import subprocess
import sys
import textwrap
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, core, faults, flaw, piece
from samples import L_SHAPE
from wishing import printed_cloth

from coverlayout.geometry.frames import Point, Ring, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.exact.deciding import MOST_PIECES, Decided, Exact
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))
STEPS = 1_000_000


def exact_of(question: Question) -> Exact:
    judge = Judge(question)

    def passes(placed: tuple[Placed, ...]) -> bool:
        report = judge.report(placed)
        return not report.breaches and not report.waiting

    exact = Exact.of(question, passes)
    assert exact is not None
    return exact


def decide(question: Question, room_mm: float = 0.0) -> Decided:
    decided = exact_of(question).decide(Effort(STEPS), room_mm)
    if decided.says == "yes":
        assert faults(question, decided.placed) == []
    return decided


def says(question: Question, room_mm: float = 0.0) -> str:
    return decide(question, room_mm).says


def has_a_seat_for_all(question: Question) -> bool:
    return Exact.of(question, lambda placed: True) is not None


def upright(*sizes: tuple[float, float], turns: tuple[float, ...] = (0.0,)) -> tuple[PieceAsked, ...]:
    return tuple(piece(f"p{k}", *size, turns) for k, size in enumerate(sizes))


def test_the_core_case_has_four_point_seven_and_not_a_hair_more() -> None:
    # Proved by hand: beside a liner of 146.4 lies a board of 144.3 on 304.8, which leaves three rooms of 4.7.
    question = core(304.8)
    decided = decide(question, 4.7 - 0.005)
    assert decided.says == "yes"
    assert decided.room_mm == pytest.approx(4.7, abs=1e-4)
    assert clearance_of(question, decided.placed) == pytest.approx(4.7, abs=1e-3)
    assert says(question, 4.7 + 0.005) == "no"


def test_four_around_a_hole_fit_only_as_a_pinwheel() -> None:
    # 60 x 40 round a hole of 20 x 20 in 100 x 100: no straight cut goes through.
    ring = upright((60, 40), (40, 60), (60, 40), (40, 60))
    assert says(Question((*ring, piece("middle", 20, 20)), (cloth(100, 100),))) == "yes"
    assert says(Question((*ring, piece("middle", 20.06, 20)), (cloth(100, 100),))) == "no"
    assert says(Question((*ring, piece("middle", 20, 20)), (cloth(99.95, 100),))) == "no"


def test_a_no_holds_when_everything_is_a_hundredth_looser() -> None:
    pair = Question(upright((40, 30), (40, 30)), (cloth(80, 30),))
    assert says(pair) == "yes"
    # Edge, neighbour, edge: three hundredths may be missing before a no is sure.
    assert says(replace(pair, cloths=(cloth(79.975, 30),))) == "open"
    assert says(replace(pair, cloths=(cloth(79.965, 30),))) == "no"


def test_corner_to_corner_a_gap_of_five_needs_three_and_four() -> None:
    squares = Question(upright((40, 40), (40, 40)), (cloth(83, 84),), gap_mm=5.0)
    decided = decide(squares)
    assert decided.says == "yes"
    assert clearance_between(squares, decided.placed) == pytest.approx(5.0, abs=1e-3)
    # A tenth less each way, and the corners are 4.86 apart.
    assert math.hypot(2.9, 3.9) < 4.99 - 0.1
    assert says(replace(squares, cloths=(cloth(82.9, 83.9),))) == "no"
    # As room the same, with the edges as far away.
    roomy = replace(squares, gap_mm=0.0, cloths=(cloth(93, 94),))
    assert says(roomy, 4.995) == "yes"
    assert says(roomy, 5.005) == "no"


def clearance_between(question: Question, placed: tuple[Placed, ...]) -> float:
    ample = replace(question, cloths=tuple(cloth(1e4, 1e4, name=one.id) for one in question.cloths))
    return clearance_of(ample, [replace(one, x_mm=one.x_mm + 500, y_mm=one.y_mm + 500) for one in placed])


def test_turning_is_tried_where_it_is_allowed() -> None:
    lying = Question(upright((60, 20), (60, 20)), (cloth(60, 45),))
    assert says(lying) == "yes"
    assert not has_a_seat_for_all(replace(lying, cloths=(cloth(45, 60),)))
    assert says(replace(lying, cloths=(cloth(70, 39.9),))) == "no"
    assert says(Question(upright((60, 20), (60, 20), turns=(0.0, 90.0)), (cloth(45, 60),))) == "yes"
    mixed = Question((*upright((60, 20), (20, 60), turns=(0.0, 90.0)), piece("q", 40, 20)), (cloth(60, 60),))
    assert says(mixed) == "yes"


def test_several_cloths_and_zones_take_the_pieces_together() -> None:
    pieces = upright((60, 40), (60, 40), (30, 30))
    assert says(Question(pieces, (cloth(60, 40), cloth(60, 70, name="d")))) == "yes"
    assert says(Question(pieces, (cloth(60, 40), cloth(60, 69, name="d")))) == "no"
    grounds = Ground("g", Region.of(rectangle(60, 40)), "p"), Ground("h", Region.of(rectangle(60, 40, 60, 0)), "q")
    on = ClothAsked("c", "c", rectangle(120, 40), grounds)
    printed = tuple(replace(asked, print_id=name) for asked, name in zip(pieces[:2], "pq", strict=True))
    assert says(Question(printed, (on,))) == "yes"
    assert says(Question(tuple(replace(asked, print_id="p") for asked in printed), (on,))) == "no"


def test_flaws_holes_and_fixed_pieces_are_kept_clear_of() -> None:
    two = upright((40, 30), (40, 30))
    stain = flaw(rectangle(10, 30, 40, 0))
    assert says(Question(two, (cloth(90, 30, keep_outs=(stain,)),))) == "yes"
    assert says(Question(two, (cloth(89.9, 30, keep_outs=(stain,)),))) == "no"
    assert says(Question(two, (cloth(90, 30, keep_outs=(stain,)),), gap_mm=3.0)) == "yes"
    hole = flaw(rectangle(4, 30, 43, 0), spoiled=True)
    assert says(Question(two, (cloth(90, 30, keep_outs=(hole,)),), gap_mm=3.0)) == "yes"
    assert says(Question(two, (cloth(90, 30, keep_outs=(hole,)),), gap_mm=3.1)) == "no"
    label = piece("label", 4, 30), Placed("label", "c", 45.0, 15.0)
    assert says(Question(two, (cloth(90, 30, fixed=(label,)),), gap_mm=3.0)) == "yes"
    assert says(Question(two, (cloth(90, 30, fixed=(label,)),), gap_mm=3.1)) == "no"


def test_a_turn_in_may_lie_on_what_only_the_seen_part_must_avoid() -> None:
    spot = flaw(rectangle(12, 100), seen_only=True)
    cover = piece("cover", 100, 100, (0.0, 180.0), seen=rectangle(80, 80, 6, 6))
    assert says(Question((cover,), (cloth(100, 100, keep_outs=(spot,)),))) == "yes"
    decided = decide(Question((cover,), (cloth(100, 100, keep_outs=(spot,)),)))
    # 6 of the left and 14 of the right are not seen: half turned the wide turn-in is on the left.
    assert decided.placed[0].turn_deg == 180.0
    assert says(Question((replace(cover, turns_deg=(0.0,)),), (cloth(100, 100, keep_outs=(spot,)),))) == "no"


def test_bent_pieces_hook_into_each_other() -> None:
    ell = piece("ell", 0, 0, outline=L_SHAPE)
    half_turned = piece("lee", 0, 0, (180.0,), outline=L_SHAPE)
    # One foot of 25 beside the other: stems of 20 with the feet over each other fit in 80 x 100, not in 79.9.
    assert says(Question((ell, half_turned), (cloth(80, 100),))) == "yes"
    assert says(Question((ell, half_turned), (cloth(79.9, 100),))) == "no"
    assert says(Question((ell, half_turned), (cloth(60, 125),))) == "yes"


def test_triangles_share_a_rectangle_along_their_slanted_side() -> None:
    lower: Ring = ((0.0, 0.0), (80.0, 50.0), (0.0, 50.0))
    upper: Ring = ((0.0, 0.0), (80.0, 0.0), (80.0, 50.0))
    pieces = piece("lower", 0, 0, outline=lower), piece("upper", 0, 0, outline=upper)
    assert says(Question(pieces, (cloth(80, 50),))) == "yes"
    assert not has_a_seat_for_all(Question(pieces, (cloth(79.9, 50),)))
    # At 39 across the diagonal is at 24.375: a point at 24.5 bulges into the other.
    bulging: Ring = ((0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (39.0, 24.5))
    assert says(Question((pieces[0], piece("upper", 0, 0, outline=bulging)), (cloth(80, 50),))) == "no"
    # Half turned copies of one shape.
    turned = piece("a", 0, 0, ANY, outline=lower), piece("b", 0, 0, ANY, outline=lower)
    assert says(Question(turned, (cloth(50, 80),))) == "yes"
    # A gap between them moves them apart across the slanted side, whose normal is (50, 80) / 94.34.
    long = math.hypot(50, 80)
    assert says(Question(pieces, (cloth(80 + 3 * long / 50 + 0.01, 50),), gap_mm=3.0)) == "yes"
    assert says(Question(pieces, (cloth(80 + 3 * long / 50 - 0.1, 50),), gap_mm=3.0)) == "no"


def test_on_a_crooked_print_pieces_lie_crooked() -> None:
    lean = math.radians(10.0)
    # The box of 60 x 30 turned by 10 degrees.
    width, length = 60 * math.cos(lean) + 30 * math.sin(lean), 60 * math.sin(lean) + 30 * math.cos(lean)
    assert says(Question(upright((60, 30)), (cloth(width + 0.01, length + 0.01, up_deg=10.0),))) == "yes"
    assert says(Question(upright((60, 30)), (cloth(width - 0.1, length + 0.01, up_deg=10.0),))) == "no"
    swatch = shift(-50, -50).then(turn(10.0)).then(shift(80, 80)).ring(rectangle(100, 100))
    decided = decide(Question(upright((50, 100), (50, 100)), (cloth(0, 0, outline=swatch, up_deg=10.0),)))
    assert decided.says == "yes"
    assert {one.turn_deg for one in decided.placed} == {10.0}


def test_locks_and_links_at_the_edge_of_what_is_possible() -> None:
    on = printed_cloth(104, 60, SQUARE, origin_mm=(3.0, 8.0))
    one = piece("a", 40, 20, anchor=ZERO), piece("b", 40, 20, anchor=ZERO)
    locks = Lock("a", ZERO, ZERO), Lock("b", ZERO, ZERO)
    decided = decide(Question(one, (on,), locks=locks))
    assert sorted((round(p.x_mm, 6), round(p.y_mm, 6)) for p in decided.placed) == [(3.0, 8.0), (53.0, 8.0)]
    # 58 long has the 28 of the second row only above its foot.
    assert says(Question(one, (printed_cloth(92, 60, SQUARE, origin_mm=(3.0, 8.0)),), locks=locks)) == "no"
    link = Link(("a", "b"), (ZERO, ZERO), ((13.0, 0.0),))
    free = Question(one, (printed_cloth(103, 20, SQUARE),), links=(link,))
    assert says(free) == "yes"
    assert says(replace(free, cloths=(printed_cloth(102.8, 20, SQUARE),))) == "no"


def test_a_tolerance_of_every_must_in_a_chain_is_granted_before_a_no() -> None:
    # a is locked and b linked to it: each may be off by 0.05, so b may lie 0.09 beyond its listed place.
    pieces = piece("a", 40, 40, anchor=ZERO), piece("b", 40, 40, anchor=ZERO)
    between, beyond = flaw(rectangle(9.09, 40, 41, 0), "one"), flaw(rectangle(59.5, 40, 90.5, 0), "two")
    question = Question(
        pieces,
        (printed_cloth(150, 40, Lattice((50.0, 0.0), (0.0, 50.0)), flaws=(between, beyond)),),
        locks=(Lock("a", ZERO, ZERO),),
        links=(Link(("a", "b"), (ZERO, ZERO), (ZERO,)),),
    )
    passed = Judge(question).report((Placed("a", "c", 0.045, 0.0), Placed("b", "c", 50.09, 0.0)))
    assert passed.breaches == ()
    assert says(question) != "no"


def test_a_repeat_too_fine_to_list_is_met_or_left_open_but_never_refused() -> None:
    pieces = tuple(piece(name, 40, 30) for name in "abcd")
    links = tuple(Link(names, (ZERO, ZERO), (ZERO,)) for names in (("a", "b"), ("c", "d")))
    for lattice in (Lattice((0.3, 0.0), (0.0, 0.3)), Lattice((20.0, 3.0))):
        assert says(Question(pieces, (printed_cloth(86, 63, lattice),), links=links)) != "no"
        assert says(Question(pieces, (printed_cloth(79, 63, lattice),), links=links)) == "no"


def test_at_any_angle_nothing_is_proved() -> None:
    assert says(Question((piece("a", 60, 20, None), piece("b", 10, 10)), (cloth(60, 30),))) == "yes"
    assert says(Question((piece("a", 60, 20, None), piece("b", 20, 20)), (cloth(60, 30),))) == "open"


def test_too_many_pieces_are_not_begun() -> None:
    question = Question(upright(*[(5, 5)] * (MOST_PIECES + 1)), (cloth(100, 100),))
    assert Exact.of(question, lambda placed: True) is None
    assert Exact.of(replace(question, pieces=question.pieces[1:]), lambda placed: True) is not None


def test_what_the_judge_refuses_is_never_a_yes() -> None:
    exact = Exact.of(Question(upright((40, 30), (20, 20)), (cloth(100, 100),)), lambda placed: False)
    assert exact is not None
    assert exact.decide(Effort(STEPS)) == Decided("open")


def test_the_effort_runs_out_or_is_cut_short() -> None:
    question = Question(upright((60, 40), (40, 60), (60, 40), (40, 60), (20, 20)), (cloth(100, 100),))
    with pytest.raises(OutOfSteps):
        exact_of(question).decide(Effort(5))
    with pytest.raises(CutShort):
        exact_of(Question(book_pieces(3), (cloth(620, 457.2),))).decide(Effort(STEPS, seconds=0.0), 3.0)


def test_every_lists_layouts_with_the_room_along_a_line() -> None:
    question = Question(upright((40, 30), (30, 20)), (cloth(100, 90),))
    found = list(exact_of(question).every(Effort(STEPS), 4.0))
    assert found
    assert all(faults(question, placed) == [] for placed in found)
    assert all(clearance_of(question, placed) >= 4.0 - 1e-6 for placed in found)


SAME = Question(
    (piece("ell", 0, 0, ANY, outline=L_SHAPE), *upright((40, 30), (40, 30), (30, 30), turns=ANY)),
    (printed_cloth(150, 120, SQUARE, flaws=(flaw(((100.0, 10.0), (120.0, 20.0), (105.0, 40.0))),)),),
    gap_mm=2.0,
    locks=(Lock("p0", ZERO, ZERO),),
)


def test_the_same_question_has_the_same_answer() -> None:
    first = decide(SAME)
    assert first.says == "yes"
    assert decide(SAME) == first


@pytest.mark.slow
def test_the_answer_does_not_hang_on_how_another_process_hashes() -> None:
    program = textwrap.dedent(
        """
        import importlib.util, sys
        sys.path[:0] = sys.argv[2:]
        spec = importlib.util.spec_from_file_location("asked", sys.argv[1])
        asked = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(asked)
        print(repr(asked.decide(asked.SAME)))
        """
    )
    for seed in ("1", "2"):
        told = subprocess.run(
            [sys.executable, "-c", program, __file__, *sys.path],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        assert told.stdout.strip() == repr(decide(SAME))
