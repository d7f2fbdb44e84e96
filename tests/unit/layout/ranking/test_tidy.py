"""Which layout is tidier: fewer cut lines, straight through, a large offcut, near the top left."""

from __future__ import annotations

from laying import cloth, piece

from coverlayout.layout.question import Placed, Question
from coverlayout.layout.ranking.tidy import Untidiness, untidiness
from coverlayout.layout.rules import Judge

Lies = tuple[str, tuple[tuple[float, float, float, float], ...]]


def lies(*boxes: tuple[float, float, float, float], on: str = "c") -> Lies:
    return on, boxes


def untidy(lying: Lies) -> Untidiness:
    on, boxes = lying
    pieces = tuple(piece(f"p{k}", w, h) for k, (_, _, w, h) in enumerate(boxes))
    judge = Judge(Question(pieces, (cloth(100, 100), cloth(50, 50, name="d"))))
    anchors = [one.anchor_mm for one in pieces]
    return untidiness(
        judge, [Placed(f"p{k}", on, x + anchors[k][0], y + anchors[k][1]) for k, (x, y, _, _) in enumerate(boxes)]
    )


def test_cut_lines_are_counted_once_and_edges_of_the_cloth_not() -> None:
    # Two of one height side by side at the top left: two lines down, one across; all run through but the first down.
    row = lies((0, 0, 30, 40), (30, 0, 30, 40))
    assert untidy(row)[0] == 3
    # Shifted by a millimetre there is one line more across, and it runs through the other piece.
    assert untidy(lies((0, 0, 30, 40), (30, 1, 30, 40)))[0] > untidy(row)[0]


def test_lines_that_would_run_through_a_piece_count_twice() -> None:
    stairs = lies((0, 0, 50, 50), (50, 0, 50, 40))
    level = lies((0, 0, 50, 50), (50, 0, 50, 50))
    assert untidy(level)[0] == 2
    # Lines at 50 down, 50 and 40 across; the one at 40 would cut the left piece.
    assert untidy(stairs)[0] == 4


def test_the_larger_offcut_wins_among_equals() -> None:
    at_edge, in_middle = lies((0, 0, 20, 100)), lies((40, 0, 20, 100))
    assert untidy(at_edge)[1] == -8000.0
    assert untidy(at_edge) < untidy(in_middle)


def test_sheets_without_a_piece_do_not_count() -> None:
    assert untidy(lies((0, 0, 50, 50), on="d")) == (0.0, 0.0, 0.0)
    assert untidy(lies((10, 5, 10, 10), on="d"))[2] == 15.0
