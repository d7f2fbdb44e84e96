"""Which figures belong to a structure, what stays when a book is bound another way, nice numbers in inches."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, get_args

import pytest

from coverlayout.book.book import Book, Label, Structure, TurnIns
from coverlayout.book.rules.belonging import (
    RULED,
    belongs,
    loosened,
    new_book,
    rule_of,
    spine_piece_of,
    suited,
    with_nice_figures,
)

STRUCTURES: tuple[Structure, ...] = get_args(Structure)


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_figure_with_a_rule_has_one_in_every_structure_it_belongs_to(structure: Structure) -> None:
    book = Book("b", "Ledger", structure)
    for field in RULED:
        if belongs(field, structure):
            assert rule_of(book, field).hint


@pytest.mark.parametrize("structure", STRUCTURES)
def test_a_book_has_only_its_own_figures_once_it_is_bound_that_way(structure: Structure) -> None:
    given: dict[str, Any] = {
        **dict.fromkeys(RULED, 4.0),
        "tail_square_mm": 1.0,
        "spine_width_mm": 9.0,
        "spine_rise_mm": 3.0,
        "fore_edge_flap_mm": 50.0,
        "label": Label(60.0, 30.0),
        "liner_inset_mm": 5.0,
        "turn_ins": TurnIns.all_round(17.0),
    }
    before = Book("b", "Ledger", "parts" if structure != "parts" else "accordion", page_mm=(100.0, 140.0))
    after = suited(replace(before, **given), structure)
    fresh = Book("b", "Ledger")
    for field in fields(Book):
        if field.name in given and belongs(field.name, structure):
            assert getattr(after, field.name) == given[field.name], field.name
        elif field.name in given:
            assert getattr(after, field.name) == getattr(fresh, field.name), field.name
    assert (after.structure, after.page_mm) == (structure, (100.0, 140.0))


def test_bound_as_it_is_nothing_changes() -> None:
    book = Book("b", "Ledger", "flat-case", spine_rise_mm=3.0)
    assert suited(book, "flat-case") is book


def test_the_piece_of_the_spine_that_goes_without_saying() -> None:
    assert spine_piece_of(Book("b", "L", "flat-case")) == "board"
    assert spine_piece_of(Book("b", "L", "rounded-case")) == "strip"
    assert spine_piece_of(Book("b", "L", "quarter-case", spine_piece="none")) == "none"
    assert spine_piece_of(Book("b", "L", "limp-wrap", spine_piece="board")) == "none"


def test_a_slipcase_of_one_scored_board_has_a_rule_of_its_own() -> None:
    box = Book("b", "L", "slipcase")
    assert rule_of(box, "slipcase_clearance_mm").name == "slipcase clearance"
    scored = replace(box, slipcase_of="one scored board")
    assert rule_of(scored, "slipcase_clearance_mm").name == "scored slipcase room"


def test_a_new_book_inch_mm_has_nice_numbers_and_in_millimetres_the_rules_own() -> None:
    # 5/8 in and 1/8 in, from the table of rules.
    inches = new_book("Ledger", "separate-boards", "in")
    assert (inches.turn_ins, inches.liner_inset_mm) == (TurnIns.all_round(15.875), 3.175)
    assert inches.square_mm is None, "0 is 0 in any unit"
    assert new_book("Ledger", "separate-boards", "mm") == Book("", "Ledger")


def test_nice_numbers_are_given_only_where_nothing_is_and_let_go_again() -> None:
    case = Book("b", "L", "flat-case", block_mm=(150.0, 200.0, 20.0), joint_mm=8.0)
    nice = with_nice_figures(case, "in")
    assert (nice.square_mm, nice.joint_mm, nice.spine_allowance_mm) == (3.175, 8.0, 0.0)
    assert nice.mitre_distance_mm is None, "so many times the board needs no number of its own"
    assert loosened(nice, "in") == case
    assert with_nice_figures(case, "mm") == case
    measured = with_nice_figures(replace(case, spine_width_mm=24.0), "in")
    assert measured.spine_allowance_mm is None, "a spine that was measured has no allowance"


def test_a_figure_equal_to_the_rules_is_left_to_the_rule() -> None:
    case = Book("b", "L", "flat-case", square_mm=3.0, joint_mm=9.0)
    assert loosened(case, "mm") == replace(case, square_mm=None)
