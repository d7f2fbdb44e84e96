"""Lengths, sizes, points, percentages and angles: what is read, what is refused in one sentence, what is shown."""

from __future__ import annotations

import pytest

from coverlayout.errors import BadInput, Remark
from coverlayout.units import (
    LengthStyle,
    Unit,
    parse_angle_deg,
    parse_length,
    parse_lengths,
    parse_percent,
    parse_percent_pair,
    parse_points,
    parse_size,
    split_list,
)


@pytest.mark.parametrize(
    ("text", "unit", "length_mm"),
    [
        ("4 1/2 in", "mm", 114.3),
        ('4.5"', "mm", 114.3),
        ("4½in", "mm", 114.3),
        ("4.5 inches", "mm", 114.3),
        ("114.3mm", "in", 114.3),
        ("11.43 cm", "mm", 114.3),
        ("0.1143 m", "mm", 114.3),
        ("1/2 yd", "mm", 457.2),
        ("2 yards", "mm", 1828.8),
        ("15", "mm", 15.0),
        ("6", "in", 152.4),
        ("-3mm", "mm", -3.0),
        ("−3 mm", "mm", -3.0),
        ("+3 mm", "mm", 3.0),
        (".5in", "mm", 12.7),
        ("5.", "mm", 5.0),
        ("3/4", "in", 19.05),
        ("⅝ in", "mm", 15.875),
        ("  2   1/4  IN ", "mm", 57.15),
    ],
)
def test_a_length_is_read_in_every_way_it_is_written(text: str, unit: str, length_mm: float) -> None:
    assert parse_length(text, unit) == pytest.approx(length_mm, abs=1e-9)  # type: ignore[arg-type] # a Unit by name


@pytest.mark.parametrize(
    "text", ["", "mm", "nan", "inf", "-inf", "1e9mm", "1e400", "4 1/0 in", "1,250mm", "4..5", "٣mm x", "4 ft"]
)
def test_what_is_no_length_is_refused_by_name(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        parse_length(text, where="--turn-in")
    assert fault.value.code == "length-unreadable"
    assert str(fault.value).startswith("--turn-in")
    assert "15mm" in str(fault.value)


@pytest.mark.parametrize("text", ["1000000000mm", "9" * 400, "1000001m", "-300m"])
def test_an_absurd_length_is_refused(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        parse_length(text, where="--width")
    assert fault.value.code in ("length-absurd", "length-unreadable")
    assert "\n" not in str(fault.value)
    assert len(str(fault.value)) < 160


def test_a_length_can_be_asked_to_be_above_nothing() -> None:
    with pytest.raises(BadInput) as fault:
        parse_length("0", where="--cloth", least="above 0")
    assert fault.value.code == "length-too-small"
    with pytest.raises(BadInput) as fault:
        parse_length("-1mm", where="--gap", least="0")
    assert fault.value.code == "length-negative"
    assert parse_length("0", least="0") == 0.0


@pytest.mark.parametrize(
    ("text", "size_mm"),
    [
        ("4.5x6in", (114.3, 152.4)),
        ("4 1/2 in x 152mm", (114.3, 152.0)),
        ("30 × 20 cm", (300.0, 200.0)),
        ('4.5" x 6"', (114.3, 152.4)),
        ("10*20", (10.0, 20.0)),
        ("1/2 yd x 22 in", (457.2, 558.8)),
    ],
)
def test_a_size_takes_one_unit_for_both_or_one_each(text: str, size_mm: tuple[float, float]) -> None:
    assert parse_size(text) == pytest.approx(size_mm, abs=1e-9)


@pytest.mark.parametrize("text", ["4.5in", "4x5x6in", "x", "4x", "4 by 5", "0x5mm", "5x-1mm", "nanx5"])
def test_a_size_needs_two_lengths_above_nothing(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        parse_size(text, where="--cloth")
    assert str(fault.value).startswith("--cloth")


def test_points_share_the_unit_at_their_end() -> None:
    assert parse_points("1,2 3,4.5 in") == ((25.4, 50.8), (76.2, 114.3))
    assert parse_points("-1,2 mm") == ((-1.0, 2.0),)
    assert parse_points('1,2"') == ((25.4, 50.8),)


@pytest.mark.parametrize("text", ["", "1 2", "1,2,3 mm", "1,,2", "a,b mm", "1,2 ft", "1,2 nan,3"])
def test_points_that_are_no_pairs_are_refused(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        parse_points(text, where="--flaw")
    assert str(fault.value).startswith("--flaw")


def test_percentages_keep_their_sign() -> None:
    assert parse_percent("-3%") == -3.0
    assert parse_percent("1.5 percent") == 1.5
    assert parse_percent_pair("-3%x-1.5%") == (-3.0, -1.5)
    assert parse_percent_pair("2") == (2.0, 2.0)


@pytest.mark.parametrize("text", ["", "x", "3%x", "1x2x3", "nan%", "inf", "1" * 13])
def test_what_is_no_percentage_is_refused(text: str) -> None:
    with pytest.raises(BadInput) as fault:
        parse_percent_pair(text, where="--change")
    assert fault.value.code == "percent-unreadable"


def test_angles_are_degrees() -> None:
    assert parse_angle_deg("2deg") == 2.0
    assert parse_angle_deg("-1.5°") == -1.5
    with pytest.raises(BadInput) as fault:
        parse_angle_deg("2rad", where="--print-turn")
    assert fault.value.code == "angle-unreadable"


def test_millimetres_are_shown_to_the_chosen_step() -> None:
    assert LengthStyle().show(144.3) == "144.5 mm"
    assert LengthStyle(mm_step=0.1).show(144.34) == "144.3 mm"
    assert LengthStyle(mm_step=1.0).show(144.5) == "145 mm"


def test_a_rounded_piece_never_gets_smaller_and_a_room_never_larger() -> None:
    style = LengthStyle()
    assert style.show(144.01, "up") == "144.5 mm"
    assert style.show(4.99, "down") == "4.5 mm"
    assert style.show(144.5 + 1e-9, "up") == "144.5 mm", "float dust is no reason to round up"
    assert style.show(-0.2, "down") == "-0.5 mm"


def test_a_deciding_figure_is_shown_exactly_whatever_the_step() -> None:
    style = LengthStyle(mm_step=1.0)
    assert style.show_exactly(14.85) == "14.85 mm"
    assert style.show_exactly(14.5, "down") == "14.5 mm"
    assert style.show_exactly(12.0 - 1e-9, "down") == "12 mm", "float dust is no reason to round down"
    assert (style.show_exactly(0.3125, "up"), style.show_exactly(0.3125, "down")) == ("0.32 mm", "0.31 mm")
    assert [style.show_finely(mm) for mm in (0.14816, 0.12, 2.0)] == ["0.148 mm", "0.12 mm", "2 mm"]
    # 14.85 mm = 0.58465 in
    inches = LengthStyle("in", inch_parts=32)
    assert (inches.show_finely(0.1), inches.show_finely(0.508)) == ("0.0039 in", "0.0200 in")
    assert (inches.show_exactly(14.85, "down"), inches.show_exactly(14.85, "up")) == ("0.584 in", "0.585 in")
    # What is given up is never shown smaller, what is left never larger.
    assert "0.32 mm" in style.said(Remark.of("change-drop-place-missed-barely", piece="a", amount_exact_mm=0.3125))
    assert "14.86 mm" in style.said(Remark.of("change-turn-ins-barely", turn_in_exact_mm=14.869))


def test_inches_are_shown_as_decimals_or_fractions() -> None:
    assert LengthStyle("in").show(114.3) == "4.50 in"
    assert LengthStyle("in", inch_parts=16).show(144.5) == "5 11/16 in"
    assert LengthStyle("in", inch_parts=32).show(0.8) == "1/32 in"
    assert LengthStyle("in", inch_parts=16).show(-12.7) == "-1/2 in"
    assert LengthStyle("in", inch_parts=16).show(25.4) == "1 in"


def test_a_sentence_never_flatters_its_figures() -> None:
    style = LengthStyle()
    assert "304.5 mm" in style.said(Remark.of("lay-no-row", pieces="a", need_mm=1.0, have_mm=304.8, way="across"))
    assert "397.0 mm" in style.said(Remark.of("lay-no-row", pieces="a", need_mm=396.6, have_mm=1.0, way="across"))
    assert "17.5 mm" in style.said(Remark.of("turn-in-short", book="Ledger", turn_in_mm=17.4, thickness_mm=18.0))
    swapped = Remark.of("cloth-swapped", name="fat quarter", room_width_mm=558.8, room_length_mm=457.2)
    assert "across the cloth it is 558.5 mm, along it 457.0 mm" in style.said(swapped)
    assert style.said(Remark.of("angle-range", where="--turn", found="9", like="2deg")).startswith("--turn 9")


@pytest.mark.parametrize(
    ("text", "length_mm"), [("4,5", 4.5), ("11,43 cm", 114.3), ("4,5 in", 114.3), ("-1,5mm", -1.5)]
)
def test_a_comma_before_one_or_two_digits_is_a_decimal_sign(text, length_mm):
    assert parse_length(text) == pytest.approx(length_mm)


@pytest.mark.parametrize("text", ["1,250", "1,250mm", "1,", ",5", "1,2,3"])
def test_a_comma_that_could_mean_thousands_is_refused(text):
    with pytest.raises(BadInput, match="not a length"):
        parse_length(text)


def test_spaces_after_the_comma_of_a_point_do_no_harm():
    assert parse_points("200, 100 260 ,110  230 , 180 mm") == ((200.0, 100.0), (260.0, 110.0), (230.0, 180.0))


def test_a_room_a_hair_below_a_step_shows_the_step_and_no_more():
    # 0.0025 mm is what a search may leave unused; 0.01 mm is a difference and is rounded the safe way.
    assert LengthStyle().number(6.4975, "down") == "6.5"
    assert LengthStyle().number(6.49, "down") == "6.0"
    assert LengthStyle().number(144.51, "up") == "145.0"


def test_what_is_needed_never_reads_like_what_is_there() -> None:
    def said(style: LengthStyle, need_mm: float, have_mm: float) -> str:
        text = style.said(Remark.of("lay-no-slices", need_mm=need_mm, have_mm=have_mm, way="along"))
        return text.split("at least ")[1]

    half = LengthStyle()
    assert said(half, 112.0307, 112.0) == "112.03 mm, and there are 112 mm"
    assert said(half, 112.6, 112.0) == "113.0 mm, and there are 112.0 mm"
    assert said(half, 112.0004, 112.0) == "112.0004 mm, and there are 112 mm"
    assert said(LengthStyle(mm_step=1.0), 112.004, 111.996) == "112.004 mm, and there are 111.996 mm"
    assert said(LengthStyle(mm_step=1.0), 112.3, 112.0) == "112.3 mm, and there are 112 mm"
    assert said(LengthStyle(mm_step=1.0), 113.2, 112.0) == "114 mm, and there are 112 mm"
    inches = LengthStyle("in", inch_parts=16)
    assert said(inches, 25.41, 25.4) == "1.0004 in, and there are 1.0000 in"
    assert said(inches, 28.0, 25.4) == "1 1/8 in, and there are 1 in"
    # What is no more reads alike, and so does dust.
    assert said(half, 112.0, 112.0) == "112.0 mm, and there are 112.0 mm"
    assert said(half, 112.0 + 1e-9, 112.0) == "112.0 mm, and there are 112.0 mm"


def test_a_little_off_is_not_said_to_be_nothing() -> None:
    def off(apart_mm: float) -> str:
        return LengthStyle().said(Remark.of("lay-no-two-locks", piece="a", apart_mm=apart_mm)).split("they are ")[1]

    assert (off(0.19), off(7.0), off(0.0)) == ("0.19 mm off", "7.0 mm off", "0.0 mm off")


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("12mm", ["12mm"]),
        (" 12 mm  18 mm ", ["12mm", "18mm"]),
        ("1/2 1 1/2 2 ½ in", ["1/2", "1 1/2", "2 ½in"]),
        ("-5mm 3", ["-5mm", "3"]),
        ("12, 18,5; 1 1/4 in", ["12", "18,5", "1 1/4 in"]),
        ("", [""]),
    ],
)
def test_a_list_is_parted_between_its_lengths(text: str, parts: list[str]) -> None:
    assert split_list(text) == parts


@pytest.mark.parametrize(
    ("parts", "unit", "lengths_mm"),
    [
        (["6", "9", "1in"], "mm", (152.4, 228.6, 25.4)),
        (["12mm", "½", "1 in"], "mm", (12.0, 12.7, 25.4)),
        (["12", "18"], "in", (304.8, 457.2)),
        (["1in", "18"], "mm", (25.4, 18.0)),
    ],
)
def test_the_unit_of_the_last_length_counts_for_those_without(
    parts: list[str], unit: Unit, lengths_mm: tuple[float, ...]
) -> None:
    assert parse_lengths(parts, unit) == pytest.approx(lengths_mm)


@pytest.mark.parametrize("parts", [[""], ["12", "thick"], ["-1mm"], ["1", "2x"]])
def test_a_list_with_something_else_is_refused(parts: list[str]) -> None:
    with pytest.raises(BadInput, match="volumes"):
        parse_lengths(parts, where="volumes")
