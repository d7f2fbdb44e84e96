"""The least length off a bolt, on a project: by hand, with changes in size, several prints, refused, bad input."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.document.project import JobRules, Project
from coverlayout.document.questions import question_for
from coverlayout.document.sizing.length import LeastLength, LengthAsked, least_length_off_bolt
from coverlayout.errors import BadInput
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

A = OwnPiece("own-1", "a", 60.0, 40.0, turns="none")
B = OwnPiece("own-2", "b", 50.0, 90.0, turns="quarter")
C = OwnPiece("own-3", "c", 40.0, 50.0, turns="none")
CLOTH = Cloth("cloth-1", "Cloth", 100.0, 70.0)


def least(project: Project, width_mm: float | None = None) -> LeastLength:
    return least_length_off_bolt(LengthAsked(project, width_mm))


def test_the_least_length_and_the_layout_on_it() -> None:
    # b turned is 90 x 50 alone in its row; a and c fill the other, 60 + 40 wide and 50 high.
    found = least(Project(cloths=(CLOTH,), own_pieces=(A, B, C)))
    assert found.length_mm == pytest.approx(100.0, abs=0.02)
    assert found.proved
    assert found.bound_mm is not None
    assert found.length_mm is not None
    assert 99.9 <= found.bound_mm <= found.length_mm
    (bolt,) = found.bolts
    assert bolt.project.cloths[0].length_mm == found.length_mm
    assert Judge(question_for(bolt.project)).report(bolt.answer.placed).breaches == ()
    assert [note.code for note in found.notes] == ["length-in-doubt"]
    assert pickle.loads(pickle.dumps(found)) == found


def test_a_wider_bolt() -> None:
    found = least(Project(own_pieces=(A, B, C)), 150.0)
    # a, c and b upright beside each other: 60 + 40 + 50.
    assert found.length_mm == pytest.approx(90.0, abs=0.02)


def test_trim_is_part_of_it() -> None:
    found = least(Project(cloths=(replace(CLOTH, width_mm=106.0, trim_mm=3.0),), own_pieces=(A, B, C)))
    assert found.length_mm == pytest.approx(106.0, abs=0.02)


def test_cloth_that_shrinks_is_bought_longer() -> None:
    washed = replace(CLOTH, width_mm=125.0, changes=(Change("washing", -20.0, -20.0),))
    found = least(Project(cloths=(washed,), own_pieces=(A, B, C)))
    assert found.length_mm == pytest.approx(125.0, abs=0.03)
    assert found.bound_mm is not None
    assert found.bound_mm == pytest.approx(125.0, abs=0.2)


def test_each_print_has_its_own_bolt() -> None:
    leaves = Print("print-1", "Leaves", Lattice((40.0, 0.0), (0.0, 30.0)), up="any")
    dots = replace(leaves, id="print-2", name="Dots")
    book = Book("book-1", "Ledger", page_mm=(60.0, 90.0), cover_turns="none", liner_turns="none")
    book = replace(book, cover_source=Source("print-1"), liner_source=Source("print-2"))
    on = Cloth("cloth-1", "Cloth", 200.0, 200.0, laid=LaidPrint("print-1"))
    found = least(Project(prints=(leaves, dots), cloths=(on,), books=(book,)))
    # Covers 90 x 120 and liners 54 x 84, two of each side by side on 200.
    assert [bolt.length_mm for bolt in found.bolts] == pytest.approx([120.0, 84.0], abs=0.02)
    assert found.length_mm == pytest.approx(204.0, abs=0.04)
    assert found.proved


def test_a_piece_too_wide_is_a_proved_no() -> None:
    found = least(Project(cloths=(CLOTH,), own_pieces=(replace(A, width_mm=120.0),)))
    assert (found.length_mm, found.bound_mm, found.proved) == (None, None, True)
    assert found.bolts[0].answer.verdict == "does not fit"


def test_a_job_that_asks_for_the_length_keeps_its_cloth() -> None:
    job = Project(cloths=(CLOTH,), own_pieces=(A, B, C), rules=JobRules(objective="least length"))
    found = least(job)
    assert found.notes == ()
    assert found.bolts[0].project.cloths[0].state == "measured"


@pytest.mark.parametrize(
    ("bad", "said"), [(Project(cloths=(CLOTH,)), "no piece"), (Project(own_pieces=(A,)), "--width 1400mm")]
)
def test_bad_input_in_one_sentence(bad: Project, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        least(bad)


def test_stopped() -> None:
    many = replace(A, count=40, turns="quarter")
    found = least_length_off_bolt(LengthAsked(Project(cloths=(CLOTH,), own_pieces=(many, B))), lambda _share: True)
    assert found.cut_short
