from __future__ import annotations

import re
from dataclasses import replace

import pytest
from pdf_reader import stroked_outlines_mm, text_of

from coverlayout.cloth.cloth import Zone
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.exporting.measures import measures
from coverlayout.exporting.paper import Paper
from coverlayout.exporting.placement.drawing import scale_for
from coverlayout.exporting.placement.pages import placement_pdf
from coverlayout.exporting.placement.pieces import draw_words
from coverlayout.geometry.frames import scale
from coverlayout.geometry.shapes import Box
from coverlayout.units import LengthStyle

ROOM = Box(12.0, 40.0, 186.0, 160.0)


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "ratio"),
    [(186.0, 160.0, 1.0), (100.0, 50.0, 1.0), (304.8, 304.8, 2.0), (1120.0, 914.4, 8.0), (1500.0, 50_000.0, 400.0)],
)
def test_the_scale_is_the_largest_usual_one_that_fits(width_mm, height_mm, ratio):
    assert scale_for(width_mm, height_mm, ROOM) == ratio


def test_areas_have_their_edges_and_names_on_the_paper(project):
    # Two areas of a cloth of 500 x 420, one with a corner that no other line has; seen from behind they are mirrored.
    left = ((0.0, 0.0), (210.0, 0.0), (230.0, 420.0), (0.0, 420.0))
    right = ((210.0, 0.0), (500.0, 0.0), (500.0, 420.0), (230.0, 420.0))
    zones = (Zone("y", "Harbour blue", left), Zone("z", "Kelp", right))
    cloth = replace(project.cloths[0], laid=None, zones=zones)
    laid = replace(project, cloths=(cloth,))
    for side in ("print", "back"):
        pdf = placement_pdf(laid, Pictures(), side, Remark.of("paper-valid", room_mm=20.0))
        words = " ".join(text_of(pdf).split())
        assert "Harbour blue" in words
        assert "Kelp" in words
        assert "edge of an area" in words
        rings = [ring for ring in stroked_outlines_mm(pdf) if len(ring) == 4]
        edge = next(ring for ring in rings if len({round(x, 2) for x, _ in ring}) == 2)
        x0, ratio = min(x for x, _ in edge), 500.0 / (max(x for x, _ in edge) - min(x for x, _ in edge))
        for zone in zones:
            wanted = sorted(500.0 - x if side == "back" else x for x, _ in zone.outline_mm)
            assert any(sorted((x - x0) * ratio for x, _ in ring) == pytest.approx(wanted, abs=0.1) for ring in rings)


def test_no_line_of_a_measure_stands_without_its_figure(project):
    # Scale 1 : 6 leaves 2.6 mm for a gap of 15.7: its figure stands upright there, or its line is left out.
    row = next(measure for measure in measures(project, "c", "print") if measure.piece == "back-1")
    for ratio in (2.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0):
        paper = Paper(210.0, 297.0, "t")
        draw_words(paper, row, scale(1 / ratio), LengthStyle(), 1)
        pdf = paper.finished()
        lines = [line for line in stroked_outlines_mm(pdf) if len(line) == 2]
        # On the piece itself its unit follows a length.
        figures = re.findall(r"\b(?:15\.5|39\.0)\b(?!\s+mm)", text_of(pdf))
        # Each line is drawn on a white one.
        assert len(lines) == 2 * len(figures)
