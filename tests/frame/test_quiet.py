"""Only the command line speaks: no other module prints or logs."""

from __future__ import annotations

import ast

import pytest

from tests.frame.modules import Module, modules

SPEAKERS = {"cli", "desk"}
SPEECH = {"logging", "warnings", "rich", "click"}


def speech(tree: ast.Module) -> list[str]:
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            if node.func.id in {"print", "input", "breakpoint"}:
                found.append(f"{node.lineno} {node.func.id}")
        elif isinstance(node, ast.Import):
            names = [alias.name.split(".")[0] for alias in node.names]
            found.extend(f"{node.lineno} {name}" for name in names if name in SPEECH)
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            name = (node.module or "").split(".")[0]
            if name in SPEECH:
                found.append(f"{node.lineno} {name}")
            if name == "sys":
                found.extend(
                    f"{node.lineno} sys.{alias.name}"
                    for alias in node.names
                    if alias.name in {"stdout", "stderr", "stdin"}
                )
        elif (
            isinstance(node, ast.Attribute)
            and isinstance(node.value, ast.Name)
            and node.value.id == "sys"
            and node.attr in {"stdout", "stderr", "stdin"}
        ):
            found.append(f"{node.lineno} sys.{node.attr}")
    return found


def others() -> list[Module]:
    return [module for module in modules() if module.room not in SPEAKERS]


def test_no_other_module_speaks() -> None:
    assert [f"{m.shown}:{said}" for m in others() for said in speech(m.tree)] == []


@pytest.mark.parametrize(
    "text",
    [
        "print(1)",
        "import logging",
        "from logging import getLogger",
        "import sys\nsys.stderr.write('')",
        "from sys import stdout",
        "def f():\n    import rich.console",
    ],
)
def test_this_test_hears(text: str) -> None:
    assert speech(ast.parse(text))


CLOCKS = {"time", "random", "secrets", "uuid"}
CLOCK_CALLS = {"now", "today", "utcnow"}


def chance(tree: ast.Module) -> list[str]:
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found.extend(f"{node.lineno} {a.name}" for a in node.names if a.name in CLOCKS)
        elif isinstance(node, ast.ImportFrom) and node.module in CLOCKS:
            found.append(f"{node.lineno} {node.module}")
        elif (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and node.func.attr in CLOCK_CALLS
        ):
            found.append(f"{node.lineno} {node.func.attr}")
    return found


def test_no_clock_and_no_chance() -> None:
    """The same input gives the same bytes, whenever and wherever it is built."""
    assert [f"{m.shown}:{found}" for m in others() for found in chance(m.tree)] == []


@pytest.mark.parametrize("text", ["import random", "import datetime\ndatetime.date.today()"])
def test_this_test_sees_chance(text: str) -> None:
    assert chance(ast.parse(text))
