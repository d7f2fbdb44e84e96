from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import pytest

from coverlayout.document.project import Layout
from coverlayout.exporting.measures import measures
from coverlayout.exporting.table import COLUMNS, harmless, placement_csv


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"))))


def test_the_columns_begin_as_promised(project):
    header = placement_csv(measures(project, "c", "print")).decode("utf-8").splitlines()[0]
    assert header.startswith("piece,side,width_mm,height_mm,turn_deg,left_mm,top_mm,")
    assert header.split(",") == list(COLUMNS)


def test_every_figure_reads_back_within_a_hundredth(project):
    found = measures(project, "c", "back")
    for row, measure in zip(rows_of(placement_csv(found)), found, strict=True):
        assert row["piece"] == measure.piece
        assert float(row["left_mm"]) == pytest.approx(measure.box.left_mm, abs=0.00501)
        assert float(row["top_gap_mm"]) == pytest.approx(measure.to_top.distance_mm, abs=0.00501)
        assert float(row["repeat_x_mm"]) == pytest.approx(measure.in_repeat_mm[0], abs=0.00501)


def test_a_piece_that_lies_askew_has_its_own_size_besides_that_of_its_box(project):
    places = tuple(replace(placed, turn_deg=2.0) for placed in project.layout.placements[:1])
    (row,) = rows_of(
        placement_csv(
            measures(replace(project, cut_pieces=()).with_layout(Layout("layout-1", "F", places)), "c", "back")
        )
    )
    # The box of 144.3 x 182.4 turned by 2 degrees: 144.3 cos 2 + 182.4 sin 2 across, 144.3 sin 2 + 182.4 cos 2 down.
    assert (row["width_mm"], row["height_mm"], row["turn_deg"]) == ("150.58", "187.32", "358.00")
    assert (row["own_width_mm"], row["own_height_mm"]) == ("144.30", "182.40")


@pytest.mark.parametrize("side", ["print", "back"])
def test_what_is_no_rectangle_has_its_points_from_the_edges_of_the_cloth(project, side):
    rows = {row["piece"]: row for row in rows_of(placement_csv(measures(project, "c", side)))}
    assert (rows["front-1"]["shape"], rows["front-1"]["points_mm"]) == ("rectangle", "")
    assert rows["corner-1"]["shape"] == "outline"
    points = [tuple(float(number) for number in pair.split(",")) for pair in rows["corner-1"]["points_mm"].split()]
    # The L, 60 x 80 with its anchor in the middle, lies with that at (420, 150), turned a quarter clockwise: what was
    # (x, y) from the anchor is now (-y, x); from the back everything is 500 less that from the left.
    turned = [(420.0 - (y - 40.0), 150.0 + (x - 30.0)) for x, y in project.own_pieces[0].outline_mm]
    wanted = turned if side == "print" else [(500.0 - x, y) for x, y in turned]
    for point, place in zip(sorted(points), sorted(wanted), strict=True):
        assert point == pytest.approx(place, abs=0.006)


def test_a_rectangle_that_lies_askew_has_its_points_too(project):
    places = tuple(replace(placed, turn_deg=2.0) for placed in project.layout.placements[:1])
    askew = replace(project, cut_pieces=()).with_layout(Layout("layout-1", "F", places))
    (row,) = rows_of(placement_csv(measures(askew, "c", "print")))
    points = [tuple(float(number) for number in pair.split(",")) for pair in row["points_mm"].split()]
    assert row["shape"] == "rectangle"
    assert math.dist(points[0], points[1]) == pytest.approx(144.3, abs=0.015)
    assert min(x for x, _ in points) == pytest.approx(float(row["left_mm"]), abs=0.011)


def test_without_a_print_the_repeat_is_left_empty(project):
    (first, *_) = measures(project, "c", "print")
    row = rows_of(placement_csv((replace(first, in_repeat_mm=None),)))[0]
    assert (row["repeat_x_mm"], row["repeat_y_mm"]) == ("", "")


def test_no_pieces_give_the_header_alone():
    assert rows_of(placement_csv(())) == []


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_a_name_that_would_run_in_a_spreadsheet_is_made_harmless(project, start):
    (first, *_) = measures(project, "c", "print")
    evil = start + 'HYPERLINK("x")'
    row = rows_of(placement_csv((replace(first, piece=evil, cloth=evil),)))[0]
    assert row["piece"].startswith("'")
    assert row["cloth"].startswith("'")
    assert harmless("plain name") == "plain name"


def test_names_with_commas_and_quotes_stay_one_cell(project):
    (first, *_) = measures(project, "c", "print")
    assert rows_of(placement_csv((replace(first, cloth='blue, "best"'),)))[0]["cloth"] == 'blue, "best"'


def test_no_minus_stands_before_a_nought(project):
    (first, *_) = measures(project, "c", "print")
    assert rows_of(placement_csv((replace(first, in_repeat_mm=(-0.001, 0.0)),)))[0]["repeat_x_mm"] == "0.00"
