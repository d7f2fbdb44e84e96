"""Which questions are rectangular jobs, and their poses, sheets and blocks in plain numbers."""

from __future__ import annotations

from dataclasses import replace

from laying import ANY, cloth, flaw, piece

from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, Link, Lock, Placed, Question
from coverlayout.layout.search.sheets import RectangularJob, allowed_on, poses_on, rectangular_job

COVER = piece("cover", 120, 80, ANY, anchor=(10.0, 20.0))


def job_of(question: Question) -> RectangularJob:
    job = rectangular_job(question)
    assert job is not None
    return job


def test_poses_are_the_different_boxes_with_the_anchor_turned_along() -> None:
    poses = job_of(Question((COVER,), (cloth(300, 300),))).items[0].poses[0]
    assert [(p.turn_deg, p.width_mm, p.height_mm) for p in poses] == [(0.0, 120.0, 80.0), (90.0, 80.0, 120.0)]
    assert poses[0].anchor_mm == (10.0, 20.0)
    # A quarter clockwise: the left edge comes on top, the lower edge to the left.
    assert poses[1].anchor_mm == (60.0, 10.0)


def test_turns_count_from_the_up_of_the_ground() -> None:
    upright = replace(COVER, turns_deg=(0.0,))
    poses = job_of(Question((upright,), (cloth(300, 300, up_deg=90.0),))).items[0].poses[0]
    assert [(p.turn_deg, p.width_mm) for p in poses] == [(90.0, 80.0)]


def test_crooked_slanted_locked_and_free_things_are_no_rectangular_job() -> None:
    plain = Question((COVER,), (cloth(300, 300),))
    slanted = ((0.0, 0.0), (300.0, 0.0), (250.0, 300.0), (0.0, 300.0))
    diamond = ((50.0, 40.0), (60.0, 50.0), (50.0, 60.0), (40.0, 50.0))
    for other in (
        replace(plain, cloths=(cloth(300, 300, up_deg=2.0),)),
        replace(plain, cloths=(cloth(0, 0, outline=slanted),)),
        replace(plain, pieces=(replace(COVER, turns_deg=None),)),
        replace(plain, pieces=(piece("kite", 0, 0, outline=diamond),)),
        replace(plain, locks=(Lock("cover", (0.0, 0.0), (0.0, 0.0)),)),
        replace(plain, links=(Link(("cover", "cover"), ((0.0, 0.0),) * 2, ((0.0, 0.0),)),)),
    ):
        assert rectangular_job(other) is None
    wished = Lock("cover", (0.0, 0.0), (0.0, 0.0), must=False)
    assert rectangular_job(replace(plain, locks=(wished,))) is not None


def test_slanted_things_in_the_way_count_as_their_box_and_the_job_is_not_exact() -> None:
    diamond = flaw(((50.0, 40.0), (60.0, 50.0), (50.0, 60.0), (40.0, 50.0)))
    crooked = (piece("label", 20, 20), Placed("label", "c", 50.0, 50.0, 45.0))
    assert job_of(Question((COVER,), (cloth(300, 300),))).exact
    stained = job_of(Question((COVER,), (cloth(300, 300, keep_outs=(diamond,)),)))
    assert not stained.exact
    assert [block.box for block in stained.sheets[0].blocks] == [Box(40.0, 40.0, 20.0, 20.0)]
    beside = job_of(Question((COVER,), (cloth(300, 300, fixed=(crooked,)),)))
    assert not beside.exact
    assert round(beside.sheets[0].blocks[0].box.width_mm, 6) == round(20 * 2**0.5, 6)
    nothing = flaw(((50.0, 40.0), (60.0, 50.0), (50.0, 60.0)))
    gone = replace(nothing, region=Region.nothing())
    assert job_of(Question((COVER,), (cloth(300, 300, keep_outs=(gone,)),))).exact


def test_blocks_are_what_lies_in_the_way() -> None:
    cut = (piece("cut-1", 40, 20), Placed("cut-1", "c", 270.0, 200.0, 90.0))
    away = flaw(rectangle(10, 10, 400, 400), "beyond the cloth")
    hole = flaw(rectangle(10, 10, 100, 0), "hole", spoiled=True)
    seen = flaw(rectangle(5, 5, 20, 20), seen_only=True)
    job = job_of(Question((COVER,), (cloth(300, 300, keep_outs=(away, hole, seen), fixed=(cut,)),)))
    assert [(b.box, b.neighbour, b.seen_only) for b in job.sheets[0].blocks] == [
        (Box(100.0, 0.0, 10.0, 10.0), True, False),
        (Box(20.0, 20.0, 5.0, 5.0), False, True),
        (Box(260.0, 180.0, 20.0, 40.0), True, False),
    ]


def test_the_seen_part_counts_only_where_a_flaw_asks_for_it() -> None:
    cover = replace(COVER, turns_deg=(0.0, 180.0), seen_mm=rectangle(100, 70, 5, 7))
    plain = job_of(Question((cover,), (cloth(300, 300),))).items[0].poses[0]
    assert len(plain) == 1
    stained = cloth(300, 300, keep_outs=(flaw(rectangle(5, 5, 20, 20), seen_only=True),))
    poses = job_of(Question((cover,), (stained,))).items[0].poses[0]
    assert [pose.seen for pose in poses] == [Box(5.0, 7.0, 100.0, 70.0), Box(15.0, 3.0, 100.0, 70.0)]


def test_a_piece_is_allowed_by_print_cloth_and_ground() -> None:
    ground = Ground("g", Region.of(rectangle(10, 10)), "waves")
    on = ClothAsked("c", "c", rectangle(10, 10), (ground,))
    assert allowed_on(COVER, on, ground)
    assert allowed_on(replace(COVER, print_id="waves"), on, ground)
    assert not allowed_on(replace(COVER, print_id="seeds"), on, ground)
    assert not allowed_on(replace(COVER, cloth_ids=("d",)), on, ground)
    assert not allowed_on(replace(COVER, ground_ids=("h",)), on, ground)
    assert allowed_on(replace(COVER, cloth_ids=("c",), ground_ids=("g",)), on, ground)


def test_equal_shapes_have_equal_keys() -> None:
    job = job_of(Question((COVER, replace(COVER, id="b"), piece("d", 120, 81, ANY)), (cloth(300, 300),)))
    keys = [item.shape_key() for item in job.items]
    assert keys[0] == keys[1] != keys[2]


def test_there_is_a_look_at_every_kind_of_piece() -> None:
    looks: list[int] = []
    pieces = tuple(piece(f"p-{k}", 10 + k % 3, 10) for k in range(30))
    assert rectangular_job(Question(pieces, (cloth(100, 100),)), lambda: looks.append(1)) is not None
    assert len(looks) == 3


def test_all_turns_of_a_piece_or_one_for_each_shape() -> None:
    on = cloth(300, 200)
    pairs = [(on, on.grounds[0])]
    board = piece("board", 80, 50, ANY)
    (by_shape,), (all_turns,) = poses_on(board, pairs) or (), poses_on(board, pairs, all_turns=True) or ()
    assert [pose.turn_deg for pose in by_shape] == [0.0, 90.0]
    assert [pose.turn_deg for pose in all_turns] == [0.0, 90.0, 180.0, 270.0]
    # On ground the piece may not come from there is none; one that leans is no upright rectangle at all.
    assert poses_on(replace(board, cloth_ids=("d",)), pairs) == ((),)
    assert poses_on(replace(board, turns_deg=(0.0, 30.0)), pairs) is None
