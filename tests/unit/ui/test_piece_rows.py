"""The list of pieces: each with its state by word and sign; the chosen ones sorted by what can be done with them."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.books import remove_own_piece
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import Project
from coverlayout.layout.question import Placed
from coverlayout.ui.parts.chosen import Chosen
from coverlayout.ui.parts.piece_rows import called, planned_or_none, rows_of, spoiled_of
from coverlayout.ui.table.shown import bench_of

START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 900.0, 500.0),),
    books=(Book("book-1", "Ledger", board_mm=(100.0, 140.0), liners="none", volumes=(Volume(1), Volume(2))),),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0),),
)
LYING = tuple(
    Placed(piece, "cloth-1", 100.0 + 150.0 * k, 100.0)
    for k, piece in enumerate(("front-1", "back-1", "front-2", "back-2", "pocket-1"))
)
LAID = pin(("back-1", "front-2")).change(place(LYING).change(START))


def test_every_state_has_its_word_and_its_sign() -> None:
    project = mark_spoiled(("back-2",)).change(mark_cut(("pocket-1",)).change(LAID))
    rows = rows_of(project, {"front-2"})
    assert [(row.words, row.symbol) for row in rows] == [
        ("Front cover 1  ·  planned", "tick"),
        ("Back cover 1  ·  pinned", "pin"),
        ("Front cover 2  ·  pinned, breaks a rule", "cross"),
        ("Back cover 2  ·  waits", "ring"),
        ("Pocket  ·  cut", "corner"),
        ("Back cover 2  ·  spoiled", "struck"),
    ]
    assert next(row.words for row in rows_of(LAID, {"front-1"})) == "Front cover 1  ·  breaks a rule"
    assert [row.id for row in rows[:5]] == ["front-1", "back-1", "front-2", "back-2", "pocket-1"]
    assert spoiled_of(project, [row.id for row in rows]) == (project.cut_pieces[1],)
    assert spoiled_of(LAID, [row.id for row in rows]) == ()


def test_facts_keep_their_names_when_nothing_asks_for_them_any_more() -> None:
    project = mark_spoiled(("pocket-1",)).change(mark_cut(("front-1",)).change(LAID))
    bare = replace(remove_own_piece("own-1").change(project), books=(), layouts=Project().layouts)
    assert [row.words for row in rows_of(bare, ())] == ["Front cover  ·  cut", "Pocket  ·  spoiled"]
    assert called(bare) == {"front-1": "Front cover"}


def test_a_book_that_cannot_be_made_has_no_rows() -> None:
    broken = replace(START, books=(replace(START.books[0], liners="cloth", liner_inset_mm=90.0),))
    assert planned_or_none(broken) == ()
    assert rows_of(broken, ()) == ()


def chosen(project: Project, *ids: str, rows: tuple[str, ...] = ()) -> Chosen:
    return Chosen(project, bench_of(project)[0], ids, rows)


def test_the_chosen_are_sorted_by_what_can_be_done() -> None:
    project = mark_cut(("pocket-1",)).change(LAID)
    found = chosen(project, "front-1", "back-1", "pocket-1", "nobody")
    assert [lying.piece.id for lying in found.on_cloth] == ["front-1", "back-1", "pocket-1"]
    assert found.lying == ("front-1", "back-1")
    assert found.staying == {"back-1", "pocket-1"}
    assert not found.all_pinned
    assert found.cut == found.facts == project.cut_pieces
    assert found.to_lay == ("front-1",)
    assert not found.any_waits
    assert (found.name("front-1"), found.name("nobody")) == ("front cover 1", "nobody")


def test_all_pinned_means_every_one_that_lies() -> None:
    assert chosen(LAID, "back-1", "front-2").all_pinned
    assert not chosen(LAID).all_pinned
    waits = replace(LAID, layouts=(replace(LAID.layout, placements=LYING[:1], pinned=()),))
    assert chosen(waits, "back-1").lying == ()
    assert not chosen(waits, "back-1").all_pinned
    assert chosen(waits).any_waits
    assert not chosen(replace(START, cloths=())).any_waits
