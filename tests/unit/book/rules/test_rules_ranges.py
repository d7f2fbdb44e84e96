"""Every figure has its range by the table of rules, and one sentence outside of it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.rules.ranges import check_ranges, given_figures
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput

CASE = Book("book-1", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), volumes=(Volume(1),))


def refused(book: Book) -> BadInput:
    with pytest.raises(BadInput) as caught:
        check_ranges(book)
    return caught.value


@pytest.mark.parametrize(
    ("structure", "field", "name"),
    [
        ("flat-case", "board_thickness_mm", "board thickness"),
        ("flat-case", "square_mm", "square"),
        ("flat-case", "tail_square_mm", "square"),
        ("flat-case", "board_setback_mm", "board setback"),
        ("flat-case", "joint_mm", "joint"),
        ("side-sewn", "joint_mm", "joint"),
        ("flat-case", "spine_allowance_mm", "spine allowance"),
        ("flat-case", "liner_inset_mm", "liner inset"),
        ("flat-case", "mitre_distance_mm", "mitre distance"),
        ("quarter-case", "spine_on_board_mm", "spine on board"),
        ("half-case", "corner_leg_mm", "corner leg"),
        ("half-case", "side_lap_mm", "side lap"),
        ("side-sewn", "hinge_mm", "hinge"),
        ("limp-wrap", "fore_edge_flap_mm", "fore-edge flap"),
        ("limp-wrap", "turned_in_flap_mm", "turned-in flap"),
        ("slipcase", "slipcase_clearance_mm", "slipcase clearance"),
    ],
)
def test_a_figure_is_taken_up_to_the_ends_of_its_range(structure: str, field: str, name: str) -> None:
    book = replace(CASE, structure=structure)  # type: ignore[arg-type]  # one of its words
    row = rule(name, book.structure, "board")
    for inside_mm in (row.least, row.most):
        check_ranges(replace(book, **{field: inside_mm}))  # type: ignore[arg-type]  # fields by name
    for outside_mm in (row.least - 0.02, row.most + 0.02):
        fault = refused(replace(book, **{field: outside_mm}))  # type: ignore[arg-type]  # fields by name
        assert (fault.code, fault.figures["least_exact_mm"]) == ("figure-range", row.least)
        assert str(fault).startswith("Ledger: ")
    for nothing in (math.nan, math.inf, 1e9):
        assert refused(replace(book, **{field: nothing})).code in ("length-unreadable", "length-absurd")  # type: ignore[arg-type]  # fields by name


def test_the_sentence_names_figure_and_range() -> None:
    fault = refused(replace(CASE, joint_mm=120.0))
    assert str(fault) == "Ledger: joint 120 mm: it must be from 0 mm to 100 mm"
    assert str(refused(replace(CASE, tail_square_mm=60.0))).startswith("Ledger: square at the tail 60 mm")


def test_each_turn_in_that_is_turned_in_has_its_range() -> None:
    for field, edge in (("head_mm", "head"), ("tail_mm", "tail"), ("fore_edge_mm", "fore-edge")):
        fault = refused(replace(CASE, turn_ins=TurnIns(**{field: -1.0})))
        assert str(fault) == f"Ledger: turn-in at the {edge} -1 mm: it must be from 0 mm to 300 mm"
    check_ranges(replace(CASE, turn_ins=TurnIns(spine_mm=400.0)))
    assert refused(replace(CASE, structure="accordion", turn_ins=TurnIns(spine_mm=400.0))).code == "figure-range"


def test_what_was_measured_is_above_nothing() -> None:
    assert refused(replace(CASE, structure="rounded-case", spine_rise_mm=-1.0)).code == "length-negative"
    assert refused(replace(CASE, spine_width_mm=0.0)).code == "length-too-small"
    assert str(refused(replace(CASE, spine_width_mm=-1.0))).startswith("Ledger: spine width -1mm")
    check_ranges(replace(CASE, structure="rounded-case", spine_rise_mm=0.0))


def test_a_figure_of_another_structure_only_has_to_be_a_length() -> None:
    plain = replace(CASE, structure="separate-boards")
    check_ranges(replace(plain, joint_mm=150.0, spine_allowance_mm=-60.0))
    assert refused(replace(plain, joint_mm=-1.0)).code == "length-negative"
    assert refused(replace(plain, hinge_mm=math.nan)).code == "length-unreadable"


def test_a_scored_slipcase_has_a_row_of_its_own() -> None:
    scored = replace(CASE, structure="slipcase", slipcase_of="one scored board", slipcase_clearance_mm=5.0)
    (row,) = [row for name, _, row in given_figures(scored) if name == "slipcase clearance"]
    assert row.name == "scored slipcase room"


def test_only_what_was_given_is_listed() -> None:
    assert [name for name, _, _ in given_figures(CASE)] == [
        "board thickness", "liner inset", "turn-in at the head", "turn-in at the tail", "turn-in at the fore-edge",
    ]  # fmt: skip
    assert ("joint", 8.0) in [(name, figure) for name, figure, _ in given_figures(replace(CASE, joint_mm=8.0))]
    half = replace(CASE, structure="half-case", spine_on_board_mm=40.0)
    assert [row.name for name, _, row in given_figures(half) if name == "spine on board"] == ["spine on board"]
