"""Reads the repository as data: which files there are, which modules, what they import, what they define."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from functools import cache, cached_property
from pathlib import Path

__all__ = ["ROOT", "Module", "each_module", "modules", "repository_files"]

ROOT = Path(__file__).resolve().parents[1]
# What a working copy holds besides the repository, told apart by name where git cannot be asked.
_PASSING = re.compile(
    r"(^|/)(__pycache__|build|dist|\.git|\.venv[^/]*|\.\w+_cache|\.hypothesis|\.coverage[^/]*|[^/]+\.egg-info)(/|$)"
)


class Module:
    """One Python file: its dotted name, its path from the root, its syntax tree, read when first asked for."""

    def __init__(self, path: str, text: str | None = None) -> None:
        """Read the file at `path`, counted from the root of the repository, unless its `text` is given."""
        self.path = path
        self.name = path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        self.is_package = path.endswith("__init__.py")
        self.text = (ROOT / path).read_text(encoding="utf-8") if text is None else text

    @cached_property
    def tree(self) -> ast.Module:
        """The syntax tree."""
        return ast.parse(self.text, filename=self.path)

    @property
    def area(self) -> str:
        """The part of the house it belongs to: `layout` for coverlayout.layout.rules, `units` for coverlayout.units."""
        parts = self.name.split(".")
        return parts[1] if len(parts) > 1 else ""

    def imports(self) -> Iterator[tuple[int, str]]:
        """Every import as line and dotted name, those of names in a module as module.name."""
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Import):
                yield from ((node.lineno, alias.name) for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)

    def functions(self) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
        """Every function and method, nested ones too."""
        yield from (node for node in ast.walk(self.tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef))

    def classes(self) -> Iterator[ast.ClassDef]:
        """Every class."""
        yield from (node for node in ast.walk(self.tree) if isinstance(node, ast.ClassDef))


@cache
def repository_files() -> tuple[str, ...]:
    """All files of the repository that exist, as git knows them; without git all that lie here and are not passing."""
    asked = None
    if (ROOT / ".git").exists():
        try:
            asked = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
        except OSError:
            asked = None
    if asked is not None and asked.returncode == 0:
        names = [name for name in asked.stdout.split("\0") if name and (ROOT / name).is_file()]
    else:
        names = [path.relative_to(ROOT).as_posix() for path in ROOT.rglob("*") if path.is_file()]
    return tuple(sorted(name for name in names if not _PASSING.search(name)))


def each_module(folder: str) -> Iterator[Module]:
    """One module after the other under a folder of the repository, packages included; none is kept."""
    for name in repository_files():
        if name.startswith(f"{folder}/") and name.endswith(".py"):
            yield Module(name)


@cache
def modules() -> tuple[Module, ...]:
    """All modules of the program, packages included; kept, as most of what is looked at is asked of these."""
    return tuple(each_module("coverlayout"))
