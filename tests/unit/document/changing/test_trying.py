"""Tries of changed projects: pins stay, a no is a no, time and watch end them, lengths are found by halving."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Label, OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.changing import trying
from coverlayout.document.changing.trying import Ended, Trying, answer_around_pins
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import LockWish, Project
from coverlayout.document.questions import judge_for, question_for
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import Placed, Question, Watch
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

LABELS = OwnPiece("own-1", "label", 60.0, 40.0, count=2, turns="none")
PROJECT = Project(cloths=(Cloth("cloth-1", "Strip", 150.0, 50.0),), own_pieces=(LABELS,))


def widened(steps: int) -> Project:
    """Two labels `steps` mm wide on 150 mm of cloth: they fit up to 75."""
    return replace(PROJECT, own_pieces=(replace(LABELS, width_mm=float(steps)),))


def pinned_at(x_mm: float, y_mm: float = 25.0) -> Project:
    lying = place((Placed("label-1", "cloth-1", x_mm, y_mm),)).change(PROJECT)
    return pin(("label-1",)).change(lying)


def test_what_fits_and_what_does_not() -> None:
    assert Trying().fits(PROJECT)
    assert not Trying().fits(widened(76))
    assert Trying().answer(widened(76)) is None


def test_an_answer_tells_the_room() -> None:
    answer = Trying().answer(PROJECT)
    assert answer is not None
    # 30 of 150 across for three gaps, 10 of 50 along for two.
    assert (answer.spare_mm, answer.spare_proved) == (pytest.approx(5.0, abs=0.01), True)


def test_a_project_that_cannot_be_made_does_not_fit() -> None:
    wrong = replace(PROJECT, books=(Book("book-1", "Ledger", page_mm=(-5.0, 20.0)),))
    assert not Trying().fits(wrong)
    assert Trying().answer(wrong) is None


def test_a_pinned_piece_stays_and_counts_for_the_room() -> None:
    there = pinned_at(33.0)
    answer = answer_around_pins(there, lay)
    assert {placed.piece: placed.x_mm for placed in answer.placed}["label-1"] == 33.0
    assert judge_for(there).report(answer.placed).breaches == ()
    # It lies from 3 to 63: no layout has more than the 3 mm at its left.
    assert (answer.spare_mm, answer.spare_proved) == (pytest.approx(3.0), True)
    assert not Trying().fits(pinned_at(75.0)), "in the middle it leaves 45 on each side"
    assert not Trying().fits(pinned_at(20.0)), "it reaches 10 beyond the edge"


def test_the_largest_that_fits_is_found_by_halving() -> None:
    asked: list[int] = []

    def made(steps: int) -> Project:
        asked.append(steps)
        return widened(steps)

    assert Trying().largest(made, 10, 120) == 75
    # Once for whether the least can be made at all, then it and seven halvings.
    assert len(asked) <= 9
    assert Trying().largest(made, 10, 60) == 59
    assert Trying().largest(made, 80, 120) is None
    assert Trying().largest(made, 70, 70) is None


def test_what_cannot_be_made_so_small_is_tried_from_the_least_that_can() -> None:
    """A label of 60 x 40 mm lies only on boards of 60 x 80 or more, so halving starts there."""
    title = Book("book-1", "Ledger", page_mm=(90.0, 120.0), liners="none", label=Label(60.0, 40.0))
    cloth = Cloth("cloth-1", "cloth", 2 * (75.0 + 30.0), 130.0 + 41.0)

    def made(height_mm: int) -> Project:
        book = replace(title, page_mm=(0.75 * height_mm, float(height_mm)))
        return Project(cloths=(cloth,), books=(book,))

    # Covers as high as the cloth less the label below them: 100 + 30 = 130; 2 x 105 is the cloth's width.
    assert Trying().largest(made, 10, 120) == 100
    assert Trying().largest(made, 10, 79) is None


def test_the_watch_ends_every_further_try() -> None:
    heard: list[float] = []

    def watch(share_done: float) -> bool:
        heard.append(share_done)
        return len(heard) > 1

    tries = Trying(watch)
    tries.share_done = 0.25
    assert tries.fits(PROJECT)
    with pytest.raises(Ended):
        tries.fits(PROJECT)
    with pytest.raises(Ended):
        tries.decide(question_for(PROJECT))
    assert set(heard) == {0.25}


def test_time_that_is_up_ends_every_try() -> None:
    for ended in (Trying(seconds=0.0), Trying(seconds=-1.0)):
        with pytest.raises(Ended):
            ended.answer(PROJECT)


def test_a_try_cut_short_without_a_layout_ends_them(monkeypatch: pytest.MonkeyPatch) -> None:
    def cut_short(question: Question, watch: Watch) -> Answer:
        del question, watch
        return Answer("not found", False, Remark("lay-not-found-yet"), cut_short=True)

    monkeypatch.setattr(trying, "first_layout", cut_short)
    with pytest.raises(Ended):
        Trying().fits(PROJECT)
    with pytest.raises(Ended):
        Trying().decide(question_for(PROJECT))


def test_the_first_layout_is_told_when_no_roomier_one_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(question: Question, watch: Watch) -> Answer:
        del question, watch
        return Answer("not found", False, Remark("lay-not-found"))

    monkeypatch.setattr(trying, "lay", none)
    answer = Trying().answer(PROJECT)
    assert answer is not None
    assert judge_for(PROJECT).report(answer.placed).breaches == ()


def test_a_question_is_decided_in_few_steps() -> None:
    answer = Trying(seconds=60.0).decide(question_for(PROJECT))
    assert answer.placed == first_layout(question_for(PROJECT)).placed


def on_print(lattice: Lattice, *, origin_known: bool = False) -> Project:
    """Both labels on a print, the first held to a place in its repeat."""
    seeds = Print("seeds", "seeds", lattice)
    lying = LaidPrint("seeds", origin_known=origin_known)
    cloths = (replace(PROJECT.cloths[0], width_mm=166.0, laid=lying),)
    return replace(PROJECT, prints=(seeds,), cloths=cloths, locks=(LockWish("wish-1", "label-1", (0.0, 0.0)),))


def test_where_the_print_may_fall_anywhere_one_bad_place_is_a_no(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []

    def counted(question: Question, watch: Watch) -> Answer:
        asked.append(all(ground.origin_known for cloth in question.cloths for ground in cloth.grounds))
        return first_layout(question, watch)

    monkeypatch.setattr(trying, "first_layout", counted)
    # The middle of the first label may lie from 30 to 76, or from 90 to 136, and 10 free along: every 80 is too seldom.
    assert not Trying().fits(on_print(Lattice((80.0, 0.0), (0.0, 8.0))))
    assert all(asked), "a place of the print that does not do was found without asking for all of them"
    asked.clear()
    # Every 20 across and 8 along there is a place for it wherever the print falls.
    assert Trying().fits(on_print(Lattice((20.0, 0.0), (0.0, 8.0))))
    assert asked.count(False) == 1
    assert asked[-1] is False


def test_places_of_the_print_are_asked_only_where_they_matter(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Question] = []

    def counted(question: Question, watch: Watch) -> Answer:
        asked.append(question)
        return first_layout(question, watch)

    monkeypatch.setattr(trying, "first_layout", counted)
    Trying().fits(on_print(Lattice((20.0, 0.0), (0.0, 8.0)), origin_known=True))
    assert len(asked) == 1
    asked.clear()
    Trying().fits(on_print(Lattice((20.0, 0.0))))
    assert len(asked) == 1, "plain stripes"
