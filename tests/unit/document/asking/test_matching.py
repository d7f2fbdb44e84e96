"""Pieces that are to match, on several prints."""

from __future__ import annotations

from dataclasses import replace

from every_structure import project_of

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.asking.matching import apart_on_prints, parts_apart
from coverlayout.document.asking.remarks import job_remarks
from coverlayout.document.project import Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

CORNERS = ("front-head", "front-tail", "back-head", "back-tail")


def two_prints(case: str = "half-case", **more: object) -> Project:
    """A second print on a second cloth as large as the first."""
    project = project_of(case, **more)
    leaves = Print("leaves", "Leaves", Lattice((31.0, 7.0), (-5.0, 44.0)))
    other = Cloth("other", "Other", 900.0, 700.0, laid=LaidPrint("leaves"))
    return replace(project, prints=(*project.prints, leaves), cloths=(*project.cloths, other))


def laid(project: Project, cloths: dict[str, str]) -> Project:
    places = tuple(
        Placed(piece, cloth, 100.0 + 60.0 * k, 200.0, 0.0) for k, (piece, cloth) in enumerate(cloths.items())
    )
    return project.with_layout(replace(project.layout, placements=places))


def said(project: Project) -> list[tuple[str, str]]:
    return [(remark.code, str(dict(remark.figures)["parts"])) for remark in apart_on_prints(project)]


def test_what_waits_may_come_from_either_print_until_that_is_said() -> None:
    project = two_prints()
    assert said(project) == [("matching-may-part", "spine and corners, sides, liners")]
    (book,) = project.books
    told = replace(
        book,
        cover_source=Source(print_id="birds"),
        side_source=Source(cloth_id="other"),
        liner_source=Source(print_id="leaves"),
    )
    assert said(project.with_book(told)) == []
    assert said(project.with_book(replace(told, side_source=Source()))) == [("matching-may-part", "sides")]


def test_corners_that_lie_on_two_prints_are_told() -> None:
    on = {f"corner-{corner}-1": "cloth" for corner in CORNERS} | {"spine-1": "cloth"}
    assert said(laid(two_prints(), on)) == [("matching-may-part", "sides, liners")]
    apart = laid(two_prints(), on | {"corner-back-tail-1": "other"})
    assert said(apart) == [("matching-lies-apart", "spine and corners"), ("matching-may-part", "sides, liners")]
    assert (parts_apart(apart), parts_apart(two_prints())) == ("spine and corners", "")
    assert apart_on_prints(apart)[0] in job_remarks(apart, ())


def test_volumes_may_each_have_a_print_of_their_own() -> None:
    project = two_prints("separate-boards", liners="none")
    (book,) = project.books
    numbered = tuple(replace(book.volumes[0], number=number) for number in (1, 2))
    project = project.with_book(replace(book, volumes=numbered, label=None))
    each = laid(project, {"front-1": "cloth", "back-1": "cloth", "front-2": "other", "back-2": "other"})
    assert said(each) == []
    mixed = laid(project, {"front-1": "cloth", "back-1": "other", "front-2": "other", "back-2": "other"})
    assert said(mixed) == [("matching-lies-apart", "covers")]


def test_one_print_or_a_book_that_cannot_be_made_says_nothing() -> None:
    assert apart_on_prints(project_of("half-case")) == ()
    project = two_prints()
    (book,) = project.books
    assert (
        apart_on_prints(project.with_book(replace(book, page_mm=None, board_mm=None, block_mm=None, paper=None))) == ()
    )


def test_zones_of_one_cloth_may_bear_several_prints() -> None:
    project = two_prints()
    halves = (rectangle(450.0, 700.0), rectangle(450.0, 700.0, 450.0, 0.0))
    zones = tuple(
        Zone(f"zone-{name}", name, ring, LaidPrint(name))
        for name, ring in zip(("birds", "leaves"), halves, strict=True)
    )
    one = replace(project, cloths=(replace(project.cloths[0], zones=zones),))
    places = {"side-front-1": 10.0, "side-back-1": 200.0}

    def lying(places: dict[str, float]) -> str:
        placed = tuple(Placed(piece, "cloth", x + 80.0, 300.0, 0.0) for piece, x in places.items())
        return parts_apart(one.with_layout(replace(one.layout, placements=placed)))

    assert lying(places) == ""
    assert lying(places | {"side-back-1": 600.0}) == "sides"


def test_plain_cloth_is_no_print_of_another() -> None:
    project = two_prints()
    bare = replace(project, cloths=(project.cloths[0], replace(project.cloths[1], laid=None)))
    assert said(bare) == []
    assert parts_apart(laid(bare, {"side-front-1": "cloth", "side-back-1": "other"})) == "sides"
