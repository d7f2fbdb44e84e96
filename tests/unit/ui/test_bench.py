"""The bench: where cloths and pieces lie on the table, from both sides, and what is found there."""

from __future__ import annotations

from dataclasses import replace

import pytest
from canvas_samples import job, leftover, linen, with_side

from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.project import CutPiece, Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint
from coverlayout.ui.table.arranging import laid_out
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.shown import bench_of

# Without symmetry: 60 x 40 mm with the upper right corner cut away.
ELL = ((0.0, 0.0), (20.0, 0.0), (20.0, 15.0), (60.0, 15.0), (60.0, 40.0), (0.0, 40.0))


def ell(piece_id: str = "ell-1") -> Piece:
    return Piece(piece_id, "ell", "own", ELL, (5.0, 30.0))


def bench(project: Project) -> Bench:
    return bench_of(project)[0]


def test_the_print_side_shows_the_cloth_frame() -> None:
    cloth = Cloth("c", "plain", 200.0, 100.0)
    table = laid_out([cloth], [ell()], [Placed("ell-1", "c", 50.0, 60.0)])
    # The anchor (5, 30) lies at (50, 60): the corner (60, 15) at 50 + 55, 60 - 15.
    assert table.outlines["ell-1"][0][3] == pytest.approx((105.0, 45.0))


def test_the_back_shows_everything_mirrored() -> None:
    cloth = Cloth("c", "plain", 200.0, 100.0)
    table = laid_out([cloth], [ell()], [Placed("ell-1", "c", 50.0, 60.0)], back=True)
    assert table.outlines["ell-1"][0][3] == pytest.approx((200.0 - 105.0, 45.0))
    assert table.piece_at((200.0 - 100.0, 50.0)) is not None
    assert table.piece_at((100.0 - 5.0 + 60.0, 50.0 - 20.0)) is None  # where the corner is cut away


def test_a_turned_piece_from_the_back_by_arithmetic() -> None:
    cloth = Cloth("c", "plain", 200.0, 100.0)
    table = laid_out([cloth], [ell()], [Placed("ell-1", "c", 50.0, 40.0, 90.0)], back=True)
    # Clockwise by a quarter (x, y) -> (-y, x): (60, 15) lies (55, -15) from the anchor, (15, 55) after; then mirrored.
    assert table.outlines["ell-1"][0][3] == pytest.approx((200.0 - 65.0, 95.0))


def test_cloths_stand_in_a_row_and_waiting_pieces_beside_or_below() -> None:
    one, two = bench(job()), bench(job(linen(), leftover()))
    assert [sheet.box.left_mm for sheet in two.sheets] == pytest.approx([0.0, 460.0 * 1.06])
    assert one.waiting.box.left_mm > 460.0
    assert two.waiting.box.top_mm > 330.0
    assert [lying.piece.id for lying in one.on(WAITING)] == ["liner-back-1"]
    assert one.box.right_mm == one.waiting.box.right_mm


def test_waiting_pieces_never_overlap_whichever_side_is_seen() -> None:
    for side in ("print", "back"):
        table = bench(with_side(replace(job(books=4), layouts=(replace(job().layout, placements=()),)), side))
        boxes = [table.outlines[lying.piece.id][1] for lying in table.on(WAITING)]
        assert len(boxes) == 16
        for k, one in enumerate(boxes):
            assert table.waiting.box.left_mm - 1e-9 <= one.left_mm <= one.right_mm <= table.waiting.box.right_mm + 1e-9
            for other in boxes[:k]:
                apart_x = max(one.left_mm - other.right_mm, other.left_mm - one.right_mm)
                apart_y = max(one.top_mm - other.bottom_mm, other.top_mm - one.bottom_mm)
                assert max(apart_x, apart_y) >= 9.99


def test_an_empty_table_has_no_size() -> None:
    table = laid_out([], [], [])
    assert (table.box.width_mm, table.box.height_mm) == (0.0, 0.0)
    assert table.sheet_at((0.0, 0.0)) is table.waiting


def test_a_piece_laid_on_a_cloth_that_is_gone_waits() -> None:
    table = laid_out([linen()], [ell()], [Placed("ell-1", "no such cloth", 1.0, 2.0)])
    assert [lying.placed.cloth for lying in table.lying] == [WAITING]


def test_the_topmost_piece_is_found_and_the_chosen_one_first() -> None:
    cloth = Cloth("c", "plain", 200.0, 100.0)
    places = [Placed("ell-1", "c", 50.0, 60.0), Placed("ell-2", "c", 52.0, 60.0)]
    table = laid_out([cloth], [ell(), ell("ell-2")], places)
    found, chosen = table.piece_at((60.0, 60.0)), table.piece_at((60.0, 60.0), ("ell-1",))
    assert found is not None
    assert chosen is not None
    assert (found.piece.id, chosen.piece.id) == ("ell-2", "ell-1")
    assert table.piece_at((190.0, 90.0)) is None


def test_names_carry_their_number_where_several_share_them() -> None:
    assert [lying.label for lying in bench(job()).lying][:2] == ["Front cover", "Back cover"]
    assert [lying.label for lying in bench(job(books=2)).lying][:2] == ["Front cover 1", "Back cover 1"]
    assert bench(job()).name("front-1") == "front cover"


@pytest.mark.parametrize("side", ["print", "back"])
def test_a_piece_carried_over_the_table_follows_the_hand(side: str) -> None:
    table = bench(with_side(job(), side))
    lying = table.find("back-1")
    assert lying is not None
    moved = table.moved(lying.placed, (-7.0, 11.0))
    before, after = table.outline(lying.placed), table.outline(moved)
    for (x, y), moved_to in zip(before, after, strict=True):
        assert moved_to == pytest.approx((x - 7.0, y + 11.0))
    assert moved.x_mm == pytest.approx(255.0 + (7.0 if side == "back" else -7.0))


def test_on_ground_with_another_up_a_piece_turns_along() -> None:
    table = bench(job(linen(), leftover()))
    lying = table.find("front-1")
    assert lying is not None
    x, y = table.outlines["front-1"][1].middle
    left, top = table.sheets[1].box.left_mm, table.sheets[1].box.top_mm
    moved = table.moved(lying.placed, (left + 150.0 - x, top + 140.0 - y))
    assert (moved.cloth, moved.turn_deg) == ("cloth-2", 90.0)
    back_again = table.moved(moved, (x - left - 150.0, y - top - 140.0))
    assert back_again.turn_deg == 0.0


def test_coming_from_waiting_a_piece_takes_the_first_turn_it_allows() -> None:
    table = bench(job(leftover()))
    lying = table.find("front-1")
    assert lying is not None
    assert lying.placed.cloth == WAITING
    x, y = table.outlines["front-1"][1].middle
    assert table.moved(lying.placed, (150.0 - x, 140.0 - y)).turn_deg == 90.0


def test_off_the_cloth_a_piece_waits() -> None:
    table = bench(job())
    lying = table.find("front-1")
    assert lying is not None
    assert table.moved(lying.placed, (-300.0, 0.0)).cloth == WAITING


def test_turns_go_through_those_allowed_only() -> None:
    one_way, any_way = bench(job()), bench(job(up="any"))
    lying = any_way.find("front-1")
    assert lying is not None
    assert one_way.turned(lying.placed) is None
    first = any_way.turned(lying.placed)
    back = any_way.turned(lying.placed, clockwise=False)
    assert first is not None
    assert back is not None
    assert (first.turn_deg, back.turn_deg) == (90.0, 270.0)
    assert (first.x_mm, first.y_mm) == (lying.placed.x_mm, lying.placed.y_mm)  # about the anchor: the motif stays


def test_a_piece_of_any_turn_goes_by_quarters() -> None:
    piece = replace(ell(), turns="free")
    project = replace(job(), own_pieces=())
    table = bench(project)
    lying = table.find("front-1")
    assert lying is not None
    free = replace(table, lying=(replace(lying, turns_deg=None),))
    turned = free.turned(replace(lying.placed, turn_deg=10.0))
    assert turned is not None
    assert turned.turn_deg == 100.0
    assert piece.turns == "free"


def test_zones_have_their_own_up() -> None:
    zones = (
        Zone("z1", "left", rectangle(100.0, 200.0), LaidPrint("print-1")),
        Zone("z2", "right", rectangle(100.0, 200.0, 100.0), LaidPrint("print-1", turn_deg=180.0)),
    )
    table = bench(job(Cloth("cloth-1", "two prints", 200.0, 200.0, zones=zones)))
    sheet = table.sheets[0]
    assert (sheet.up_deg((50.0, 50.0)), sheet.up_deg((150.0, 50.0))) == (0.0, 180.0)
    assert sheet.up_deg((900.0, 50.0)) == 0.0
    assert table.waiting.up_deg((0.0, 0.0)) == 0.0


def test_cut_pieces_lie_where_they_were_cut() -> None:
    fact = CutPiece("front-1", "front cover", "cut", ELL, (5.0, 30.0), Placed("front-1", "cloth-1", 300.0, 200.0))
    table = bench(replace(job(), cut_pieces=(fact,)))
    lying = table.find("front-1")
    assert lying is not None
    assert (lying.state, lying.label) == ("cut", "Front cover")
    assert table.outlines["front-1"][1].left_mm == pytest.approx(295.0)


def test_a_book_that_cannot_be_made_leaves_the_cloth() -> None:
    table, judge = bench_of(replace(job(), books=(replace(job().books[0], page_mm=None),)))
    assert judge is None
    assert table.lying == ()
    assert len(table.sheets) == 1


def test_only_pieces_wholly_in_a_frame_are_in_it() -> None:
    table = bench(job())
    box = table.outlines["front-1"][1]
    assert table.pieces_in(box) == ("front-1",)
    assert table.pieces_in(replace(box, width_mm=box.width_mm - 1.0)) == ()


def test_raised_pieces_lie_on_top_the_last_one_topmost() -> None:
    cloth = Cloth("c", "plain", 200.0, 100.0)
    table = laid_out([cloth], [ell(f"ell-{k}") for k in range(3)], [Placed("ell-1", "c", 50.0, 60.0)])
    assert [each.piece.id for each in table.stacked()] == ["ell-0", "ell-1", "ell-2"]
    assert [each.piece.id for each in table.stacked(("ell-1", "ell-0"))] == ["ell-2", "ell-1", "ell-0"]
