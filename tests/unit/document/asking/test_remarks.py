"""Warnings about a job that refuse nothing."""

from dataclasses import replace

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth, Flaw, Zone
from coverlayout.cloth.cuts import ladder
from coverlayout.document.asking.remarks import job_remarks
from coverlayout.document.project import Project
from coverlayout.geometry.shapes import rectangle

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), liner_inset_mm=12.0)
CLOTH = Cloth("cloth-1", "Swatch", 304.8, 304.8)


def said(project: Project) -> list[str]:
    return [note.code for note in job_remarks(project, ladder())]


def test_a_sound_job_needs_no_remark() -> None:
    flaws = (Flaw("flaw-1", "stain", rectangle(9.0, 9.0, 300.0, 0.0)),)
    zones = (Zone("zone-1", "all", rectangle(304.8, 304.8)),)
    project = Project(cloths=(replace(CLOTH, flaws=flaws, zones=zones),), books=(replace(BOOK, liner_inset_mm=3.0),))
    assert said(project) == []


def test_books_speak_before_cloths() -> None:
    turned = replace(CLOTH, width_mm=18 * 25.4, length_mm=22 * 25.4)
    assert said(Project(cloths=(turned,), books=(BOOK,))) == ["liner-inset-wide", "cloth-swapped"]
    # Who took it off the ladder knows which way it lies.
    assert said(Project(cloths=(replace(turned, cut_name="own"),))) == []


def test_a_cloth_whose_strips_meet_is_told() -> None:
    trimmed = replace(CLOTH, trim_mm=160.0, flaws=(Flaw("flaw-1", "stain", rectangle(9.0, 9.0, 900.0, 0.0)),))
    assert said(Project(cloths=(trimmed,))) == ["cloth-nothing-left"]
    (note,) = job_remarks(Project(cloths=(trimmed,)), ladder())
    assert note.text() == "Swatch: trim, selvedges and unbacked strip leave nothing of this cloth to use"


def test_flaws_and_zones_that_miss_the_cloth_are_told() -> None:
    flaws = (Flaw("flaw-1", "stain", rectangle(9.0, 9.0, 305.0, 0.0)),)
    zones = (Zone("zone-1", "rim", rectangle(2.0, 300.0)), Zone("zone-2", "rest", rectangle(300.0, 300.0)))
    project = Project(cloths=(replace(CLOTH, flaws=flaws, zones=zones, trim_mm=3.0),))
    assert said(project) == ["flaw-beside-cloth", "zone-nothing-left"]
