"""A project as JSON and back: one object a record, by the field names of its type.

Every field of every record is written, also where it has its default. What a file says beyond the fields we know stays
on its record in `unknown`, as (key, JSON text), and goes back out; a small part that has no place of its own for it (a
lattice, turn-ins, a source) leaves it with the record it belongs to, under `part/key`.
"""

from __future__ import annotations

import math
import types
import typing
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from functools import cache
from typing import Any

import msgspec

from coverlayout.document.project import Project
from coverlayout.errors import BadInput

__all__ = ["FORMAT", "has_unknown", "project_from_json", "project_to_json"]

# Raised by any change that could alter a verdict; an older program then refuses the file.
# 2: books know paper, every structure, labels and sewing; a square may be left to the rules.
FORMAT = 2
_DEEPEST = 64
_Unknown = tuple[tuple[str, str], ...]


def project_to_json(project: Project) -> bytes:
    """The project as JSON text, the same bytes for the same project. BadInput for a number that is not finite."""
    record = {"format": FORMAT, **_written(project)}
    return msgspec.json.format(msgspec.json.encode(record), indent=1)


def project_from_json(data: bytes, where: str) -> Project:
    """The project that JSON text holds, not yet checked. `where` names the file in the sentence.

    BadInput: text that is no JSON, nested too deep, with numbers that are not finite, from a newer program, or with a
    field missing or of the wrong kind.
    """
    try:
        _refuse_deep(msgspec.json.decode(data), where)
        record = msgspec.json.decode(data, type=dict[str, msgspec.Raw])
    except (msgspec.MsgspecError, UnicodeDecodeError, ValueError) as fault:
        raise BadInput("file-damaged", file=where) from fault
    except RecursionError as fault:
        raise BadInput("file-too-deep", file=where) from fault
    _check_format(record.pop("format", None), where)
    project, unknown = _read_record(Project, record, _Place(where, "project"))
    assert not unknown, "the project itself keeps what it does not know"
    assert isinstance(project, Project)
    return project


def _refuse_deep(value: object, where: str) -> None:
    """BadInput when lists and objects stand in each other more than _DEEPEST deep."""
    level, depth = [value], 0
    while level:
        if depth > _DEEPEST:
            raise BadInput("file-too-deep", file=where)
        inner = (part.values() if isinstance(part, dict) else part for part in level if isinstance(part, (dict, list)))
        level = [one for parts in inner for one in parts]
        depth += 1


def _check_format(raw: msgspec.Raw | None, where: str) -> None:
    try:
        found = msgspec.json.decode(raw, type=int) if raw is not None else 0
    except msgspec.MsgspecError as fault:
        raise BadInput("file-damaged", file=where) from fault
    if found > FORMAT:
        raise BadInput("file-too-new", file=where)
    if found < 1:
        raise BadInput("file-not-ours", file=where)


class _Place(typing.NamedTuple):
    """Where in which file we are reading, for the sentence."""

    file: str
    path: str

    def inside(self, name: str) -> _Place:
        return _Place(self.file, f"{self.path}, {name}")

    def fault(self) -> BadInput:
        return BadInput("file-record-wrong", file=self.file, record=self.path)


@cache
def _kinds(record: type) -> Mapping[str, Any]:
    """The type of every field of a record."""
    return typing.get_type_hints(record)


@cache
def _known(record: type) -> tuple[Field[Any], ...]:
    """The fields that are written; `unknown` is where the rest is kept."""
    return tuple(field for field in fields(record) if field.name != "unknown")


def _read_record(record: type, found: dict[str, msgspec.Raw], place: _Place) -> tuple[object, _Unknown]:
    """The record, and what it does not know and has no place for."""
    values: dict[str, object] = {}
    unknown: list[tuple[str, str]] = []
    for field in _known(record):
        raw = found.pop(field.name, None)
        if raw is not None:
            value, left = _read(_kinds(record)[field.name], raw, place.inside(field.name))
            values[field.name] = value
            unknown += [(f"{field.name}/{key}", text) for key, text in left]
        elif field.default is MISSING and field.default_factory is MISSING:
            raise place.inside(field.name).fault()
    unknown += [(_escaped(key), _on_one_line(raw)) for key, raw in found.items()]
    if "unknown" in _kinds(record):
        return record(**values, unknown=tuple(unknown)), ()
    return record(**values), tuple(unknown)


def _on_one_line(raw: msgspec.Raw) -> str:
    """What we do not know, to the letter but for the blanks between, so that it compares the same after a save."""
    return msgspec.json.format(bytes(memoryview(raw)), indent=0).decode("utf-8")


def _read(kind: Any, raw: msgspec.Raw, place: _Place) -> tuple[object, _Unknown]:
    """One value of that type, and what nothing in it could keep."""
    try:
        return _read_value(kind, raw, place)
    except (msgspec.MsgspecError, TypeError, ValueError) as fault:
        raise place.fault() from fault


def _read_value(kind: Any, raw: msgspec.Raw, place: _Place) -> tuple[object, _Unknown]:
    inner = _record_in(kind)
    if inner is None:
        return msgspec.json.decode(raw, type=kind), ()
    if typing.get_origin(kind) is tuple:
        parts = msgspec.json.decode(raw, type=list[msgspec.Raw])
        read = [_read(inner, part, place.inside(str(number))) for number, part in enumerate(parts, 1)]
        return tuple(value for value, _ in read), ()
    if typing.get_origin(kind) in (types.UnionType, typing.Union) and bytes(memoryview(raw)) == b"null":
        return None, ()
    return _read_record(inner, msgspec.json.decode(raw, type=dict[str, msgspec.Raw]), place)


@cache
def _record_in(kind: Any) -> type | None:
    """The record type that a field's type holds (itself, in a tuple, or None beside it); None when it holds none."""
    if isinstance(kind, type) and is_dataclass(kind):
        return kind
    for argument in typing.get_args(kind):
        found = _record_in(argument)
        if found is not None:
            return found
    return None


def _written(value: object) -> dict[str, Any]:
    """A record as an object: the fields it knows, then those it keeps for others."""
    kind: Any = type(value)
    record = {field.name: _plain(getattr(value, field.name)) for field in _known(kind)}
    for key, text in getattr(value, "unknown", ()):
        *parts, name = key.split("/")
        holder: Any = record
        for part in parts:
            holder = holder.get(part) if isinstance(holder, dict) else None
        # A part that has gone since takes along what was kept for it.
        if isinstance(holder, dict):
            holder.setdefault(_unescaped(name), msgspec.Raw(text.encode("utf-8")))
    return record


def _plain(value: object) -> object:
    """A value as what JSON has: numbers, text, lists and objects."""
    if is_dataclass(value):
        return _written(value)
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    if isinstance(value, float):
        if not math.isfinite(value):
            raise BadInput("file-not-finite")
        return float(value)
    return value


def _escaped(key: str) -> str:
    """The key with the sign that parts path and key written otherwise (as JSON Pointer does, RFC 6901)."""
    return key.replace("~", "~0").replace("/", "~1")


def _unescaped(key: str) -> str:
    return key.replace("~1", "/").replace("~0", "~")


def has_unknown(value: object) -> bool:
    """True when any record in `value` keeps something we do not know."""
    return any(True for _ in _unknown_in(value))


def _unknown_in(value: object) -> Iterator[tuple[str, str]]:
    if is_dataclass(value):
        for field in fields(value):
            inner = getattr(value, field.name)
            yield from inner if field.name == "unknown" else _unknown_in(inner)
    elif isinstance(value, tuple):
        for part in value:
            yield from _unknown_in(part)
