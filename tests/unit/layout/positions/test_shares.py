"""Sharing a small job out over several sheets: found where it goes, refused only when every share is."""

from __future__ import annotations

from dataclasses import replace

from laying import ANY, cloth, faults, flaw, piece

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.lay import lay
from coverlayout.layout.positions.shares import Shares
from coverlayout.layout.question import ClothAsked, Ground, Question
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import placed_of
from coverlayout.layout.search.sheets import RectangularJob, rectangular_job


def job_of(question: Question) -> RectangularJob:
    job = rectangular_job(question)
    assert job is not None
    return job


def two_cloths(*pieces: object, sides: tuple[float, float] = (100.0, 60.0)) -> Question:
    cloths = (cloth(sides[0], 50, name="large"), cloth(sides[1], 50, name="small"))
    return Question(tuple(pieces), cloths)  # type: ignore[arg-type]  # pieces


def test_equal_pieces_are_shared_out_once() -> None:
    job = job_of(two_cloths(piece("a", 50, 50), piece("b", 50, 50), piece("c", 60, 50)))
    shares = Shares.of(job)
    assert shares is not None
    # Two equal pieces on two sheets: three ways; the third piece: two.
    assert sorted(shares.all) == [(0, 0, 0), (0, 0, 1), (0, 1, 0), (0, 1, 1), (1, 1, 0), (1, 1, 1)]


def test_the_one_share_that_goes_is_found_and_others_are_refused() -> None:
    question = two_cloths(piece("a", 50, 50), piece("c", 60, 50), piece("b", 50, 50))
    shares = Shares.of(job_of(question))
    assert shares is not None
    layouts = list(shares.layouts(Effort(10_000)))
    assert [[seat.sheet for seat in layout] for layout in layouts] == [[0, 1, 0]]
    assert faults(question, placed_of(shares.job, layouts[0])) == []


def test_a_no_over_several_cloths_is_proved() -> None:
    # By area all would go: 5000 + 3000 mm2 for 2500 + 2500 + 2500; but no cloth takes two of the 51 mm pieces.
    answer = lay(two_cloths(piece("a", 51, 49), piece("b", 51, 49), piece("c", 51, 49)))
    assert answer.verdict == "does not fit"
    assert answer.proof is not None
    assert answer.proof.name == "exhaustive"
    assert lay(two_cloths(piece("a", 51, 49), piece("b", 51, 49), piece("c", 49, 49))).verdict == "fits, tight"


def test_a_lone_piece_finds_the_one_place_where_a_flaw_is_hidden() -> None:
    # Its seen middle must keep clear of a crease; pieces put into corners alone would miss the place.
    crease = flaw(rectangle(4, 50, 20, 0), seen_only=True)
    seen = rectangle(40, 30, 15, 10)
    label = piece("label", 70, 50, seen=seen)
    answer = lay(Question((label,), (cloth(90, 50, name="creased", keep_outs=(crease,)), cloth(30, 30, name="scrap"))))
    assert answer.verdict == "fits, tight"
    (placed,) = answer.placed
    # The seen part begins 15 mm into the label, and the crease ends at 24 mm: so the label begins at 9 mm or later.
    assert placed.x_mm - 35.0 >= 9.0 - 0.01


def test_pieces_that_only_collide_across_a_border_are_left_open() -> None:
    # Two zones of one cloth, a piece on each, a gap that neither zone has to keep by itself.
    zones = (Ground("z1", Region.of(rectangle(50, 50))), Ground("z2", Region.of(rectangle(50, 50, 50, 0))))
    whole = ClothAsked("c", "c", rectangle(100, 50), zones)
    pieces = (replace(piece("a", 50, 50), ground_ids=("z1",)), replace(piece("b", 50, 50), ground_ids=("z2",)))
    assert lay(Question(pieces, (whole,))).verdict == "fits, tight"
    assert lay(Question(pieces, (whole,), gap_mm=1.0)).verdict == "not found"


def test_large_jobs_are_not_begun() -> None:
    assert Shares.of(job_of(two_cloths(*(piece(f"p{k}", 5, 5) for k in range(9))))) is None
    creases = [flaw(rectangle(1, 1, 7.0 * k, 0), f"k{k}") for k in range(13)]
    spotted = (cloth(100, 50, name="spotted", keep_outs=creases), cloth(60, 50, name="small"))
    assert Shares.of(job_of(Question((piece("a", 5, 5),), spotted))) is None
    many = tuple(cloth(40, 40, name=f"c{k}") for k in range(4))
    different = tuple(piece(f"p{k}", 5 + k, 9, ANY) for k in range(8))
    assert Shares.of(job_of(Question(different, many))) is None
