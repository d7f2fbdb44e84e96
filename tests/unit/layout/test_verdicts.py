"""The words of an answer: verdict and reason by room, wish, proof and doubt; every code has its sentence."""

from __future__ import annotations

from dataclasses import replace

import pytest
from laying import cloth, piece

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Answer, Proof, ProofName, Report
from coverlayout.layout.question import ClothAsked, Ground, Lock, Placed, Question
from coverlayout.layout.verdicts import answer_of

QUESTION = Question((piece("a", 40, 20, (0.0, 90.0)), piece("b", 40, 20)), (cloth(100, 100),), number=5)
PLACED = (Placed("a", "c", 30.0, 40.0, 90.0), Placed("b", "c", 70.0, 40.0))
REPORT = Report("valid", (), (), 16.0, 9.5)


def answer(
    spare_mm: float | None, *, proved: bool = True, lost: str | None = None, question: Question = QUESTION
) -> Answer:
    return answer_of(
        question, shown=(PLACED, REPORT), spare_mm=spare_mm, spare_proved=proved, proof=None, lost_if_smaller=lost
    )


def test_room_at_or_above_the_wish_fits() -> None:
    told = answer(10.0)
    assert (told.verdict, told.proved, told.spare_mm, told.spare_proved) == ("fits", True, 10.0, True)
    assert told.reason.text() == "everything fits; at the tightest place 9.5 mm are free"
    assert (told.used_percent, told.clearance_mm, told.placed, told.question_number) == (16.0, 9.5, PLACED, 5)
    assert answer(6.0).verdict == answer(5.9901).verdict == "fits"
    assert told.proof == Proof("exhaustive")
    assert answer(10.0, proved=False).proof is None


def test_room_below_the_wish_is_tight_and_says_whether_it_is_proved() -> None:
    assert answer(4.0).verdict == "fits, tight"
    assert "4 mm to spare at most" in answer(4.0).reason.text()
    known = answer(4.0, proved=False)
    assert known.verdict == "fits, tight"
    assert "the most room we know is 4 mm" in known.reason.text()


def test_a_job_lost_on_a_smaller_cloth_is_tight_with_a_note() -> None:
    proved, open_still = answer(10.0, lost="proved"), answer(10.0, lost="not found")
    assert proved.verdict == open_still.verdict == "fits, tight"
    assert proved.notes[0].text() == "on the cloth smaller by its doubt the pieces do not fit"
    assert open_still.notes[0].code == "lay-smaller-not-found"
    # Room below the wish is the plainer reason.
    assert answer(4.0, lost="proved").reason.code == "lay-tight"


def test_quarter_turns_are_told_from_the_up_of_the_ground() -> None:
    assert answer(10.0).notes[0].text() == "a: turned a quarter, so they lie across the grain"
    turned = Question(QUESTION.pieces, (cloth(100, 100, up_deg=90.0, print_id="p"),))
    note = answer(10.0, question=turned).notes[0]
    assert note.code == "lay-quarter-turn-print"
    assert dict(note.figures)["pieces"] == "b"
    other_print = Question(tuple(piece(name, 40, 20, print_id="q") for name in "ab"), (cloth(100, 100, print_id="p"),))
    assert answer(10.0, question=other_print).notes == ()


@pytest.mark.parametrize(
    ("ground", "code", "words"),
    [
        (
            (100.0, 90.0),
            "lay-no-place",
            "a fits nowhere: it measures 120 mm x 50 mm, and the ground it may come from is ",
        ),
        ((60.0, 130.0), "lay-no-place-between", "and nowhere is that much clear the way it may lie, between edges, "),
        ((400.0, 300.0), "lay-no-place-between", "flaws, holes and pieces that stay"),
        ((0.0, 0.0), "lay-no-ground", "has no usable ground here"),
    ],
)
def test_a_piece_without_a_place_is_too_large_or_finds_none_between(
    ground: tuple[float, float], code: str, words: str
) -> None:
    have = ("ground_width_mm", ground[0]), ("ground_height_mm", ground[1])
    proof = Proof("fits nowhere", (("piece", "a"), ("width_mm", 120.0), ("height_mm", 50.0), *have))
    told = answer_of(QUESTION, shown=None, spare_mm=None, spare_proved=False, proof=proof)
    assert told.reason.code == code
    assert words in told.reason.text()


def test_what_lies_head_down_on_a_one_way_print_is_told() -> None:
    down = cloth(100, 100, up_deg=270.0, print_id="p")
    one_way = replace(down, grounds=(replace(down.grounds[0], one_way=True),))
    notes = answer(10.0, question=Question(QUESTION.pieces, (one_way,))).notes
    # a lies at 90, so half turned from 270; b at 0, a quarter from it.
    assert [(note.code, dict(note.figures)["pieces"]) for note in notes] == [
        ("lay-quarter-turn-print", "b"),
        ("lay-head-down", "a"),
    ]
    assert notes[1].text() == "a: half turned, so the motif lies head down"
    assert len(answer(10.0, question=Question(QUESTION.pieces, (down,))).notes) == 1


def test_of_two_grounds_of_one_print_the_one_under_the_piece_says_its_up() -> None:
    left = Ground("left", Region.of(rectangle(50.0, 100.0)), "p", 90.0)
    right = Ground("right", Region.of(rectangle(50.0, 100.0, 50.0)), "p", 0.0)
    both = ClothAsked("c", "c", rectangle(100.0, 100.0), (left, right))
    # a at 90 on the left ground and b at 0 on the right one: both upright.
    assert answer(10.0, question=Question(QUESTION.pieces, (both,))).notes == ()


@pytest.mark.parametrize(
    ("proof", "words"),
    [
        (
            Proof("area", (("pieces", "a, b"), ("need_mm2", 10500.0), ("have_mm2", 10000.0))),
            "a and b need 105.0 cm² of cloth",
        ),
        (
            Proof(
                "fits nowhere",
                (
                    ("piece", "a"),
                    ("width_mm", 120.0),
                    ("height_mm", 20.0),
                    ("ground_width_mm", 100.0),
                    ("ground_height_mm", 90.0),
                ),
            ),
            "a fits nowhere: it measures 120 mm x 20 mm",
        ),
        (
            Proof(
                "side by side",
                (("pieces", "a, b"), ("count", 2.0), ("need_mm", 433.0), ("have_mm", 419.0), ("way", "across")),
            ),
            "a and b must lie side by side: that needs 433 mm across, and the cloth has 419 mm",
        ),
        (
            Proof("slice bound", (("need_mm", 463.0), ("have_mm", 457.2), ("way", "across"), ("splits", 49.0))),
            "they need at least 463 mm, and there are 457.2 mm",
        ),
        (Proof("exhaustive", (("pieces", 4.0),)), "the 4 pieces can lie"),
    ],
)
def test_every_no_is_a_sentence_with_its_figures(proof: Proof, words: str) -> None:
    told = answer_of(QUESTION, shown=None, spare_mm=None, spare_proved=False, proof=proof)
    assert (told.verdict, told.proved, told.proof) == ("does not fit", True, proof)
    assert words in told.reason.text()
    assert (told.spare_mm, told.clearance_mm, told.placed) == (None, None, ())


def test_not_found_says_whether_the_search_was_ended() -> None:
    whole = answer_of(QUESTION, shown=None, spare_mm=None, spare_proved=False, proof=None)
    assert (whole.verdict, whole.proved, whole.cut_short) == ("not found", False, False)
    assert "none was ruled out" in whole.reason.text()
    cut = answer_of(QUESTION, shown=None, spare_mm=None, spare_proved=False, proof=None, cut_short=True)
    assert cut.cut_short
    assert cut.reason.code == "lay-not-found-yet"


def test_a_lock_to_a_print_of_unknown_origin_is_told_only_when_it_must_hold() -> None:
    known = Question(QUESTION.pieces, QUESTION.cloths, locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),))
    assert answer_of(known, shown=None, spare_mm=None, spare_proved=False, proof=None).notes == ()


def told_of(name: ProofName, **figures: float | str) -> str:
    proof = Proof(name, tuple(figures.items()))
    return answer_of(QUESTION, shown=None, spare_mm=None, spare_proved=False, proof=proof).reason.text()


PAIR_SIZES = {"need_width_mm": 110.0, "need_height_mm": 115.0, "have_width_mm": 100.0, "have_height_mm": 100.0}


@pytest.mark.parametrize(
    ("name", "figures", "words"),
    [
        ("fits nowhere", {"piece": "a", "wish": "no repeat"}, "the ground it may come from has no print that repeats"),
        ("fits nowhere", {"piece": "a", "other": "b", "wish": "no repeat"}, "a and b are to lie on matching print"),
        ("fits nowhere", {"piece": "a", "wish": "lock", "tried": 3.0}, "a is tied to 3 times on this cloth"),
        ("fits nowhere", {"piece": "a", "wish": "lock", "tried": 0.0}, "a is tied to is nowhere on this cloth"),
        ("fits nowhere", {"piece": "a", "other": "a", "wish": "two locks", "apart_mm": 5.0}, "they are 5 mm off"),
        (
            "fits nowhere",
            {"piece": "a", "other": "b", "wish": "two links", "apart_mm": 5.0},
            "two wishes that never agree",
        ),
        (
            "fits nowhere",
            {"piece": "a", "other": "b", "wish": "locks and link", "apart_mm": 5.0},
            "match each other as well",
        ),
        (
            "fits nowhere",
            {"piece": "a", "other": "b", "wish": "no turn", "apart_mm": 0.0},
            "they allow no turn in common",
        ),
        ("fits nowhere", {"piece": "a", "covered_by": "oil"}, "oil leaves nothing of the ground"),
        ("side by side", {"pieces": "a, b", "wish": "link", **PAIR_SIZES}, "a and b need 110 mm x 115 mm together"),
        ("side by side", {"pieces": "a, b", "wish": "link"}, "whichever repeats they lie on"),
        ("side by side", {"pieces": "a, b", "wish": "pair", **PAIR_SIZES}, "needs 110 mm across or 115 mm lengthwise"),
        (
            "side by side",
            {"pieces": "a, b", "wish": "pair", **PAIR_SIZES, "have_width_mm": 120.0},
            "find no room together",
        ),
        ("side by side", {"pieces": "a, b", "wish": "pair"}, "find no room together"),
        (
            "side by side",
            {"pieces": "a, b", "need_mm": 9.0, "have_mm": 8.0, "way": "along", "sheets": 1.0},
            "9 mm lengthwise",
        ),
        (
            "side by side",
            {"pieces": "a, b", "need_mm": 9.0, "have_mm": 8.0, "way": "across", "sheets": 2.0},
            "the 2 grounds",
        ),
        (
            "side by side",
            {"pieces": "a, b, c", "most": 2.0, "way": "across", "sheets": 2.0},
            "of a, b and c only 2 find room",
        ),
        ("side by side", {"pieces": "a, b, c", "count": 3.0, "most": 2.0, "sheets": 2.0}, "only 2 grounds for the 3"),
        ("slice bound", {"need_mm": 9.0, "have_mm": 8.0, "way": "across", "sheets": 2.0}, "the 2 grounds have 8 mm"),
    ],
)
def test_the_words_of_a_no(name: ProofName, figures: dict[str, float | str], words: str) -> None:
    assert words in told_of(name, **figures)


def test_many_pieces_are_counted_in_the_sentence_alone() -> None:
    names = ", ".join(f"cover-{k}" for k in range(12))
    told = told_of("area", pieces=names, need_mm2=20000.0, have_mm2=10000.0)
    assert told.startswith("cover-0, cover-1, cover-2, cover-3, cover-4 and 7 more need 200.0")
    assert told_of("area", pieces="a", need_mm2=20000.0, have_mm2=10000.0).startswith("a need")


def test_areas_read_differently_where_they_differ_by_little() -> None:
    def shown(need_mm2: float, have_mm2: float) -> dict[str, float | str]:
        proof = Proof("area", (("pieces", "a, b"), ("need_mm2", need_mm2), ("have_mm2", have_mm2)))
        answer = answer_of(Question((), ()), shown=None, spare_mm=None, spare_proved=False, proof=proof)
        return dict(answer.reason.figures)

    assert shown(12_500.0, 10_000.0) == {"pieces": "a and b", "need_cm2": "125.0", "have_cm2": "100.0"}
    assert shown(10_002.0, 10_000.0) == {"pieces": "a and b", "need_cm2": "100.02", "have_cm2": "100.00"}
