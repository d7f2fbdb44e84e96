"""What cannot be bound together is one sentence; just on the edge it can."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.rules.combinations import check_combinations
from coverlayout.errors import BadInput

# Boards 96.5 x 156, spine piece 12 + 4 - 0.5, joints of 10.
CASE = Book("book-1", "Ledger", "flat-case", block_mm=(100.0, 150.0, 12.0), volumes=(Volume(1),))


def check(book: Book) -> None:
    check_combinations(book, measures(book, book.volumes[0]))


def refused(fields: dict[str, object]) -> BadInput:
    with pytest.raises(BadInput) as caught:
        check(replace(CASE, **fields))  # type: ignore[arg-type]  # fields by name
    assert str(caught.value).startswith("Ledger: ")
    return caught.value


@pytest.mark.parametrize(
    ("holds", "fails", "code"),
    [
        ({"board_setback_mm": 40.0}, {"board_setback_mm": 100.0}, "setback-leaves-nothing"),
        ({"turn_ins": TurnIns(head_mm=78.0)}, {"turn_ins": TurnIns(head_mm=78.1)}, "turn-in-too-wide"),
        ({"turn_ins": TurnIns(tail_mm=78.0)}, {"turn_ins": TurnIns(tail_mm=90.0)}, "turn-in-too-wide"),
        ({"turn_ins": TurnIns(fore_edge_mm=48.25)}, {"turn_ins": TurnIns(fore_edge_mm=48.3)}, "turn-in-too-wide"),
        ({"turn_ins": TurnIns(spine_mm=60.0)}, {"structure": "accordion", "turn_ins": TurnIns(spine_mm=60.0)},
         "turn-in-too-wide"),
        ({"structure": "limp-wrap", "turned_in_flap_mm": 100.0},
         {"structure": "limp-wrap", "turned_in_flap_mm": 100.1}, "flap-too-wide"),
        ({"joint_mm": 96.5}, {"joint_mm": 97.0}, "joint-too-wide"),
        ({"spine_width_mm": 4.0}, {"spine_width_mm": 3.9}, "spine-too-thin"),
        ({"structure": "rounded-case", "spine_piece": "board", "spine_width_mm": 3.9}, {"spine_width_mm": 3.0},
         "spine-too-thin"),
        ({"spine_piece": "strip", "spine_width_mm": 3.9}, {"spine_allowance_mm": -12.1}, "spine-too-thin"),
        ({"spine_piece": "none", "spine_allowance_mm": -11.9}, {"spine_piece": "none", "spine_allowance_mm": -12.0},
         "spine-nothing-left"),
        ({"structure": "exposed-spine-wrap", "spine_allowance_mm": -2.0},
         {"structure": "exposed-spine-wrap", "spine_allowance_mm": -13.0}, "spine-nothing-left"),
        ({"structure": "side-sewn", "hinge_mm": 90.0}, {"structure": "side-sewn", "hinge_mm": 99.0}, "hinge-too-wide"),
        ({"structure": "quarter-case", "spine_on_board_mm": 96.0},
         {"structure": "quarter-case", "spine_on_board_mm": 96.5}, "spine-on-board-too-wide"),
        ({"structure": "half-case", "spine_on_board_mm": 40.0, "corner_leg_mm": 56.5},
         {"structure": "half-case", "spine_on_board_mm": 40.0, "corner_leg_mm": 57.0}, "corner-too-long"),
        ({"structure": "quarter-case", "spine_on_board_mm": 10.0, "side_lap_mm": 9.0},
         {"structure": "quarter-case", "spine_on_board_mm": 10.0, "side_lap_mm": 10.0}, "lap-hides-spine"),
        ({"liner_inset_mm": 77.9}, {"liner_inset_mm": 78.0}, "liner-nothing-left"),
        ({"liner_inset_mm": 78.0, "liners": "none"}, {"liner_inset_mm": 97.0, "liners": "paper"}, "liner-nothing-left"),
        ({"mitre_distance_mm": 1.4142}, {"mitre_distance_mm": 1.39}, "mitre-gapes"),
        ({"mitre_distance_mm": 2.2, "board_thickness_mm": 3.0}, {"mitre_distance_mm": 2.0, "board_thickness_mm": 3.0},
         "mitre-gapes"),
    ],
)  # fmt: skip
def test_what_cannot_be_bound_is_refused_and_its_neighbour_is_not(
    holds: dict[str, object], fails: dict[str, object], code: str
) -> None:
    check(replace(CASE, **holds))  # type: ignore[arg-type]  # fields by name
    assert refused(fails).code == code


def test_a_turn_in_too_wide_is_said_with_its_edge() -> None:
    fault = refused({"turn_ins": TurnIns(tail_mm=90.0)})
    assert str(fault) == (
        "Ledger: a turn-in of 90 mm at the tail is wider than half the board; 78 mm or less can be turned in on "
        "a board 96.5 mm x 156 mm, or look at that size and its unit"
    )


def test_a_wrap_measured_with_its_boards_leaves_something_between_them() -> None:
    """Two boards of 2 are 4: measured over them a book is thicker than that."""
    wrap = replace(CASE, structure="exposed-spine-wrap", block_mm=None, page_mm=(100.0, 150.0))
    check(replace(wrap, volumes=(Volume(1, 4.1),)))
    fault = refused({"structure": "exposed-spine-wrap", "block_mm": (100.0, 150.0, 4.0)})
    assert fault.code == "wrap-boards-too-thick"
    assert "4 mm is too thin to be measured with its boards, which are 4 mm together" in str(fault)
    check(replace(CASE, block_mm=(100.0, 150.0, 4.0)))


def test_an_allowance_that_leaves_nothing_says_of_what() -> None:
    fault = refused({"structure": "exposed-spine-wrap", "block_mm": (100.0, 150.0, 12.0), "spine_allowance_mm": -13.0})
    assert "nothing of the spine, which would be 12 mm wide" in str(fault)


def test_a_mitre_counts_only_where_there_is_a_board() -> None:
    check(replace(CASE, structure="limp-wrap", mitre_distance_mm=0.5))
