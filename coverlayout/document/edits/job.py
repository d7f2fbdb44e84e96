"""Edits of the whole job: its name, its rules, how it is shown, what cuts cost."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.document.checks.whole import checked_edit
from coverlayout.document.history import Edit
from coverlayout.document.project import Price, Project
from coverlayout.errors import BadInput, Remark

__all__ = ["change_preferences", "change_rules", "name_by_file", "rename_project", "set_price"]


def rename_project(name: str) -> Edit:
    """Give the project a name; BadInput for one without a letter in it."""

    def change(old: Project) -> Project:
        if not name.strip():
            raise BadInput("name-empty")
        return replace(old, name=name.strip())

    return checked_edit(Remark("edit-rename-project"), change)


def name_by_file(name: str) -> Edit:
    """Give a project that was never named the name of its first file; no step of its own for undo."""
    named = rename_project(name)
    return replace(named, on_steps=lambda old: named.change(old) if old.name == Project().name else old)


def change_rules(**fields: Any) -> Edit:
    """Change gap, wished room or aim, by the field names of JobRules."""
    return checked_edit(Remark("edit-change-rules"), lambda old: replace(old, rules=replace(old.rules, **fields)))


def change_preferences(**fields: Any) -> Edit:
    """Change unit, currency or side shown, by the field names of Preferences; no step of its own for undo."""

    def change(old: Project) -> Project:
        return replace(old, preferences=replace(old.preferences, **fields))

    return replace(checked_edit(Remark("edit-change-preferences"), change), on_steps=change)


def set_price(cut_name: str, amount: float | None) -> Edit:
    """Say what a cut of the ladder costs, 0 or more; None takes the price away."""

    def change(old: Project) -> Project:
        kept = {price.cut_name: price for price in old.prices}
        before = kept.pop(cut_name, None)
        if amount is not None:
            kept[cut_name] = replace(before, amount=amount) if before else Price(cut_name, amount)
        return replace(old, prices=tuple(kept.values()))

    return checked_edit(Remark.of("edit-price", cut=cut_name), change)
