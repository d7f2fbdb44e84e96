"""Volumes of a set: alone, one for each thickness, and what is made once for those equally thick."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.binding.full_cloth import pieces_of_full_cloth
from coverlayout.book.book import Book, Label, Structure, Volume
from coverlayout.book.measures import measures
from coverlayout.book.rules.volumes import alone, by_volume, of_each_thickness
from coverlayout.book.structures import boards, pieces

CASE = Book(
    "b",
    "Set",
    "flat-case",
    page_mm=(148.0, 210.0),
    spine_allowance_mm=0.0,
    volumes=(Volume(4, 12.0), Volume(11, 18.0), Volume(7, 12.0)),
)


def test_a_volume_alone_has_the_figures_it_has_among_the_others() -> None:
    for volume in CASE.volumes:
        single = alone(CASE, volume)
        assert single.volumes == (volume,)
        assert boards(single, volume) == boards(CASE, volume)
        assert measures(single, volume) == measures(CASE, volume)


def test_of_each_thickness_the_first_volume_stands_for_all() -> None:
    assert [each.volumes for each in of_each_thickness(CASE)] == [(Volume(4, 12.0),), (Volume(11, 18.0),)]
    assert of_each_thickness(replace(CASE, volumes=(Volume(1), Volume(2)))) == (replace(CASE, volumes=(Volume(1),)),)


def test_what_is_made_is_made_once_for_those_equally_thick() -> None:
    asked: list[int] = []

    def make(book: Book, volume: Volume) -> float:
        assert book.volumes == (volume,)
        asked.append(volume.number)
        return measures(book, volume).gap_mm

    made = [(volume.number, gap_mm) for volume, gap_mm in by_volume(CASE, make)]
    assert asked == [4, 11]
    assert [number for number, _ in made] == [4, 11, 7]
    # A spine piece over 12 and two boards of 2, and over 18 and two boards; a joint on both sides.
    joints_mm = 2 * measures(CASE, CASE.volumes[0]).joint_mm
    assert [gap_mm for _, gap_mm in made] == pytest.approx([16.0 + joints_mm, 22.0 + joints_mm, 16.0 + joints_mm])


def test_pieces_of_all_volumes_are_those_that_each_would_have_alone() -> None:
    one_by_one = [piece for volume in CASE.volumes for piece in pieces_of_full_cloth(CASE, volume)]
    assert [replace(piece, matches=()) for piece in pieces(CASE)] == one_by_one


@pytest.mark.parametrize("structure", ["separate-boards", "half-case", "side-sewn", "limp-wrap", "slipcase"])
def test_pieces_are_numbered_by_their_volume(structure: Structure) -> None:
    label = Label(40.0, 25.0, "window") if structure in ("separate-boards", "half-case", "side-sewn") else None
    book = replace(CASE, structure=structure, page_mm=None, block_mm=(148.0, 210.0, 12.0), label=label)
    made = pieces(book)
    assert len({piece.id for piece in made}) == len(made)
    assert {piece.volume for piece in made} == {4, 11, 7}
    for piece in made:
        assert piece.id.endswith(f"-{piece.volume}")
        assert all(other.endswith(f"-{piece.volume}") for other in piece.matches)
        assert set(piece.matches) <= {other.id for other in made}
    for volume in book.volumes:
        assert [piece for piece in made if piece.volume == volume.number] == list(pieces(alone(book, volume)))
