"""From a question to an answer: verdicts with their proofs, room to spare, notes, limits, and always a valid layout."""

from __future__ import annotations

import pickle
import time
from dataclasses import replace

import pytest
from laying import ANY, book_pieces, clearance_of, cloth, core, faults, flaw, piece

from coverlayout.geometry.frames import shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.motif.lattice import Lattice


def codes(answer: Answer) -> list[str]:
    return [note.code for note in answer.notes]


# Common practice, no source: 12 in of cloth, then with a web 3 mm short all round, then -3 % and -1.5 % of 12 in.
@pytest.mark.parametrize(("side_mm", "spare_mm"), [(304.8, 4.7), (298.8, 2.7), (304.8 * 0.97 * 0.985, 0.17372)])
def test_one_book_on_a_foot_of_cloth_is_tight_and_its_room_is_proved(side_mm: float, spare_mm: float) -> None:
    question = core(side_mm)
    answer = lay(question)
    assert answer.verdict == "fits, tight"
    assert answer.proved
    assert answer.spare_proved
    assert answer.spare_mm == pytest.approx(spare_mm, abs=0.001)
    assert answer.clearance_mm == pytest.approx(clearance_of(question, answer.placed), abs=1e-6)
    assert faults(question, answer.placed) == []
    assert codes(answer) == ["lay-quarter-turn"]
    assert "liner-front-1" in answer.notes[0].text()
    assert "4.7 mm" in answer.reason.text() or side_mm < 304


def test_liners_that_may_not_turn_are_refused_with_a_sum_a_ruler_can_check() -> None:
    answer = lay(core(304.8, (0.0,)))
    assert (answer.verdict, answer.proved, answer.placed) == ("does not fit", True, ())
    assert answer.proof is not None
    assert answer.proof.name == "side by side"
    # Two covers and a liner: 2 x 144.3 + 108.3.
    assert "396.9 mm" in answer.reason.text()
    assert "304.8 mm" in answer.reason.text()


def test_more_cloth_makes_the_same_job_easy() -> None:
    question = Question(book_pieces(), (cloth(558.8, 457.2),))
    answer = lay(question)
    assert answer.verdict == "fits"
    assert answer.spare_proved
    # A cover above a turned liner, twice: three rooms along the 457.2 mm beside 182.4 and 108.3.
    assert answer.spare_mm == pytest.approx((457.2 - 182.4 - 108.3) / 3, abs=0.001)
    # What is shown keeps the wish and turns no liner: covers above liners have (457.2 - 182.4 - 146.4) / 3 mm.
    assert answer.clearance_mm is not None
    assert answer.clearance_mm >= (457.2 - 182.4 - 146.4) / 3 - 1.01
    assert all(placed.turn_deg == 0.0 for placed in answer.placed)
    assert faults(question, answer.placed) == []


def test_the_only_way_is_found_where_no_other_was_left() -> None:
    exact = Question((piece("a", 100, 60), piece("b", 100, 40)), (cloth(100, 100),), spare_wish_mm=0.0)
    answer = lay(exact)
    assert answer.verdict == "fits"
    assert answer.spare_mm == pytest.approx(0.0, abs=1e-9)
    assert answer.used_percent == pytest.approx(100.0)


def test_what_is_short_by_less_than_the_tolerance_fits() -> None:
    hair = Question((piece("a", 100, 60), piece("b", 100, 40.008)), (cloth(100, 100),), spare_wish_mm=0.0)
    assert lay(hair).verdict == "fits"
    inch = replace(hair, pieces=(piece("a", 100, 60), piece("b", 100, 40.05)))
    assert lay(inch).verdict == "does not fit"


def test_proof_by_all_relative_positions_when_nothing_simpler_holds() -> None:
    # A crease lengthwise, right of the covers or 6 mm too far to the left.
    covers = tuple(piece(name, 126, 163) for name in ("front", "back"))
    liners = tuple(piece(name, 87, 125, ANY) for name in ("liner-1", "liner-2"))
    crease = flaw(rectangle(5, 272, 126, 0), "crease")
    question = Question((*covers, *liners), (cloth(300, 272, keep_outs=(crease,)),), spare_wish_mm=0.0)
    assert lay(question).verdict == "fits"
    moved = flaw(rectangle(5, 272, 120, 0), "crease")
    assert lay(replace(question, cloths=(cloth(300, 272, keep_outs=(moved,)),))).verdict == "does not fit"
    # Five pieces between three stains: an own integer program of a constraint solver refuses them.
    sizes = {"a": (35, 66), "b": (26, 62), "c": (26, 62), "d": (48, 49), "e": (62, 38)}
    pieces = tuple(piece(name, *size, ANY if name in "bcd" else (0.0,)) for name, size in sizes.items())
    stains = ((5, 3, 55, 89), (15, 30, 37, 108), (12, 28, 93, 76))
    stained = cloth(100, 128, keep_outs=tuple(flaw(rectangle(*stain), f"stain {k}") for k, stain in enumerate(stains)))
    answer = lay(Question(pieces, (stained,), spare_wish_mm=0.0))
    assert answer.verdict == "does not fit"
    assert answer.proof is not None
    assert answer.proof.name == "exhaustive"
    assert "5 pieces" in answer.reason.text()


def test_a_gap_is_kept_and_counts() -> None:
    pieces = (piece("a", 50, 50), piece("b", 50, 50))
    fits = Question(pieces, (cloth(104, 50),), gap_mm=4.0, spare_wish_mm=0.0)
    answer = lay(fits)
    assert answer.verdict == "fits"
    assert faults(fits, answer.placed) == []
    assert lay(replace(fits, gap_mm=4.1)).verdict == "does not fit"


def test_corners_may_stand_diagonally_nearer_than_the_gap_both_ways() -> None:
    # Two squares corner to corner, 3 and 4 mm apart both ways: 5 mm in a straight line.
    pieces = (piece("a", 50, 50), piece("b", 50, 50))
    question = Question(pieces, (cloth(103, 104),), gap_mm=5.0, spare_wish_mm=0.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert faults(question, answer.placed) == []
    assert lay(replace(question, gap_mm=5.05)).verdict == "does not fit"


def test_flaws_fixed_pieces_and_holes_are_kept_clear_of() -> None:
    crease = flaw(rectangle(5, 272, 126, 0), "crease")
    cut = (piece("cut-1", 40, 40), Placed("cut-1", "c", 280.0, 250.0))
    hole = flaw(rectangle(10, 10, 140, 262), "hole", spoiled=True)
    on = cloth(300, 272, keep_outs=(crease, hole), fixed=(cut,))
    question = Question((piece("a", 126, 163), piece("b", 100, 120, ANY), piece("d", 120, 90)), (on,), gap_mm=2.0)
    answer = lay(question)
    assert answer.verdict in ("fits", "fits, tight")
    assert answer.spare_proved
    assert faults(question, answer.placed) == []


def test_a_flaw_that_only_the_seen_part_must_avoid_may_lie_in_a_turn_in() -> None:
    stain = rectangle(6, 6, 2, 2)
    on = cloth(100, 100, keep_outs=(flaw(stain, seen_only=True),))
    cover = piece("cover", 100, 100, seen=rectangle(80, 80, 10, 10))
    assert lay(Question((cover,), (on,), spare_wish_mm=0.0)).verdict == "fits"
    off_middle = piece("cover", 100, 100, seen=rectangle(90, 90, 5, 5))
    refused = lay(Question((off_middle,), (on,), spare_wish_mm=0.0))
    assert refused.verdict == "does not fit"
    # Half a turn brings the wide turn-in over the stain.
    lopsided = piece("cover", 100, 100, (0.0, 180.0), seen=rectangle(85, 85, 4, 4))
    turned = lay(Question((lopsided,), (on,), spare_wish_mm=0.0))
    assert turned.verdict == "fits"
    assert turned.placed[0].turn_deg == 180.0


def test_beside_a_slanted_stain_the_room_is_proved() -> None:
    stain = flaw(((300.0, 10.0), (320.0, 20.0), (305.0, 40.0)))
    question = Question(book_pieces(), (cloth(330, 304.8, keep_outs=(stain,)),))
    answer = lay(question)
    assert answer.verdict == "fits, tight"
    assert answer.spare_mm is not None
    assert answer.spare_mm == pytest.approx(4.7, abs=0.001)
    assert answer.spare_proved
    assert faults(question, answer.placed) == []
    # Where the stain's whole box is in the way and the stain is not, the outline itself finds the place.
    corner = flaw(((30.0, 60.0), (60.0, 30.0), (60.0, 60.0)), "corner")
    snug = Question((piece("a", 44, 44),), (cloth(60, 60, keep_outs=(corner,)),), spare_wish_mm=0.0)
    assert faults(snug, lay(snug).placed) == []


def test_many_pieces_fit_and_their_room_is_only_known() -> None:
    question = Question(book_pieces(10), (cloth(1371.6, 914.4),))
    answer = lay(question)
    assert answer.verdict == "fits"
    assert not answer.spare_proved
    assert answer.spare_mm is not None
    assert answer.spare_mm >= 6.0
    assert faults(question, answer.placed) == []


def test_room_below_the_wish_that_is_not_proved_is_said_to_be_the_most_known() -> None:
    question = Question(book_pieces(3), (cloth(700, 457.2),), spare_wish_mm=40.0, steps=20_000)
    answer = lay(question)
    assert answer.verdict == "fits, tight"
    assert not answer.spare_proved
    assert answer.reason.code == "lay-tight-known"


def test_three_books_cannot_come_from_a_quarter() -> None:
    answer = lay(Question(book_pieces(3), (cloth(558.8, 457.2),)))
    assert answer.verdict == "does not fit"
    assert answer.proof is not None
    assert answer.proof.name == "slice bound"
    assert "457.2 mm" in answer.reason.text()


def test_several_cloths_take_the_pieces_together() -> None:
    cloths = (cloth(150, 190, name="c1"), cloth(150, 190, name="c2"), cloth(230, 160, name="c3"))
    question = Question(book_pieces(), cloths, spare_wish_mm=0.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert {placed.cloth for placed in answer.placed} == {"c1", "c2", "c3"}
    assert faults(question, answer.placed) == []
    bound = tuple(replace(one, cloth_ids=("c1",)) for one in question.pieces[:2])
    assert lay(replace(question, pieces=bound)).verdict == "does not fit"


def test_a_piece_lies_only_on_ground_of_its_print() -> None:
    left, right = Region.of(rectangle(150, 200)), Region.of(rectangle(150, 200, 150, 0))
    on = ClothAsked("c", "c", rectangle(300, 200), (Ground("g1", left, "waves"), Ground("g2", right, "seeds")))
    pieces = (piece("a", 140, 90, print_id="waves"), piece("b", 140, 90, print_id="seeds"), piece("d", 140, 90))
    question = Question(pieces, (on,), spare_wish_mm=0.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert faults(question, answer.placed) == []
    crowd = (*pieces, piece("e", 140, 90, print_id="waves"), piece("f", 140, 90, print_id="waves"))
    assert lay(replace(question, pieces=crowd)).verdict == "does not fit"


def test_neighbours_across_a_zone_border_keep_the_gap() -> None:
    left, right = Region.of(rectangle(50, 50)), Region.of(rectangle(50, 50, 50, 0))
    on = ClothAsked("c", "c", rectangle(100, 50), (Ground("g1", left, "p"), Ground("g2", right, "q")))
    pieces = (piece("a", 48, 48, print_id="p"), piece("b", 48, 48, print_id="q"))
    question = Question(pieces, (on,), gap_mm=3.0, spare_wish_mm=0.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    assert faults(question, answer.placed) == []


def test_a_crooked_print_turns_the_pieces_with_it() -> None:
    question = Question(book_pieces(), (cloth(420, 420, up_deg=2.0),))
    answer = lay(question)
    assert answer.verdict in ("fits", "fits, tight")
    assert {placed.turn_deg for placed in answer.placed} <= {2.0, 92.0, 182.0, 272.0}
    assert faults(question, answer.placed) == []
    assert answer.spare_proved


def test_polygons_and_ragged_ground_are_laid_by_their_outline() -> None:
    ell = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))
    ragged = ((0.0, 0.0), (240.0, 0.0), (240.0, 150.0), (150.0, 220.0), (0.0, 220.0))
    pieces = tuple(piece(f"ell-{k}", 0, 0, (0.0, 180.0), outline=ell, anchor=(7.0, 11.0)) for k in range(4))
    question = Question(pieces, (cloth(0, 0, outline=ragged),), gap_mm=2.0)
    answer = lay(question)
    assert answer.verdict in ("fits", "fits, tight")
    assert faults(question, answer.placed) == []


def test_locked_pieces_lie_where_the_repeat_allows() -> None:
    lattice = Lattice((72.0, 0.0), (36.0, 40.0))
    ground = Ground("g", Region.of(rectangle(400, 300)), "p", 0.0, lattice, shift(3.0, 8.0))
    on = ClothAsked("c", "c", rectangle(400, 300), (ground,))
    pieces = (piece("front", 138, 178, anchor=(69.0, 70.0)), piece("back", 138, 178, anchor=(10.0, 20.0)))
    locks = (Lock("front", (69.0, 70.0), (12.0, 20.0)), Lock("back", (69.0, 70.0), (12.0, 20.0)))
    question = Question(pieces, (on,), locks=locks)
    answer = lay(question)
    assert answer.verdict in ("fits", "fits, tight")
    for placed, asked in zip(answer.placed, pieces, strict=True):
        point = placed.x_mm + 69.0 - asked.anchor_mm[0] - 15.0, placed.y_mm + 70.0 - asked.anchor_mm[1] - 28.0
        along = point[1] / 40.0
        across = (point[0] - 36.0 * along) / 72.0
        assert along == pytest.approx(round(along), abs=1e-3)
        assert across == pytest.approx(round(across), abs=1e-3)
    # Wherever the print falls on so much cloth, both find their place.
    unknown = replace(question, cloths=(replace(on, grounds=(replace(ground, origin_known=False),)),))
    anywhere = lay(unknown)
    assert (anywhere.verdict, anywhere.proved) == ("fits", True)
    assert "origin-example" in codes(anywhere)


def test_linked_pieces_share_their_place_in_the_repeat() -> None:
    lattice = Lattice((50.0, 0.0), (0.0, 50.0))
    ground = Ground("g", Region.of(rectangle(320, 320)), "p", 0.0, lattice, shift(3.0, 8.0))
    on = ClothAsked("c", "c", rectangle(320, 320), (ground,))
    pieces = (piece("front", 144.3, 182.4), piece("back", 144.3, 182.4), piece("label", 30, 20))
    link = Link(("front", "back"), (pieces[0].anchor_mm, pieces[1].anchor_mm), ((13.5, 0.0),))
    answer = lay(Question(pieces, (on,), links=(link,)))
    assert answer.verdict in ("fits", "fits, tight")
    lies = {placed.piece: placed for placed in answer.placed}
    ahead = lies["back"].x_mm - lies["front"].x_mm - 13.5, lies["back"].y_mm - lies["front"].y_mm
    assert [step / 50.0 for step in ahead] == pytest.approx([round(step / 50.0) for step in ahead], abs=1e-3)


def test_a_piece_too_long_for_the_cloth_is_named_with_its_size() -> None:
    answer = lay(Question((piece("strip", 400, 20), piece("label", 10, 10)), (cloth(304.8, 304.8),)))
    assert answer.verdict == "does not fit"
    assert answer.proof is not None
    assert answer.proof.name == "fits nowhere"
    assert answer.reason.text().startswith("strip fits nowhere: it measures 400 mm x 20 mm")


def test_doubt_about_the_cloth_makes_a_fit_tight_and_says_so() -> None:
    pieces = (piece("a", 90, 90),)
    sure = Question(pieces, (cloth(110, 110),))
    assert lay(sure).verdict == "fits"
    doubted = replace(sure, cloths_if_smaller=(cloth(85, 110),))
    answer = lay(doubted)
    assert answer.verdict == "fits, tight"
    assert answer.reason.code == "lay-tight-doubt"
    assert codes(answer) == ["lay-smaller-no"]
    assert lay(replace(sure, cloths_if_smaller=(cloth(109, 109),))).verdict == "fits"


def test_lost_on_the_smaller_cloth_without_a_proof_is_said_as_that() -> None:
    # Pieces that may lie at any angle: nothing is proved on the smaller cloth, only not found.
    kite = ((60.0, 0.0), (120.0, 60.0), (60.0, 120.0), (0.0, 60.0))
    pieces = (piece("a", 58, 58, None), piece("b", 20, 58))
    answer = lay(Question(pieces, (cloth(200, 120),), cloths_if_smaller=(cloth(0, 0, outline=kite),)))
    assert answer.verdict == "fits, tight"
    assert answer.reason.code == "lay-tight-doubt-open"
    assert codes(answer) == ["lay-smaller-not-found"]


def test_a_search_cut_short_before_the_smaller_cloth_was_tried_does_not_say_fits() -> None:
    pieces = (piece("a", 90, 90), piece("b", 30, 30))
    question = Question(pieces, (cloth(200, 200),), cloths_if_smaller=(cloth(198, 198),))
    heard: list[Answer] = []
    lay(question, found=heard.append)
    assert heard[0].verdict == "fits, tight"
    assert lay(question).verdict == "fits"


def test_pieces_alike_but_for_their_anchor_are_laid_by_their_own() -> None:
    # Two labels of one size, the anchor of each elsewhere, as with boards off the middle of their covers. Beside the
    # panel's 44 mm stand the labels' 46: three rooms in 111 mm; the strip's 32 and two labels' 54 leave more of 122.
    labels = tuple(piece(f"label-{k}", 46, 27, anchor=(6.0 + 9 * k, 11.0)) for k in (1, 2))
    question = Question((piece("panel", 53, 44, ANY), piece("strip", 55, 32), *labels), (cloth(111, 122),))
    answer = lay(question)
    assert faults(question, answer.placed) == []
    assert answer.spare_proved
    assert answer.spare_mm == pytest.approx(7.0, abs=0.006)


def test_pieces_that_fill_one_box_lying_differently_keep_their_turn() -> None:
    # A label lying and one standing that must be turned fill the same box.
    question = Question((piece("lying", 60, 20), piece("standing", 20, 60, (90.0,))), (cloth(60, 40),))
    answer = lay(question)
    assert answer.verdict == "fits, tight"
    assert faults(question, answer.placed) == []
    assert {one.piece: one.turn_deg for one in answer.placed} == {"lying": 0.0, "standing": 90.0}


def test_the_motif_of_a_turned_piece_lies_sideways() -> None:
    question = Question((piece("flap", 150, 40, (0.0, 90.0), print_id="p"),), (cloth(60, 200, print_id="p"),))
    assert codes(lay(question)) == ["lay-quarter-turn-print"]


def test_nothing_to_lay_fits() -> None:
    answer = lay(Question((), (cloth(100, 100),)))
    assert (answer.verdict, answer.placed, answer.clearance_mm, answer.spare_mm) == ("fits", (), None, None)
    assert answer.reason.text() == "there is no piece to lay"


def test_no_cloth_at_all_is_refused() -> None:
    assert lay(Question((piece("a", 10, 10),), ())).verdict == "does not fit"


def test_a_piece_whose_print_lies_nowhere_is_refused_without_a_size() -> None:
    answer = lay(Question((piece("a", 10, 10, print_id="p"),), (cloth(50, 50),)))
    assert answer.verdict == "does not fit"
    assert answer.reason.code == "lay-no-ground"
    assert answer.reason.text().startswith("a fits nowhere")


def test_the_same_question_gives_the_same_answer_and_travels() -> None:
    question = Question(book_pieces(2), (cloth(558.8, 457.2),), number=7, steps=20_000)
    first = lay(question)
    assert first == lay(pickle.loads(pickle.dumps(question)))
    assert pickle.loads(pickle.dumps(first)) == first
    assert first.question_number == 7


def test_found_tells_the_first_layout_and_each_roomier_one() -> None:
    heard: list[Answer] = []
    question = core(304.8)
    last = lay(question, found=heard.append)
    spares = [answer.spare_mm or 0.0 for answer in heard]
    assert spares == sorted(set(spares))
    assert spares[-1] == last.spare_mm
    assert all(not answer.spare_proved and faults(question, answer.placed) == [] for answer in heard)


def test_a_watch_that_says_stop_ends_the_search_with_what_it_has() -> None:
    shares: list[float] = []

    def stop(share_done: float) -> bool:
        shares.append(share_done)
        return True

    # The work done is counted, not the hours on the wall: other programs may have the machine.
    start = time.process_time()
    answer = lay(Question(book_pieces(2), (cloth(558.8, 457.2),)), stop)
    assert time.process_time() - start < 1.0
    assert answer.cut_short
    assert answer.verdict == "fits, tight"
    assert len(shares) == 1
    assert 0.0 <= shares[0] <= 1.0


def test_seconds_cut_short_and_the_answer_says_so() -> None:
    # Zero waste with 20 pieces is not found at once.
    pieces = tuple(piece(f"p{k}", 31 + 3 * k, 47 - k, ANY) for k in range(20))
    question = Question(pieces, (cloth(199, 260),), seconds=0.05)
    start = time.process_time()
    answer = lay(question)
    assert time.process_time() - start < 2.0
    if answer.verdict == "not found":
        assert answer.cut_short
        assert answer.reason.code == "lay-not-found-yet"


def test_steps_that_run_out_leave_the_verdict_open() -> None:
    ring = [piece("top", 60, 40), piece("right", 40, 60), piece("bottom", 60, 40), piece("left", 40, 60)]
    question = Question((*ring, piece("middle", 21, 18)), (cloth(100, 100),), steps=12)
    answer = lay(question)
    assert (answer.verdict, answer.proved, answer.cut_short) == ("not found", False, False)
    assert answer.reason.code == "lay-not-found"


def test_the_tidiest_layout_is_shown_when_there_is_room() -> None:
    # Six equal labels on plenty of cloth: rows with shared cut lines, no wish for room.
    pieces = tuple(piece(f"label-{k}", 40, 20) for k in range(6))
    question = Question(pieces, (cloth(200, 200),), spare_wish_mm=5.0)
    answer = lay(question)
    assert answer.verdict == "fits"
    lines = {round(placed.x_mm, 2) for placed in answer.placed}, {round(placed.y_mm, 2) for placed in answer.placed}
    assert len(lines[0]) * len(lines[1]) in (6, 8, 9)
    assert faults(question, answer.placed) == []


def test_a_first_layout_is_enough_to_know_that_there_is_one() -> None:
    found = first_layout(core(400.0))
    assert found.placed
    assert faults(core(400.0), found.placed) == []
    assert not found.spare_proved
    refused = first_layout(core(150.0))
    assert (refused.verdict, refused.placed) == ("does not fit", ())
    stopped = first_layout(core(400.0), lambda share: True)
    assert stopped.verdict in ("fits", "fits, tight", "not found")
    hurried = first_layout(replace(core(303.0), seconds=0.0, steps=10**9), lambda share: False)
    assert hurried.placed or hurried.cut_short
