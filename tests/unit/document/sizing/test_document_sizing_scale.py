"""The scales of a print: which hold, the best first, prices of the best, wishes counted, bad input."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.sizing.scale import ScaleAsked, ScalesTried, print_scales
from coverlayout.errors import BadInput
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# Two patches of 60 x 40 upright on 130 x 50: alike in a repeat of 50 mm only where whole repeats reach 60 to 70.
PATCH = OwnPiece("own-1", "patch", 60.0, 40.0, count=2, turns="none")
ALIKE = LinkWish("link-1", ("patch-1", "patch-2"))
DOTS = Print("print-1", "Dots", Lattice((50.0, 0.0), (0.0, 50.0)))
ON = Cloth("cloth-1", "Cloth", 130.0, 50.0, laid=LaidPrint("print-1"))
PROJECT = Project(prints=(DOTS,), cloths=(ON,), own_pieces=(PATCH,), links=(ALIKE,))


def scales(project: Project, *percents: float, cuts: tuple[Cut, ...] | None = None) -> ScalesTried:
    return print_scales(ScaleAsked(project, percents or ScaleAsked(project).scales_percent, cuts))


def test_only_scales_whose_repeats_fall_right_hold() -> None:
    found = scales(PROJECT, 50.0, 66.0, 100.0, 124.0, 130.0, 140.0, 150.0)
    # One repeat of 62, 65 or 70; two of 33 (66); at 50 and 100 repeats of 25 and 50 reach 75 and 100: too far.
    held = {one.scale_percent for one in found.tried if one.verdict == "fits, tight"}
    assert held == {66.0, 124.0, 130.0, 140.0}
    assert {one.verdict for one in found.tried if one.scale_percent not in held} == {"does not fit"}
    assert found.best_percent == found.tried[0].scale_percent
    # With 65 from left to left, 5 / 2 are left at either end and 5 between; with 66 a little less, so 130 is best.
    assert found.best_percent == 130.0
    assert found.tried[0].spare_mm == pytest.approx(2.5, abs=0.15)
    assert (found.wishes, found.tried[0].wishes_met, found.tried[-1].wishes_met) == (1, 1, 0)
    assert pickle.loads(pickle.dumps(found)) == found


def test_those_that_hold_come_first_and_of_equal_ones_the_nearest_to_100() -> None:
    free = replace(PROJECT, links=())
    found = scales(free)
    assert found.best_percent == 100
    distances = [abs(one.scale_percent - 100.0) for one in found.tried]
    assert distances == sorted(distances)
    assert [note.code for note in found.notes] == ["scale-no-wish"]
    assert len(found.tried) >= 50


def test_a_wish_if_possible_is_met_where_it_can_be() -> None:
    found = scales(replace(PROJECT, links=(replace(ALIKE, must=False),)), 100.0, 130.0)
    assert {one.scale_percent: one.wishes_met for one in found.tried} == {130.0: 1, 100.0: 0}
    assert found.best_percent == 130.0
    assert all(one.answer.placed for one in found.tried)


def test_wishes_if_possible_are_counted() -> None:
    # A lock that the alike patches can meet as well, and one at odds with it.
    locks = (
        LockWish("lock-1", "patch-1", (30.0, 25.0), must=False),
        LockWish("lock-2", "patch-1", (31.0, 25.0), must=False),
    )
    found = scales(replace(PROJECT, locks=locks), 130.0)
    assert found.wishes == 3
    assert 1 <= found.tried[0].wishes_met <= 2


def test_cloth_whose_print_is_unknown_counts_as_printed_to_order() -> None:
    unknown = replace(ON, laid=LaidPrint("print-1", origin_known=False))
    lock = LockWish("lock-1", "patch-1", (30.0, 22.0))
    found = scales(replace(PROJECT, cloths=(unknown,), links=(), locks=(lock,)), 100.0)
    assert found.best_percent == 100.0
    assert [note.code for note in found.notes] == ["scale-to-order"]


def test_the_best_are_priced_where_all_prices_are_known() -> None:
    cuts = (Cut("strip", 140.0, 50.0, price=3.0), Cut("half", 140.0, 100.0, price=5.0))
    found = scales(PROJECT, 100.0, 130.0, 140.0, cuts=cuts)
    priced = {one.scale_percent: (one.least_cut, one.price) for one in found.tried}
    # On 140 the patches may lie as far apart as 80: less 1 % it is 138.6, still enough for one repeat of 65 or 70.
    assert priced[130.0] == ("strip", 3.0)
    assert priced[140.0] == ("strip", 3.0)
    assert priced[100.0] == (None, None)
    unpriced = scales(PROJECT, 130.0, cuts=(replace(cuts[0], price=None), cuts[1]))
    assert unpriced.tried[0].price is None


def test_no_scale_holds() -> None:
    found = scales(replace(PROJECT, cloths=(replace(ON, width_mm=90.0),)), 50.0, 100.0)
    assert found.best_percent is None
    assert [one.wishes_met for one in found.tried] == [0, 0]


def test_stopped_on_the_way() -> None:
    asked: list[float] = []

    def stop(share_done: float) -> bool:
        asked.append(share_done)
        return share_done > 0.3

    found = print_scales(ScaleAsked(PROJECT), stop)
    assert found.cut_short
    assert any(one.answer.cut_short and one.verdict == "not found" for one in found.tried)
    assert asked == sorted(asked)


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (replace(PROJECT, cloths=()), "no cloth"),
        (replace(PROJECT, own_pieces=(), links=()), "no piece"),
        (replace(PROJECT, cloths=(replace(ON, laid=None),)), "nothing to scale"),
    ],
)
def test_bad_input_in_one_sentence(bad: Project, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        scales(bad)


def test_pieces_of_a_print_of_their_own() -> None:
    bound = replace(PATCH, source=Source("print-1"))
    assert scales(replace(PROJECT, own_pieces=(bound,)), 130.0).best_percent == 130.0
