"""Single figures, the label and the sewing: which fields the flags fill, and what cannot be read."""

from __future__ import annotations

import pytest

from coverlayout.app.booking.figures import figures_of, label_of, sewing_of
from coverlayout.app.flags import Given
from coverlayout.book.book import Label, Sewing, ThreadColour
from coverlayout.errors import BadInput


def given(**values: str) -> Given:
    return Given("a", {"--" + name.replace("_", "-"): (text,) for name, text in values.items()})


def test_only_what_was_given_is_filled() -> None:
    assert figures_of(given()) == {}
    assert figures_of(given(joint="1/8in", spine_allowance="-0.5mm", flap="5cm", spine_lining="tube")) == {
        "joint_mm": 3.175,
        "spine_allowance_mm": -0.5,
        "fore_edge_flap_mm": 50.0,
        "spine_lining": "hollow tube",
    }
    assert figures_of(given(slipcase_of="scored", sides="PAPER")) == {
        "slipcase_of": "one scored board",
        "sides": "paper",
    }


@pytest.mark.parametrize(
    ("flag", "wrong"),
    [
        ("square", "-1mm"),
        ("spine_width", "0mm"),
        ("corner_leg", "0"),
        ("joint", "wide"),
        ("spine_piece", "wood"),
        ("endpapers", "silk"),
    ],
)
def test_a_figure_that_cannot_be_is_told_by_its_flag(flag: str, wrong: str) -> None:
    with pytest.raises(BadInput) as told:
        figures_of(given(**{flag: wrong}))
    assert str(told.value).startswith("--" + flag.replace("_", "-"))


def test_a_label_by_its_words() -> None:
    assert label_of(given()) is None
    assert label_of(given(label="size=60x25mm")) == Label(60.0, 25.0)
    found = label_of(given(label="kind = window size=2 x 1in from-head=30mm from-spine=8mm margin=0mm material=paper"))
    assert found == Label(50.8, 25.4, "window", "paper", 30.0, 8.0, 0.0)
    inset = label_of(given(label="size=60x25mm kind=inset"))
    assert inset is not None
    assert inset.kind == "inset"


@pytest.mark.parametrize(
    "words",
    [
        "60x25mm",
        "kind=window",
        "size=60x25mm shape=round",
        "size=60x25mm size=50x20mm",
        "size=60mm",
        "size=60x25mm kind=round",
        "size=60x25mm from-head=-1mm",
    ],
)
def test_a_label_that_cannot_be_read(words: str) -> None:
    with pytest.raises(BadInput) as told:
        label_of(given(label=words))
    assert str(told.value).startswith("--label")


def test_stations_by_number_pairs_ends_or_places() -> None:
    assert sewing_of(given()) == Sewing()
    assert sewing_of(given(stations="7", station_end="3/4in", hole_distance="8mm")) == Sewing(
        count=7, end_mm=19.05, hole_from_spine_mm=8.0
    )
    assert sewing_of(given(stations="Pairs  6")) == Sewing("pairs", 6)
    assert sewing_of(given(stations="even 3")) == Sewing("even", 3)
    assert sewing_of(given(stations="ends")) == Sewing("ends")
    # The unit at the end counts for all; a blank within a length parts nothing.
    assert sewing_of(given(stations="1/2 1 1/2 2 1/4 in")).own_mm == pytest.approx((12.7, 38.1, 57.15))
    assert sewing_of(given(stations="20mm 60 mm 11cm")).own_mm == (20.0, 60.0, 110.0)


def test_thread_by_colour() -> None:
    found = sewing_of(given(thread="red = 4 dark-blue=3")).colours
    assert found == (ThreadColour("red", 4), ThreadColour("dark-blue", 3))


@pytest.mark.parametrize(
    ("flag", "words"),
    [
        ("stations", "0"),
        ("stations", "201"),
        ("stations", "pairs"),
        ("stations", "-5mm"),
        ("stations", "some"),
        ("thread", "red"),
        ("thread", "=4"),
        ("thread", "red=0"),
        ("thread", "red=x"),
        ("station_end", "-1mm"),
        ("hole_distance", "far"),
    ],
)
def test_sewing_that_cannot_be_read(flag: str, words: str) -> None:
    with pytest.raises(BadInput) as told:
        sewing_of(given(**{flag: words}))
    assert str(told.value).startswith("--" + flag.replace("_", "-"))
