"""Any row of edits can be taken back and made again, keeps the project one that can be, and survives a file."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from full_project import FULL
from hypothesis import given, settings
from hypothesis import strategies as st

from coverlayout.book.book import Book, OwnPiece, Source, TurnIns
from coverlayout.book.parts import pieces_of_own
from coverlayout.book.pieces import Piece
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Flaw, Zone
from coverlayout.cloth.remeasuring import Remeasured
from coverlayout.cloth.usable import outline_region
from coverlayout.document.checks.whole import checked, pieces_made
from coverlayout.document.cutting.clipboard import copied, pasted, without_pieces
from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled, unmark
from coverlayout.document.cutting.remnants import make_remnant
from coverlayout.document.cutting.rows import add_piece_there
from coverlayout.document.cutting.turning import turn_to
from coverlayout.document.edits.books import (
    add_book,
    add_own_piece,
    change_book,
    change_own_piece,
    remove_book,
    remove_own_piece,
    set_copies,
)
from coverlayout.document.edits.cloths import (
    add_change,
    add_cloth,
    add_flaw,
    change_cloth,
    change_flaw,
    duplicate_cloth,
    lay_print,
    move_cloth,
    remove_change,
    remove_cloth,
    remove_flaw,
    rename_cloth,
    trace_outline,
)
from coverlayout.document.edits.job import change_rules, rename_project, set_price
from coverlayout.document.edits.placements import (
    accept,
    move_by,
    pin,
    place,
    take_off,
    turn_piece,
    unpin,
)
from coverlayout.document.edits.prints import add_print, change_print, remove_print, set_tile_mark
from coverlayout.document.edits.stocks import add_stock, change_stock, remove_stock
from coverlayout.document.edits.wishes import add_link, add_lock, remove_wish
from coverlayout.document.edits.zones import (
    add_zone,
    change_zone,
    cut_zone,
    divide_cloth,
    remove_all_zones,
    remove_zone,
    set_source,
)
from coverlayout.document.history import Edit
from coverlayout.document.layouts.named import (
    add_layout,
    duplicate_layout,
    move_layout,
    remove_layout,
    rename_layout,
    switch_layout,
)
from coverlayout.document.measuring.again import measure_again
from coverlayout.document.measuring.base_lines import measure_from_line, set_base_line, set_skew
from coverlayout.document.paneling.cutting_apart import cut_into_panels
from coverlayout.document.project import LinkWish, LockWish, Project, Stock
from coverlayout.document.session import Session
from coverlayout.document.storage.archive import read_archive, write_archive
from coverlayout.document.storage.records import project_from_json, project_to_json
from coverlayout.errors import BadInput
from coverlayout.geometry.empty_rectangles import EmptyRectangle
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

lengths = st.floats(0.5, 900.0, allow_nan=False)
signed = st.floats(-300.0, 300.0, allow_nan=False)
pages = st.floats(60.0, 300.0, allow_nan=False)
names = st.text(min_size=1, max_size=12)
# A bench in the middle of its work: a book that can be made, own pieces, everything lying somewhere.
BUSY = place(
    (
        Placed(f"front-{FULL.next_volume_number}", "cloth-1", 90.0, 120.0),
        Placed(f"back-{FULL.next_volume_number}", "cloth-1", 230.0, 120.0),
        Placed("p-b", "cloth-1", 9.0, 9.0),
    )
).change(add_book(Book("", "Ledger", page_mm=(114.3, 152.4))).change(replace(FULL, books=(), cut_pieces=())))
starts = st.sampled_from([Project(), FULL, BUSY, BUSY])
Pick = Callable[[Any], Any]


def pieces_now(project: Project) -> list[Piece]:
    own = [piece for one in project.own_pieces for piece in pieces_of_own(one)]
    return own + [piece for book in project.books for piece in pieces_made(book)]


def some(pick: Pick, found: Any, otherwise: str = "none-9") -> str:
    """The id of one of the records, or one that is not there."""
    return pick(st.sampled_from([*(record.id for record in found)] * 5 + [otherwise]))


def somewhere(pick: Pick, project: Project, piece: str) -> Placed:
    return Placed(
        piece, some(pick, project.cloths), pick(signed), pick(signed), pick(st.sampled_from([0.0, 90.0, 7.5]))
    )


def edits_of_cloths(pick: Pick, project: Project) -> list[Edit]:
    cloth = some(pick, project.cloths)
    parts = [part.id for one in project.cloths for part in (*one.flaws, *one.zones)]
    part = pick(st.sampled_from([*parts, "none-9"]))
    laid = LaidPrint(some(pick, project.prints), (pick(signed), 0.0), pick(signed))
    return [
        add_cloth(Cloth("", pick(names), pick(lengths), pick(lengths))),
        change_cloth(cloth, trim_mm=pick(signed), name=pick(names)),
        add_change(cloth, Change(pick(names), pick(st.floats(-20, 20)), pick(st.floats(-20, 20)))),
        remove_change(cloth, pick(st.integers(0, 2))),
        add_flaw(cloth, Flaw("", pick(names), rectangle(pick(lengths), pick(lengths)))),
        add_zone(cloth, Zone("", pick(names), rectangle(pick(lengths), pick(lengths)), laid)),
        remove_flaw(cloth, part),
        remove_zone(cloth, part),
        lay_print(cloth, pick(st.sampled_from([None, laid]))),
        remove_cloth(cloth),
    ]


def edits_of_grounds(pick: Pick, project: Project) -> list[Edit]:
    cloth = some(pick, project.cloths)
    zones = [zone for one in project.cloths for zone in one.zones]
    zone, flaw = some(pick, zones), some(pick, [flaw for one in project.cloths for flaw in one.flaws])
    ring = rectangle(pick(lengths), pick(lengths), pick(signed), pick(signed))
    start, end = (abs(pick(signed)), abs(pick(signed))), (abs(pick(signed)), abs(pick(signed)))
    repeats = (pick(st.integers(-2, 2)), pick(st.integers(-2, 2)))
    line = pick(st.sampled_from([None, BaseLine(start, end, repeats, True)]))
    left = LeftOver(
        cloth, cloth, EmptyRectangle(start, pick(lengths), pick(lengths), pick(signed)), up_deg=pick(signed)
    )
    return [
        duplicate_cloth(cloth),
        move_cloth(cloth, pick(st.integers(-1, 3))),
        rename_cloth(cloth, pick(names)),
        trace_outline(cloth, ring[: pick(st.integers(2, 4))]),
        change_flaw(cloth, flaw, points_mm=ring, fine_where_hidden=True),
        change_zone(cloth, zone, outline_mm=ring),
        divide_cloth(cloth, pick(st.integers(0, 3)), pick(st.integers(1, 3)), pick(signed)),
        cut_zone(cloth, zone, start, end),
        remove_all_zones(cloth),
        set_source(some(pick, project.own_pieces), "own", Source(cloth_id=cloth, zone_id=zone)),
        set_source(some(pick, project.books), "covers", Source(some(pick, project.prints))),
        set_base_line(cloth, line, lay=pick(st.booleans())),
        measure_from_line(cloth, True),
        set_skew(cloth, pick(signed), pick(lengths)),
        measure_again(cloth, Remeasured(200.0, pick(st.floats(120.0, 199.0))), None),
        add_piece_there(left, pick(names)),
    ]


def edits_of_prints_and_wishes(pick: Pick, project: Project) -> list[Edit]:
    a_print, pieces = some(pick, project.prints), [piece.id for piece in pieces_now(project)]
    piece = pick(st.sampled_from([*pieces, "front-1"]))
    return [
        add_print(Print("", pick(names), Lattice((pick(lengths), 0.0), (0.0, pick(lengths))))),
        change_print(a_print, up="any"),
        remove_print(a_print),
        set_tile_mark(a_print, pick(names), (pick(signed), pick(signed))),
        add_lock(LockWish("", piece, (pick(signed), pick(signed)))),
        add_link(LinkWish("", (piece, pick(st.sampled_from([*pieces, "back-1"]))))),
        remove_wish(some(pick, project.wishes)),
        rename_project(pick(names)),
        change_rules(gap_mm=pick(signed)),
        set_price(pick(names), pick(st.one_of(st.none(), signed))),
    ]


def edits_of_books(pick: Pick, project: Project) -> list[Edit]:
    book, own = some(pick, project.books), some(pick, project.own_pieces)
    return [
        add_book(Book("", pick(names), page_mm=(pick(pages), pick(pages)))),
        change_book(book, turn_ins=TurnIns.all_round(pick(signed))),
        change_book(book, liners=pick(st.sampled_from(["cloth", "none"]))),
        set_copies(book, pick(st.integers(0, 4))),
        remove_book(book),
        add_own_piece(OwnPiece("", pick(names), pick(lengths), pick(lengths), count=pick(st.integers(1, 3)))),
        change_own_piece(own, count=pick(st.integers(0, 3))),
        change_own_piece(own, name=pick(names), ids=()),
        remove_own_piece(own),
    ]


def edits_of_places(pick: Pick, project: Project) -> list[Edit]:
    pieces = pieces_now(project)
    lying = [placed.piece for placed in project.layout.placements] or ["front-1"]
    layout = some(pick, project.layouts)
    edits = [
        move_by(tuple(pick(st.lists(st.sampled_from(lying), max_size=3))), pick(signed), pick(signed)),
        turn_piece(pick(st.sampled_from(lying)), pick(signed)),
        take_off((pick(st.sampled_from(lying)),)),
        pin((pick(st.sampled_from(lying)),)),
        unpin((pick(st.sampled_from(lying)),)),
        add_layout(pick(names)),
        duplicate_layout(layout, pick(names)),
        remove_layout(layout),
        switch_layout(layout),
        rename_layout(layout, pick(names)),
        move_layout(layout, pick(st.integers(-1, 3))),
    ]
    edits += [unmark(project.cut_pieces[:1])]
    part = rectangle(abs(pick(signed)) + 20.0, abs(pick(signed)) + 20.0, pick(signed), pick(signed))
    edits += [make_remnant(some(pick, project.cloths), pick(st.sampled_from([None, part])))]
    edits += [turn_to(pick(st.sampled_from(lying)), pick(signed)), without_pieces((pick(st.sampled_from(lying)),))]
    if project.own_pieces and project.own_pieces[0].piece_ids:
        edits += [pasted(copied(project, project.own_pieces[0].piece_ids[:1]))]
    for piece in pick(st.lists(st.sampled_from(pieces), max_size=2)) if pieces else ():
        where = somewhere(pick, project, piece.id)
        edits += [place((where,)), accept((where,)), mark_cut((piece.id,)), mark_spoiled((piece.id,))]
    return edits


def edits_of_stocks(pick: Pick, project: Project) -> list[Edit]:
    """Stocks, and a cloth cut in two across or along."""
    stock, cloth = some(pick, project.stocks), some(pick, project.cloths)
    material = pick(st.sampled_from(["board", "web", "tissue", "thread"]))
    size = pick(lengths), pick(st.one_of(st.none(), lengths))
    edits = [
        add_stock(Stock("", pick(names), material, *size, price=pick(st.one_of(st.none(), signed)))),
        change_stock(stock, width_mm=pick(signed), name=pick(names)),
        remove_stock(stock),
    ]
    for there in (one for one in project.cloths if one.id == cloth):
        box, share = outline_region(there).bounds, pick(st.floats(-0.1, 1.1))
        first = Box(box.left_mm, box.top_mm, box.width_mm * share, box.height_mm)
        rest = Box(first.right_mm, box.top_mm, box.width_mm - first.width_mm, box.height_mm)
        edits.append(cut_into_panels(cloth, (first, rest)))
    return edits


GROUPS = (
    edits_of_cloths,
    edits_of_grounds,
    edits_of_prints_and_wishes,
    edits_of_books,
    edits_of_places,
    edits_of_places,
    edits_of_stocks,
)


def edited(data: st.DataObject, start: Project, most: int) -> tuple[Session, list[Project]]:
    """A session after a row of edits, and every project on the way; an edit that is refused changes nothing."""
    session, way = Session(start), [start]
    for _ in range(data.draw(st.integers(1, most))):
        group = data.draw(st.sampled_from(GROUPS))
        edit = data.draw(st.sampled_from(group(data.draw, session.project)))
        before = session.project
        try:
            session.do(edit)
        except BadInput as fault:
            assert str(fault)  # noqa: PT017  # most edits are not refused
            assert session.project is before
        if session.project is not before:
            way.append(session.project)
    return session, way


@settings(max_examples=60)
@given(st.data(), starts)
def test_edits_taken_back_and_made_again_give_the_very_same_projects(data: st.DataObject, start: Project) -> None:
    session, way = edited(data, start, 12)
    for project in reversed(way):
        assert session.project is project
        session.undo()
    assert session.undo_name is None
    for project in way:
        assert session.project is project
        session.redo()
    assert session.redo_name is None


@settings(max_examples=60)
@given(st.data(), starts)
def test_whatever_edits_make_can_be_saved_and_opened(data: st.DataObject, start: Project) -> None:
    session, way = edited(data, start, 12)
    for project in way:
        assert checked(project) is project
    text = project_to_json(session.project)
    assert project_from_json(text, "test") == session.project
    file = io.BytesIO()
    write_archive(file, text, {})
    assert read_archive(file, "test")[0] == text


@settings(max_examples=60)
@given(st.data(), starts)
def test_nothing_is_named_twice_on_the_whole_way(data: st.DataObject, start: Project) -> None:
    """An id that was gone for one step never comes back for another thing; numbers of copies neither."""
    _, way = edited(data, start, 15)
    seen: dict[str, bool] = {}
    for project in way:
        records = (*project.cloths, *project.prints, *project.books, *project.own_pieces, *project.layouts)
        here = {record.id for record in records} | {wish.id for wish in project.wishes}
        here |= {stock.id for stock in project.stocks}
        here |= {part.id for cloth in project.cloths for part in (*cloth.flaws, *cloth.zones)}
        here |= {f"copy {volume.number}" for book in project.books for volume in book.volumes}
        for name in here:
            assert seen.get(name, True), f"{name} came back"
            seen[name] = True
        seen.update({name: False for name in seen if name not in here})


@settings(max_examples=30)
@given(st.data())
def test_what_the_file_said_beyond_our_words_outlives_edits_of_other_things(data: st.DataObject) -> None:
    """Each record that is still there after the edits keeps what it held for a newer program."""
    session, _ = edited(data, FULL, 8)
    kept = {cloth.id: cloth.unknown for cloth in FULL.cloths}
    assert all(cloth.unknown == kept[cloth.id] for cloth in session.project.cloths if cloth.id in kept)
    kept = {book.id: book.unknown for book in FULL.books}
    assert all(book.unknown == kept[book.id] for book in session.project.books if book.id in kept)
    assert session.project.unknown == FULL.unknown
    assert session.project.rules.unknown == FULL.rules.unknown
