"""Whatever the structure: the cut list, the record and the pieces of a set of books tell of the same things."""

import json
from collections import Counter
from typing import Any

from drawn_books import STRUCTURES
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.book.book import Book, Liner, Paper, Sewing, SpineLining, ThreadColour, Volume
from coverlayout.book.materials.plan import BookPlan, plan
from coverlayout.book.materials.record import as_record

LININGS: tuple[SpineLining | None, ...] = (None, "none", "strip", "hollow tube")
LINERS: tuple[Liner, ...] = ("cloth", "paper", "none")


@st.composite
def books(draw: st.DrawFn) -> Book:
    """A set of one to four volumes, some of them alike, measured or from paper."""
    structure = draw(st.sampled_from(STRUCTURES))
    thick = draw(st.lists(st.sampled_from((8.0, 15.0, 31.0)), min_size=1, max_size=4))
    from_paper = structure != "slipcase" and draw(st.booleans())
    pairs = draw(st.booleans())
    return Book(
        "b",
        "Ledger",
        structure,
        block_mm=None if from_paper else (120.0, 180.0, 12.0),
        paper=Paper((250.0, 360.0), sheets=draw(st.integers(4, 60)), cut=(2, 1), gsm=90.0) if from_paper else None,
        liners=draw(st.sampled_from(LINERS)),
        spine_lining=draw(st.sampled_from(LININGS)),
        opens=draw(st.sampled_from(("left", "right"))),
        sides=draw(st.sampled_from(("cloth", "paper"))),
        sewing=Sewing("pairs" if pairs else "even", colours=(ThreadColour("red", 0),) if pairs else ()),
        volumes=tuple(Volume(2 * k + 1, mm) for k, mm in enumerate(thick)),
    )


def _record(made: BookPlan) -> dict[str, Any]:
    read: dict[str, Any] = json.loads(json.dumps(as_record(made, lambda piece: piece.turns or "half"), allow_nan=False))
    return read


@given(books())
def test_every_piece_of_cloth_is_in_the_cut_list_once(book: Book) -> None:
    made = plan(book)
    listed = Counter[tuple[str, float, float]]()
    for row in made.cut_list:
        if row.material == "cloth":
            listed[row.name, round(row.width_mm, 3), round(row.height_mm, 3)] += row.count
    pieces = Counter((piece.name, round(piece.width_mm, 3), round(piece.height_mm, 3)) for piece in made.pieces)
    assert listed == pieces


@given(books())
def test_every_board_of_every_volume_is_in_the_cut_list(book: Book) -> None:
    made = plan(book)
    listed = sum(row.count for row in made.cut_list if row.material in ("board", "card"))
    assert listed == sum(board.count for volume in made.volumes for board in volume.boards)


@given(books())
def test_rows_tell_their_volumes_and_sizes(book: Book) -> None:
    numbers = {volume.number for volume in book.volumes}
    for row in plan(book).cut_list:
        assert row.count >= 1
        assert row.volumes
        assert set(row.volumes) <= numbers
        assert len(set(row.volumes)) == len(row.volumes)
        assert row.height_mm > 0
        assert (row.width_mm > 0) == (row.material != "thread")


@given(books())
def test_the_record_counts_what_the_plan_holds(book: Book) -> None:
    made = plan(book)
    record = _record(made)
    assert sum(row["count"] for row in record["pieces"]) == len(made.pieces)
    assert [row["count"] for row in record["cut_list"]] == [row.count for row in made.cut_list]
    assert [volume["number"] for volume in record["volumes"]] == [volume.number for volume in book.volumes]
    assert len(record["notes"]) == len(made.notes)


@given(books())
def test_the_threads_of_a_volume_are_as_long_as_its_rule_says(book: Book) -> None:
    made = plan(book)
    needed = made.first.thread
    rows = [row for row in made.cut_list if row.material == "thread"]
    if needed is None or needed.total_mm is None:
        assert rows == []
        return
    in_all = sum(row.count * row.height_mm for row in rows)
    assert abs(in_all - needed.total_mm * len(book.volumes)) < 1e-6 * in_all
