"""Wishes dropped one by one."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.document.edits.wishes import remove_wish
from coverlayout.document.project import LinkWish, LockWish, Project

__all__ = ["without_one_wish"]


def without_one_wish(project: Project) -> Iterator[tuple[LockWish | LinkWish, Project]]:
    """Each wish that must hold, with the project that does without it; in the project's order, locks before links.

    >>> from coverlayout.document.project import LockWish
    >>> asked, hoped = LockWish("wish-1", "front-1", (0.0, 0.0)), LockWish("wish-2", "back-1", (9.0, 4.0), must=False)
    >>> [(wish.id, len(rest.locks)) for wish, rest in without_one_wish(Project(locks=(asked, hoped)))]
    [('wish-1', 1)]
    """
    for wish in project.wishes:
        if wish.must:
            yield wish, remove_wish(wish.id).change(project)
