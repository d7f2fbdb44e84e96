from __future__ import annotations

import io
import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from pdf_reader import page_sizes_mm, pages_of, print_scaling, stroked_outlines_mm, text_of
from PIL import Image

from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.project import Layout, Preferences, Project
from coverlayout.document.questions import question_for
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.exporting.measures import measures
from coverlayout.exporting.picture import page_png
from coverlayout.exporting.placement.pages import CAUTIONS, placement_pdf, verdict_remark
from coverlayout.layout.answer import Report
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge
from coverlayout.motif.drawn import colour_at
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.motif.tile import open_picture
from coverlayout.units import LengthStyle

VALID = Remark.of("paper-valid", room_mm=12.3)


def pdf_of(project: Project, side: str) -> bytes:
    return placement_pdf(project, Pictures(), side, VALID)


def ratio_of(text: str) -> float:
    return float(text.split("Drawn 1 : ")[1].split(maxsplit=1)[0])


def boxes_mm(pdf: bytes) -> list[tuple[float, float, float, float]]:
    """left, top, width and height of every stroked outline."""
    found = []
    for points in stroked_outlines_mm(pdf):
        xs, ys = [x for x, _ in points], [y for _, y in points]
        found.append((min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))
    return found


@pytest.mark.parametrize("side", ["print", "back"])
def test_every_piece_measures_right_at_the_stated_scale(project, side):
    pdf = pdf_of(project, side)
    ratio, boxes = ratio_of(text_of(pdf)), boxes_mm(pdf)
    cloth = next(
        box for box in boxes if box[2:] == (pytest.approx(500 / ratio, abs=0.05), pytest.approx(420 / ratio, abs=0.05))
    )
    for measure in measures(project, "c", side):
        wanted = (
            cloth[0] + measure.box.left_mm / ratio,
            cloth[1] + measure.box.top_mm / ratio,
            measure.box.width_mm / ratio,
            measure.box.height_mm / ratio,
        )
        assert any(box == pytest.approx(wanted, abs=0.1 / ratio) for box in boxes), measure.piece


@pytest.mark.parametrize("side", ["print", "back"])
def test_the_numbers_of_the_table_are_read_back_from_the_words(project, side):
    text = text_of(pdf_of(project, side))
    for measure in measures(project, "c", side):
        for figure in (measure.box.width_mm, measure.box.height_mm, measure.box.left_mm, measure.box.top_mm):
            assert f"{figure:.2f}" in text


def test_the_side_is_said_in_words(project):
    assert "PRINT SIDE" in text_of(pdf_of(project, "print"))
    assert "BACK OF THE CLOTH: mirrored" in text_of(pdf_of(project, "back"))


def test_verdict_scale_marks_and_cautions_are_on_the_page(project):
    text = " ".join(text_of(pdf_of(project, "print")).split())
    assert VALID.text(lambda length_mm: LengthStyle().show(length_mm, "down")) in text
    assert text.count("head") >= 4
    assert text.count("spine") >= 3
    assert "rust stain" in text
    for caution in CAUTIONS:
        assert caution.text()[:40] in text


def test_a_room_is_never_rounded_up(project):
    assert "12.0 mm at the tightest place" in text_of(pdf_of(project, "print"))


def test_the_page_is_exactly_a4_and_asks_not_to_be_scaled(project):
    pdf = pdf_of(project, "print")
    # ISO 216 A4, 210 x 297 mm; ISO 32000 viewer preference PrintScaling None.
    assert page_sizes_mm(pdf) == [(pytest.approx(210.0, abs=0.001), pytest.approx(297.0, abs=0.001))]
    assert print_scaling(pdf) == "/None"


def test_inches_get_a_letter_page_and_fractions(project):
    inches = replace(project, preferences=Preferences(LengthStyle("in", inch_parts=16)))
    pdf = pdf_of(inches, "print")
    assert page_sizes_mm(pdf)[0] == (pytest.approx(215.9, abs=0.001), pytest.approx(279.4, abs=0.001))
    # 144.3 mm is 5.6811 in: 5 11/16 rounded up; 182.4 mm is 7.1811 in: 7 3/16.
    assert "5 11/16 x 7 3/16 in" in text_of(pdf)


def test_a_wide_cloth_turns_the_page(project):
    wide = replace(project, cloths=(replace(project.cloths[0], width_mm=1120.0),))
    assert page_sizes_mm(pdf_of(wide, "print"))[0][0] == pytest.approx(297.0, abs=0.001)


def test_the_page_lies_down_only_where_the_cloth_is_drawn_larger_for_it(project):
    # 44 in are 1117.6 mm: across an upright page 1 : 6 fits in 190 mm, lying the head and table leave less height.
    rows = tuple(replace(placed, piece=f"front-{n}") for n in range(1, 13) for placed in project.layout.placements[:1])
    volumes = tuple(replace(project.books[0].volumes[0], number=n) for n in range(1, 13))
    yard = replace(
        project,
        cloths=(replace(project.cloths[0], width_mm=1117.6, length_mm=457.2),),
        books=(replace(project.books[0], volumes=volumes),),
    ).with_layout(Layout("layout-1", "First", rows))
    pdf = pdf_of(yard, "print")
    assert page_sizes_mm(pdf)[0][0] == pytest.approx(210.0, abs=0.001)
    assert ratio_of(text_of(pdf)) == 6.0


def said_rounding_mm(pdf: bytes) -> float | None:
    words = " ".join(text_of(pdf).split())
    return float(words.split("here by up to ")[1].split()[0]) if "here by up to" in words else None


def test_rounding_is_said_where_the_drawing_differs_from_the_table(project):
    assert said_rounding_mm(pdf_of(project, "print")) > 0.2
    fine = replace(project, preferences=Preferences(LengthStyle(mm_step=0.1)))
    assert 0 < said_rounding_mm(pdf_of(fine, "print")) <= 0.1
    inches = replace(project, preferences=Preferences(LengthStyle("in", inch_parts=16)))
    # A sixteenth of an inch is 1.5875 mm: rounding pieces up and room down never takes more.
    assert 0.2 < said_rounding_mm(pdf_of(inches, "print")) <= 1.5875
    exact = project.with_layout(Layout("layout-1", "First", (Placed("corner-1", "c", 230.0, 150.0),)))
    assert said_rounding_mm(pdf_of(replace(exact, cut_pieces=()), "print")) is None


def test_left_and_top_of_a_crooked_cloth_are_said_to_count_from_its_outermost_points(project):
    assert "leftmost" not in text_of(pdf_of(project, "print"))
    slanted = ((0.0, 4.0), (500.0, 0.0), (500.0, 420.0), (3.0, 420.0))
    crooked = replace(project, cloths=(replace(project.cloths[0], outline_mm=slanted),))
    assert "leftmost and the topmost point" in " ".join(text_of(pdf_of(crooked, "print")).split())


def test_a_piece_that_lies_askew_is_explained(project):
    assert "askew" not in text_of(pdf_of(project, "print"))
    tilted = tuple(replace(placed, turn_deg=placed.turn_deg + 2.0) for placed in project.layout.placements[:1])
    text = " ".join(text_of(pdf_of(project.with_layout(Layout("layout-1", "First", tilted)), "print")).split())
    assert "given with its own width and height" in text
    assert "turned 2° clockwise" in text


def test_a_print_whose_place_is_not_known_is_owned_up_to(project):
    assert "not known yet" not in text_of(pdf_of(project, "print"))
    laid = replace(project.cloths[0].laid, origin_known=False)
    to_buy = replace(project, cloths=(replace(project.cloths[0], laid=laid),))
    assert "Where the print falls on this cloth is not known yet" in " ".join(text_of(pdf_of(to_buy, "print")).split())


def test_letters_that_cannot_be_printed_are_owned_up_to(project):
    assert "stands as ?" not in text_of(pdf_of(project, "print"))
    assert "stands as ?" in " ".join(text_of(pdf_of(replace(project, name="日誌"), "print")).split())


def test_long_names_keep_clear_of_each_other(project):
    long = replace(project, name="Ledgers " * 30, cloths=(replace(project.cloths[0], name="Remnant " * 30),))
    text = text_of(pdf_of(long, "print"))
    assert "500.0 x 420.0 mm" in text
    assert len(max(text.splitlines(), key=len)) < 200


def test_a_bar_of_fifty_millimetres_lets_the_print_be_checked(project):
    lines = stroked_outlines_mm(pdf_of(project, "print"))
    assert any(len(line) == 2 and abs(line[1][0] - line[0][0]) == pytest.approx(50.0, abs=0.01) for line in lines)


def test_a_long_table_goes_on_overleaf(project):
    book = replace(
        project.books[0], volumes=tuple(replace(project.books[0].volumes[0], number=n) for n in range(1, 31))
    )
    many = replace(project, books=(book,))
    places = tuple(replace(project.layout.placements[0], piece=f"front-{n}") for n in range(1, 31))
    many = many.with_layout(Layout("layout-1", "First", places))
    pdf = pdf_of(many, "print")
    assert len(page_sizes_mm(pdf)) == 2
    first, second = pages_of(pdf)
    assert "overleaf" in first
    assert "from left" not in first
    assert all(f"Front cover {n}" in second for n in range(1, 31))
    assert ratio_of(first) == ratio_of(text_of(pdf_of(project, "print")))


def test_an_empty_project_still_has_a_page(project):
    empty = replace(project, layouts=(Layout("layout-1", "First"),), cut_pieces=())
    assert len(page_sizes_mm(pdf_of(empty, "print"))) == 1


def test_the_verdict_of_the_check_is_worded_by_what_it_found(project):
    report = Judge(question_for(project)).report(project.layout.placements)
    assert verdict_remark(report, ()).code == "paper-incomplete"
    assert verdict_remark(replace(report, waiting=(), verdict="valid, tight"), ()).code == "paper-tight"
    assert verdict_remark(Report("valid", (), (), 0.0, None), ()).code == "paper-valid"


# Six fields of 12 x 12 mm without any symmetry, 1 px a mm.
FIELDS = np.kron(
    np.array([[[200, 30, 30], [30, 160, 30], [20, 20, 20]], [[30, 30, 200], [230, 200, 40], [90, 0, 90]]], np.uint8),
    np.ones((12, 12, 1), np.uint8),
)


@pytest.mark.parametrize("side", ["print", "back"])
@pytest.mark.parametrize("turn_deg", [0.0, 2.0, 90.0])
def test_the_print_lies_on_the_page_where_it_lies_on_the_cloth(side, turn_deg):
    file = io.BytesIO()
    Image.fromarray(FIELDS).save(file, "PNG")
    ref = open_picture(file.getvalue(), "fields.png").ref
    half_drop = Print("p", "Fields", Lattice((36.0, 12.0), (0.0, 24.0)), "half-drop", picture=ref, tile_mm=(36.0, 24.0))
    laid = LaidPrint("p", (17.0, 9.0), turn_deg)
    zone = Zone(
        "z", "right", ((200.0, 0.0), (360.0, 0.0), (360.0, 240.0), (200.0, 240.0)), LaidPrint("p", (205.0, 3.0))
    )
    left = Zone("y", "left", ((0.0, 0.0), (200.0, 0.0), (200.0, 240.0), (0.0, 240.0)), laid)
    cloth = Cloth("c", "Cloth", 360.0, 240.0, zones=(left, zone))
    project = Project(prints=(half_drop,), cloths=(cloth,))
    pdf = placement_pdf(project, Pictures().with_picture(file.getvalue()), side, VALID)
    ratio = ratio_of(text_of(pdf))
    box = next(box for box in boxes_mm(pdf) if box[2:] == pytest.approx((360 / ratio, 240 / ratio), abs=0.05))
    dots_per_mm = 12.0
    page = np.asarray(Image.open(io.BytesIO(page_png(pdf, dots_per_inch=25.4 * dots_per_mm))).convert("RGB"))
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    checked = 0
    for x, y in itertools.product(np.arange(4.0, 357.0, 7.3), np.arange(4.0, 237.0, 7.9)):
        # Back through the turn and the origin by hand; the right zone's print lies straight.
        if x < 200:
            u, v = (x - 17) * cos + (y - 9) * sin, -(x - 17) * sin + (y - 9) * cos
        else:
            u, v = x - 205, y - 3
        near = {colour_at(half_drop, FIELDS, (u + du, v + dv)) for du in (-1.5, 0, 1.5) for dv in (-1.5, 0, 1.5)}
        # The areas' edges and names cover a little of it.
        named = y < 20 and ((200 - x if side == "back" else x) % 200 < 60 or x > 300)
        if len(near) > 1 or abs(x - 200) < 2 or named:
            continue
        seen_x = 360 - x if side == "back" else x
        at = page[int((box[1] + y / ratio) * dots_per_mm), int((box[0] + seen_x / ratio) * dots_per_mm)]
        # Under the veil 28 of 100 parts of the print are left on white.
        assert np.abs(at - (0.28 * np.array(near.pop()) + 0.72 * 255)).max() <= 6, (x, y)
        checked += 1
    assert checked > 500
