"""What would make it fit: each change against a figure worked out by hand, their order, and how a search ends."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Source, TurnIns, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut
from coverlayout.document.changing import trying
from coverlayout.document.changing.change import FittingChange
from coverlayout.document.changing.changing import what_would_fit
from coverlayout.document.changing.trying import answer_around_pins
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import CutPiece, LinkWish, LockWish, Project
from coverlayout.document.questions import judge_for
from coverlayout.errors import Remark
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# Common practice, no source: pages of 4.5 x 6 in, turn-ins of 15 mm, liners inset 3 mm, on a swatch of 12 x 12 in.
UPRIGHT = Book("book-1", "Ledger", page_mm=(114.3, 152.4), cover_turns="none", liner_turns="none")
TURNABLE = replace(UPRIGHT, liner_turns="quarter")
SWATCH = Cloth("cloth-1", "Swatch", 304.8, 304.8)
CORE = Project(cloths=(SWATCH,), books=(UPRIGHT,))
SQUARES = Print("squares", "squares", Lattice((48.0, 0.0), (0.0, 48.0)))
ALIKE = LinkWish("wish-1", ("front-1", "back-1"))
LINKED = Project(
    prints=(SQUARES,), cloths=(replace(SWATCH, laid=LaidPrint("squares")),), books=(TURNABLE,), links=(ALIKE,)
)
EIGHTH = Cut("fat eighth, 44 in", 558.8, 228.6)
YARD = Cut("yard, 44 in", 1117.6, 914.4)
TINY = Cut("scrap", 100.0, 100.0)
CUTS = (YARD, TINY, EIGHTH)


def offered(project: Project, cuts: Iterable[Cut] = CUTS) -> list[FittingChange]:
    """The changes, each checked: its answer lays every piece still to be cut of its own project, within all rules."""
    found = what_would_fit(project, cuts=cuts)
    for change in found:
        assert change.answer.verdict in ("fits", "fits, tight")
        report = judge_for(change.project).report(change.answer.placed)
        assert (report.breaches, report.waiting) == ((), ())
    return list(found)


def kinds(found: Iterable[FittingChange]) -> list[tuple[str, float | None]]:
    return [(change.kind, change.amount_mm) for change in found]


def fits(project: Project) -> bool:
    return bool(answer_around_pins(project, first_layout).placed)


def test_everything_upright_the_first_change_is_to_turn_the_liners() -> None:
    found = offered(CORE)
    assert not fits(CORE)
    assert [change.kind for change in found] == ["turn liners", "paper liners", "smaller book", "next cut"]
    assert found[0].answer.spare_mm == pytest.approx(4.7, abs=0.01)
    assert found[0].answer.spare_proved
    assert found[0].said.text() == (
        "Turn the liners a quarter: everything fits with 4.7 mm to spare; they then run across the grain"
    )
    # Two covers side by side: (304.8 - 2 x 144.3) / 3.
    assert found[1].answer.spare_mm == pytest.approx(5.4, abs=0.01)
    # The largest board of this shape with everything upright: 105.3 x 140.4 (common practice, no source).
    assert found[2].amount_mm == 12.0
    assert found[2].project.books[0].page_mm == pytest.approx((105.3, 140.4))


def test_with_a_print_the_motif_lies_sideways() -> None:
    printed = replace(LINKED, links=(), books=(UPRIGHT,))
    assert offered(printed)[0].said.text().endswith("they then run across the grain and the motif lies sideways")


def test_covers_alike_on_48_mm_squares_want_side_turn_ins_of_14_85() -> None:
    # Side by side two covers alike are a multiple of 48 apart: 144 at 114.3 + 2 x 14.85, where they meet.
    found = offered(LINKED)
    assert not fits(LINKED)
    by_kind = {(change.kind, change.said.code.removesuffix("-barely")): change for change in found}
    sides = by_kind["two turn-ins", "change-turn-ins-sides"]
    assert sides.amount_mm == 14.85
    assert sides.project.books[0].turn_ins == TurnIns(15.0, 15.0, 14.85, 14.85)
    assert by_kind["turn-in", "change-turn-ins"].amount_mm == 14.85
    assert "14.85 mm" in sides.said.text()
    dropped = by_kind["drop a wish", "change-drop-alike-missed"]
    assert dropped.project.links == ()
    # 144.3 wide and 144 apart.
    assert dropped.amount_mm == pytest.approx(0.3, abs=0.05)
    smaller = by_kind["smaller book", "change-smaller-book"]
    assert smaller.project.books[0].page_mm == pytest.approx((114.0, 152.05))
    assert [change.kind for change in found] == [
        *("turn-in", "two turn-ins", "drop a wish", "smaller book", "next cut"),
    ]


def test_the_gap_is_the_largest_on_the_grid() -> None:
    # Between the pieces alone 14.1 mm are to be had (common practice, no source; 14.2 is refused).
    wide = replace(CORE, books=(TURNABLE,), rules=replace(CORE.rules, gap_mm=20.0))
    found = {change.kind: change for change in offered(wide)}
    assert found["gap"].amount_mm == pytest.approx(14.1)
    assert found["gap"].project.rules.gap_mm == pytest.approx(14.1)
    assert not fits(replace(wide, rules=replace(wide.rules, gap_mm=14.15)))


def test_no_gap_at_all_where_only_that_fits() -> None:
    labels = OwnPiece("own-1", "label", 75.0, 40.0, count=2, turns="none")
    project = Project(cloths=(Cloth("cloth-1", "Strip", 150.0, 50.0),), own_pieces=(labels,))
    tight = replace(project, rules=replace(project.rules, gap_mm=0.04))
    (gap,) = offered(tight, cuts=())
    assert (gap.kind, gap.amount_mm, gap.said.code) == ("gap", 0.0, "change-no-gap-barely")


def covers_on(width_mm: float, length_mm: float, turn_ins: TurnIns) -> Project:
    book = Book("book-1", "Ledger", board_mm=(100.0, 150.0), liners="none", cover_turns="none", turn_ins=turn_ins)
    return Project(cloths=(Cloth("cloth-1", "Piece", width_mm, length_mm),), books=(book,))


def test_of_two_pairs_the_one_that_shrinks_less_comes_first() -> None:
    # Side by side on 250 x 185 the covers may be 125 wide: 12.5 at each side. Above each other they would be 300 high.
    # A board 142.55 high is 95.03 wide, rounded down to 95; one 142.6 high would be 95.05 wide.
    found = offered(covers_on(250.0, 185.0, TurnIns(15.0, 15.0, 15.0, 15.0)), cuts=())
    assert kinds(found) == [("turn-in", 12.5), ("two turn-ins", 12.5), ("smaller book", 7.45)]
    # One cover on the other on 140 x 345, 172.5 high: 11.25 at head and tail; 130 wide, whatever is done there.
    found = offered(covers_on(140.0, 345.0, TurnIns(15.0, 15.0, 15.0, 15.0)), cuts=())
    assert [change.kind for change in found] == ["turn-in", "two turn-ins", "smaller book"]
    assert found[1].said.code == "change-turn-ins-ends-barely"
    # On 258 x 345 either way fits: 14.5 at the sides, 11.25 at head and tail.
    found = offered(covers_on(258.0, 345.0, TurnIns(15.0, 15.0, 15.0, 15.0)), cuts=())
    assert kinds(found)[:3] == [("turn-in", 14.5), ("two turn-ins", 14.5), ("two turn-ins", 11.25)]


def test_turn_ins_are_never_made_smaller_than_10_mm() -> None:
    # 119 wide would need 9.5 at each side.
    found = offered(covers_on(238.0, 185.0, TurnIns(15.0, 15.0, 15.0, 15.0)), cuts=())
    assert [change.kind for change in found] == ["smaller book"]
    # A side that is smaller already stays: 9 + 100 + 15 becomes 9 + 100 + 10.
    found = offered(covers_on(238.0, 185.0, TurnIns(15.0, 15.0, 9.0, 15.0)), cuts=())
    assert found[0].project.books[0].turn_ins == TurnIns(10.0, 10.0, 9.0, 10.0)


def test_only_the_liners_of_books_that_need_it_may_turn() -> None:
    # A second, small book lies upright on a piece of cloth of its own.
    small = replace(UPRIGHT, id="book-2", name="Note", page_mm=(40.0, 60.0), volumes=(Volume(2),))
    there = Source(cloth_id="cloth-2")
    small = replace(small, cover_source=there, liner_source=there)
    first = replace(UPRIGHT, cover_source=Source(cloth_id="cloth-1"), liner_source=Source(cloth_id="cloth-1"))
    two = Project(cloths=(SWATCH, Cloth("cloth-2", "Scrap", 200.0, 200.0)), books=(first, small))
    turned = offered(two)[0]
    assert (turned.kind, turned.said.code) == ("turn liners", "change-turn-some")
    assert [book.liner_turns for book in turned.project.books] == ["quarter", "none"]
    assert dict(turned.said.figures)["pieces"] == "liner-front-1, liner-back-1"


def test_either_of_two_wishes_at_odds_may_be_dropped() -> None:
    # A label 90 wide on 100: its middle lies from 45 to 55, on 50 for the one wish and on 55 for the other: 5 apart.
    seeds = Print("seeds", "seeds", Lattice((40.0, 0.0), (0.0, 30.0)))
    strip = Cloth("cloth-1", "Strip", 100.0, 60.0, laid=LaidPrint("seeds"))
    label = OwnPiece("own-1", "label", 90.0, 50.0, turns="none")
    locks = (LockWish("wish-1", "label-1", (10.0, 0.0)), LockWish("wish-2", "label-1", (15.0, 0.0)))
    project = Project(prints=(seeds,), cloths=(strip,), own_pieces=(label,), locks=locks)
    found = offered(project, cuts=())
    assert [change.kind for change in found] == ["drop a wish", "drop a wish"]
    assert [change.amount_mm for change in found] == pytest.approx([5.0, 5.0], abs=0.1)
    assert {wish.id for change in found for wish in change.project.wishes} == {"wish-1", "wish-2"}


def test_the_smallest_cut_that_fits_is_bought() -> None:
    (*_, bought) = offered(CORE)
    assert bought.said.text().startswith("Buy “fat eighth, 44 in” instead: everything fits")
    assert [cloth.width_mm for cloth in bought.project.cloths] == [558.8]
    assert [change.kind for change in offered(CORE, cuts=(TINY,))] == ["turn liners", "paper liners", "smaller book"]


def test_without_any_cloth_only_buying_helps() -> None:
    assert kinds(offered(Project(books=(UPRIGHT,)))) == [("next cut", None)]


def test_pinned_and_cut_pieces_stay_where_they_are() -> None:
    lying = Placed("front-1", "cloth-1", 76.0, 95.0)
    pinned = pin(("front-1",)).change(place((lying,)).change(CORE))
    found = offered(pinned)
    assert found[0].kind == "turn liners"
    for change in found:
        assert next(placed for placed in change.answer.placed if placed.piece == "front-1") == lying
    bought = found[-1]
    assert bought.said.text().startswith("Buy “fat eighth, 44 in” as well, beside the cloth there is")
    fact = CutPiece("front-1", "front cover", "cut", rectangle(144.3, 182.4), (72.15, 91.2), lying)
    begun = replace(CORE, cut_pieces=(fact,))
    found = offered(begun)
    assert [change.kind for change in found] == ["turn liners", "paper liners", "next cut"]
    for change in found:
        assert change.project.cut_pieces == (fact,)
        assert "front-1" not in {placed.piece for placed in change.answer.placed}


def test_nothing_to_change_where_everything_fits_or_nothing_is_asked() -> None:
    assert what_would_fit(replace(CORE, books=(TURNABLE,))) == ()
    assert what_would_fit(Project()) == ()
    assert what_would_fit(Project(cloths=(SWATCH,))) == ()


def test_nothing_single_may_help() -> None:
    poster = OwnPiece("own-1", "poster", 2000.0, 3000.0)
    assert offered(Project(cloths=(SWATCH,), own_pieces=(poster,))) == []


def test_each_new_change_is_heard_of_at_once_and_the_order_never_changes() -> None:
    heard: list[tuple[FittingChange, ...]] = []
    shares: list[float] = []

    def watch(share_done: float) -> bool:
        shares.append(share_done)
        return False

    found = what_would_fit(CORE, watch, cuts=CUTS, found=heard.append)
    assert [len(so_far) for so_far in heard] == [1, 2, 3, 4]
    assert all(found[: len(so_far)] == so_far for so_far in heard)
    assert what_would_fit(CORE, cuts=CUTS) == found
    assert shares == sorted(shares)
    assert 0.0 <= shares[0] < shares[-1] < 1.0


def test_a_search_that_is_ended_keeps_what_was_found() -> None:
    heard: list[tuple[FittingChange, ...]] = []
    found = what_would_fit(CORE, lambda _: bool(heard), cuts=CUTS, found=heard.append)
    assert [change.kind for change in found] == ["turn liners"]
    assert what_would_fit(CORE, lambda _: True) == ()
    assert what_would_fit(CORE, seconds=0.0) == ()


def test_a_try_that_finds_nothing_is_a_no_whether_proved_or_not(monkeypatch: pytest.MonkeyPatch) -> None:
    def nothing(question: Question, watch: Watch) -> Answer:
        del question, watch
        return Answer("not found", False, Remark("lay-not-found"))

    monkeypatch.setattr(trying, "first_layout", nothing)
    assert what_would_fit(LINKED, cuts=CUTS) == ()
