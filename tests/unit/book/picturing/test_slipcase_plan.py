"""A slipcase laid flat: its wrap measured as it is cut, its turn-ins where they are, heads that show what is up."""

from __future__ import annotations

import pytest
from drawn_books import drawn_book, drawn_mm, length_mm, names_of

from coverlayout.book.book import TurnIns
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.structures import pieces
from coverlayout.geometry.shapes import bounds


@pytest.mark.parametrize("more", [{}, {"sides": "paper"}, {"slipcase_of": "one scored board"}])
def test_the_wrap_of_a_slipcase_is_measured_as_its_piece_has_it(more: dict[str, object]) -> None:
    """Laid across under its walls its own height runs from side to side; a one-way print goes along it."""
    book, volume = drawn_book("slipcase", **more)
    picture = flat_plan(book, volume)
    wrap = next(piece for piece in pieces(book) if piece.id == "wrap-1")
    high, wide = picture.measured("cut height"), picture.measured("cut width")
    assert high is not None
    assert wide is not None
    assert (wide.length_mm, high.length_mm) == pytest.approx((wrap.width_mm, wrap.height_mm))
    lies_across = not more
    assert (high.side, wide.side) == (("below", "left") if lies_across else ("left", "below"))


def test_a_wrap_without_cloth_on_its_walls_shows_both_turn_ins_itself() -> None:
    turn_ins = TurnIns(head_mm=12.0, tail_mm=25.0, spine_mm=9.0, fore_edge_mm=18.0)
    picture = flat_plan(*drawn_book("slipcase", turn_ins=turn_ins, sides="paper"))
    lap, mouth = picture.measured("turn-in"), picture.measured("turn-in at the mouth")
    assert lap is not None
    assert mouth is not None
    # Across the wrap it laps onto a wall, along it it is turned in at the mouth.
    assert (lap.length_mm, lap.side) == (12.0, "below")
    assert (mouth.length_mm, mouth.side) == (18.0, "right")
    assert drawn_mm(picture, "inset") == pytest.approx(3.75)
    assert "clearance" not in names_of(picture)


def test_a_slipcase_is_turned_in_at_its_mouth_and_laps_onto_its_walls() -> None:
    """At the mouth by the turn-in of the fore-edge, onto the walls by that of the head; no other edge counts."""
    turn_ins = TurnIns(head_mm=12.0, tail_mm=25.0, spine_mm=9.0, fore_edge_mm=18.0)
    five = flat_plan(*drawn_book("slipcase", turn_ins=turn_ins))
    assert length_mm(five, "turn-in at the mouth") == pytest.approx(drawn_mm(five, "turn-in at the mouth")) == 18.0
    assert length_mm(five, "turn-in") == pytest.approx(drawn_mm(five, "turn-in")) == 12.0
    scored = flat_plan(*drawn_book("slipcase", turn_ins=turn_ins, slipcase_of="one scored board"))
    assert length_mm(scored, "turn-in") == pytest.approx(drawn_mm(scored, "turn-in")) == 18.0
    # The lines are where the cloth is turned: the wall's cloth begins 18 outside of it, the wrap's rim is 12 wide.
    wall = next(piece for piece in pieces(drawn_book("slipcase", turn_ins=turn_ins)[0]) if piece.id == "wall-front-1")
    assert wall.anchor_mm[0] - (wall.width_mm - 18.0) / 2 == pytest.approx(18.0)
    wrap = next(piece for piece in pieces(drawn_book("slipcase", turn_ins=turn_ins)[0]) if piece.id == "wrap-1")
    assert wrap.board is not None
    assert wrap.board.left_mm == pytest.approx(12.0)


def test_pieces_of_a_slipcase_show_which_way_is_up() -> None:
    """The walls stand, so their wedges point up; the wrap lies across, so its wedge points to one side."""
    picture = flat_plan(*drawn_book("slipcase"))
    wedges = {shape.name: shape.points_mm for shape in picture.shapes if shape.role == "head"}
    assert set(wedges) == {"wrap-1", "wall-front-1", "wall-back-1"}
    for name, (tip, *wings) in wedges.items():
        foot = bounds(wings).middle
        along, across = foot[1] - tip[1], foot[0] - tip[0]
        if name == "wrap-1":
            assert (along, abs(across) > 1.0) == (pytest.approx(0.0), True)
            # Its head is that end of the wrap which is the top of the piece, and the mark is where the side begins.
            box = bounds(next(each.points_mm for each in picture.shapes if (each.role, each.name) == ("cut", name)))
            nearer = box.left_mm if across > 0 else box.right_mm
            assert abs(tip[0] - nearer) < abs(tip[0] - (box.left_mm + box.right_mm - nearer))
        else:
            assert (across, along > 1.0) == (pytest.approx(0.0), True)
    assert "head" not in flat_plan(*drawn_book("flat-case")).roles
