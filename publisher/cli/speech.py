"""What is said: findings and results on standard output, progress on standard error.

On a terminal progress is one line that changes; in a pipe each stage is a plain line. With
``json`` standard output carries findings and nothing else, or one object with them and with
what a command was asked for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Literal, TypeAlias

from publisher.diagnostics import Diagnostic

Form: TypeAlias = Literal["full", "concise", "json"]


def form_named(name: str) -> Form:
    """The form that ``--format`` asked for."""
    return name if name in ("concise", "json") else "full"  # type: ignore[return-value]


def _plain_line(text: str) -> None:
    sys.stderr.write(f"{text}\n")
    sys.stderr.flush()


class Speech:
    """One run of one command: what it has said so far, and the exit code that follows."""

    def __init__(self, form: Form) -> None:
        self.form = form
        self.failed = False
        self._said = False
        self._kept: list[Diagnostic] = []
        self._sources: dict[str, str] = {}
        self._data: dict[str, list[object]] = {}

    def findings(self, found: Iterable[Diagnostic], sources: Mapping[str, str]) -> None:
        """Say them now, or for ``json`` keep them for the one array at the end."""
        listed = tuple(found)
        self.failed = self.failed or any(d.severity == "error" for d in listed)
        if self.form == "json":
            self._kept.extend(listed)
            self._sources.update(sources)
            return
        if listed:
            from publisher.diagnostics.render import render

            apart = "\n" if self._said and self.form == "full" else ""
            self._write(apart + render(listed, sources, self.form))

    def result(self, line: str) -> None:
        """One line for a person: what was checked, what was written and where."""
        if self.form != "json":
            self._write(f"{line}\n")

    def data(self, kind: str, entry: object) -> None:
        """What was asked for, as ``json`` gives it: under its kind, beside the findings."""
        self._data.setdefault(kind, []).append(entry)

    def trouble(self, line: str) -> None:
        """Something that is no finding in a source: the disk is full, a folder cannot be made."""
        self.failed = True
        sys.stderr.write(f"{line}\n")

    def _write(self, text: str) -> None:
        self._said = True
        sys.stdout.write(text)
        sys.stdout.flush()

    @contextmanager
    def progress(self) -> Iterator[Callable[[str], None]]:
        """Gives the function that says what is being done."""
        if not sys.stderr.isatty():
            yield _plain_line
            return
        # Rich takes as long to import as a whole check; only a terminal needs it.
        from rich.console import Console
        from rich.text import Text

        console = Console(stderr=True)
        with console.status("") as status:
            yield lambda text: status.update(Text(text))

    def end(self) -> int:
        """Say what was kept, and give the exit code."""
        if self.form == "json":
            from publisher.diagnostics.render import render

            findings = render(self._kept, self._sources, "json")
            if self._data:
                import json

                whole = {**self._data, "findings": json.loads(findings)}
                findings = json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
            self._write(findings)
        return 1 if self.failed else 0
