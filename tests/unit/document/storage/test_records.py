"""A project as JSON and back: everything is in it, nothing unknown is lost, nothing odd is believed."""

from __future__ import annotations

import json
import math
import typing
from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import numpy
import pytest
from full_project import FIRST_BOOKS, FULL, KEPT

from coverlayout.book.book import Book
from coverlayout.document.project import Project
from coverlayout.document.storage.records import FORMAT, has_unknown, project_from_json, project_to_json
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

GOLDEN = Path(__file__).parents[3] / "golden"
_LATER_IN_BOOKS = (
    *("tail_square_mm", "spine_rise_mm", "spine_lining", "spine_on_board_mm", "corner_leg_mm", "side_lap_mm"),
    *("hinge_mm", "fore_edge_flap_mm", "turned_in_flap_mm", "slipcase_of", "slipcase_clearance_mm"),
    *("sides", "side_turns", "side_source", "endpapers", "label", "paper", "sewing"),
)


def records_in(value: object) -> Iterator[Any]:
    """Every record in the project, itself included."""
    if is_dataclass(value):
        yield value
        for field in fields(value):
            yield from records_in(getattr(value, field.name))
    elif isinstance(value, tuple):
        for part in value:
            yield from records_in(part)


def record_types(kind: Any = Project) -> set[type]:
    """Every type of record that a project can hold, by its fields' types."""
    if isinstance(kind, type) and is_dataclass(kind):
        inner = [record_types(hint) for hint in typing.get_type_hints(kind).values()]
        return {kind}.union(*inner)
    return set().union(*(record_types(argument) for argument in typing.get_args(kind)))


def objects_in(value: object) -> Iterator[dict[str, Any]]:
    """Every object of decoded JSON but those kept for others."""
    if isinstance(value, dict):
        yield value
        for key, inner in value.items():
            if key != "glue":
                yield from objects_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from objects_in(inner)


def read(record: object) -> Project:
    return project_from_json(json.dumps(record).encode(), "test")


def code_of(data: bytes) -> str:
    with pytest.raises(BadInput) as caught:
        project_from_json(data, "herons.coverlayout")
    assert "\n" not in str(caught.value)
    assert "herons.coverlayout" in str(caught.value)
    return caught.value.code


def changed(change: Callable[[dict[str, Any]], object]) -> bytes:
    record = json.loads(project_to_json(FULL))
    change(record)
    return json.dumps(record).encode()


@pytest.mark.parametrize("kind", sorted(record_types(), key=lambda kind: kind.__name__))
def test_every_field_of_every_record_is_written_and_read_back(kind: type) -> None:
    """The sample says something else than the default in every field; so nothing comes back by luck."""
    back = project_from_json(project_to_json(FULL), "test")
    samples = [record for record in records_in(FULL) if type(record) is kind]
    found = [record for record in records_in(back) if type(record) is kind]
    for field in fields(kind):
        told = [record for record in samples if getattr(record, field.name) != field.default]
        assert told or field.default is MISSING, f"the sample says nothing of {kind.__name__}.{field.name}"
        assert [getattr(record, field.name) for record in found] == [getattr(record, field.name) for record in samples]


def test_the_whole_project_comes_back() -> None:
    assert project_from_json(project_to_json(FULL), "test") == FULL
    assert project_from_json(project_to_json(Project()), "test") == Project()


def test_the_same_project_gives_the_same_bytes() -> None:
    assert project_to_json(FULL) == project_to_json(project_from_json(project_to_json(FULL), "test"))


def test_whole_numbers_and_numbers_of_other_libraries_come_back_as_lengths() -> None:
    placed = Placed("p-a", "cloth-1", 40, numpy.float64(60.25))  # type: ignore[arg-type]  # as a careless caller may
    project = FULL.with_layout(replace(FULL.layouts[1], placements=(placed,)))
    back = project_from_json(project_to_json(project), "test").layout.placements[0]
    assert (back.x_mm, back.y_mm, type(back.x_mm), type(back.y_mm)) == (40.0, 60.25, float, float)


def test_fields_that_are_left_out_have_their_default() -> None:
    assert read({"format": FORMAT, "name": "bare"}) == Project(name="bare")


def test_unknown_fields_of_every_object_go_back_out() -> None:
    """Every object of the file gets a field of a newer program; all are still there after reading and writing."""
    record = json.loads(project_to_json(FULL))
    added = 0
    for number, found in enumerate(list(objects_in(record))):
        found["from/later~on"] = {"number": number, "parts": [1, 2.5, None, "ä"]}
        added += 1
    back = json.loads(project_to_json(read(record)))
    assert added > 40
    assert back == record


def test_unknown_text_goes_back_out_to_the_letter() -> None:
    odd = b'{"format": 1, "big": 123456789012345678901234567890, "exact": 1.10, "twice": 1, "twice": 2}'
    written = project_to_json(project_from_json(odd, "test"))
    assert b"123456789012345678901234567890" in written
    assert b"1.10" in written
    assert json.loads(written)["twice"] == 2


def test_an_unknown_field_called_unknown_is_one_like_any_other() -> None:
    assert read({"format": 1, "unknown": 3}).unknown == (("unknown", "3"),)


def test_what_is_kept_for_a_part_goes_when_the_part_goes() -> None:
    placed = replace(FULL, unknown=(("rules/later", "1"), ("layout/none", "2"), ("name/inside", "3")))
    back = json.loads(project_to_json(placed))
    assert back["rules"]["later"] == 1
    assert "layout/none" not in back
    assert back["name"] == FULL.name


def test_what_is_kept_never_speaks_over_what_we_know() -> None:
    assert json.loads(project_to_json(replace(FULL, unknown=(("name", '"other"'),))))["name"] == FULL.name


def test_whether_anything_unknown_is_kept() -> None:
    assert has_unknown(FULL)
    assert not has_unknown(Project())
    assert has_unknown(FULL.layouts[1])
    assert KEPT[0][0] == "glue"


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_not_finite_are_not_written(number: float) -> None:
    placed = replace(FULL.layout.placements[0], x_mm=number)
    with pytest.raises(BadInput) as caught:
        project_to_json(FULL.with_layout(replace(FULL.layout, placements=(placed,))))
    assert caught.value.code == "file-not-finite"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"nothing",
        b"[]",
        b"3",
        b'{"format": 1, "name": NaN}',
        b'{"format": 1, "later": Infinity}',
        b'{"format": 1, "later": 1e999}',
        b'{"format": 1, "name": "\xff"}',
        b'{"format": 1, "later": ["\xff"]}',
        b'{"format": "1"}',
        b'{"format": 1.5}',
        b'{"format": null}',
        b'\xef\xbb\xbf{"format": 1}',
        b'{"format": 1, "later": ' + b"1" * 5000 + b"}",
    ],
)
def test_what_is_no_json_of_a_project_is_damaged(data: bytes) -> None:
    assert code_of(data) == "file-damaged"


def test_what_does_not_say_its_format_is_not_ours() -> None:
    assert code_of(b'{"name": "x"}') == "file-not-ours"
    assert code_of(b'{"format": 0}') == "file-not-ours"


def test_a_newer_format_is_refused() -> None:
    assert code_of(b'{"format": %d, "anything": true}' % (FORMAT + 1)) == "file-too-new"


@pytest.mark.parametrize("depth", [70, 900, 5_000, 200_000])
def test_deep_nesting_is_refused(depth: int) -> None:
    assert code_of(b'{"format": 1, "later": ' + b"[" * depth + b"]" * depth + b"}") == "file-too-deep"


def test_nesting_within_bounds_is_kept() -> None:
    text = "[" * 60 + "]" * 60
    assert read(json.loads('{"format": 1, "later": ' + text + "}")).unknown == (("later", text),)


@pytest.mark.parametrize(
    ("change", "record"),
    [
        (lambda project: project["cloths"][0].update(width_mm="wide"), "project, cloths, 1, width_mm"),
        (lambda project: project["cloths"][0].pop("width_mm"), "project, cloths, 1, width_mm"),
        (lambda project: project["cloths"][0].update(width_mm=None), "project, cloths, 1, width_mm"),
        (lambda project: project["cloths"][0].update(state="woven"), "project, cloths, 1, state"),
        (lambda project: project["cloths"][0].update(outline_mm=[[1, 2, 3]]), "project, cloths, 1, outline_mm"),
        (lambda project: project.update(cloths={}), "project, cloths"),
        (lambda project: project.update(cloths=[3]), "project, cloths, 1"),
        (lambda project: project.update(rules=None), "project, rules"),
        (lambda project: project.update(next_number=True), "project, next_number"),
        (lambda project: project["prints"][0]["lattice"].pop("a_mm"), "project, prints, 1, lattice, a_mm"),
        (lambda project: project["books"][0]["volumes"][1].update(number=1.5), "project, books, 1, volumes, 2, number"),
    ],
)
def test_a_record_of_the_wrong_kind_is_named(change: Callable[[dict[str, Any]], object], record: str) -> None:
    data = changed(change)
    assert code_of(data) == "file-record-wrong"
    with pytest.raises(BadInput) as caught:
        project_from_json(data, "x")
    assert caught.value.figures["record"] == record


def test_a_file_of_format_1_reads_as_it_did_when_the_format_was_made() -> None:
    """The kept file was written once and is never written anew: a field renamed or dropped since would show here.

    Fields that came since stand at their defaults.
    """
    project = project_from_json((GOLDEN / "project_format_1.json").read_bytes(), "golden")
    kept = [key for record in records_in(project) for key, _ in getattr(record, "unknown", ())]
    assert set(kept) == {"glue"}
    plain = Book("", "")
    later = {name: getattr(plain, name) for name in _LATER_IN_BOOKS}
    books = tuple(replace(book, **later) for book in FIRST_BOOKS)
    # A square that follows no rule stood as 0 then.
    books = tuple(replace(book, square_mm=book.square_mm or 0.0) for book in books)
    cloths = tuple(
        replace(cloth, base_line=None, backing=None, flaws=tuple(replace(flaw, gone=False) for flaw in cloth.flaws))
        for cloth in FULL.cloths
    )
    assert project == replace(
        FULL,
        prints=tuple(replace(a_print, alike_about_mm=None) for a_print in FULL.prints),
        cloths=cloths,
        books=books,
        stocks=(),
        next_volume_number=8,
        cut_pieces=tuple(replace(fact, board=None) for fact in FULL.cut_pieces),
        layouts=tuple(replace(layout, pinned=()) for layout in FULL.layouts),
    )


def test_a_file_of_format_2_reads_as_it_did_when_the_format_was_made() -> None:
    """Kept like the one of format 1: with paper, labels, sewing, every structure and stock."""
    project = project_from_json((GOLDEN / "project_format_2.json").read_bytes(), "golden")
    assert project == FULL
