"""Own pieces over the clipboard: text of our own kind, names and ids that are free, and nothing taken for granted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.cutting.clipboard import PIECES_MIME, copied, pasted, without_pieces
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.books import change_own_piece
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import LockWish, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.storage.records import FORMAT, project_to_json
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print

L_SHAPE = ((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0))
POCKET = OwnPiece(
    "own-1",
    "pocket",
    outline_mm=L_SHAPE,
    count=3,
    turns="free",
    source=Source("print-1", "cloth-1", "zone-1"),
    reference_mm=(10.0, 80.0),
    seen_mm=rectangle(15.0, 60.0, 2.0, 5.0),
)
LABEL = OwnPiece("own-2", "label", 30.0, 20.0)
START = Project(
    prints=(Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0))),),
    cloths=(Cloth("cloth-1", "Yard", 900.0, 800.0, zones=(Zone("zone-1", "left", rectangle(300.0, 800.0)),)),),
    books=(Book("book-1", "Ledger", page_mm=(114.3, 152.4)),),
    own_pieces=(POCKET, LABEL),
    next_number=5,
)


def names(project: Project) -> list[str]:
    return [own.name for own in project.own_pieces]


def test_no_two_pieces_are_shown_by_the_same_words() -> None:
    """Pocket 2 and 3 are pieces of the first kind, so the copy is the fourth pocket."""
    after = pasted(copied(START, ("pocket-1",))).change(START)
    assert [own.name for own in after.own_pieces] == ["pocket", "label", "pocket 4"]


def test_a_pasted_piece_is_the_same_under_a_free_name_and_waits() -> None:
    after = pasted(copied(START, ("pocket-2",))).change(START)
    assert names(after) == ["pocket", "label", "pocket 4"]
    new = after.own_pieces[2]
    assert replace(new, id="own-1", name="pocket", count=3) == POCKET
    assert (new.id, new.piece_ids) == ("own-5", ("pocket 4-1",))
    assert after.layout == START.layout
    again = pasted(copied(after, ("pocket 4-1",))).change(after)
    assert names(again)[-1] == "pocket 5"
    assert PIECES_MIME.startswith("application/")


def test_several_are_pasted_in_one_step() -> None:
    edit = pasted(copied(START, ("pocket-1", "pocket-3", "label-1")))
    assert names(edit.change(START)) == ["pocket", "label", "pocket 4", "pocket 5", "label 2"]
    assert edit.name.text() == "Paste 3 pieces"
    assert pasted(copied(START, ("label-1",))).name.text() == "Paste label"


def test_a_name_is_not_free_when_its_ids_are_taken() -> None:
    odd = replace(START, own_pieces=(LABEL, OwnPiece("own-3", "strip", 9.0, 9.0, ids=("label 2-1",))))
    assert names(pasted(copied(odd, ("label-1",))).change(odd))[-1] == "label 3"


def test_in_another_project_a_source_is_left_open_unless_it_is_the_same_there() -> None:
    text = copied(START, ("pocket-1",))
    other = Project(cloths=(Cloth("cloth-1", "Quite another", 300.0, 300.0),), next_number=1)
    assert pasted(text).change(other).own_pieces[0].source == Source()
    assert pasted(text).change(other).own_pieces[0].name == "pocket"
    renamed = replace(START, cloths=(replace(START.cloths[0], name="Second yard"),))
    assert pasted(text).change(renamed).own_pieces[-1].source == Source("print-1", None, "zone-1")
    only_zone = replace(POCKET, source=Source(zone_id="zone-1"))
    bound = replace(START, own_pieces=(only_zone,))
    assert pasted(copied(bound, ("pocket-1",))).change(bound).own_pieces[1].source == Source(zone_id="zone-1")


def test_pieces_of_a_book_are_not_copied() -> None:
    for refused in (lambda: copied(START, ("pocket-1", "front-1")), lambda: without_pieces(("front-1",)).change(START)):
        with pytest.raises(BadInput, match=r"^front-1 belongs to a book and comes with it"):
            refused()


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"milk, eggs",
        b'{"format": 1, "name": "Six ledgers"}',
        project_to_json(START),
        project_to_json(Project(name="pieces of coverlayout")),
        copied(START, ("label-1",)).replace(b"30.0", b"1e999"),
        copied(START, ("label-1",)).replace(b"30.0", b"-3.0"),
        copied(START, ("label-1",)).replace(b'"format": %d' % FORMAT, b'"format": 99'),
        copied(START, ("label-1",)) + b" " * 1_000_000,
        b"[" * 5000,
    ],
)
def test_a_text_that_is_not_ours_is_told_in_one_sentence(text: bytes) -> None:
    with pytest.raises(BadInput, match=r"^The clipboard holds no pieces of this program"):
        pasted(text)


def test_a_piece_taken_out_leaves_the_others_of_its_kind_alone() -> None:
    lying = tuple(Placed(f"pocket-{k}", "cloth-1", 100.0 * k, 100.0) for k in (1, 2, 3))
    laid = pin(("pocket-1", "pocket-2")).change(place(lying).change(START))
    wished = replace(
        laid, locks=(LockWish("wish-1", "pocket-2", (1.0, 2.0)), LockWish("wish-2", "pocket-3", (1.0, 2.0)))
    )
    after = without_pieces(("pocket-2",)).change(wished)
    assert after.own_pieces[0].piece_ids == ("pocket-1", "pocket-3")
    assert after.layout.placements == (lying[0], lying[2])
    assert after.layout.pinned == ("pocket-1",)
    assert [lock.id for lock in after.locks] == ["wish-2"]
    assert {"pocket-1", "pocket-3", "label-1"} <= {piece.id for piece in planned_pieces(after)}
    rest = without_pieces(("pocket-1", "label-1", "pocket-3")).change(after)
    assert rest.own_pieces == ()
    assert rest.layout.placements == ()


def test_the_count_still_changes_after_one_was_taken_out() -> None:
    after = without_pieces(("pocket-1",)).change(START)
    more = change_own_piece("own-1", count=4).change(after)
    assert more.own_pieces[0].piece_ids == ("pocket-2", "pocket-3", "pocket-1", "pocket-4")
    fewer = change_own_piece("own-1", count=1).change(more)
    assert fewer.own_pieces[0].piece_ids == ("pocket-2",)


def test_a_piece_that_was_cut_is_not_taken_out() -> None:
    cut = mark_cut(("label-1",)).change(place((Placed("label-1", "cloth-1", 100.0, 100.0),)).change(START))
    with pytest.raises(BadInput, match="label-1 is cut already"):
        without_pieces(("pocket-1", "label-1")).change(cut)
    assert names(pasted(copied(cut, ("label-1",))).change(cut))[-1] == "label 2"


def test_taking_out_has_a_name_for_the_undo_menu() -> None:
    assert without_pieces(("label-1",)).name.text() == "Take label-1 out of the job"
    assert without_pieces(("label-1", "pocket-1")).name.text() == "Take 2 pieces out of the job"
    assert without_pieces(()).change(START) is START
