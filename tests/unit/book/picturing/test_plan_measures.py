"""Measures of a flat plan: true to scale between the places they measure, and as they are cut."""

from __future__ import annotations

import math

import pytest
from drawn_books import CASES, STRUCTURES, drawn_book, drawn_mm, length_mm, names_of

from coverlayout.book.book import Structure, TurnIns
from coverlayout.book.measures import measures
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.structures import pieces
from coverlayout.geometry.shapes import bounds


@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_measure_is_as_long_as_its_figure(structure: Structure) -> None:
    for measure in flat_plan(*drawn_book(structure)).measures:
        (x0, y0), (x1, y1) = measure.start_mm, measure.end_mm
        along = abs(x1 - x0) if measure.side in ("above", "below") else abs(y1 - y0)
        if measure.name == "mitre":
            along = math.dist(measure.start_mm, measure.end_mm)
        assert along == pytest.approx(measure.length_mm, abs=1e-9), measure.name


@pytest.mark.parametrize("structure", STRUCTURES)
def test_figures_are_those_of_the_measures(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    figures = measures(book, volume)
    expected = {
        "square": figures.square_mm,
        "joint": figures.joint_mm,
        "spine": figures.gap_mm - 2 * figures.joint_mm,
        "setback": figures.setback_mm,
        "fore-edge square": figures.fore_edge_square_mm,
        "spine on board": figures.spine_on_board_mm,
        "corner leg": figures.corner_leg_mm,
        "hinge": figures.hinge_mm,
        "mitre": figures.mitre_mm,
        "turn-in": 15.5,
        "turn-in at the mouth": 15.5,
        "inset": 3.75,
    }
    for measure in flat_plan(book, volume).measures:
        if not measure.name.startswith("cut"):
            assert measure.length_mm == expected[measure.name], measure.name


@pytest.mark.parametrize("structure", STRUCTURES)
def test_the_cut_is_that_of_a_piece(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    picture = flat_plan(book, volume)
    cut = round(length_mm(picture, "cut width"), 6), round(length_mm(picture, "cut height"), 6)
    assert cut in [(round(piece.width_mm, 6), round(piece.height_mm, 6)) for piece in pieces(book)]


def test_equal_turn_ins_are_one_measure_and_others_each_their_own() -> None:
    alike = names_of(flat_plan(*drawn_book("flat-case")))
    assert "turn-in at the head" not in alike
    turn_ins = TurnIns(head_mm=20.0, tail_mm=25.0, spine_mm=15.0, fore_edge_mm=15.0)
    picture = flat_plan(*drawn_book("flat-case", turn_ins=turn_ins))
    figures = [length_mm(picture, name) for name in ("turn-in", "turn-in at the head", "turn-in at the tail")]
    assert figures == [15.0, 20.0, 25.0]


def test_a_larger_square_at_the_tail_is_measured_there() -> None:
    assert "tail square" not in names_of(flat_plan(*drawn_book("flat-case")))
    picture = flat_plan(*drawn_book("flat-case", tail_square_mm=6.0))
    tail = picture.measured("tail square")
    assert tail is not None
    assert tail.start_mm[1] - tail.end_mm[1] == pytest.approx(6.0)


def test_flaps_of_a_wrap_take_the_place_of_its_turn_ins() -> None:
    flap = flat_plan(*drawn_book("limp-wrap", fore_edge_flap_mm=45.0))
    assert drawn_mm(flap, "fore-edge flap") == pytest.approx(45.0)
    turned = flat_plan(*drawn_book("limp-wrap", turned_in_flap_mm=35.0))
    assert drawn_mm(turned, "turned-in flap") == pytest.approx(35.0)
    assert "turn-in" not in names_of(turned)


def test_words_on_a_side_sewn_cover_stand_on_its_board() -> None:
    book, volume = drawn_book("side-sewn", hinge_mm=30.0)
    picture = flat_plan(book, volume)
    front = next(word for word in picture.words if word.text == "front")
    board = max((shape.points_mm for shape in picture.shapes if shape.role == "board"), key=lambda ring: ring[0][0])
    assert front.at_mm == pytest.approx(bounds(board).middle)


@pytest.mark.parametrize("structure", CASES)
def test_words_name_front_and_back_within_them(structure: Structure) -> None:
    picture = flat_plan(*drawn_book(structure))
    front, back = (next(word for word in picture.words if word.text == text) for text in ("front", "back"))
    assert front.at_mm[0] > 0.0 > back.at_mm[0]
    right = flat_plan(*drawn_book(structure, opens="right"))
    assert next(word for word in right.words if word.text == "front").at_mm[0] < 0.0


def test_another_turn_in_at_the_spine_has_a_measure_of_its_own() -> None:
    turn_ins = TurnIns(head_mm=15.0, tail_mm=15.0, spine_mm=9.0, fore_edge_mm=15.0)
    apart = flat_plan(*drawn_book("separate-boards", turn_ins=turn_ins))
    assert length_mm(apart, "turn-in at the spine") == pytest.approx(drawn_mm(apart, "turn-in at the spine")) == 9.0
    assert "turn-in at the spine" not in names_of(flat_plan(*drawn_book("flat-case", turn_ins=turn_ins)))


@pytest.mark.parametrize("flap_mm", [0.0, 45.0])
def test_the_mitre_of_a_soft_wrap_is_measured_to_its_cut(flap_mm: float) -> None:
    """At the corner of the wrap, or of its flap, which lies the thickness and its own width beyond the back."""
    book, volume = drawn_book("limp-wrap", fore_edge_flap_mm=flap_mm, mitre_distance_mm=1.5)
    picture = flat_plan(book, volume)
    found = picture.measured("mitre")
    assert found is not None
    assert found.length_mm == 1.5
    # Half the spine of 16, a page of 114.3 and its square of 3.25; then the flap, beyond once more the thickness.
    corner_mm = -8.0 - 117.55 - (16.0 + flap_mm if flap_mm else 0.0)
    assert found.end_mm[0] == pytest.approx(corner_mm)
    turned_in = flat_plan(*drawn_book("limp-wrap", turned_in_flap_mm=40.0))
    assert "mitre" not in names_of(turned_in)
