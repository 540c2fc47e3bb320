"""Stages import one way only."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest

from tests.frame.modules import PACKAGE, Module, modules

ROOMS = [
    # the foundation, used by all; it knows no stage
    "registry",
    "units",
    "diagnostics",
    "geometry",
    "trade",
    # the stages, in the way of the data
    "source",
    "language",
    "model",
    "folding",
    "assembly",
    "checks",
    "layout",
    "trimmer",
    "supplies",
    "drawing",
    "cutfiles",
    "templates",
    "printed",
    "readback",
    "booklet",
    "proof",
    "bundle",
    "website",
    "workshop",
    "cli",
]
PAGES_ONLY = {"guide"}
"""Folders that hold no modules."""


def imported(module: Module) -> Iterator[tuple[str, int]]:
    """Every module of this package that is named in an import, wherever in the file it
    stands, also for types only, also by name through importlib."""
    package = module.name if module.path.name == "__init__.py" else module.name.rpartition(".")[0]
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                home = package.split(".")
                home = home[: len(home) - node.level + 1]
                base = ".".join([*home, *([node.module] if node.module else [])])
            yield base, node.lineno
            for alias in node.names:
                yield f"{base}.{alias.name}", node.lineno
        elif (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and node.value.startswith("publisher.")
            and " " not in node.value
        ):
            yield node.value, node.lineno


def wrong_imports(module: Module) -> list[str]:
    """What this module imports and may not."""
    wrong = []
    for name, line in imported(module):
        parts = name.split(".")
        if parts[0] != "publisher" or len(parts) < 2:
            continue
        room = parts[1]
        if module.room == "" and module.path.name == "pipeline.py":
            allowed = room != "cli"
        elif module.room == "":
            allowed = False
        elif room == "pipeline":
            allowed = module.room == "cli"
        elif room in ROOMS:
            allowed = ROOMS.index(room) <= ROOMS.index(module.room)
        else:
            allowed = room == "__version__"
        if not allowed:
            wrong.append(f"{module.shown}:{line} imports {name}")
    return sorted(set(wrong))


def test_imports_go_one_way() -> None:
    assert [wrong for module in modules() for wrong in wrong_imports(module)] == []


def test_every_room_has_its_place() -> None:
    folders = {p.name for p in PACKAGE.iterdir() if p.is_dir()} - {"__pycache__", "_data"}
    assert folders - set(ROOMS) - PAGES_ONLY == set()
    assert set(ROOMS) <= folders
    for name in PAGES_ONLY & folders:
        assert list((PACKAGE / name).rglob("*.py")) == []


def test_every_room_says_what_it_takes_and_returns() -> None:
    docs = {
        room: ast.get_docstring(Module(PACKAGE / room / "__init__.py").tree) or "" for room in ROOMS
    }
    assert [room for room, doc in docs.items() if len(doc.split()) < 12] == []


class Written(Module):
    """A module made up for this test."""


@pytest.mark.parametrize(
    ("room", "text", "wrong"),
    [
        ("model", "import publisher.checks", 1),
        ("model", "from publisher.checks import run", 1),
        ("model", "from publisher import checks", 1),
        ("model", "from ..checks import run", 1),
        ("model", "from .. import checks", 1),
        ("model", "def f():\n    from publisher.assembly import fold", 1),
        ("model", "if TYPE_CHECKING:\n    import publisher.cli", 1),
        ("model", "import importlib\nimportlib.import_module('publisher.cli')", 1),
        ("model", "import publisher.pipeline", 1),
        ("units", "from publisher.source import read", 1),
        ("trade", "from publisher.model import Piece", 1),
        ("model", "from publisher.source import read", 0),
        ("model", "from publisher.geometry.path import Arc", 0),
        ("model", "from .types import Piece", 0),
        ("model", "import shapely", 0),
        ("cli", "from publisher.pipeline import check_pattern", 0),
        ("cli", "from publisher import __version__", 0),
    ],
)
def test_this_test_sees(room: str, text: str, wrong: int) -> None:
    module = Written(PACKAGE / room / "made_up.py")
    module.__dict__["text"] = text
    module.__dict__["tree"] = ast.parse(text)
    assert (len(wrong_imports(module)) > 0) == bool(wrong)
