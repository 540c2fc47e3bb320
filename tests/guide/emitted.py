"""The codes of findings that a program's sources can emit, read from the sources.

Every call of ``Diagnostic(...)`` is found, and what it is given as a code is followed back to
the words in quotes: through local names, loops over written-out lists, constants of the module,
and the parameters of the functions in between to all their callers.
"""

from __future__ import annotations

import ast
import itertools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

FOUNTAIN = "Diagnostic"
_SAID = re.compile(r"[a-z]+(?:-[a-z0-9]+)*")


@dataclass(frozen=True)
class Emitted:
    """One code, and where its words stand."""

    code: str
    module: str
    line: int


@dataclass(frozen=True)
class Unread:
    """A code that is no words in quotes and leads to none."""

    module: str
    line: int
    text: str


@dataclass(frozen=True)
class _Function:
    module: str
    node: ast.FunctionDef
    owner: str | None

    @property
    def parameters(self) -> list[str]:
        """Those that can be given by position, without ``self``."""
        given = [a.arg for a in (*self.node.args.posonlyargs, *self.node.args.args)]
        return given[1:] if self.owner is not None else given

    def default(self, name: str) -> ast.expr | None:
        args = self.node.args
        named = [*args.posonlyargs, *args.args]
        found = dict(zip([a.arg for a in named[::-1]], args.defaults[::-1], strict=False))
        for argument, value in zip(args.kwonlyargs, args.kw_defaults, strict=True):
            if value is not None:
                found[argument.arg] = value
        return found.get(name)

    def takes(self, name: str) -> bool:
        return name in self.parameters or name in [a.arg for a in self.node.args.kwonlyargs]


@dataclass
class Sources:
    """Modules by dotted name."""

    trees: Mapping[str, ast.Module]
    unread: list[Unread] = field(default_factory=list)

    @cached_property
    def calls(self) -> list[tuple[str, ast.Call, _Function | None]]:
        """Every call with its module and the function that it stands in."""
        return [
            (module, node, function)
            for module, tree in self.trees.items()
            for node, function in _with_functions(module, tree)
            if isinstance(node, ast.Call)
        ]

    def emitted(self) -> list[Emitted]:
        """Every code; what could not be followed is in ``unread`` afterwards."""
        found: set[Emitted] = set()
        for module, call, function in self.calls:
            if _called(call) != FOUNTAIN:
                continue
            code = _argument(call, 0, "code")
            if code is not None:
                found.update(self._words(code, module, function, ()))
        return sorted(found, key=lambda e: (e.code, e.module, e.line))

    def _words(
        self, expr: ast.expr, module: str, function: _Function | None, seen: tuple[str, ...]
    ) -> Iterator[Emitted]:
        match expr:
            case ast.Constant(value=str(code)):
                yield Emitted(code, module, expr.lineno)
            case ast.IfExp():
                yield from self._words(expr.body, module, function, seen)
                yield from self._words(expr.orelse, module, function, seen)
            case ast.JoinedStr():
                parts = [
                    list(
                        self._words(
                            p.value if isinstance(p, ast.FormattedValue) else p,
                            module,
                            function,
                            seen,
                        )
                    )
                    for p in expr.values
                ]
                for several in itertools.product(*parts):
                    yield Emitted("".join(e.code for e in several), module, expr.lineno)
            case ast.Name(id=name):
                yield from self._named(name, expr, module, function, seen)
            case _:
                self.unread.append(Unread(module, expr.lineno, ast.unparse(expr)))

    def _named(
        self,
        name: str,
        expr: ast.expr,
        module: str,
        function: _Function | None,
        seen: tuple[str, ...],
    ) -> Iterator[Emitted]:
        scope = function.node if function is not None else self.trees[module]
        given = list(_given_to(name, scope))
        for value in given:
            yield from self._words(value, module, function, seen)
        if function is not None and function.takes(name):
            default = function.default(name)
            if default is not None:
                yield from self._words(default, module, None, seen)
            step = f"{module}.{function.node.name}.{name}"
            if step not in seen:
                yield from self._from_callers(name, function, (*seen, step))
        elif not given and function is not None:
            yield from self._named(name, expr, module, None, seen)
        elif not given:
            self.unread.append(Unread(module, expr.lineno, ast.unparse(expr)))

    def _from_callers(
        self, name: str, function: _Function, seen: tuple[str, ...]
    ) -> Iterator[Emitted]:
        at = function.parameters.index(name) if name in function.parameters else None
        wanted = function.owner or function.node.name
        for module, call, caller in self.calls:
            if _called(call) != function.node.name:
                continue
            if module != function.module and wanted not in self._taken(module, function.module):
                continue
            value = _argument(call, at, name)
            if value is not None:
                yield from self._words(value, module, caller, seen)

    def _taken(self, module: str, other: str) -> set[str]:
        """The names that a module imports from another one."""
        return {
            alias.name
            for node in ast.walk(self.trees[module])
            if isinstance(node, ast.ImportFrom) and node.module == other
            for alias in node.names
        }


def read_sources(package: Path) -> Sources:
    """Every module of a package."""
    trees = {}
    for path in sorted(package.rglob("*.py")):
        name = ".".join(path.relative_to(package.parent).with_suffix("").parts)
        trees[name.removesuffix(".__init__")] = ast.parse(path.read_text(encoding="utf-8"))
    return Sources(trees)


def said_in(docstring: str) -> set[str]:
    """The codes that a room's docstring lists after ‘Reports’: in backticks, or by commas."""
    found = re.search(r"\b[Rr]eports:?\s(.+?)(?:\.(?:\s|$)|\Z)", docstring, re.DOTALL)
    if found is None or re.match(r"(nothing|no codes)\b", found.group(1)):
        return set()
    listed = found.group(1)
    if "``" in listed:
        words = re.findall(r"``([^`]+)``", listed)
    else:
        words = re.split(r",\s+(?:and\s+)?|\s+and\s+", listed)
    return {word.strip() for word in words if _SAID.fullmatch(word.strip())}


def _with_functions(
    module: str, node: ast.AST, inside: _Function | None = None, owner: str | None = None
) -> Iterator[tuple[ast.AST, _Function | None]]:
    for child in ast.iter_child_nodes(node):
        yield child, inside
        if isinstance(child, ast.FunctionDef):
            function = _Function(module, child, owner)
            yield from _with_functions(module, child, function)
        elif isinstance(child, ast.ClassDef):
            yield from _with_functions(module, child, inside, child.name)
        else:
            yield from _with_functions(module, child, inside, owner)


def _called(call: ast.Call) -> str:
    match call.func:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name
        case _:
            return ""


def _argument(call: ast.Call, at: int | None, name: str) -> ast.expr | None:
    for keyword in call.keywords:
        if keyword.arg == name:
            return keyword.value
    return call.args[at] if at is not None and at < len(call.args) else None


def _given_to(name: str, scope: ast.AST) -> Iterator[ast.expr]:
    """What a name is set to in a function, or at the top of a module."""
    waiting = list(ast.iter_child_nodes(scope))
    while waiting:
        node = waiting.pop()
        if isinstance(node, (ast.FunctionDef, ast.ClassDef, ast.Lambda)):
            continue
        if isinstance(node, ast.Assign):
            for target in node.targets:
                yield from _matched(name, target, node.value)
        elif isinstance(node, ast.AnnAssign) and node.value is not None:
            yield from _matched(name, node.target, node.value)
        elif isinstance(node, ast.For) and isinstance(node.iter, (ast.Tuple, ast.List)):
            for item in node.iter.elts:
                yield from _matched(name, node.target, item)
        waiting.extend(ast.iter_child_nodes(node))


def _matched(name: str, target: ast.expr, value: ast.expr) -> Iterator[ast.expr]:
    match target:
        case ast.Name(id=known) if known == name:
            yield value
        case ast.Tuple(elts=names) if isinstance(value, ast.Tuple):
            for one, its in zip(names, value.elts, strict=False):
                yield from _matched(name, one, its)
