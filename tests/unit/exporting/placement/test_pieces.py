"""A piece on the drawing: which figures stand on it, how they are rounded, and that nothing covers anything."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pdf_reader import stroked_outlines_mm, text_of

from coverlayout.document.project import Layout
from coverlayout.exporting.measures import measures
from coverlayout.exporting.paper import Paper
from coverlayout.exporting.placement.pieces import draw_lines, draw_words, faces_of, hatch, shown_off_mm
from coverlayout.geometry.frames import Affine, scale, shift
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.question import Placed
from coverlayout.units import LengthStyle

MM = LengthStyle()


def drawn(project, piece, to_page: Affine, style=MM, number=7):
    """The paper with one piece, and its measure."""
    measure = next(measure for measure in measures(project, "c", "print") if measure.piece == piece)
    paper = Paper(210.0, 297.0, "t")
    draw_lines(paper, measure, to_page)
    draw_words(paper, measure, to_page, style, number)
    return paper.finished(), measure


def words(pdf: bytes) -> str:
    return " ".join(text_of(pdf).split())


def test_a_piece_says_its_name_size_place_head_and_spine(project):
    said = words(drawn(project, "front-1", scale(0.5))[0])
    # 144.3 and 182.4 are rounded up to halves; 27.85 and 28.8 to the nearest half.
    assert "Front cover 144.5 x 182.5 mm left 28.0 mm, top 29.0 mm" in said
    assert "head" in said
    assert "spine" in said


def test_a_piece_that_lies_askew_says_its_own_size_and_its_turn(project):
    places = (Placed("liner-back-1", "c", 250.0, 200.0, 2.0),)
    askew = project.with_layout(Layout("layout-1", "First", places))
    said = words(drawn(askew, "liner-back-1", scale(0.5))[0])
    # Common practice, no source: the liner is 108.3 x 146.4. Its box would be 113.3 x 150.1: cos 2 and sin 2 degrees.
    assert "108.5 x 146.5 mm turned 2° clockwise" in said


def test_the_smaller_the_piece_the_fewer_the_words(project):
    said = [words(drawn(project, "liner-front-1", scale(1 / ratio))[0]) for ratio in (2, 6, 9, 40)]
    assert "Front liner" in said[0]
    assert "left 47.0 mm" in said[0]
    assert "Front liner 146.5 x 108.5 mm" in said[1]
    assert "Front liner" in said[2]
    assert "x 108.5" not in said[2]
    assert "liner" not in said[3]
    assert "7" in said[3].split()


def test_a_figure_that_would_cover_small_pieces_is_left_to_the_table(project):
    # back-1 begins 15.7 mm right of front-1: 15.5 is written where there is room, or where the pieces are large.
    assert "15.5" in words(drawn(project, "back-1", scale(0.5))[0])
    assert "15.5" in words(drawn(project, "back-1", scale(0.2))[0])
    assert "15.5" not in words(drawn(project, "back-1", scale(0.1))[0])


def test_a_distance_line_ends_where_the_neighbour_is(project):
    ratio, to_page = 0.5, scale(0.5).then(shift(10.0, 20.0))
    pdf, _ = drawn(project, "back-1", to_page)
    # From front-1's right edge at 172.15 to back-1's left at 187.85.
    wanted = sorted((10.0 + 172.15 * ratio, 10.0 + 187.85 * ratio))
    level = [line for line in stroked_outlines_mm(pdf) if len(line) == 2 and line[0][1] == pytest.approx(line[1][1])]
    found = [sorted((line[0][0], line[1][0])) for line in level]
    assert any(ends == pytest.approx(wanted, abs=0.01) for ends in found)


def test_a_cloth_that_does_not_begin_at_its_corner_is_drawn_with_its_distances_in_place(project):
    outline = ((40.0, 30.0), (500.0, 30.0), (500.0, 420.0), (40.0, 420.0))
    places = (Placed("front-1", "c", 200.0, 200.0),)
    cloth = replace(project.cloths[0], outline_mm=outline, flaws=())
    moved = replace(project, cloths=(cloth,), cut_pieces=()).with_layout(Layout("layout-1", "First", places))
    pdf, measure = drawn(moved, "front-1", scale(0.5))
    # Its left edge lies at 200 - 72.15 = 127.85, which is 87.85 from the cloth's edge at 40.
    assert measure.box.left_mm == pytest.approx(87.85)
    level = [line for line in stroked_outlines_mm(pdf) if len(line) == 2 and line[0][1] == pytest.approx(line[1][1])]
    assert any(sorted((line[0][0], line[1][0])) == pytest.approx([20.0, 127.85 / 2], abs=0.01) for line in level)


def test_how_far_figures_are_rounded_is_known(project):
    only = tuple(measure for measure in measures(project, "c", "print") if measure.piece == "front-1")
    # 144.3 and 182.4 up by 0.2 and 0.1; 27.85 and 28.8 to 28.0 and 29.0; both gaps are the piece's own place.
    assert shown_off_mm(only, MM) == pytest.approx(0.2)
    # In tenths: 27.85 lies half way, so 0.05 off.
    assert shown_off_mm(only, LengthStyle(mm_step=0.1)) == pytest.approx(0.05)
    back = tuple(measure for measure in measures(project, "c", "print") if measure.piece == "back-1")
    # The gap of 15.7 to front-1 is shown as 15.5, the place 187.85 as 188.0, 38.8 as 39.0.
    assert shown_off_mm(back, MM) == pytest.approx(0.2)
    assert shown_off_mm((), MM) == 0.0


def test_the_face_is_the_board_and_own_pieces_have_none(project):
    rows = {measure.piece: measure for measure in measures(project, "c", "print")}
    (face,) = faces_of(rows["front-1"])
    assert bounds(face).width_mm == pytest.approx(114.3)
    assert faces_of(rows["corner-1"]) == []


def test_own_pieces_show_their_head_too(project):
    # The L of the samples lies turned a quarter: its head is at the right, and the word beside it reads upward.
    pdf, measure = drawn(project, "corner-1", scale(0.5))
    head = next(mark for mark in measure.marks if mark.kind == "head")
    assert {round(x, 6) for x, _ in head.points_mm} == {round(bounds(measure.outline_mm).right_mm, 6)}
    assert "head" in words(pdf)


def test_a_hatch_stays_within_its_outline_by_clipping():
    paper = Paper(100.0, 100.0, "t")
    hatch(paper, ((10.0, 10.0), (40.0, 10.0), (40.0, 30.0)))
    lines = stroked_outlines_mm(paper.finished())
    assert len(lines) > 20
