"""From the project to a question: pieces still to cut, turns and sources, doubt, locks and links, remembering."""

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Source, Turns, Volume
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.cloth.cuts import Cut, ladder
from coverlayout.document.project import (
    CutPiece,
    JobRules,
    Layout,
    LinkWish,
    LockWish,
    Preferences,
    Price,
    Project,
)
from coverlayout.document.questions import (
    asked_piece,
    judge_for,
    ladder_for,
    placed_now,
    planned_pieces,
    question_for,
    turns_of,
)
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Link, Lock, Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print, Up

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4))
SWATCH = Cloth("cloth-1", "Swatch", 304.8, 304.8)
POCKET = OwnPiece("own-1", "pocket", 60.0, 90.0, count=2)
PROJECT = Project(cloths=(SWATCH,), books=(BOOK,), own_pieces=(POCKET,))
SQUARES = Lattice((50.0, 0.0), (0.0, 50.0))


def printed(up: Up, print_id: str = "print-1") -> Print:
    return Print(print_id, print_id, SQUARES, up=up)


def fact(piece: str, state: str = "cut") -> CutPiece:
    place = Placed(piece, "cloth-1", 80.0, 100.0)
    return CutPiece(piece, piece, state, rectangle(10.0, 20.0), (4.0, 7.0), place)  # type: ignore[arg-type]  # its two words


def test_books_come_before_own_pieces() -> None:
    ids = [piece.id for piece in planned_pieces(PROJECT)]
    assert ids == ["front-1", "back-1", "liner-front-1", "liner-back-1", "pocket-1", "pocket-2"]


def test_a_cut_piece_is_planned_no_more_but_a_spoiled_one_again() -> None:
    project = replace(PROJECT, cut_pieces=(fact("front-1"), fact("back-1", "spoiled")))
    ids = [piece.id for piece in planned_pieces(project)]
    assert "front-1" not in ids
    assert "back-1" in ids


def test_two_pieces_of_one_name_are_refused() -> None:
    twice = replace(PROJECT, own_pieces=(POCKET, replace(POCKET, id="own-2", count=1)))
    with pytest.raises(BadInput, match="two pieces are called pocket-1"):
        planned_pieces(twice)


@pytest.mark.parametrize(("up", "turns"), [("one-way", "none"), ("two-way", "half"), ("any", "quarter")])
def test_turns_follow_the_prints_up(up: Up, turns: Turns) -> None:
    project = replace(PROJECT, prints=(printed(up),), cloths=(replace(SWATCH, laid=LaidPrint("print-1")),))
    assert {turns_of(project, piece) for piece in planned_pieces(project)} == {turns}


def test_without_a_print_half_turns_keep_the_thread() -> None:
    assert {turns_of(PROJECT, piece) for piece in planned_pieces(PROJECT)} == {"half"}
    unlaid = replace(PROJECT, prints=(printed("one-way"),))
    assert {turns_of(unlaid, piece) for piece in planned_pieces(unlaid)} == {"half"}


def test_an_open_source_takes_the_strictest_print_it_may_meet() -> None:
    zones = (
        Zone("zone-1", "a", rectangle(100.0, 300.0), LaidPrint("any")),
        Zone("zone-2", "b", rectangle(100.0, 300.0, 150.0), LaidPrint("two")),
        Zone("zone-3", "plain", rectangle(10.0, 10.0, 290.0)),
    )
    book = replace(BOOK, liner_source=Source(zone_id="zone-1"), cover_source=Source("any"))
    project = Project(
        prints=(printed("any", "any"), printed("two-way", "two")),
        cloths=(replace(SWATCH, zones=zones), replace(SWATCH, id="cloth-2")),
        books=(book,),
        own_pieces=(POCKET, replace(POCKET, id="own-2", name="label", source=Source(cloth_id="cloth-2"))),
    )
    turns = {piece.id: turns_of(project, piece) for piece in planned_pieces(project)}
    assert (turns["front-1"], turns["liner-front-1"]) == ("quarter", "quarter")
    assert (turns["pocket-1"], turns["label-1"]) == ("half", "half")


@pytest.mark.parametrize(
    ("turns", "turns_deg"),
    [("none", (0.0,)), ("half", (0.0, 180.0)), ("quarter", (0.0, 90.0, 180.0, 270.0)), ("free", None)],
)
def test_a_piece_of_its_own_word_is_asked_with_its_turns(turns: Turns, turns_deg: object) -> None:
    source = Source("print-1", "cloth-1", "zone-1")
    project = replace(PROJECT, books=(), own_pieces=(replace(POCKET, count=1, turns=turns, source=source),))
    (piece,) = planned_pieces(project)
    asked = asked_piece(project, piece)
    assert asked.turns_deg == turns_deg
    assert (asked.print_id, asked.cloth_ids, asked.ground_ids) == ("print-1", ("cloth-1",), ("zone-1",))
    assert (asked.outline_mm, asked.anchor_mm, asked.seen_mm) == (piece.outline_mm, (30.0, 45.0), None)


def test_an_open_source_is_asked_openly() -> None:
    asked = asked_piece(PROJECT, planned_pieces(PROJECT)[0])
    assert (asked.print_id, asked.cloth_ids, asked.ground_ids) == (None, (), ())
    assert asked.seen_mm == rectangle(124.3, 162.4, 10.0, 10.0)


def test_a_question_carries_the_rules_and_the_budget() -> None:
    rules = JobRules(gap_mm=2.0, spare_wish_mm=4.0, objective="largest leftover")
    question = question_for(replace(PROJECT, rules=rules), steps=77, seconds=2.5, number=9)
    assert (question.gap_mm, question.spare_wish_mm, question.objective) == (2.0, 4.0, "largest leftover")
    assert (question.steps, question.seconds, question.number) == (77, 2.5, 9)
    assert len(question.pieces) == 6
    assert [cloth.id for cloth in question.cloths] == ["cloth-1"]
    assert pickle.loads(pickle.dumps(question)) == question  # only tests may: a question travels to the worker


def test_only_the_pieces_named_are_asked_for() -> None:
    question = question_for(PROJECT, pieces=["pocket-2", "front-1"])
    assert [piece.id for piece in question.pieces] == ["front-1", "pocket-2"]


def test_cloth_in_doubt_is_asked_about_again_when_smaller() -> None:
    bought = replace(SWATCH, id="cloth-2", state="to-buy", trim_mm=5.0)
    question = question_for(replace(PROJECT, cloths=(SWATCH, bought)))
    sure, doubtful = question.cloths_if_smaller
    assert sure.outline_mm == rectangle(304.8, 304.8)
    assert doubtful.grounds[0].usable.bounds.width_mm == pytest.approx(304.8 * 0.99 - 10)
    assert question_for(PROJECT).cloths_if_smaller == ()


def test_a_lock_holds_the_anchor_or_the_point_given() -> None:
    locks = (
        LockWish("lock-1", "front-1", (12.0, 20.0)),
        LockWish("lock-2", "pocket-1", (1.0, 2.0), point_mm=(3.0, 4.0), must=False),
        LockWish("lock-3", "gone", (1.0, 2.0)),
    )
    question = question_for(replace(PROJECT, locks=locks))
    assert question.locks == (
        Lock("front-1", (15 + 57.15, 15 + 76.2), (12.0, 20.0), True),
        Lock("pocket-1", (3.0, 4.0), (1.0, 2.0), False),
    )


def test_links_reach_pieces_already_cut_and_skip_those_gone() -> None:
    links = (
        LinkWish("link-1", ("front-1", "back-1")),
        LinkWish("link-2", ("gone", "pocket-1", "pocket-2"), ((10.0, 1.0), (35.0, 2.0)), must=False),
        LinkWish("link-3", ("gone", "pocket-1")),
    )
    question = question_for(replace(PROJECT, links=links, cut_pieces=(fact("front-1"),)))
    assert question.links == (
        Link(("front-1", "back-1"), ((4.0, 7.0), (72.15, 91.2)), ((0.0, 0.0),), True),
        Link(("pocket-1", "pocket-2"), ((30.0, 45.0), (30.0, 45.0)), ((25.0, 1.0),), False),
    )


def test_a_link_with_too_few_differences_is_refused() -> None:
    links = (LinkWish("link-1", ("front-1", "back-1", "pocket-1"), ((1.0, 0.0),)),)
    with pytest.raises(BadInput, match="link-1: 3 pieces that run on need one difference"):
        question_for(replace(PROJECT, links=links))


def test_only_places_of_planned_pieces_on_known_cloths_count() -> None:
    good = Placed("front-1", "cloth-1", 80.0, 100.0)
    layout = Layout("layout-1", "Layout 1", (good, Placed("gone", "cloth-1", 1, 1), Placed("back-1", "gone", 1, 1)))
    project = replace(PROJECT, layouts=(layout,))
    assert placed_now(project) == (good,)
    assert placed_now(replace(project, cut_pieces=(fact("front-1"),))) == ()


def test_a_moved_piece_or_another_unit_works_nothing_out_anew() -> None:
    moved = replace(
        PROJECT,
        name="Other",
        layouts=(Layout("layout-2", "Two", (Placed("front-1", "cloth-1", 80.0, 100.0),)),),
        layout_id="layout-2",
        prices=(Price("yard, 44 in", 9.0),),
        preferences=Preferences(side="back"),
        next_number=50,
    )
    assert judge_for(moved) is judge_for(PROJECT)
    assert question_for(moved).cloths is question_for(PROJECT).cloths
    more = replace(PROJECT, books=(replace(BOOK, volumes=(Volume(1), Volume(2))),))
    assert judge_for(more) is not judge_for(PROJECT)


def test_the_judge_judges_what_lies_there() -> None:
    layout = Layout(
        "layout-1", "Layout 1", (Placed("front-1", "cloth-1", 72.15, 91.2), Placed("back-1", "cloth-1", 50, 91.2))
    )
    report = judge_for(PROJECT).report(placed_now(replace(PROJECT, layouts=(layout,))))
    assert {breach.rule for breach in report.breaches} == {"outside", "overlap"}
    assert set(report.waiting) == {"liner-front-1", "liner-back-1", "pocket-1", "pocket-2"}


def test_the_ladder_asks_for_the_same_job_on_each_cut() -> None:
    cuts = (Cut("fat quarter, 44 in", 558.8, 457.2, "44 in"), Cut("yard, 44 in", 1117.6, 914.4, "44 in", price=11.0))
    quarter, yard = ladder_for(replace(PROJECT, prices=(Price("fat quarter, 44 in", 3.5),)), cuts, steps=9, seconds=2.0)
    assert (quarter.name, quarter.width_mm, quarter.length_mm, quarter.price) == (
        "fat quarter, 44 in",
        558.8,
        457.2,
        3.5,
    )
    assert yard.price == 11.0
    assert (quarter.question.steps, quarter.question.seconds) == (9, 2.0)
    assert quarter.question.pieces == yard.question.pieces == question_for(PROJECT).pieces
    assert quarter.question.cloths[0].outline_mm == rectangle(558.8, 457.2)
    assert quarter.question.cloths_if_smaller[0].outline_mm == rectangle(558.8 * 0.99, 457.2 * 0.99)


def test_the_ladder_in_use_is_asked_when_no_cuts_are_given() -> None:
    assert [cut.name for cut in ladder_for(PROJECT)] == [cut.name for cut in ladder()]


def test_with_nothing_left_to_cut_there_is_no_ladder() -> None:
    assert ladder_for(Project(cloths=(SWATCH,))) == ()


LYING = (Placed("front-1", "cloth-1", 80.0, 95.0, 180.0), Placed("pocket-1", "cloth-1", 250.0, 200.0))
SOME_LIE = replace(PROJECT, layouts=(Layout("layout-1", "Layout 1", LYING, ("pocket-1",)),))


def test_what_stays_is_not_asked_for_and_lies_like_what_was_cut() -> None:
    question = question_for(SOME_LIE, staying=("front-1", "back-1"), steps=7)
    assert [piece.id for piece in question.pieces] == [
        "back-1",
        "liner-front-1",
        "liner-back-1",
        "pocket-1",
        "pocket-2",
    ]
    ((asked, placed),) = question.cloths[0].fixed
    front = asked_piece(SOME_LIE, planned_pieces(SOME_LIE)[0])
    assert (asked, placed) == (replace(front, turns_deg=None), LYING[0])
    assert question.steps == 7


def test_what_stays_stays_beside_what_was_cut_and_on_smaller_cloth_too() -> None:
    doubted = replace(SOME_LIE, cloths=(replace(SWATCH, state="to-buy"),), cut_pieces=(fact("back-1"),))
    question = question_for(doubted, pieces=("liner-back-1", "front-1"), staying=("front-1", "pocket-1"))
    assert [piece.id for piece in question.pieces] == ["liner-back-1"]
    for cloth in (*question.cloths, *question.cloths_if_smaller):
        assert [piece.id for piece, _ in cloth.fixed] == ["back-1", "front-1", "pocket-1"]


def test_links_reach_what_stays_and_locks_of_it_are_not_asked() -> None:
    wished = replace(
        SOME_LIE,
        locks=(LockWish("wish-1", "front-1", (1.0, 2.0)),),
        links=(LinkWish("wish-2", ("front-1", "back-1")),),
    )
    question = question_for(wished, pieces=("back-1",), staying=("front-1",))
    assert question.locks == ()
    assert [link.pieces for link in question.links] == [("front-1", "back-1")]
    assert question_for(wished, pieces=("back-1",)).links == ()


def test_a_moved_piece_that_stays_is_another_question() -> None:
    moved = replace(SOME_LIE, layouts=(Layout("layout-1", "Layout 1", (replace(LYING[0], x_mm=81.0),)),))
    stays = question_for(moved, staying=("front-1",)).cloths[0].fixed[0][1]
    assert stays.x_mm == 81.0
    assert question_for(moved).cloths == question_for(SOME_LIE).cloths


def test_gone_ground_is_told_less_what_was_cut_from_it() -> None:
    """Of a strip of 100 x 304.8 that is gone, a piece of 10 x 20 was cut before; 4.8 mm of it lie beside the cloth."""
    gone = Flaw("flaw-1", "gone", rectangle(100.0, 304.8, 209.6, 0.0), fine_where_hidden=True, gone=True)
    cut = replace(fact("front-1"), place=Placed("front-1", "cloth-1", 250.0, 100.0))
    project = replace(PROJECT, cloths=(replace(SWATCH, flaws=(gone,)),), cut_pieces=(cut,))
    assert question_for(project).cloths[0].gone_mm2 == pytest.approx(95.2 * 304.8 - 200.0)
    assert not question_for(project).cloths[0].keep_outs[0].seen_only, "where no cloth is, nothing can be hidden"
    judge = judge_for(project)
    assert judge.bought_mm2 == pytest.approx(304.8**2 - 95.2 * 304.8 + 200.0)
