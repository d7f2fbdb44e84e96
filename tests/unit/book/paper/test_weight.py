"""Grammage, basis weight, ounces, bulk and pages in an inch."""

import pytest

from coverlayout.book.paper.weight import (
    basis_weight,
    check_bulk,
    check_gsm,
    gsm_of_basis_weight,
    gsm_of_ounces,
    thickness_of,
    thickness_of_pages_per_inch,
    thickness_said,
    weight_said,
)
from coverlayout.errors import BadInput
from coverlayout.units import Unit


def code_of(call: object, *arguments: object, **named: object) -> str:
    with pytest.raises(BadInput) as caught:
        call(*arguments, **named)  # type: ignore[operator]  # any function of the module
    assert str(caught.value)
    return caught.value.code


def test_a_ream_of_one_square_metre_sheets() -> None:
    """500 sheets of 1 m2 that weigh one pound: 453.59237 g / 500."""
    side_in = 1000 / 25.4
    assert gsm_of_basis_weight(1.0, (side_in, side_in)) == pytest.approx(453.59237 / 500)


def test_twice_the_pounds_or_half_the_sheet_is_twice_as_heavy() -> None:
    once = gsm_of_basis_weight(20, (17, 22))
    assert gsm_of_basis_weight(40, (17, 22)) == pytest.approx(2 * once)
    assert gsm_of_basis_weight(20, (8.5, 22)) == pytest.approx(2 * once)


@pytest.mark.parametrize(
    ("said", "pounds", "basic_size_in"),
    [
        ("20 lb bond", 20, (17, 22)),
        ("20lb Bond", 20, (17, 22)),
        ("bond 20 lbs.", 20, (17, 22)),
        ("70# text", 70, (25, 38)),
        ("70 pounds book", 70, (25, 38)),
        ("80 lb  COVER", 80, (20, 26)),
        ("110 lb index", 110, (25.5, 30.5)),
        ("125 lb tag", 125, (24, 36)),
        ("27.5 lb newsprint", 27.5, (24, 36)),
        ("67 lb 22.5x28.5in", 67, (22.5, 28.5)),
        ("67 lb bristol 22.5 x 28.5 in", 67, (22.5, 28.5)),
        ("67 lb 22.5x28.5", 67, (22.5, 28.5)),
        ("67 lb 571.5x723.9mm", 67, (22.5, 28.5)),
    ],
)
def test_a_basis_weight_as_it_is_said(said: str, pounds: float, basic_size_in: tuple[float, float]) -> None:
    expected = pounds * 453.59237 / (500 * basic_size_in[0] * basic_size_in[1] * 0.0254**2)
    assert basis_weight(said) == pytest.approx(expected)


def test_bristol_asks_for_its_basic_size() -> None:
    with pytest.raises(BadInput) as caught:
        basis_weight("100 lb bristol", where="--basis-weight")
    assert caught.value.code == "basis-weight-needs-size"
    assert "basic size of bristol" in str(caught.value)
    assert code_of(basis_weight, "100 lb vellum bristol") == "basis-weight-needs-size"


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("", "basis-weight-unreadable"),
        ("bond", "basis-weight-unreadable"),
        ("80 gsm", "basis-weight-unreadable"),
        ("-20 lb bond", "basis-weight-unreadable"),
        ("20 lb bond" + 90 * " x", "basis-weight-unreadable"),
        ("20 lb", "basis-weight-kind"),
        ("20 lb parchment", "basis-weight-kind"),
        ("0 lb bond", "paper-figure-above"),
        ("5000 lb bond", "paper-figure-above"),
        ("20 lb 17in", "size-unreadable"),
        ("20 lb 17x0in", "length-too-small"),
        ("20 lb 17x900in", "paper-figure-above"),
    ],
)
def test_what_is_no_basis_weight_is_one_sentence(said: str, code: str) -> None:
    assert code_of(basis_weight, said) == code


def test_ranges_of_the_plain_functions() -> None:
    assert code_of(gsm_of_basis_weight, 0.0, (17, 22)) == "paper-figure-above"
    assert code_of(gsm_of_basis_weight, float("nan"), (17, 22)) == "paper-figure-above"
    assert code_of(gsm_of_basis_weight, 20.0, (17, 0)) == "paper-figure-above"
    assert code_of(gsm_of_ounces, 0.0) == "paper-figure-above"
    assert code_of(gsm_of_ounces, 61.0) == "paper-figure-above"
    assert code_of(thickness_of_pages_per_inch, 9.0) == "paper-figure-range"
    assert code_of(thickness_of_pages_per_inch, float("inf")) == "paper-figure-range"


@pytest.mark.parametrize("gsm", [0.0, 4.9, 2001.0, float("nan"), -80.0])
def test_a_weight_out_of_its_range(gsm: float) -> None:
    assert code_of(check_gsm, gsm) == code_of(thickness_of, gsm, 1.25) == "paper-figure-range"


@pytest.mark.parametrize("bulk", [0.0, 0.29, 5.1, float("nan")])
def test_a_bulk_out_of_its_range(bulk: float) -> None:
    assert code_of(check_bulk, bulk) == code_of(thickness_of, 80.0, bulk) == "paper-figure-range"


def test_the_ends_of_the_ranges_are_allowed() -> None:
    for gsm in (5.0, 2000.0):
        for bulk in (0.3, 5.0):
            assert thickness_of(gsm, bulk) == pytest.approx(gsm * bulk / 1000)


def test_a_range_is_told_with_its_unit() -> None:
    with pytest.raises(BadInput) as caught:
        check_gsm(3.0, where="--gsm")
    assert str(caught.value) == "--gsm 3: give a number from 5 to 2000 g/m2"
    with pytest.raises(BadInput) as caught:
        thickness_of_pages_per_inch(5)
    assert str(caught.value).endswith("from 10 to 3000")


def test_ounces_a_square_yard() -> None:
    assert gsm_of_ounces(1.0) == pytest.approx(28.349523125 / (0.9144**2))


def test_pages_in_an_inch_are_two_a_leaf() -> None:
    assert thickness_of_pages_per_inch(508) == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("said", "gsm"),
    [("80", 80.0), (" 80.5 gsm", 80.5), ("80,5 g/m²", 80.5), ("4.4 oz/yd2", 149.1853), ("4.4oz", 149.1853)],
)
def test_a_weight_as_it_is_said(said: str, gsm: float) -> None:
    assert weight_said(said) == pytest.approx(gsm, abs=1e-4)


@pytest.mark.parametrize("said", ["", "heavy", "80 stone", "99 oz", "-3", "1e3"])
def test_what_is_no_weight_is_told_by_its_field(said: str) -> None:
    with pytest.raises(BadInput, match=r"^Weight"):
        weight_said(said, where="Weight")


@pytest.mark.parametrize(
    ("said", "unit", "thickness_mm"),
    [("0.12", "mm", 0.12), ("500 ppi", "mm", 0.1016), ("500 pages an inch", "in", 0.1016), ("0.004", "in", 0.1016)],
)
def test_a_thickness_as_it_is_said(said: str, unit: Unit, thickness_mm: float) -> None:
    assert thickness_said(said, unit) == pytest.approx(thickness_mm)


@pytest.mark.parametrize("said", ["thin", "0mm", "5 ppi", "9000 ppi"])
def test_what_is_no_thickness_is_told_by_its_flag(said: str) -> None:
    with pytest.raises(BadInput, match=r"^--sheet-thickness"):
        thickness_said(said)
