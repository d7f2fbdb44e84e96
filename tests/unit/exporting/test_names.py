from __future__ import annotations

from dataclasses import replace

from coverlayout.document.questions import planned_pieces
from coverlayout.exporting.names import called, fact_name


def test_pieces_that_share_a_name_are_told_apart_by_their_number(project):
    names = called(planned_pieces(project), project.cut_pieces)
    assert (names["front-1"], names["corner-1"], names["corner-2"]) == ("Front cover", "Corner 1", "Corner 2")
    assert names["label-1"] == "Label"


def test_a_cut_piece_counts_among_those_of_its_name_and_a_spoiled_one_keeps_its_own(project):
    (label,) = project.cut_pieces
    front = replace(label, piece="front-9", name="front cover")
    names = called(planned_pieces(project), (front, replace(label, piece="x-1", name="", state="spoiled")))
    assert (names["front-1"], names["front-9"]) == ("Front cover 1", "Front cover 9")
    assert fact_name(front, names) == "Front cover 9"
    assert fact_name(replace(label, state="spoiled"), names) == "Label"
    assert fact_name(replace(label, name="", piece="x-1"), {}) == "X-1"
