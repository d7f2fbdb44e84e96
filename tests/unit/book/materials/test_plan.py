"""A whole book worked out in one value: alike in all its parts, its remarks said once."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, PartOfBook, Sewing, Structure, Volume
from coverlayout.book.materials.cut_list import cut_list
from coverlayout.book.materials.plan import VolumePlan, plan
from coverlayout.book.measures import measures
from coverlayout.book.paper.block import block_of
from coverlayout.book.paper.folding import folded
from coverlayout.book.sewing.holes import holes
from coverlayout.book.structures import boards, pieces
from coverlayout.errors import BadInput

PAD = Paper((228.6, 304.8), sheets=16, cut=(2, 1), per_section=4, thickness_mm=0.12, swell_mm=0.0)
LEDGER = Book("b", "Ledger", paper=PAD)


def test_a_plan_holds_what_its_parts_say() -> None:
    made = plan(LEDGER)
    first = LEDGER.volumes[0]
    assert (made.folded, made.block) == (folded(PAD), block_of(PAD))
    assert (made.pieces, made.cut_list) == (pieces(LEDGER), cut_list(LEDGER))
    assert made.first.measures == measures(LEDGER, first)
    assert (made.first.boards, made.first.holes) == (boards(LEDGER, first), holes(LEDGER, first))
    assert made.first.thickness_mm == pytest.approx(64 * 0.12)
    assert made.first.thread is not None
    assert made.first.thread.total_mm == pytest.approx(1524.0)


def test_stations_are_told_from_both_ends() -> None:
    own = replace(LEDGER, sewing=Sewing("own", own_mm=(20.0, 50.0, 132.0)))
    first = plan(own).first
    assert first.stations_mm == (20.0, 50.0, 132.0)
    assert first.stations_from_tail_mm == pytest.approx((20.4, 102.4, 132.4))


def test_without_paper_nothing_is_folded_and_no_thread_is_measured() -> None:
    made = plan(Book("b", "Ledger", page_mm=(114.3, 152.4)))
    assert (made.folded, made.block, made.first.thickness_mm) == (None, None, None)
    assert made.first.thread is not None
    assert made.first.thread.total_mm is None


def test_every_volume_has_its_own_figures() -> None:
    case = Book("b", "Set", "flat-case", page_mm=(148.0, 210.0), volumes=(Volume(1, 12.0), Volume(4, 25.0)))
    made = plan(case)
    assert [(volume.number, volume.thickness_mm) for volume in made.volumes] == [(1, 12.0), (4, 25.0)]
    assert [volume.measures.spine_mm for volume in made.volumes if volume.measures] == [15.5, 28.5]


def test_remarks_of_paper_structure_and_sewing_come_in_turn_and_once() -> None:
    sewing = Sewing("own", own_mm=(20.0, 22.0, 130.0))
    copies = replace(
        LEDGER, paper=replace(PAD, grain="short"), liner_inset_mm=12.0, sewing=sewing, volumes=(Volume(1), Volume(2))
    )
    codes = [remark.code for remark in plan(copies).notes]
    assert codes.count("stations-near") == 1
    assert codes.index("grain-across-pages") < codes.index("liner-inset-wide") < codes.index("stations-near")


@pytest.mark.parametrize("structure", ["accordion", "slipcase"])
def test_what_is_not_sewn_has_no_stations(structure: Structure) -> None:
    made = plan(Book("b", "Ledger", structure, block_mm=(100.0, 150.0, 12.0)))
    assert (made.first.stations_mm, made.first.holes, made.first.thread) == ((), (), None)


def test_a_list_of_parts_has_only_pieces() -> None:
    part = PartOfBook("cover", 2, 15.0, "none")
    ratio = Book("b", "Set", "parts", board_ratio=(3.0, 4.0), parts=(part,), volumes=(Volume(7),))
    made = plan(ratio)
    assert made.volumes == (VolumePlan(7),)
    assert (made.pieces, made.cut_list, made.notes) == ((), (), ())


@pytest.mark.parametrize(
    "wrong",
    [
        replace(LEDGER, sewing=Sewing(count=0)),
        replace(LEDGER, paper=replace(PAD, sheets=0)),
        replace(LEDGER, board_thickness_mm=-1.0),
        Book("b", "Ledger", "flat-case", page_mm=(148.0, 210.0)),
    ],
)
def test_a_figure_that_cannot_be_used_is_refused_with_a_sentence(wrong: Book) -> None:
    with pytest.raises(BadInput) as caught:
        plan(wrong)
    assert str(caught.value)


def test_a_plan_is_worked_out_once() -> None:
    assert plan(LEDGER) is plan(replace(LEDGER))


def test_paper_that_is_not_counted_yet_is_folded_all_the_same() -> None:
    made = plan(replace(LEDGER, paper=replace(PAD, sheets=None)))
    assert made.folded is not None
    assert (made.block, made.first.thickness_mm) == (None, None)
    assert "text paper" not in [row.name for row in made.cut_list]
