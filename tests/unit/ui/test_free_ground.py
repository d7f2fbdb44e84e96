"""Free ground beside what rests: in turns that are allowed, on one cloth if asked, within the rules or not at all."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Link, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice
from coverlayout.ui.table import free_ground as module
from coverlayout.ui.table.free_ground import free_ground

CROOKED = ((0.0, 6.0), (200.0, 0.0), (196.0, 100.0), (4.0, 104.0))


def test_the_place_is_exactly_at_the_edge_and_beside_what_rests() -> None:
    pieces = piece("a", 60, 40), piece("b", 60, 40)
    judge = Judge(Question(pieces, (cloth(200.0, 100.0),), gap_mm=2.0))
    assert free_ground(judge, pieces[:1], ()) == (Placed("a", "c", 30.0, 20.0),)
    assert free_ground(judge, pieces[1:], (Placed("a", "c", 30.0, 20.0),)) == (Placed("b", "c", 92.0, 20.0),)


def test_only_the_cloth_named_is_used() -> None:
    asked = piece("a", 60, 40)
    judge = Judge(Question((asked,), (cloth(200, 100), cloth(200, 100, name="d"))))
    assert free_ground(judge, [asked], (), "d") == (Placed("a", "d", 30.0, 20.0),)
    assert free_ground(judge, [asked], (), "none") is None


def test_inside_a_crooked_outline_a_stain_is_kept_clear_of() -> None:
    asked = piece("a", 90, 80)
    stain = flaw(rectangle(20.0, 90.0, 60.0, 5.0))
    judge = Judge(Question((asked,), (cloth(0, 0, outline=CROOKED, keep_outs=[stain]),)))
    (there,) = free_ground(judge, [asked], ()) or ()
    # Right of the stain, which ends at 80.
    assert there.x_mm >= 80.0 + 45.0 - 0.01
    assert judge.report((there,)).breaches == ()
    assert free_ground(judge, [replace(asked, outline_mm=rectangle(120.0, 80.0))], ()) is None


def test_a_link_to_a_piece_on_another_cloth_is_held_by_the_judge() -> None:
    lattice = Lattice((50.0, 0.0), (0.0, 50.0))
    pieces = piece("a", 60, 40, print_id="p"), piece("b", 60, 40, print_id="p")
    cloths = tuple(cloth(200, 100, name=name, print_id="p") for name in "cd")
    cloths = tuple(replace(one, grounds=(replace(one.grounds[0], lattice_mm=lattice),)) for one in cloths)
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((7.0, 3.0),))
    judge = Judge(Question(pieces, cloths, links=(link,)))
    # The prints' maps are not known, so that the link counts as broken wherever b lies: then there is no place.
    assert free_ground(judge, pieces[1:], (Placed("a", "c", 90.0, 50.0),), "d") is None


def test_a_search_that_would_take_too_long_finds_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_STEPS", 1)
    asked = piece("a", 60, 40)
    judge = Judge(Question((asked,), (cloth(0, 0, outline=CROOKED),)))
    assert free_ground(judge, [asked], ()) is None


@pytest.mark.parametrize("outline", [None, ((0.0, 10.0), (1100.0, 0.0), (1090.0, 900.0), (8.0, 905.0))])
def test_among_forty_pieces_nobody_waits(outline: tuple[tuple[float, float], ...] | None) -> None:
    pieces = tuple(piece(f"p-{k}", 100, 140, ANY) for k in range(41))
    lies = tuple(Placed(f"p-{k}", "c", 70.0 + 106.0 * (k % 9), 90.0 + 150.0 * (k // 9)) for k in range(40))
    judge = Judge(Question(pieces, (cloth(1100.0, 905.0, outline=outline),)))
    assert judge.report(lies).breaches == ()
    began = time.perf_counter()
    found = free_ground(judge, [replace(pieces[40], turns_deg=(0.0,))], lies)
    assert time.perf_counter() - began < 0.3  # about a tenth of that on a free machine
    assert found is not None
    assert judge.report((*lies, *found)).breaches == ()
