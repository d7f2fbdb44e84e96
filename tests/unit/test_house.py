"""The drawing of the house is a test: a rule that is broken names the guilty file."""

from __future__ import annotations

import ast
import re
import tomllib
from collections import Counter
from itertools import chain
from pathlib import PurePosixPath

import pytest
from source_tree import ROOT, Module, each_module, modules, repository_files

# From the roof to the ground; imports point downward only.
FLOORS = (
    {"app", "__main__"},
    {"ui"},
    {"exporting"},
    {"document"},
    {"layout"},
    {"book"},
    {"cloth"},
    {"motif"},
    {"geometry"},
    {"settings", "units", "errors", "resources", ""},
)
WINDOW = {"app", "ui", "__main__"}
DRAWERS = {"utils", "util", "misc", "helpers", "helper", "common", "core"}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "coverlayout", "resources", "tests", "sample_prints"}
# Words that say the unit of a float, and names whose meaning is plain without one.
UNIT_WORD = re.compile(
    r"(^|_)(mm|mm2|cm2|m2|px|px2|pt|deg|rad|percent|share|ratio|factor|s|ms|seconds|mb|kb|dpi|gsm|bulk|price|levels)(_|$)|(^|_)per_"
)
# Points, the four numbers of a matrix, counts of repeats or factors across and along, money, and the ends of any range.
UNITLESS_NAMES = {"x", "y", "dx", "dy", "xx", "xy", "yx", "yy", "across", "along", "amount"}
UNITLESS_NAMES |= {"number", "least", "most", "above", "below"}
# A row of the table of rules is a length in mm, a count, or so many times another figure.
UNITLESS_NAMES |= {"value", "times", "usual_least", "usual_most", "figure"}
BELOW_WINDOW = [module for module in modules() if module.area not in WINDOW]


def floor(area: str) -> int:
    found = [number for number, areas in enumerate(FLOORS) if area in areas]
    assert found, f"coverlayout/{area} has no floor in the house"
    return found[0]


def guilty(lines: list[str]) -> None:
    assert not lines, "\n" + "\n".join(lines)


def test_imports_point_downward() -> None:
    guilty([line for module in modules() for line in upward_imports(module)])


def upward_imports(module: Module) -> list[str]:
    return [
        f"{module.path}:{line} must not import {imported}"
        for line, imported in module.imports()
        if re.match(r"coverlayout(\.|$)", imported) and floor(module.area) > floor(_area_of(imported))
    ]


@pytest.mark.parametrize(
    ("path", "text", "told"),
    [
        ("coverlayout/cloth/cuts.py", "from coverlayout.layout import rules", ["coverlayout.layout.rules"]),
        ("coverlayout/ui/panels/a.py", "def f():\n    import coverlayout.app.verbs", ["coverlayout.app.verbs"]),
        ("coverlayout/units.py", "from coverlayout import geometry", ["coverlayout.geometry"]),
        ("coverlayout/layout/rules.py", "from coverlayout.geometry.frames import Affine\nimport numpy", []),
        ("coverlayout/cloth/cuts.py", "from coverlayout.cloth.usable import usable", []),
    ],
)
def test_the_guilty_import_is_named(path: str, text: str, told: list[str]) -> None:
    assert [line.rpartition(" ")[2] for line in upward_imports(Module(path, text))] == told


def _area_of(imported: str) -> str:
    part = imported.split(".")[1] if "." in imported else ""
    return "" if part.startswith("__version__") else part


@pytest.mark.parametrize(
    ("library", "homes"),
    [(r"(PySide6|shiboken6|PyQt\d)\b", {"ui", "app"}), (r"shapely\b", {"geometry", "ui"}), (r"pickle\b", set())],
)
def test_a_library_stays_in_its_rooms(library: str, homes: set[str]) -> None:
    guilty(
        [
            f"{module.path}:{line} must not import {imported}"
            for module in modules()
            for line, imported in module.imports()
            if re.match(library, imported) and module.area not in homes
        ]
    )


def test_nothing_below_the_window_loads_qt() -> None:
    """Imports written in strings or calls would pass the reading above."""
    guilty([module.path for module in BELOW_WINDOW if "PySide6" in module.text])


def test_folders_are_shallow_and_small() -> None:
    count = Counter(str(PurePosixPath(module.path).parent) for module in modules() if not module.is_package)
    deep = [f"{folder}: deeper than 3 folders" for folder in count if folder.count("/") > 2]
    guilty(deep + [f"{folder}: {number} modules, at most 8" for folder, number in count.items() if number > 8])


def test_nothing_is_put_away_in_a_drawer() -> None:
    guilty([name for name in repository_files() if DRAWERS & set(PurePosixPath(name).with_suffix("").parts)])


def test_top_level_holds_what_the_drawing_shows() -> None:
    tops = {name.split("/")[0] for name in repository_files()}
    guilty(sorted(top for top in tops if top not in TOP_LEVEL and not top.startswith(".")))


def test_no_licence_has_been_given() -> None:
    guilty([name for name in repository_files() if re.match(r"(licen[cs]e|copying)", PurePosixPath(name).name, re.I)])


def test_every_module_below_the_window_has_its_tests() -> None:
    guilty(
        [
            f"{module.path}: no tests/unit/{'/'.join(_mirrors(module)[0])}"
            for module in BELOW_WINDOW
            if not module.is_package
            and not any((ROOT / "tests/unit").joinpath(*mirror).is_file() for mirror in _mirrors(module))
        ]
    )


def _mirrors(module: Module) -> list[tuple[str, ...]]:
    """Where the tests of a module may lie; the longer name is for a noun that two areas share."""
    *folders, name = module.name.split(".")[1:]
    names = [name, *("_".join([*folders[start:], name]) for start in range(len(folders)))]
    return [(*place, f"test_{named}.py") for place in (folders, folders[:1]) for named in names]


def test_every_package_goes_into_the_wheel() -> None:
    listed = set(tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]["packages"])
    packages = {module.name for module in modules() if module.is_package} | {"coverlayout.resources"}
    guilty([f"pyproject.toml: [tool.setuptools] packages lacks {name}" for name in sorted(packages - listed)])
    guilty(
        [f"pyproject.toml: [tool.setuptools] packages lists {name}, which is not there" for name in listed - packages]
    )


def test_every_module_says_its_theme_and_its_names() -> None:
    lines = [f"{module.path}: no docstring" for module in modules() if not ast.get_docstring(module.tree)]
    for module in modules():
        assigned = {
            target.id
            for node in module.tree.body
            if isinstance(node, ast.Assign | ast.AnnAssign)
            for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
            if isinstance(target, ast.Name)
        }
        if not module.is_package and module.area != "__main__" and "__all__" not in assigned:
            lines.append(f"{module.path}: no __all__")
    guilty(lines)


def test_functions_and_classes_stay_short() -> None:
    modules_everywhere = chain(modules(), each_module("resources"), each_module("tests"))
    guilty([line for module in modules_everywhere for line in too_long(module)])


def too_long(module: Module) -> list[str]:
    found = [
        f"{module.path}:{node.lineno} {node.name}: {_code_lines(node)} lines of code, at most 60"
        for node in module.functions()
        if _code_lines(node) > 60
    ]
    return found + [
        f"{module.path}:{node.lineno} {node.name}: {_lines(node)} lines, at most 300"
        for node in module.classes()
        if _lines(node) > 300
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("def f():\n" + "    x = 1\n" * 59, []),
        ("class A:\n    def f(self):\n" + "        x = 1\n" * 60, ["a.py:2 f: 61 lines of code, at most 60"]),
        ("class A:\n" + "    x = 1\n" * 299, []),
        ("\nclass A:\n" + "    x = 1\n" * 300, ["a.py:2 A: 301 lines, at most 300"]),
    ],
)
def test_what_is_too_long_is_named(text: str, told: list[str]) -> None:
    assert too_long(Module("a.py", text)) == told


def _lines(node: ast.stmt) -> int:
    return (node.end_lineno or node.lineno) - node.lineno + 1


def _code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    return _lines(node) - (_lines(node.body[0]) if ast.get_docstring(node) else 0)


def test_floats_say_their_unit() -> None:
    lines = []
    for module in BELOW_WINDOW:
        for line, where, name, annotation in _public_floats(module):
            plain = annotation.replace(" ", "") in ("float", "float|None")
            if plain and not UNIT_WORD.search(name) and name not in UNITLESS_NAMES:
                lines.append(f"{module.path}:{line} {where}({name}: {annotation}): in which unit?")
    guilty(lines)


def _public_floats(module: Module) -> list[tuple[int, str, str, str]]:
    """Parameters of public functions and fields of public classes: line, owner, name, annotation."""
    found = []
    for function in module.functions():
        arguments = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
        if not function.name.startswith("_"):
            found += [
                (function.lineno, function.name, a.arg, ast.unparse(a.annotation)) for a in arguments if a.annotation
            ]
    for owner in module.classes():
        if not owner.name.startswith("_"):
            found += [
                (node.lineno, owner.name, node.target.id, ast.unparse(node.annotation))
                for node in owner.body
                if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name)
            ]
    return found


def test_nothing_speaks_of_the_place_where_it_was_made() -> None:
    """Words are put together here so that this file does not find itself."""
    places = "|".join(["/" + "work/", "/" + "root/", "/" + "home/", "/" + r"tmp/(?!\.X11)", "C:" + r"\\Users"])
    papers = "|".join(["DESIGN" + r"\.md", "EXAMPLES" + r"\.md", r"\b[A-Z]+_" + r"NOTES\.md", "pypi" + r"\.org"])
    told = re.compile(f"{places}|{papers}")
    lines = []
    for name in repository_files():
        if PurePosixPath(name).suffix in (".py", ".md", ".toml", ".csv", ".json", ".svg", ".txt", ""):
            text = (ROOT / name).read_text(encoding="utf-8", errors="replace")
            lines += [f"{name}: {match[0]}" for match in told.finditer(text)]
    guilty(lines)
