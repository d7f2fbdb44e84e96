"""Whatever stands in a project file: it is refused in one sentence, or it is a project that can be."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from full_project import FULL, PICTURES
from hypothesis import event, given, settings
from hypothesis import strategies as st

from coverlayout.document.checks.whole import checked
from coverlayout.document.file import Loaded, loaded
from coverlayout.document.storage.records import project_from_json, project_to_json
from coverlayout.errors import BadInput

WHOLE = project_to_json(FULL)
odd_values = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.sampled_from(
        [0, -1, 1e9, 1e308, 10**40, "", "cloth-1", "none", [], {}, [[]], [[0, 0]], [[0, 0], [1, 1], [0, 0]]]
    ),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=5),
    st.recursive(st.integers(0, 3), lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner)),
)


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value inside."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, part in inner:
        yield (*path, key)
        yield from places(part, (*path, key))


PLACES = list(places(json.loads(WHOLE)))


def opened(text: bytes) -> Loaded | None:
    """What the text holds, None when it was refused; any other end fails the test."""
    try:
        return loaded(text, PICTURES, "test")
    except BadInput as fault:
        said = str(fault)
    assert said
    assert "\n" not in said
    return None


def spoiled(data: st.DataObject, changes: int) -> bytes:
    """The sample with some values replaced or gone."""
    record = json.loads(WHOLE)
    for _ in range(changes):
        *way, last = data.draw(st.sampled_from(PLACES))
        holder = record
        try:
            for key in way:
                holder = holder[key]
            if data.draw(st.booleans()):
                holder[last] = data.draw(odd_values)
            else:
                del holder[last]
        except (KeyError, IndexError, TypeError):
            event("the place was spoiled before")
    return json.dumps(record).encode()


@settings(max_examples=400)
@given(st.data(), st.integers(1, 3))
def test_a_spoiled_record_is_refused_or_is_a_project_that_can_be(data: st.DataObject, changes: int) -> None:
    found = opened(spoiled(data, changes))
    event("opened" if found else "refused")
    if found:
        assert checked(found.project) is found.project
        assert project_from_json(project_to_json(found.project), "test") == found.project


@settings(max_examples=200)
@given(st.binary(max_size=40), st.integers(0, len(WHOLE)))
def test_spoiled_text_is_refused_or_is_a_project_that_can_be(junk: bytes, place: int) -> None:
    found = opened(WHOLE[:place] + junk + WHOLE[place + len(junk) :])
    if found:
        assert checked(found.project) is found.project
