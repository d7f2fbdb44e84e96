"""The figures of the book that flags may give, its label and its sewing, as the fields they fill."""

from __future__ import annotations

import re
from typing import Any

from coverlayout.app.flags import Given, as_number, one_length, one_word
from coverlayout.book.book import Label, LabelKind, Sewing, ThreadColour
from coverlayout.errors import BadInput
from coverlayout.units import Least, parse_length, parse_lengths, parse_size, split_list

__all__ = ["figures_of", "label_of", "sewing_of"]

# A flag that gives one length, the field it fills, the least it may be.
_LENGTHS: tuple[tuple[str, str, Least], ...] = (
    ("--board-setback", "board_setback_mm", "0"),
    ("--square", "square_mm", "0"),
    ("--tail-square", "tail_square_mm", "0"),
    ("--joint", "joint_mm", "0"),
    ("--spine-width", "spine_width_mm", "above 0"),
    ("--spine-allowance", "spine_allowance_mm", "any"),
    ("--spine-rise", "spine_rise_mm", "0"),
    ("--spine-on-board", "spine_on_board_mm", "above 0"),
    ("--side-lap", "side_lap_mm", "0"),
    ("--corner-leg", "corner_leg_mm", "above 0"),
    ("--hinge", "hinge_mm", "above 0"),
    ("--flap", "fore_edge_flap_mm", "0"),
    ("--turned-in-flap", "turned_in_flap_mm", "0"),
    ("--clearance", "slipcase_clearance_mm", "0"),
)
_WORDS: dict[str, tuple[str, dict[str, str]]] = {
    "--spine-piece": ("spine_piece", {"board": "board", "strip": "strip", "none": "none"}),
    "--spine-lining": ("spine_lining", {"none": "none", "strip": "strip", "tube": "hollow tube"}),
    "--sides": ("sides", {"cloth": "cloth", "paper": "paper"}),
    "--slipcase-of": ("slipcase_of", {"boards": "five boards", "scored": "one scored board"}),
    "--endpapers": ("endpapers", {"paper": "paper", "none": "none"}),
}
_LABEL_KINDS: dict[str, LabelKind] = {"window": "window", "inset": "inset", "top": "on top"}
_LABEL_LIKE = "size=60x25mm kind=window from-head=30mm"
_STATIONS_LIKE = "5"
_THREAD_LIKE = "red=4 black=4"
_MOST_SECTIONS = 100_000


def figures_of(given: Given) -> dict[str, Any]:
    """The fields that flags with one length or one word fill; only those that were given."""
    lengths = {field: one_length(given, flag, 0.0, least) for flag, field, least in _LENGTHS if given.has(flag)}
    words = {
        field: known[one_word(given, flag, tuple(known), next(iter(known)))]
        for flag, (field, known) in _WORDS.items()
        if given.has(flag)
    }
    return lengths | words


def label_of(given: Given) -> Label | None:
    """The label, None without one. BadInput for words that cannot be read."""
    text = given.one("--label")
    if text is None:
        return None
    found = re.findall(r"([\w-]+)\s*=\s*(.*?)\s*(?=[\w-]+\s*=|$)", text.strip())
    fields: dict[str, str] = dict(found)
    known = {"size", "kind", "material", "from-head", "from-spine", "margin"}
    if len(fields) != len(found) or set(fields) - known or not fields.get("size"):
        raise BadInput("label-unreadable", found=text.strip()[:60], like=_LABEL_LIKE)
    width_mm, height_mm = parse_size(fields["size"], where="--label size", like="60x25mm")
    kind = _one_of(fields.get("kind", "top"), "--label kind", tuple(_LABEL_KINDS))
    material = _one_of(fields.get("material", "cloth"), "--label material", ("cloth", "paper"))
    return Label(
        width_mm=width_mm,
        height_mm=height_mm,
        kind=_LABEL_KINDS[kind],
        material="paper" if material == "paper" else "cloth",
        from_head_mm=_optional(fields, "from-head"),
        from_spine_mm=_optional(fields, "from-spine"),
        margin_mm=_optional(fields, "margin"),
    )


def _one_of(text: str, where: str, words: tuple[str, ...]) -> str:
    return one_word(Given("", {where: (text,)}), where, words, words[0])


def _optional(fields: dict[str, str], name: str) -> float | None:
    text = fields.get(name)
    return None if text is None else parse_length(text, where=f"--label {name}", like="30mm", least="0")


def sewing_of(given: Given) -> Sewing:
    """Stations, holes and thread as the flags say; all by the rules where they say nothing."""
    return Sewing(
        **_stations(given.one("--stations")),
        end_mm=one_length(given, "--station-end", 0.0) if given.has("--station-end") else None,
        hole_from_spine_mm=one_length(given, "--hole-distance", 0.0) if given.has("--hole-distance") else None,
        colours=_colours(given.one("--thread")),
    )


def _stations(text: str | None) -> dict[str, Any]:
    """So many, even; `pairs 6`; `ends`; or places from the head of the page with a unit."""
    if text is None:
        return {}
    plain = " ".join(text.lower().split())
    match = re.fullmatch(r"(?:(even|pairs) )?(\d+)", plain)
    if match:
        count = int(as_number(match[2], flag="--stations", like=_STATIONS_LIKE, most=200, whole=True))
        return {"rule": match[1] or "even", "count": count}
    if plain == "ends":
        return {"rule": "ends"}
    return {"rule": "own", "own_mm": parse_lengths(split_list(plain), where="--stations", like="20 60 110mm")}


def _colours(text: str | None) -> tuple[ThreadColour, ...]:
    if text is None:
        return ()
    words = re.sub(r"\s*=\s*", "=", text.strip()).split()
    if not words or not all(re.fullmatch(r"[^=]+=\d+", word) for word in words):
        raise BadInput("thread-unreadable", found=text.strip()[:60], like=_THREAD_LIKE)
    pairs = [word.split("=") for word in words]
    return tuple(
        ThreadColour(name, int(as_number(count, flag="--thread", like=_THREAD_LIKE, most=_MOST_SECTIONS, whole=True)))
        for name, count in pairs
    )
