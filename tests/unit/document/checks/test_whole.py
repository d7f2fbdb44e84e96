"""Whether a project can be: shapes, ids, and what speaks of what."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from full_project import CLOTH, FULL, HERONS, LAID, LEDGER, POCKET, SPOILED

from coverlayout.book.book import OwnPiece, Source, Volume
from coverlayout.cloth.cloth import Flaw, Zone
from coverlayout.document.checks.whole import checked, checked_edit, known, pieces_made, planned_ids
from coverlayout.document.project import Layout, Project, TileMark
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint

BOW = ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 14.0))


def with_cloth(**fields: Any) -> Project:
    return FULL.with_cloth(replace(CLOTH, **fields))


def test_what_can_be_comes_back_as_it_is() -> None:
    assert checked(FULL) is FULL
    assert checked(Project()) == Project()


@pytest.mark.parametrize(
    ("project", "code"),
    [
        (with_cloth(outline_mm=BOW), "outline-crosses"),
        (with_cloth(flaws=(Flaw("f", "spot", ((0.0, 0.0), (5.0, 5.0))),)), "outline-no-area"),
        (with_cloth(flaws=(Flaw("f", "crease", ((0.0, 0.0),), line_width_mm=2.0),)), "line-too-short"),
        (with_cloth(zones=(Zone("zone-1", "z", BOW),)), "outline-crosses"),
        (with_cloth(outline_changes_in=3), "changes-in-unknown"),
        (with_cloth(laid=LaidPrint("print-2", changes_in=-1)), "changes-in-unknown"),
        (with_cloth(flaws=(replace(CLOTH.flaws[0], changes_in=3),)), "changes-in-unknown"),
        (with_cloth(flaws=(replace(CLOTH.flaws[0], id="zone-1"),)), "id-twice"),
        (with_cloth(laid=LaidPrint("print-9")), "id-unknown"),
        (
            with_cloth(zones=(Zone("zone-1", "z", rectangle(9.0, 9.0), replace(LAID, print_id="print-9")),)),
            "id-unknown",
        ),
        (with_cloth(zones=()), "id-unknown"),
        (FULL.with_print(replace(HERONS, lattice=Lattice((5.0, 5.0), (10.0, 10.0)))), "repeat-one-direction"),
        (FULL.with_own_piece(replace(POCKET, ids=("p-a",))), "piece-ids-count"),
        (FULL.with_own_piece(replace(POCKET, source=Source(cloth_id="cloth-9"))), "id-unknown"),
        (FULL.with_own_piece(replace(POCKET, source=Source(print_id="print-9"))), "id-unknown"),
        (FULL.with_book(replace(LEDGER, cover_source=Source(zone_id="zone-9"))), "id-unknown"),
        (FULL.with_book(replace(LEDGER, page_mm=(100.0, 150.0))), "book-one-size"),
        (FULL.with_book(replace(LEDGER, volumes=(Volume(1),))), "id-twice"),
        (replace(FULL, own_pieces=(*FULL.own_pieces, OwnPiece("own-2", "p", 5.0, 5.0, ids=("p-b",)))), "id-twice"),
        (replace(FULL, cloths=(*FULL.cloths, replace(CLOTH, zones=(), flaws=()))), "id-twice"),
        (replace(FULL, cloths=(*FULL.cloths, replace(CLOTH, id="", zones=(), flaws=()))), "id-twice"),
        (replace(FULL, links=(replace(FULL.links[0], id="wish-1"),)), "id-twice"),
        (replace(FULL, cut_pieces=(replace(SPOILED, outline_mm=BOW),)), "outline-crosses"),
        (replace(FULL, cut_pieces=(replace(SPOILED, place=replace(SPOILED.place, cloth="c")),)), "id-unknown"),
        (replace(FULL, cut_pieces=(replace(SPOILED, state="cut"),) * 2), "id-twice"),
        (FULL.with_own_piece(OwnPiece("own-1", "front", 5.0, 5.0)), "id-twice"),
        (replace(FULL, layouts=(), layout_id=""), "id-unknown"),
        (replace(FULL, layout_id="layout-9"), "id-unknown"),
        (FULL.with_layout(Layout("layout-2", "x", (Placed("p-a", "cloth-9", 1.0, 1.0),))), "id-unknown"),
        (FULL.with_layout(Layout("layout-2", "x", (Placed("p-a", "cloth-1", 1.0, 1.0),) * 2)), "id-twice"),
        (replace(FULL, marks=(TileMark("eye", "print-9", (1.0, 1.0)),)), "id-unknown"),
        (replace(FULL, next_number=0), "figure-out-of-range"),
    ],
)
def test_what_cannot_be_is_said_in_one_sentence(project: Project, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        checked(project)
    assert caught.value.code == code
    assert "\n" not in str(caught.value)


def test_one_piece_may_be_spoiled_twice() -> None:
    checked(replace(FULL, cut_pieces=(SPOILED, replace(SPOILED, name="front cover again"))))


def test_what_was_checked_before_is_not_gone_through_again() -> None:
    """Only an edit asks so, and only with a project that passed; here one that never did shows that it is believed."""
    wrong = with_cloth(outline_mm=BOW)
    assert checked(wrong, wrong) is wrong
    assert checked(replace(wrong, name="x"), wrong).name == "x"
    with pytest.raises(BadInput):
        checked(replace(wrong, name="x"), FULL)


def test_an_edit_that_leads_to_what_cannot_be_is_refused() -> None:
    change: Callable[[Project], Project] = lambda old: replace(old, layout_id="none")  # noqa: E731  # one line says it
    edit = checked_edit(Remark("edit-switch-layout"), change)
    with pytest.raises(BadInput, match="there is no layout called none in this project"):
        edit.change(FULL)


def test_pieces_of_a_structure_for_a_newer_program_are_not_planned() -> None:
    newer = replace(LEDGER, structure="scroll")  # type: ignore[arg-type]  # a word this program does not know
    assert pieces_made(newer) == ()
    assert planned_ids(replace(FULL, books=(newer,))) == {"p-a", "p-b"}
    assert {"front-1", "front-2"} <= planned_ids(FULL)


def test_a_record_is_known_or_said_to_be_unknown() -> None:
    assert known(FULL.cloths, "cloth-1", "cloth") is CLOTH
    with pytest.raises(BadInput, match="there is no cloth called cloth-2 in this project"):
        known(FULL.cloths, "cloth-2", "cloth")


def test_only_what_lies_can_be_pinned_and_only_once() -> None:
    lies = FULL.layouts[1]
    for pinned, code in ((("p-a", "p-b"), "pinned-waits"), (("p-a", "p-a"), "id-twice")):
        with pytest.raises(BadInput) as caught:
            checked(replace(FULL, layouts=(FULL.layouts[0], replace(lies, pinned=pinned))))
        assert caught.value.code == code
