"""Measures from the base line, on both sides, measured again from the papers with arithmetic of the test's own."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import pytest
from pdf_reader import stroked_outlines_mm, text_of

from coverlayout.cloth.cloth import BaseLine, Change
from coverlayout.document.edits.cloths import add_change, change_cloth
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.exporting.measures import measures
from coverlayout.exporting.measuring.by_line import Side, line_seen, step_on_cloth
from coverlayout.exporting.placement.pages import placement_pdf
from coverlayout.exporting.table import placement_csv
from coverlayout.layout.question import Placed

WIDTH_MM = 500.0
LINE = BaseLine((40.0, 60.0), (440.0, 90.0), measured_from=True)
SIDES: tuple[Side, ...] = ("print", "back")


@pytest.fixture
def lined(project: Project) -> Project:
    return change_cloth("c", base_line=LINE).change(project)


def along_and_across(point, start, end):
    """The way along start to end, and how far below it, or to the right of a line that runs up and down."""
    length = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    nx, ny = (-uy, ux) if (ux > 0 if abs(ux) >= abs(uy) else uy < 0) else (uy, -ux)
    dx, dy = point[0] - start[0], point[1] - start[1]
    return dx * ux + dy * uy, dx * nx + dy * ny


def seen(point, side):
    return (WIDTH_MM - point[0], point[1]) if side == "back" else point


def rows(project: Project, side: Side) -> dict[str, dict[str, str]]:
    table = placement_csv(measures(project, "c", side)).decode("utf-8")
    return {row["piece"]: row for row in csv.DictReader(io.StringIO(table))}


@pytest.mark.parametrize("side", SIDES)
def test_the_table_gives_the_two_upper_corners_along_and_across(lined, side):
    # front-1: 144.3 x 182.4 about (100, 120), its board's centre 72.15 from the left and 91.2 from the top.
    left, right = (100.0 - 72.15, 120.0 - 91.2), (100.0 + 72.15, 120.0 - 91.2)
    if side == "back":
        left, right = right, left
    row = rows(lined, side)["front-1"]
    ends = (seen(LINE.start_mm, side), seen(LINE.end_mm, side))
    for corner, names in (
        (left, ("line_along_mm", "line_across_mm")),
        (right, ("line_along_right_mm", "line_across_right_mm")),
    ):
        wanted = along_and_across(seen(corner, side), *ends)
        assert [float(row[name]) for name in names] == pytest.approx(wanted, abs=0.0051)
    assert row["measured_from"] == "base line"


def test_an_l_turned_a_quarter_is_measured_at_its_top_left_corner_as_it_lies(lined):
    # Its box is 60 x 80; turned a quarter about (420, 150) it reaches from 380 to 460 and from 120 to 180. From behind
    # what is top left lies at 460.
    for side, corner in (("print", (380.0, 120.0)), ("back", (460.0, 120.0))):
        row = rows(lined, side)["corner-1"]
        wanted = along_and_across(seen(corner, side), seen(LINE.start_mm, side), seen(LINE.end_mm, side))
        assert (float(row["line_along_mm"]), float(row["line_across_mm"])) == pytest.approx(wanted, abs=0.0051)


def test_along_and_below_are_the_same_from_both_sides(lined):
    # The upper left corner from the front is the upper right one from behind.
    front, back = rows(lined, "print"), rows(lined, "back")
    for piece, row in front.items():
        assert float(back[piece]["line_along_right_mm"]) == pytest.approx(float(row["line_along_mm"]), abs=0.011)
        assert float(back[piece]["line_across_right_mm"]) == pytest.approx(float(row["line_across_mm"]), abs=0.011)


@pytest.mark.parametrize("ends", [((60.0, 30.0), (50.0, 400.0)), ((50.0, 400.0), (60.0, 30.0))])
@pytest.mark.parametrize("side", SIDES)
def test_what_lies_right_of_a_line_that_runs_up_and_down_is_above_nought(project, side, ends):
    lined = change_cloth("c", base_line=BaseLine(*ends, measured_from=True)).change(project)
    start, end = (seen(end, side) for end in ends)
    # The corner of an L at (380, 120) lies right of the line; from behind its top left corner at 500 - 460 lies left.
    corner = (380.0, 120.0) if side == "print" else (40.0, 120.0)
    row = rows(lined, side)["corner-1"]
    across = float(row["line_across_mm"])
    assert (across > 0) == (side == "print")
    assert (float(row["line_along_mm"]), across) == pytest.approx(along_and_across(corner, start, end), abs=0.0051)
    words = " ".join(text_of(placement_pdf(lined, Pictures(), side, Remark.of("paper-valid", room_mm=20.0))).split())
    liner = float(rows(lined, side)["liner-front-1"]["line_across_mm"])
    way = "right" if liner > 0 else "left"
    assert f"{way} of the line {math.floor(2 * abs(liner) + 0.5) / 2:.1f} mm" in words
    assert "Across is above 0 to the right of the line, below 0 to the left." in words


def test_the_turn_is_counted_from_the_prints_up_where_a_print_lies(lined):
    turned = change_cloth("c", laid=replace(lined.cloths[0].laid, turn_deg=3.25)).change(lined)
    # The liner lies turned by 90, the print by 3.25; seen from behind both run the other way round.
    for side, wanted in (("print", "86.75"), ("back", "-86.75")):
        row = rows(turned, side)["liner-front-1"]
        assert (row["line_turn_deg"], row["line_turn_from"]) == (wanted, "print")
        words = " ".join(
            text_of(placement_pdf(turned, Pictures(), side, Remark.of("paper-valid", room_mm=20.0))).split()
        )
        way = "clockwise" if side == "print" else "counter-clockwise"
        assert f"108.5 x 146.5 mm turned 86.75° {way}" in words
        assert "counted from the print's up" in words


def test_without_a_print_the_turn_is_counted_from_what_lies_straight_by_the_line(lined):
    lined = change_cloth("c", laid=None).change(lined)
    line_deg = math.degrees(math.atan2(30.0, 400.0))
    assert float(rows(lined, "print")["liner-front-1"]["line_turn_deg"]) == pytest.approx(90.0 - line_deg, abs=0.0051)
    back = rows(lined, "back")["liner-front-1"]
    assert float(back["line_turn_deg"]) == pytest.approx(line_deg - 90.0, abs=0.0051)
    assert back["line_turn_from"] == "line"


@pytest.mark.parametrize("side", SIDES)
def test_every_piece_is_told_in_its_own_size(lined, side):
    # Covers 144.3 x 182.4, liners 108.3 x 146.4 (one lies turned by 90), whatever box stands round them.
    askew = lined.with_layout(replace(lined.layout, placements=(Placed("front-1", "c", 120.0, 140.0, 359.04),)))
    for project, piece, size in (
        (lined, "front-1", "144.30 182.40"),
        (lined, "liner-front-1", "108.30 146.40"),
        (askew, "front-1", "144.30 182.40"),
    ):
        pdf = placement_pdf(project, Pictures(), side, Remark.of("paper-valid", room_mm=20.0))
        words = " ".join(text_of(pdf).split())
        name = {"front-1": "Front cover", "liner-front-1": "Front liner"}[piece]
        assert f"{name} {size}" in words
        row = rows(project, side)[piece]
        assert f"{row['own_width_mm']} {row['own_height_mm']}" == size
        assert row["name"] == name


def test_a_turn_that_rounds_to_a_full_one_is_none(lined):
    (first, *_) = measures(lined, "c", "print")
    (row,) = csv.DictReader(io.StringIO(placement_csv((replace(first, turn_deg=359.999),)).decode()))
    assert row["line_turn_deg"] == "0.00"


@pytest.mark.parametrize("side", SIDES)
def test_the_paper_agrees_with_the_table_when_both_are_measured(lined, side):
    pdf = placement_pdf(lined, Pictures(), side, Remark.of("paper-valid", room_mm=20.0))
    lines = stroked_outlines_mm(pdf)
    # The cloth's edge tells the scale: 500 x 420.
    edge = next(line for line in lines if len(line) == 4)
    ratio = WIDTH_MM / (max(x for x, _ in edge) - min(x for x, _ in edge))
    long_mm = math.hypot(400.0, 30.0)
    line = next(
        line for line in lines if len(line) == 2 and math.dist(*line) * ratio == pytest.approx(long_mm, abs=0.1)
    )
    rings = [line for line in lines if len(line) == 12]
    table = rows(lined, side)
    found = []
    for ring in rings:
        centre = (sum(x for x, _ in ring) / 12, sum(y for _, y in ring) / 12)
        found.append([ratio * mm for mm in along_and_across(centre, *line)])
    wanted = [[float(row["line_along_mm"]), float(row["line_across_mm"])] for row in table.values()]
    # Each ring is drawn twice: a white one below.
    assert len(found) == 2 * len(wanted)
    for place in wanted:
        assert sum(one == pytest.approx(place, abs=0.02 * ratio) for one in found) == 2
    # The start is the end from which the table counts.
    start = min(line, key=lambda end: math.dist(end, (seen(LINE.start_mm, side)[0] / ratio, 0.0)))
    assert start == line[0] or side == "back"


def test_the_paper_says_in_words_what_it_measures_from(lined):
    words = " ".join(text_of(placement_pdf(lined, Pictures(), "back", Remark.of("paper-valid", room_mm=20.0))).split())
    assert "Measured from the base line" in words
    assert "along line" in words
    assert "across line" in words
    assert "from left" not in words
    for row in rows(lined, "back").values():
        assert row["line_along_mm"] in words
        assert row["line_across_mm"] in words
    # back-1 lies 260 - 72.15 .. 260 + 72.15 across: seen from behind its upper left corner is at 500 - 332.15.
    along, across = along_and_across((167.85, 130.0 - 91.2), (460.0, 60.0), (60.0, 90.0))
    way = "below" if across >= 0 else "above"
    # Shown to half a millimetre, as the drawing says.
    along, across = round(2 * along) / 2, round(2 * abs(across)) / 2
    assert f"along {along:.1f} mm {way} the line {across:.1f} mm" in words


def test_a_line_that_is_not_measured_from_changes_no_paper(project):
    kept = change_cloth("c", base_line=replace(LINE, measured_from=False)).change(project)
    for side in SIDES:
        assert measures(kept, "c", side) == measures(project, "c", side)
        assert line_seen(kept.cloths[0], side) is None
    assert line_seen(project.cloths[0], "print") is None
    assert rows(project, "print")["front-1"]["measured_from"] == "edges"
    verdict = Remark.of("paper-valid", room_mm=20.0)
    assert placement_pdf(kept, Pictures(), "print", verdict) == placement_pdf(project, Pictures(), "print", verdict)


def test_after_washing_the_line_is_measured_where_it_now_lies(lined):
    washed = add_change("c", Change("washing", -3.0, -1.0)).change(lined)
    assert line_seen(washed.cloths[0], "print") == (pytest.approx((38.8, 59.4)), pytest.approx((426.8, 89.1)))
    assert line_seen(washed.cloths[0], "back") == (pytest.approx((446.2, 59.4)), pytest.approx((58.2, 89.1)))
    row = rows(washed, "print")["front-1"]
    corner = (97.0 - 72.15, 118.8 - 91.2)
    wanted = along_and_across(corner, (38.8, 59.4), (426.8, 89.1))
    assert (float(row["line_along_mm"]), float(row["line_across_mm"])) == pytest.approx(wanted, abs=0.0051)


@pytest.mark.parametrize("side", SIDES)
def test_a_step_along_and_across_is_that_step_on_the_cloth(lined, side):
    cloth = lined.cloths[0]
    step = step_on_cloth(cloth, side, (12.0, -5.0))
    start = (200.0, 150.0)
    ends = (seen(LINE.start_mm, side), seen(LINE.end_mm, side))
    before = along_and_across(seen(start, side), *ends)
    after = along_and_across(seen((start[0] + step[0], start[1] + step[1]), side), *ends)
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((12.0, -5.0))
    plain = change_cloth("c", base_line=None).change(lined).cloths[0]
    assert step_on_cloth(plain, side, (12.0, -5.0)) == ((-12.0, -5.0) if side == "back" else (12.0, -5.0))
