"""Into which panels a cloth is cut: few, the pieces whole on each, honest where none is found."""

from __future__ import annotations

import pickle
from dataclasses import replace
from functools import cache

import pytest

from coverlayout.book.book import Book, OwnPiece, Source, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.placements import place
from coverlayout.document.paneling import panels as panels_module
from coverlayout.document.paneling.cutting_apart import cut_into_panels
from coverlayout.document.paneling.panels import PanelsAsked, PanelsFound, panels_for
from coverlayout.document.project import LockWish, Project, Stock
from coverlayout.document.questions import judge_for, placed_now, question_for
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import piece_to_cloth
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

WEB = Stock("stock-1", "iron-on web", "web", 430.0, 300.0, price=1.5)
TISSUE = Stock("stock-2", "tissue", "tissue", 500.0, 700.0)
CLOTH = Cloth("cloth-1", "Yard", 800.0, 600.0, web_short_mm=3.0)
# Covers of 144.3 x 182.4 and liners of 108.3 x 146.4, two volumes.
BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), volumes=(Volume(1), Volume(2)), square_mm=0.0)
START = Project(cloths=(CLOTH,), stocks=(WEB, TISSUE), books=(BOOK,), next_volume_number=3)


def asked(project: Project = START, **more: object) -> PanelsAsked:
    return PanelsAsked(project, "cloth-1", **more)  # type: ignore[arg-type] # fields by name


@cache
def usual() -> PanelsFound:
    """The panels of the usual project, looked for once."""
    return panels_for(asked())


def check(project: Project, found: PanelsFound) -> None:
    """By plain numbers: panels within a sheet and its strip, each piece the strip away from its panel's edges."""
    assert found.verdict in ("fits", "fits, tight")
    for panel in found.panels:
        short, long = sorted((panel.width_mm, panel.height_mm))
        assert short <= 306.0 + 0.01
        assert long <= 436.0 + 0.01
    pieces = {piece.id: piece for piece in question_for(project).pieces}
    assert sorted(one.piece for one in found.placed) == sorted(pieces)
    for one in found.placed:
        assert one.cloth == "cloth-1"
        piece = pieces[one.piece]
        box = bounds(piece_to_cloth(piece.anchor_mm, (one.x_mm, one.y_mm), one.turn_deg).ring(piece.outline_mm))
        assert any(_within(box, panel, 3.0) for panel in found.panels), one


def _within(box: Box, panel: Box, strip: float) -> bool:
    left, top = box.left_mm - panel.left_mm, box.top_mm - panel.top_mm
    right, bottom = panel.right_mm - box.right_mm, panel.bottom_mm - box.bottom_mm
    return min(left, top, right, bottom) >= strip - 0.011


def test_a_yard_is_cut_so_that_web_covers_each_panel() -> None:
    """800 x 600 from 436 x 306 either way: two columns of two rows; by area 3.6, so no fewer than four."""
    found = usual()
    check(START, found)
    assert (len(found.panels), found.kept, found.cut_short) == (4, False, False)
    (web,) = found.backing
    assert (web.stock, web.count, web.proved, web.price) == (WEB, 4, True, 6.0)
    assert found.said[0].text() == "4 panels"
    assert "4 sheets of iron-on web" in [remark.text() for remark in found.said]
    assert pickle.loads(pickle.dumps(found)) == found
    assert panels_for(asked()) == found


def test_the_edit_lays_what_was_found() -> None:
    found = usual()
    made = cut_into_panels("cloth-1", found.panels, found.placed).change(START)
    report = judge_for(made).report(placed_now(made))
    assert report.verdict in ("valid", "valid, tight")
    assert report.waiting == ()
    assert report.clearance_mm == pytest.approx(found.answer.clearance_mm if found.answer else None)


def test_a_layout_around_which_lines_can_be_drawn_is_kept() -> None:
    found = usual()
    laid = place(found.placed).change(START)
    again = panels_for(asked(laid))
    check(laid, again)
    assert again.kept
    assert sorted(again.placed, key=str) == sorted(found.placed, key=str)


def test_the_print_keeps_its_phase_over_the_panels() -> None:
    """Held to (10, 20) in a repeat of 64 x 96 from (5, 3), the middle of the first cover's board lies there."""
    a_print = Print("print-1", "Herons", Lattice((64.0, 0.0), (0.0, 96.0)))
    cloth = replace(CLOTH, laid=LaidPrint("print-1", (5.0, 3.0)))
    locked = replace(START, prints=(a_print,), cloths=(cloth,), locks=(LockWish("wish-1", "front-2", (10.0, 20.0)),))
    found = panels_for(asked(locked))
    check(locked, found)
    place_of = next(one for one in found.placed if one.piece == "front-2")
    off_x, off_y = (place_of.x_mm - 15.0) % 64.0, (place_of.y_mm - 23.0) % 96.0
    assert min(off_x, 64.0 - off_x) <= 0.05
    assert min(off_y, 96.0 - off_y) <= 0.05


def test_tissue_counts_too() -> None:
    both = replace(START, cloths=(replace(CLOTH, backing="web and tissue"),))
    found = panels_for(asked(both))
    assert [one.stock for one in found.backing] == [WEB, TISSUE]
    # Tissue of 500 x 700 holds two panels' pieces of 430 x 300 and no fewer sheets than two do.
    assert found.backing[1].count == 2
    check(both, found)


def test_a_roll_cuts_one_way_only() -> None:
    roll = replace(START, stocks=(replace(WEB, length_mm=None),))
    found = panels_for(asked(roll))
    # 436 across a cloth of 800 x 600: two panels.
    assert len(found.panels) == 2
    assert all(min(panel.width_mm, panel.height_mm) <= 436.01 for panel in found.panels)
    assert found.backing[0].length_mm is not None
    assert found.backing[0].proved


def test_a_cloth_that_is_covered_stays_whole() -> None:
    small = replace(START, cloths=(replace(CLOTH, width_mm=430.0, length_mm=306.0),))
    found = panels_for(asked(small))
    assert found.panels == (Box(0.0, 0.0, 430.0, 306.0),)
    assert found.reason.text() == "Yard is no larger than its backing, so it need not be cut"
    assert found.backing[0].count == 1
    assert found.said[0].code == "panels-none"


def test_nothing_to_lay_takes_the_plainest_split() -> None:
    found = panels_for(asked(replace(START, books=())))
    assert len(found.panels) == 4
    assert (found.verdict, found.placed) == ("fits", ())


def test_a_piece_larger_than_any_panel_is_refused_with_proof() -> None:
    """A sheet of web covers 430 x 300; a hanging of 320 x 310 lies in none, however the lines run."""
    hanging = replace(START, own_pieces=(OwnPiece("own-1", "hanging", 320.0, 310.0, turns="quarter"),))
    found = panels_for(asked(hanging))
    assert (found.verdict, found.placed, found.tried) == ("does not fit", (), 0)
    words = "hanging-1, 320 mm x 310 mm, is larger than the largest panel that a sheet of the backing covers"
    assert found.reason.text() == words
    assert len(found.panels) == 4
    # Where it may come from another cloth that is no proof.
    second = replace(hanging, cloths=(CLOTH, Cloth("cloth-2", "Scrap", 400.0, 400.0)))
    assert panels_for(asked(second)).verdict == "fits"
    bound = replace(second.own_pieces[0], source=Source(cloth_id="cloth-1"))
    assert panels_for(asked(replace(second, own_pieces=(bound,)))).verdict == "does not fit"


def test_what_does_not_fit_uncut_fits_on_no_panels() -> None:
    many = replace(BOOK, volumes=tuple(Volume(k) for k in range(1, 13)))
    found = panels_for(asked(replace(START, books=(many,), next_volume_number=13)))
    assert found.verdict == "does not fit"
    assert found.reason.code.startswith("lay-no-")


def test_what_is_not_found_is_not_called_impossible() -> None:
    """Four of 390 x 290 go on 800 x 600 uncut; with two in a row across and a strip each, 2 x 396 + ... still go.

    A fifth strip of 780 x 12 does so uncut as well, but across every line between two panels.
    """
    big = OwnPiece("own-1", "hanging", 390.0, 288.0, count=4, turns="none")
    thin = OwnPiece("own-2", "edging", 420.0, 10.0, turns="none")
    tight = replace(START, books=(), own_pieces=(big, thin), cloths=(replace(CLOTH, width_mm=792.0, length_mm=600.0),))
    found = panels_for(asked(tight))
    assert found.verdict == "not found"
    assert found.tried > 3
    assert found.reason.text().startswith(f"of {found.tried} ways to cut it into panels none holds every piece")
    assert found.placed == ()


def test_stopping_says_so() -> None:
    stopped = panels_for(asked(), lambda share: True)
    assert (stopped.verdict, stopped.cut_short) == ("not found", True)
    shares: list[float] = []
    panels_for(asked(), lambda share: bool(shares.append(share)))
    assert all(0.0 <= share <= 1.0 for share in shares)
    calls = 0

    def soon(share: float) -> bool:
        nonlocal calls
        calls += 1
        return calls > 2

    assert panels_for(asked(), soon).cut_short


def test_the_roomiest_of_the_first_splits_that_fit_is_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = usual()
    monkeypatch.setattr(panels_module, "_COMPARED", 1)
    first = panels_for(asked())
    assert first.answer is not None
    assert whole.answer is not None
    assert (whole.answer.spare_mm or 0.0) >= (first.answer.spare_mm or 0.0)


def test_bad_input_is_one_sentence() -> None:
    laid = place((Placed("front-1", "cloth-1", 200.0, 200.0),)).change(START)
    # Paper stands out by more than 25 mm on every side, so that 60 mm of it cover next to nothing.
    kraft = Stock("stock-3", "kraft", "paper", 60.0, 500.0)
    for project, said in (
        (replace(START, stocks=()), "no web in the stock"),
        (replace(START, cloths=(replace(CLOTH, backing="none"),)), "gets no backing"),
        (replace(START, stocks=(kraft,), cloths=(replace(CLOTH, backing="paste and paper"),)), "too small to cover"),
        (replace(START, stocks=(replace(WEB, width_mm=60.0, length_mm=50.0),)), "into some"),
        (mark_cut(("front-1",)).change(laid), "were cut from Yard already"),
    ):
        with pytest.raises(BadInput, match=said):
            panels_for(asked(project))
    with pytest.raises(BadInput, match="cloth-9"):
        panels_for(PanelsAsked(START, "cloth-9"))
