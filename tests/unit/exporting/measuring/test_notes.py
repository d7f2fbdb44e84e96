"""Only what the rows need is said beside a table, the same on screen and on paper."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.cloth.cloth import BaseLine
from coverlayout.document.edits.cloths import change_cloth
from coverlayout.exporting.measures import measures
from coverlayout.exporting.measuring.notes import place_notes, table_notes

DOWN = BaseLine((30.0, 20.0), (30.0, 300.0), measured_from=True)


def codes(project, side="print"):
    return [note.code for note in place_notes(project.cloths[0], side, measures(project, "c", side))]


def rectangles(project):
    """The project without its L-shaped pieces."""
    placed = tuple(placed for placed in project.layout.placements if placed.piece != "corner-1")
    return project.with_layout(replace(project.layout, placements=placed))


def test_nothing_is_said_of_upright_rectangles_on_a_straight_cloth(project):
    assert codes(rectangles(project)) == []


def test_of_what_is_no_rectangle_it_is_said_what_its_sizes_are(project):
    assert codes(project) == ["paper-outline"]
    triangle = replace(project.own_pieces[0], outline_mm=((0.0, 0.0), (70.0, 0.0), (70.0, 50.0)))
    with_triangle = replace(project, own_pieces=(triangle,))
    assert codes(with_triangle) == ["paper-triangle"]
    rows = measures(with_triangle, "c", "back")
    assert [note.code for note in table_notes(project.cloths[0], "back", rows)] == ["table-triangle"]
    assert [note.code for note in table_notes(project.cloths[0], "print", measures(project, "c", "print"))] == [
        "table-outline"
    ]


def test_by_a_line_its_directions_and_the_zero_of_turns_are_said(project):
    project = rectangles(project)
    lined = change_cloth("c", base_line=DOWN).change(project)
    assert codes(lined) == ["paper-from-line-right", "paper-zero-print"]
    level = change_cloth("c", base_line=replace(DOWN, end_mm=(300.0, 25.0)), laid=None).change(project)
    assert codes(level, "back") == ["paper-from-line-below", "paper-zero-line"]


def test_what_lies_askew_is_told_in_its_own_size(project):
    first = replace(project.layout.placements[0], turn_deg=2.0)
    askew = project.with_layout(replace(project.layout, placements=(first,)))
    assert codes(askew) == ["paper-askew", "paper-gaps"]
    crooked = change_cloth("c", outline_mm=((0.0, 0.0), (500.0, 9.0), (490.0, 420.0), (5.0, 410.0))).change(askew)
    assert codes(crooked) == ["paper-crooked", "paper-askew", "paper-gaps"]
    lined = change_cloth("c", base_line=DOWN).change(askew)
    assert codes(lined) == ["paper-from-line-right", "paper-zero-print", "paper-gaps"]


def test_a_table_on_screen_says_it_in_fewer_words(project):
    def said(project, side="print"):
        return [note.code for note in table_notes(project.cloths[0], side, measures(project, "c", side))]

    project = rectangles(project)
    assert said(project) == []
    lined = change_cloth("c", base_line=DOWN).change(project)
    # One of the pieces lies turned a quarter.
    assert said(lined) == ["table-by-line-right", "table-zero-print"]
    level = change_cloth("c", base_line=replace(DOWN, end_mm=(300.0, 25.0)), laid=None).change(project)
    assert said(level, "back") == ["table-by-line-below", "table-zero-line"]
    first = replace(project.layout.placements[0], turn_deg=2.0)
    crooked = change_cloth("c", outline_mm=((0.0, 0.0), (500.0, 9.0), (490.0, 420.0), (5.0, 410.0))).change(
        project.with_layout(replace(project.layout, placements=(first,)))
    )
    assert said(crooked) == ["paper-crooked", "table-askew"]
