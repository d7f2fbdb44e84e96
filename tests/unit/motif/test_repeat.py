"""The words for a repeat and the vectors they stand for; the printed size from file, tape or percent."""

from __future__ import annotations

import math

import pytest

from coverlayout.errors import BadInput
from coverlayout.motif.picture.resolution import Resolution
from coverlayout.motif.prints import PictureRef
from coverlayout.motif.repeat import (
    lattice_of,
    parse_layout,
    parse_up,
    parse_vectors,
    size_of_tile_mm,
    stretch_note,
    turns_for_up,
)

TILE_MM = (64.0, 96.0)


@pytest.mark.parametrize(
    ("layout", "parts", "a_mm", "b_mm", "area_mm2"),
    [
        ("straight", 2, (64.0, 0.0), (0.0, 96.0), 6144.0),
        ("half-drop", 2, (64.0, 48.0), (0.0, 96.0), 6144.0),
        ("half-drop", 5, (64.0, 48.0), (0.0, 96.0), 6144.0),
        ("drop", 3, (64.0, 32.0), (0.0, 96.0), 6144.0),
        ("drop", 4, (64.0, 24.0), (0.0, 96.0), 6144.0),
        ("brick", 2, (64.0, 0.0), (32.0, 96.0), 6144.0),
        ("mirrored", 2, (128.0, 0.0), (0.0, 192.0), 4 * 6144.0),
    ],
)
def test_vectors_of_each_layout(layout, parts, a_mm, b_mm, area_mm2):
    lattice = lattice_of(layout, TILE_MM, parts)
    assert (lattice.a_mm, lattice.b_mm) == (a_mm, b_mm)
    assert lattice.cell_area_mm2 == area_mm2


def test_given_vectors_are_taken_as_they_are():
    lattice = lattice_of("vectors", TILE_MM, vectors=((50.0, 12.0), (-7.0, 41.0)))
    assert (lattice.a_mm, lattice.b_mm) == ((50.0, 12.0), (-7.0, 41.0))
    assert lattice_of("vectors", TILE_MM, vectors=((9.0, 0.0),)).b_mm is None


@pytest.mark.parametrize("vectors", [None, (), ((1.0, 0.0), (0.0, 1.0), (1.0, 1.0))])
def test_none_or_three_vectors_are_refused(vectors):
    with pytest.raises(BadInput, match="give two"):
        lattice_of("vectors", TILE_MM, vectors=vectors)


@pytest.mark.parametrize("parts", [-3, 0, 1, 13])
def test_a_drop_by_no_part_is_refused(parts):
    with pytest.raises(BadInput, match="1/2 to 1/12"):
        lattice_of("drop", TILE_MM, parts)


@pytest.mark.parametrize("tile_mm", [(0.0, 96.0), (64.0, -1.0), (math.nan, 96.0), (64.0, math.inf), (1e9, 96.0)])
@pytest.mark.parametrize("layout", ["straight", "half-drop", "vectors"])
def test_sizes_that_are_none_are_refused(layout, tile_mm):
    with pytest.raises(BadInput, match="--repeat"):
        lattice_of(layout, tile_mm, vectors=((9.0, 0.0), (0.0, 9.0)))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("straight", ("straight", 2)),
        (" Half-Drop ", ("half-drop", 2)),
        ("brick", ("brick", 2)),
        ("mirrored", ("mirrored", 2)),
        ("drop:1/3", ("drop", 3)),
        ("drop:1/12", ("drop", 12)),
    ],
)
def test_layout_words(text, meant):
    assert parse_layout(text) == meant


@pytest.mark.parametrize("text", ["", "halfdrop", "drop", "drop:2/3", "drop:1/3x", "vectors", "drop:1/9999"])
def test_words_that_name_no_layout(text):
    with pytest.raises(BadInput, match="straight, half-drop, brick"):
        parse_layout(text)


@pytest.mark.parametrize("text", ["drop:1/1", "drop:1/0", "drop:1/13"])
def test_drops_out_of_range(text):
    with pytest.raises(BadInput, match="1/2 to 1/12"):
        parse_layout(text)


def test_vectors_from_text():
    assert parse_vectors("64,48 0,96 mm") == ((64.0, 48.0), (0.0, 96.0))
    assert parse_vectors("2,0 in") == ((50.8, 0.0),)
    for text, code in (
        ("1,2 3,4 5,7", "vectors-not-two"),
        ("a,b", "points-unreadable"),
        ("1,2 2,4", "repeat-one-direction"),
    ):
        with pytest.raises(BadInput) as fault:
            parse_vectors(text)
        assert fault.value.code == code


def test_ways_up():
    assert [parse_up(word) for word in ("one-way", "Two-Way", " any ")] == ["one-way", "two-way", "any"]
    assert [turns_for_up(up) for up in ("one-way", "two-way", "any")] == ["none", "half", "quarter"]
    with pytest.raises(BadInput, match="one-way, two-way, any"):
        parse_up("up")


def test_the_size_comes_from_the_file_the_tape_or_a_percentage():
    assert size_of_tile_mm(TILE_MM) == (TILE_MM, "file")
    assert size_of_tile_mm(TILE_MM, typed_mm=(70.0, 100.0)) == ((70.0, 100.0), "typed")
    assert size_of_tile_mm(None, typed_mm=(70.0, 100.0)) == ((70.0, 100.0), "typed")
    assert size_of_tile_mm(TILE_MM, percent=50.0) == ((32.0, 48.0), "percent")


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ({"file_mm": None}, "size-unknown"),
        ({"file_mm": None, "percent": 94.0}, "scale-of-unknown-size"),
        ({"file_mm": TILE_MM, "percent": 94.0, "typed_mm": TILE_MM}, "size-and-scale"),
        ({"file_mm": TILE_MM, "percent": 0.0}, "scale-out-of-range"),
        ({"file_mm": TILE_MM, "percent": 0.94}, "scale-out-of-range"),
        ({"file_mm": TILE_MM, "percent": math.nan}, "scale-out-of-range"),
        ({"file_mm": TILE_MM, "percent": math.inf}, "scale-out-of-range"),
        ({"file_mm": TILE_MM, "typed_mm": (0.0, 3.0)}, "length-too-small"),
    ],
)
def test_sizes_that_contradict_or_tell_nothing(arguments, code):
    with pytest.raises(BadInput) as fault:
        size_of_tile_mm(**arguments)
    assert fault.value.code == code
    assert str(fault.value)


@pytest.mark.parametrize(
    ("tile_mm", "resolution", "said"),
    [
        ((64.0, 96.0), Resolution(), None),
        ((64.0, 97.0), Resolution(), None),
        # 640 x 960 pixels shown 96 x 64: 0.15 mm across and 0.0667 along, 2.25 times.
        ((96.0, 64.0), Resolution(), "wave.png: printed 96 mm x 64 mm the picture is drawn 125 % too wide"),
        ((64.0, 120.0), Resolution(), "wave.png: printed 64 mm x 120 mm the picture is drawn 20 % too narrow"),
        # Twice as many dots across as along: 640 of them are half as wide.
        ((32.0, 96.0), Resolution(300.0, 150.0, known=True), None),
        (
            (32.0, 96.0),
            Resolution(300.0, 150.0),
            "wave.png: printed 32 mm x 96 mm the picture is drawn 50 % too narrow",
        ),
    ],
)
def test_a_size_that_draws_the_picture_out_of_shape_is_said(tile_mm, resolution, said):
    note = stretch_note(PictureRef("ab", "png", "wave.png", 640, 960), resolution, tile_mm)
    assert (note is None) == (said is None)
    assert note is None or note.text().startswith(said)
