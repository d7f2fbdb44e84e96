"""A book of every structure, laid, measured anew by others, grown, counted, cut and spoiled, saved and opened again."""

from __future__ import annotations

import csv
import io
import math
import re
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
from every_structure import CASES_OF_BOOKS, SHEARED, project_of
from pdf_reader import stroked_outlines_mm, text_of
from shapely import Polygon

from coverlayout.book.book import Paper, Source
from coverlayout.book.measures import board_over_page_mm, board_size_mm, measures
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.cloth.cloth import BaseLine, Cloth, Flaw
from coverlayout.document.asking.sentences import with_wishes_said
from coverlayout.document.changing.change import take_change
from coverlayout.document.changing.changing import what_would_fit
from coverlayout.document.changing.lengths import with_smaller_boards
from coverlayout.document.cutting.clipboard import copied
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.books import set_copies, set_volumes
from coverlayout.document.edits.cloths import add_cloth, change_cloth
from coverlayout.document.edits.placements import accept
from coverlayout.document.edits.wishes import add_link
from coverlayout.document.edits.zones import set_source
from coverlayout.document.file import load, save
from coverlayout.document.project import LinkWish, Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces, question_for
from coverlayout.document.sizing.boards import place_on_book
from coverlayout.document.sizing.count import CountAsked, count_books
from coverlayout.document.sizing.largest import LargestAsked, largest_board
from coverlayout.errors import BadInput
from coverlayout.exporting.sheet import write_papers
from coverlayout.geometry.frames import Point, Ring
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Placed

STEPS = 6_000
EVERY = pytest.mark.parametrize("name", CASES_OF_BOOKS)
# The pieces whose print a maker may want to run on around the spine; a slipcase's fold and lie apart.
OUTSIDE = ("cover", "spine piece", "side")
WIDTH_MM, LENGTH_MM = 860.0, 740.0


def on_small_cloth(name: str) -> Project:
    """A cloth for few copies, and no more than what covers the books: counting ends soon."""
    more = {} if CASES_OF_BOOKS[name][0] in ("limp-wrap", "slipcase") else {"label": None}
    return project_of(name, width_mm=430.0, length_mm=440.0, liners="paper", **more)


def laid(project: Project, steps: int = STEPS) -> Project:
    """The project with everything laid, which must come right."""
    answer = lay(question_for(project, staying=project.layout.pinned, steps=steps))
    assert answer.verdict in ("fits", "fits, tight"), answer.reason
    done = accept(answer.placed).change(project)
    check(done)
    return done


@lru_cache(maxsize=32)
def on_cloth(name: str) -> Project:
    return laid(project_of(name, width_mm=WIDTH_MM, length_mm=LENGTH_MM))


def check(project: Project) -> None:
    """Everything planned lies right."""
    report = judge_for(project).report(placed_now(project))
    assert report.verdict in ("valid", "valid, tight"), report.breaches
    assert not report.waiting


def on_the_cloth(ring: Ring, anchor_mm: Point, placed: Placed) -> list[Point]:
    """Where a piece's points lie, by the definition of a placement: the anchor at (x, y), turned clockwise."""
    cosine, sine = math.cos(math.radians(placed.turn_deg)), math.sin(math.radians(placed.turn_deg))
    moved = ((x - anchor_mm[0], y - anchor_mm[1]) for x, y in ring)
    return [(placed.x_mm + cosine * x - sine * y, placed.y_mm + sine * x + cosine * y) for x, y in moved]


def table_of(folder: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((folder / "placement.csv").read_text("utf-8"))))


@EVERY
@pytest.mark.parametrize("side", ["print", "back"])
def test_the_table_says_where_every_piece_lies_on_the_cloth(name: str, side: str, tmp_path: Path) -> None:
    project = on_cloth(name)
    write_papers(project, {}, tmp_path, side)  # type: ignore[arg-type]  # a word of Side
    rows = {row["piece"]: row for row in table_of(tmp_path)}
    made = planned_pieces(project)
    assert list(rows) == [piece.id for piece in made]
    assert len({row["name"] for row in rows.values()}) == len(made)
    for piece in made:
        placed = project.layout.place_of(piece.id)
        assert placed is not None
        corners = on_the_cloth(piece.outline_mm, piece.anchor_mm, placed)
        seen = corners if side == "print" else [(WIDTH_MM - x, y) for x, y in corners]
        row = rows[piece.id]
        left, top = min(x for x, _ in seen), min(y for _, y in seen)
        assert float(row["left_mm"]) == pytest.approx(left, abs=0.0051)
        assert float(row["top_mm"]) == pytest.approx(top, abs=0.0051)
        assert float(row["width_mm"]) == pytest.approx(max(x for x, _ in seen) - left, abs=0.0051)
        assert float(row["height_mm"]) == pytest.approx(max(y for _, y in seen) - top, abs=0.0051)
        told = [tuple(map(float, pair.split(","))) for pair in row["points_mm"].split()]
        assert (row["shape"] == "right triangle") == (piece.kind == "corner")
        for point, place in zip(sorted(told), sorted(seen), strict=True) if told else ():
            assert point == pytest.approx(place, abs=0.0051)
        if piece.kind == "corner":
            legs = float(row["own_width_mm"]), float(row["own_height_mm"])
            assert legs[0] * legs[1] / 2 == pytest.approx(Polygon(piece.outline_mm).area, rel=1e-3)


@EVERY
@pytest.mark.parametrize("side", ["print", "back"])
def test_the_drawing_has_every_cut_line_and_board_where_the_pieces_lie(name: str, side: str, tmp_path: Path) -> None:
    project = on_cloth(name)
    write_papers(project, {}, tmp_path, side)  # type: ignore[arg-type]  # a word of Side
    pdf = (tmp_path / "placement.pdf").read_bytes()
    found = re.search(r"Drawn 1 : ([\d.]+)", text_of(pdf))
    assert found is not None
    ratio = float(found[1])
    drawn = stroked_outlines_mm(pdf)
    # The first outline as large as the cloth is the cloth; everything is held against its corner.
    boxes = [(min(x for x, _ in ring), min(y for _, y in ring), ring) for ring in drawn]
    left, top, _ = next(
        (x, y, ring)
        for x, y, ring in boxes
        if max(px for px, _ in ring) - x == pytest.approx(WIDTH_MM / ratio, abs=0.05)
        and max(py for _, py in ring) - y == pytest.approx(LENGTH_MM / ratio, abs=0.05)
    )
    for piece in planned_pieces(project):
        placed = project.layout.place_of(piece.id)
        assert placed is not None
        closed = [mark.points_mm for mark in piece.marks if mark.kind in ("board", "window") and mark.closed]
        for ring in (piece.outline_mm, *closed):
            corners = on_the_cloth(ring, piece.anchor_mm, placed)
            seen = corners if side == "print" else [(WIDTH_MM - x, y) for x, y in corners]
            on_page = [(left + x / ratio, top + y / ratio) for x, y in seen]
            assert any(same(on_page, line) for line in drawn), (piece.id, on_page)


def same(ring: list[Point], line: list[Point]) -> bool:
    """Both go through the same corners, to what a reader of the page could never see."""
    reached = all(min(math.dist(corner, point) for point in line) < 0.02 for corner in ring)
    return reached and all(min(math.dist(point, corner) for corner in ring) < 0.02 for point in line)


@EVERY
def test_lines_that_are_drawn_are_explained_and_covers_name_their_parts(name: str, tmp_path: Path) -> None:
    project = on_cloth(name)
    write_papers(project, {}, tmp_path, "print")
    said = " ".join(text_of((tmp_path / "placement.pdf").read_bytes()).split())
    kinds = {mark.kind for piece in planned_pieces(project) for mark in piece.marks}
    words = {
        "joint": "joints and spine",
        "fold": "dashes across: fold",
        "lap": "Wide dots:",
        "window": "window or recess",
    }
    for kind, words_of_it in words.items():
        assert (words_of_it in said) == (kind in kinds), kind
    assert ("its two legs" in said) == any(piece.kind == "corner" for piece in planned_pieces(project))


@EVERY
def test_places_by_the_base_line_are_those_of_the_corner_that_is_ringed(name: str, tmp_path: Path) -> None:
    start, end = (30.0, 20.0), (42.0, 600.0)
    project = change_cloth("cloth", base_line=BaseLine(start, end, measured_from=True)).change(on_cloth(name))
    write_papers(project, {}, tmp_path, "print")
    long_mm = math.dist(start, end)
    along = (end[0] - start[0]) / long_mm, (end[1] - start[1]) / long_mm
    for row in table_of(tmp_path):
        at = float(row["left_mm"]) - start[0], float(row["top_mm"]) - start[1]
        assert float(row["line_along_mm"]) == pytest.approx(at[0] * along[0] + at[1] * along[1], abs=0.011)
        # Right of a line that runs down, as one looks at the cloth, is where x grows.
        assert float(row["line_across_mm"]) == pytest.approx(at[0] * along[1] - at[1] * along[0], abs=0.011)


@EVERY
def test_the_largest_board_is_laid_and_keeps_squares_joints_and_thickness(name: str) -> None:
    project = project_of(name, width_mm=560.0, length_mm=620.0, liners="paper")
    before = project.books[0]
    found = largest_board(LargestAsked(project))
    assert found.board_mm is not None
    after = found.project.books[0]
    assert board_size_mm(after) == pytest.approx(found.board_mm, abs=1e-6)
    assert found.board_mm[0] / found.board_mm[1] == pytest.approx(
        board_size_mm(before)[0] / board_size_mm(before)[1], abs=1e-4
    )
    check(accept(found.answer.placed).change(found.project))
    old, new = (measures(book, book.volumes[0]) for book in (before, after))
    for figure in ("square_mm", "joint_mm", "gap_mm", "thickness_mm", "setback_mm", "hinge_mm", "board_thickness_mm"):
        assert getattr(new, figure) == pytest.approx(getattr(old, figure)), figure
    assert after.turn_ins == before.turn_ins
    assert after.label == before.label
    assert after.volumes == before.volumes
    assert after.block_mm is not None
    page_mm = tuple(side - over for side, over in zip(found.board_mm, board_over_page_mm(after), strict=True))
    assert after.block_mm[:2] == pytest.approx(page_mm, abs=1e-6)


@pytest.mark.parametrize("name", ["flat-case", "quarter-case", "half-case", "side-sewn", "slipcase"])
@pytest.mark.parametrize("keep", ["height", "width"])
def test_a_side_of_the_board_is_kept(name: str, keep: str) -> None:
    # A half case without its sides: the strip, whose width hangs on the board's height, and the corners.
    paper = {"liners": "paper", "sides": "paper", "label": None} if name == "half-case" else {"liners": "paper"}
    project = project_of(name, width_mm=560.0, length_mm=620.0, **paper)
    found = largest_board(LargestAsked(project, keep))  # type: ignore[arg-type]  # a word of Keep
    assert found.board_mm is not None
    side = 0 if keep == "width" else 1
    assert found.board_mm[side] == pytest.approx(board_size_mm(project.books[0])[side], abs=1e-6)
    check(accept(found.answer.placed).change(found.project))


@EVERY
def test_one_piece_cut_another_spoiled_the_rest_laid_anew_saved_and_opened(name: str, tmp_path: Path) -> None:
    project = on_cloth(name)
    first, *others = planned_pieces(project)
    worked = mark_cut((first.id,)).change(project)
    if others:
        worked = mark_spoiled((others[-1].id,)).change(worked)
    assert {piece.id for piece in planned_pieces(worked)} == {piece.id for piece in others}
    done = laid(worked) if others else worked
    fact = done.fact_of(first.id)
    assert fact is not None
    assert (fact.outline_mm, fact.seen_mm, fact.board) == (first.outline_mm, first.seen_mm, first.board)
    # What was cut has its size: it stays as it is when the book is bound anew.
    save(tmp_path / "book.coverlayout", done, {})
    assert load(tmp_path / "book.coverlayout").project == done
    write_papers(done, {}, tmp_path / "papers", "back")
    states = [row["state"] for row in table_of(tmp_path / "papers")]
    assert states.count("cut") == 1
    assert states.count("spoiled") == (1 if others else 0)
    assert states.count("planned") == len(others)


@EVERY
def test_copies_never_share_a_number_and_all_are_laid(name: str) -> None:
    project = set_copies("book-1", 3).change(project_of(name, width_mm=1400.0, length_mm=1400.0))
    fewer = set_copies("book-1", 1).change(project)
    again = set_copies("book-1", 2).change(fewer)
    assert [volume.number for volume in again.books[0].volumes] == [1, 4]
    made = planned_pieces(again)
    assert len({piece.id for piece in made}) == len(made)
    assert {piece.volume for piece in made} == {1, 4}
    laid(again, steps=2_000)
    counted = count_books(CountAsked(on_small_cloth(name)))
    assert counted.books >= 1
    assert counted.answer is not None
    check(accept(counted.answer.placed).change(counted.project))


@EVERY
def test_volumes_of_their_own_thickness_are_counted_as_sets(name: str) -> None:
    project = set_volumes("book-1", (12.0, 18.0)).change(on_small_cloth(name))
    made = planned_pieces(project)
    outlines = {number: [piece.outline_mm for piece in made if piece.volume == number] for number in (1, 2)}
    counted = count_books(CountAsked(project))
    sets = outlines[1] != outlines[2]
    assert counted.counted == ("sets of books" if sets else "books")
    each = sum(len(outlines[volume]) for volume in ((1, 2) if sets else (1,)))
    assert len(planned_pieces(counted.project)) == counted.books * each
    assert counted.books >= 1


def tiny_flaw(at_mm: Point, *, hidden: bool) -> Flaw:
    x, y = at_mm
    ring = ((x - 0.2, y - 0.2), (x + 0.2, y - 0.2), (x + 0.2, y + 0.2), (x - 0.2, y + 0.2))
    return Flaw("flaw-9", "spot", ring, fine_where_hidden=hidden)


@EVERY
def test_a_spot_is_fine_only_where_the_book_hides_it(name: str) -> None:
    project = on_cloth(name)
    for piece in planned_pieces(project):
        placed = project.layout.place_of(piece.id)
        assert placed is not None
        cut, seen = Polygon(piece.outline_mm), Polygon(piece.seen_mm or piece.outline_mm)
        shown = [on_the_cloth((seen.representative_point().coords[0],), piece.anchor_mm, placed)[0]]
        shown += [
            on_the_cloth((Polygon(face.outline_mm).representative_point().coords[0],), piece.anchor_mm, placed)[0]
            for face in piece.faces
        ]
        rest = cut.difference(seen.buffer(0.5, join_style="mitre")).buffer(-0.5, join_style="mitre")
        parts = [] if rest.is_empty else getattr(rest, "geoms", [rest])
        under = [on_the_cloth((part.representative_point().coords[0],), piece.anchor_mm, placed)[0] for part in parts]
        for at_mm, good in (*((at, False) for at in shown), *((at, True) for at in under)):
            spotted = change_cloth("cloth", flaws=(tiny_flaw(at_mm, hidden=True),)).change(project)
            report = judge_for(spotted).report(placed_now(spotted))
            assert (report.verdict in ("valid", "valid, tight")) == good, (piece.id, at_mm)


@EVERY
def test_a_part_that_must_come_from_another_cloth_does(name: str) -> None:
    project = project_of(name, width_mm=WIDTH_MM, length_mm=LENGTH_MM)
    project = add_cloth(Cloth("", "Remnant", 420.0, 380.0)).change(project)
    other = project.cloths[1].id
    kinds = {piece.kind for piece in planned_pieces(project)}
    for part, kind in (("sides", "side"), ("label", "label")):
        if kind not in kinds:
            continue
        sourced = laid(set_source("book-1", part, Source(cloth_id=other)).change(project), steps=2_000)  # type: ignore[arg-type]  # a Part
        of_kind = [piece.id for piece in planned_pieces(sourced) if piece.kind == kind]
        assert {placed.cloth for placed in placed_now(sourced) if placed.piece in of_kind} == {other}


def in_repeats(step_mm: Point) -> tuple[float, float]:
    """A step in the print's frame as multiples of its two repeats, by Cramer's rule."""
    (ax, ay), (bx, by) = SHEARED.a_mm, SHEARED.b_mm or (0.0, 0.0)
    det = ax * by - ay * bx
    return (step_mm[0] * by - step_mm[1] * bx) / det, (ax * step_mm[1] - ay * step_mm[0]) / det


def whole(step_mm: Point) -> bool:
    return all(abs(number - round(number)) < 0.002 for number in in_repeats(step_mm))


@EVERY
def test_matching_pieces_are_laid_alike(name: str) -> None:
    project = project_of(name, width_mm=1100.0, length_mm=900.0)
    if not any(piece.matches for piece in planned_pieces(project) if piece.kind != "liner"):
        with pytest.raises(BadInput) as refused:
            with_wishes_said(project, ["matching pieces alike"])
        assert refused.value.code == "wish-nothing-matches"
        return
    done = laid(with_wishes_said(project, ["matching pieces alike"]))
    places = {placed.piece: placed for placed in placed_now(done)}
    for link in done.links:
        first, *others = (places[piece] for piece in link.pieces)
        for other in others:
            assert whole((other.x_mm - first.x_mm, other.y_mm - first.y_mm)), link.pieces


@EVERY
def test_the_print_runs_on_over_the_pieces_of_a_book(name: str) -> None:
    """A point of the book shows the same place of the repeat by whichever piece one counts: the print is continuous."""
    project = project_of(name, width_mm=1100.0, length_mm=900.0)
    row = [piece for piece in planned_pieces(project) if piece.kind in OUTSIDE]
    if len(row) < 2 or project.books[0].structure == "slipcase":
        return
    first, *others = row
    (x, y), places = place_on_book(first), [place_on_book(other) for other in others]
    steps = tuple((other_x - x, other_y - y) for other_x, other_y in places)
    done = laid(add_link(LinkWish("", tuple(piece.id for piece in row), steps)).change(project))

    def book_to_cloth(piece: Piece) -> Point:
        """Where the book's origin comes to lie on the cloth by this piece; faces of a book's pieces are mere shifts."""
        placed, (book_x, book_y) = done.layout.place_of(piece.id), place_on_book(piece)
        assert placed is not None
        assert placed.turn_deg == 0.0
        return placed.x_mm - book_x, placed.y_mm - book_y

    origin_x, origin_y = book_to_cloth(first)
    for other in others:
        at_x, at_y = book_to_cloth(other)
        assert whole((at_x - origin_x, at_y - origin_y)), other.id


@EVERY
def test_every_change_that_is_offered_fits_and_touches_only_what_there_is(name: str) -> None:
    made = planned_pieces(project_of(name))
    # A little too narrow for the widest piece: it may not turn, for the print has one way up.
    narrow_mm = max(piece.width_mm for piece in made) - 4.0
    project = project_of(name, width_mm=narrow_mm, length_mm=1500.0)
    offered = what_would_fit(project, cuts=())
    before = project.books[0]
    assert {change.kind for change in offered} & {"turn-in", "two turn-ins", "smaller book", "paper liners"}
    if before.structure == "slipcase":
        assert "smaller book" not in {change.kind for change in offered}
    for change in offered:
        done = take_change(change, project).change(project)
        check(done)
        book = done.books[0]
        if change.kind in ("turn-in", "two turn-ins"):
            kept = [name for name in ("spine_mm", "tail_mm") if not _turned(before.structure, name)]
            assert all(getattr(book.turn_ins, field) == getattr(before.turn_ins, field) for field in kept)
        if change.kind == "smaller book":
            assert board_size_mm(book)[1] < board_size_mm(before)[1]
            assert measures(book, book.volumes[0]).gap_mm == pytest.approx(measures(before, before.volumes[0]).gap_mm)


def _turned(structure: str, field: str) -> bool:
    """Whether cloth is turned in there: at the spine of boards covered one by one, at the tail of all but slipcases."""
    if field == "spine_mm":
        return structure in ("separate-boards", "side-sewn", "accordion")
    return structure != "slipcase"


@EVERY
def test_pieces_of_a_book_come_with_the_book_and_are_not_copied(name: str) -> None:
    project = project_of(name)
    for piece in planned_pieces(project):
        with pytest.raises(BadInput) as refused:
            copied(project, (piece.id,))
        assert refused.value.code == "piece-of-book"


def test_two_volumes_have_names_that_tell_their_pieces_apart(tmp_path: Path) -> None:
    for name in CASES_OF_BOOKS:
        project = set_volumes("book-1", (12.0, 18.0)).change(project_of(name, width_mm=1400.0, length_mm=1200.0))
        done = laid(project, steps=2_000)
        write_papers(done, {}, tmp_path / name, "print")
        rows = table_of(tmp_path / name)
        assert len({row["name"] for row in rows}) == len(rows) == len(pieces(project.books[0]))
        assert all(row["name"].endswith((" 1", " 2")) for row in rows)


def test_a_smaller_book_of_paper_is_trimmed_more() -> None:
    """Without a given size the page comes from the sheet: only the knife makes it smaller."""
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.1, per_section=4)
    for name, (structure, _) in CASES_OF_BOOKS.items():
        if structure in ("slipcase", "accordion"):
            continue
        project = project_of(name, block_mm=None, paper=paper)
        high_mm = board_size_mm(project.books[0])[1]
        smaller = with_smaller_boards(project, high_mm - 10.0).books[0]
        assert smaller.paper is not None
        assert smaller.paper.trim_tail_mm == pytest.approx(10.0)
        assert board_size_mm(smaller)[1] == pytest.approx(high_mm - 10.0)
        assert planned_pieces(replace(project, books=(smaller,)))
