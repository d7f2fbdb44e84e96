"""Wishes said in words become links between the pieces that are there, or one sentence saying what is understood."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, PartOfBook, Source, Structure, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.asking.sentences import with_wishes_said
from coverlayout.document.project import LinkWish, Project
from coverlayout.document.questions import question_for
from coverlayout.errors import BadInput
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), volumes=(Volume(1), Volume(4)))
PROJECT = Project(
    prints=(Print("print-1", "Birds", Lattice((50.0, 0.0), (0.0, 60.0))),),
    cloths=(Cloth("cloth-1", "Cloth", 600.0, 600.0, laid=LaidPrint("print-1")),),
    books=(BOOK,),
)


def pieces_of(project: Project) -> list[tuple[str, ...]]:
    return [link.pieces for link in project.links]


@pytest.mark.parametrize(
    "sentence",
    ["back the same as front", "  The back is the same as the front. ", "Back same as front!"],
)
def test_the_back_like_the_front_links_both_in_every_volume(sentence: str) -> None:
    made = with_wishes_said(PROJECT, [sentence])
    assert pieces_of(made) == [("front-1", "back-1"), ("front-4", "back-4")]
    assert [link.id for link in made.links] == ["wish-1", "wish-2"]
    assert all(link.must and link.differences_mm == () for link in made.links)
    assert made.links[0].sentence == " ".join(sentence.split())


def test_any_two_pieces_of_a_book_may_be_named() -> None:
    made = with_wishes_said(PROJECT, ["liner back the same as liner-front"])
    assert pieces_of(made) == [("liner-front-1", "liner-back-1"), ("liner-front-4", "liner-back-4")]


@pytest.mark.parametrize(("structure", "stem"), [("quarter-case", "side"), ("half-case", "side"), ("slipcase", "wall")])
def test_front_and_back_are_the_sides_or_walls_where_there_are_no_covers(structure: Structure, stem: str) -> None:
    book = replace(BOOK, structure=structure, volumes=(Volume(1, 12.0), Volume(4, 15.0)))
    made = with_wishes_said(replace(PROJECT, books=(book,)), ["back the same as front", f"{stem} back same as front"])
    assert pieces_of(made) == [(f"{stem}-front-{number}", f"{stem}-back-{number}") for number in (1, 4)]


def test_all_volumes_alike_links_each_cover_over_all_books() -> None:
    second = replace(BOOK, id="book-2", volumes=(Volume(7),))
    made = with_wishes_said(replace(PROJECT, books=(BOOK, second)), ["all volumes alike"])
    assert pieces_of(made) == [("front-1", "front-4", "front-7"), ("back-1", "back-4", "back-7")]


def test_all_volumes_alike_links_sides_and_strip_of_a_quarter_case_too() -> None:
    volumes = (Volume(1, 12.0), Volume(4, 12.0))
    quarter = replace(BOOK, structure="quarter-case", volumes=volumes)
    made = with_wishes_said(replace(PROJECT, books=(quarter,)), ["all volumes alike"])
    assert set(pieces_of(made)) == {
        ("spine-1", "spine-4"),
        ("side-front-1", "side-front-4"),
        ("side-back-1", "side-back-4"),
    }


def test_a_wish_if_possible_is_no_must() -> None:
    made = with_wishes_said(PROJECT, ["back the same as front, if possible", "all books alike if possible"])
    assert [link.must for link in made.links] == [False] * 4


def test_a_wish_said_twice_is_one_wish_and_the_project_stays_what_it_was() -> None:
    once = with_wishes_said(PROJECT, ["back the same as front"])
    assert with_wishes_said(once, ["the back the same as the front"]).links == once.links
    assert PROJECT.links == ()
    there = replace(PROJECT, links=(LinkWish("wish-9", ("front-1", "liner-front-1")),))
    assert [link.id for link in with_wishes_said(there, ["back the same as front"]).links] == [
        "wish-9",
        "wish-10",
        "wish-11",
    ]


def test_the_question_asks_for_the_same_place_of_both_boards() -> None:
    question = question_for(with_wishes_said(PROJECT, ["back the same as front"]))
    link = question.links[0]
    assert (link.pieces, link.differences_mm, link.must) == (("front-1", "back-1"), ((0.0, 0.0),), True)
    anchors = {piece.id: piece.anchor_mm for piece in question.pieces}
    assert link.points_mm == (anchors["front-1"], anchors["back-1"])


def test_pieces_of_a_listed_book_are_named_by_their_part_and_copy() -> None:
    listed = Book(
        "book-1",
        "Listed",
        structure="parts",
        board_mm=(100.0, 140.0),
        parts=(PartOfBook("cover", 2, 15.0, "none"),),
        volumes=(Volume(1), Volume(2)),
    )
    made = with_wishes_said(replace(PROJECT, books=(listed,)), ["cover 2 the same as cover-1"])
    assert pieces_of(made) == [("cover-1-1", "cover-1-2"), ("cover-2-1", "cover-2-2")]


@pytest.mark.parametrize(
    ("project", "sentence", "told"),
    [
        (PROJECT, "bird in the middle of front", "understood so far"),
        (PROJECT, "", "all volumes alike"),
        (PROJECT, "spine the same as front", "front, back, liner-front, liner-back"),
        (PROJECT, "front the same as front", "name two of them"),
        (replace(PROJECT, books=(replace(BOOK, volumes=(Volume(1),)),)), "all volumes alike", "only one volume"),
        (replace(PROJECT, books=()), "back the same as front", "needs --structure"),
        (replace(PROJECT, cloths=()), "back the same as front", "no print lies"),
        (replace(PROJECT, books=(replace(BOOK, cover_source=Source(cloth_id="x")),)), "all volumes alike", "no print"),
    ],
)
def test_what_cannot_be_wished_is_told_in_one_sentence(project: Project, sentence: str, told: str) -> None:
    with pytest.raises(BadInput, match=told) as fault:
        with_wishes_said(project, [sentence])
    assert str(fault.value).startswith("--wish")
    assert "\n" not in str(fault.value)


def test_matching_pieces_are_those_seen_outside_in_each_volume() -> None:
    half = replace(BOOK, structure="half-case", page_mm=None, block_mm=(114.3, 152.4, 20.0), volumes=(Volume(2),))
    made = with_wishes_said(replace(PROJECT, books=(half,)), ["Matching pieces alike, if possible"])
    assert pieces_of(made) == [
        ("side-front-2", "side-back-2"),
        ("corner-front-head-2", "corner-back-head-2", "corner-front-tail-2", "corner-back-tail-2"),
    ]
    assert not any(link.must for link in made.links)
    assert pieces_of(with_wishes_said(PROJECT, ["matching pieces alike"])) == [
        ("front-1", "back-1"),
        ("front-4", "back-4"),
    ]


def test_a_cover_in_one_piece_has_nothing_to_match() -> None:
    case = replace(BOOK, structure="flat-case", page_mm=None, block_mm=(114.3, 152.4, 20.0))
    with pytest.raises(BadInput) as told:
        with_wishes_said(replace(PROJECT, books=(case,)), ["matching pieces alike"])
    assert told.value.code == "wish-nothing-matches"
