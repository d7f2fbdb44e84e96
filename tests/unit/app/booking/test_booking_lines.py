"""The lines of a book: what stands under which heading, and which way its lengths are rounded."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.app.booking.lines import lines_of
from coverlayout.app.verbs.telling import Opened
from coverlayout.book.book import Book, Label, Paper, PartOfBook, Sewing, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.plan import plan
from coverlayout.document.project import Preferences, Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import Remark
from coverlayout.units import LengthStyle

PAD = Paper((228.6, 304.8), cut=(2, 1), sheets=16, per_section=4, thickness_mm=0.12, swell_mm=0.2, grain="long")
CASE = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0))


def lines(book: Book, style: LengthStyle | None = None, **more: Any) -> list[str]:
    project = Project(books=(book,), preferences=Preferences(style or LengthStyle()))
    return lines_of(Opened(project, Pictures(), ()), plan(book), **more)


def under(heading: str, told: list[str]) -> list[list[str]]:
    """The rows of a table, head first, each in its cells."""
    rows = told[told.index(heading) + 1 :]
    rows = rows[: rows.index("")] if "" in rows else rows
    return [[cell for cell in row.strip().split("  ") if cell] for row in rows]


def cells(heading: str, told: list[str]) -> list[list[str]]:
    return [[cell.strip() for cell in row] for row in under(heading, told)]


def test_paper_is_told_from_the_sheet_to_the_block() -> None:
    told = lines(Book("b", "Ledger", paper=PAD))
    # 16 sheets cut in two and folded once: 32 pieces, 8 sections of 4; 64 leaves of 0.12 mm and 8 threads of 0.2 mm.
    assert told[:4] == [
        "Ledger: separate-boards",
        "Cut pieces 228.5 mm x 152.5 mm, folded to pages 114.5 mm x 152.5 mm",
        "Sections: 8, pages: 128, leaves: 64, sheets of paper: 16",
        "Block 9.5 mm thick",
    ]
    assert told[4] == ""


def test_single_leaves_and_strips_are_no_sections() -> None:
    leaves = Paper((210.0, 148.0), folds=0, pages=80)
    told = lines(Book("b", "Ledger", "side-sewn", paper=leaves))
    assert told[1:3] == ["Pages 148.0 mm x 210.0 mm", "Leaves: 40, pages: 80, sheets of paper: 40"]
    strips = lines(Book("b", "Ledger", "accordion", paper=Paper((700.0, 200.0), folds=2, sheets=2)))
    assert strips[2] == "Strips: 2, panels: 8, pages: 16, sheets of paper: 2"


def test_the_gap_of_a_case_is_told_with_what_it_is_made_of() -> None:
    assert "Between the boards: 33.5 mm, spine piece 13.5 mm and a joint of 10.0 mm at each side" in lines(CASE)
    without = replace(CASE, spine_piece="none", joint_mm=4.0)
    assert "Between the boards: 18.0 mm, spine 10.0 mm and a joint of 4.0 mm at each side" in lines(without)
    wrap = replace(CASE, structure="exposed-spine-wrap")
    assert "Between the boards, over the spine: 10.0 mm" in lines(wrap)
    assert "Spine of the wrap: 10.0 mm" in lines(replace(CASE, structure="limp-wrap"))
    box = lines(replace(CASE, structure="slipcase"))
    assert box[1] == "For a book 148.0 mm x 210.0 mm, 10.0 mm thick"
    assert not any(line.startswith(("Pages", "Between")) for line in box)


def test_volumes_that_differ_have_a_table() -> None:
    volumes = (Volume(1, 12.0), Volume(2, 18.0), Volume(3, 12.0))
    told = lines(replace(CASE, volumes=volumes))
    assert told[0].startswith("Ledger: flat-case, 3 volumes;")
    # Spine: block and two boards of 2 mm, less 0.5; the gap has a joint of 10 mm more on each side.
    assert cells("Volumes", told)[1:] == [
        ["1", "12.0 mm", "15.5 mm", "35.5 mm"],
        ["2", "18.0 mm", "21.5 mm", "41.5 mm"],
    ]
    assert not any(line.startswith("Between") for line in told)
    boards = cells("Boards", told)[1:]
    assert [(row[0], row[2], row[5]) for row in boards] == [
        ("cover board", "144.5 mm", "6"),
        ("spine piece", "15.5 mm", "2"),
        ("spine piece", "21.5 mm", "1"),
    ]
    pieces = cells("Pieces of cloth", told)[1:]
    assert [(row[0], row[3]) for row in pieces] == [
        ("cover-1, cover-3", "2"),
        ("cover-2", "1"),
        ("liner-front-1 to liner-front-3", "3"),
        ("liner-back-1 to liner-back-3", "3"),
    ]
    linings = [row for row in cells("Also to cut", told) if row[0] == "spine lining"]
    assert [row[-1] for row in linings] == ["for volume 1, 3", "for volume 2"]
    every_other = replace(CASE, volumes=tuple(Volume(number, 12.0 + number % 2) for number in range(1, 7)))
    assert cells("Pieces of cloth", lines(every_other))[1][0] == "cover-1, cover-3, cover-5"
    apart = replace(CASE, structure="separate-boards", volumes=volumes)
    assert cells("Volumes", lines(apart)) == [["volume", "block"], ["1", "12.0 mm"], ["2", "18.0 mm"]]


def test_a_block_that_is_not_known_in_one_volume() -> None:
    book = Book("b", "Ledger", page_mm=(100.0, 150.0), volumes=(Volume(1), Volume(2, 9.0)))
    assert cells("Volumes", lines(book))[1:] == [["1", "-"], ["2", "9.0 mm"]]


def test_lengths_are_rounded_the_way_that_does_no_harm() -> None:
    told = lines(
        replace(CASE, block_mm=(148.2, 210.2, 10.1), endpapers="paper"),
        backing=(CutItem("web, Cloth", "web", 297.4, 297.4), CutItem("backing, Cloth", "paper", 381.1, 381.1)),
    )
    # A board to the nearest half, 148.2 - 3.5 and 210.2 + 6; a piece never smaller: 2 x 144.7 + 33.6 + 30 = 353.0.
    assert cells("Boards", told)[1][2:5] == ["144.5 mm", "216.0 mm", "2 mm"]
    assert cells("Pieces of cloth", told)[1][1:3] == ["353.0 mm", "246.5 mm"]
    others = {row[0]: row[2:4] for row in cells("Also to cut", told)}
    assert others["endpaper"] == ["296.5 mm", "210.5 mm"]
    # Web must stay within the cloth; paper for pasting is larger than it.
    assert others["web, Cloth"] == ["297.0 mm", "297.0 mm"]
    assert others["backing, Cloth"] == ["381.5 mm", "381.5 mm"]


def test_what_has_a_table_of_its_own_is_not_told_twice() -> None:
    rows = cells("Also to cut", lines(Book("b", "Ledger", paper=PAD, liners="paper", label=Label(40.0, 25.0))))
    assert [row[:2] for row in rows[1:]] == [
        ["front liner", "paper"],
        ["back liner", "paper"],
        ["text paper", "paper"],
        ["thread", "thread"],
    ]
    # Whole sheets are bought and not cut, so they are no larger than they are.
    assert rows[3][2:] == ["228.5 mm", "305.0 mm", "16", "head to tail", "Whole sheets, as they are bought."]
    # Eight heights of 152.4 mm, and two more.
    assert rows[4][2:] == ["1524.0 mm", "1", "any"]


def test_no_caution_for_an_awl_that_is_not_used() -> None:
    told = lines(Book("b", "Box", "slipcase", block_mm=(148.0, 210.0, 12.0)))
    assert not any("Awl" in line for line in told)


def test_stations_holes_and_thread() -> None:
    sewing = Sewing("own", own_mm=(20.0, 60.0, 110.0), hole_from_spine_mm=7.0)
    told = lines(Book("b", "Ledger", page_mm=(114.0, 152.0), square_mm=3.0, sewing=sewing))
    assert "Stations from the head: 20.0 mm, 60.0 mm, 110.0 mm" in told
    assert "Stations from the tail: 42.0 mm, 92.0 mm, 132.0 mm" in told
    assert any(line.startswith("Awl and needle: ") for line in told)
    # One square lower on a board that stands out.
    assert "Holes in each board: 7.0 mm from its spine edge; from its head 23.0 mm, 63.0 mm, 113.0 mm" in told
    alike = lines(replace(CASE, sewing=Sewing(count=3, end_mm=20.0)))
    assert "Stations from the head, and the same from the tail: 20.0 mm, 105.0 mm, 190.0 mm" in alike
    assert not any(line.startswith("Holes") for line in alike), "boards of a case are not sewn through"
    limp = lines(Book("b", "Ledger", "limp-wrap", block_mm=(148.0, 210.0, 4.0), sewing=Sewing(count=1)))
    assert "Holes in the wrap: 2.0 mm from where the front begins; from its head 105.0 mm" in limp


def test_groups_of_remarks_follow_with_a_line_between_them() -> None:
    first, second = Remark.of("panels-count", count=2), Remark.of("panels-count", count=3)
    told = lines(Book("b", "Ledger", page_mm=(100.0, 150.0), volumes=(Volume(1, 9.0),)), also=([first], [], [second]))
    at = told.index("2 panels")
    assert told[at - 1 : at + 3] == ["", "2 panels", "", "3 panels"]


def test_inches_for_those_who_think_in_them() -> None:
    told = lines(CASE, LengthStyle("in", inch_parts=16))
    assert "Block 3/8 in thick" in told
    assert cells("Boards", told)[1][2:5] == ["5 11/16 in", "8 1/2 in", "0.079 in"]


def test_a_plain_list_of_parts_is_told_by_its_pieces() -> None:
    parts = (PartOfBook("cover", 3, 15.0, "none"),)
    told = lines(Book("b", "Ledger", "parts", board_mm=(100.0, 140.0), parts=parts))
    assert told[:2] == ["Ledger: a plain list of parts", ""]
    assert cells("Pieces of cloth", told)[1] == ["cover-1-1 to cover-1-3", "130.0 mm", "170.0 mm", "3", "none"]
