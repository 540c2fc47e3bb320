"""Which workshop and which patterns a command is about."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.cli.speech import Speech

if TYPE_CHECKING:
    from publisher.workshop import Workshop


def open_here(speech: Speech) -> Workshop | None:
    """The workshop round the current folder; None, and all said, where it cannot be used."""
    from publisher.diagnostics import has_errors
    from publisher.workshop import find_root, open_workshop

    root = find_root(Path.cwd())
    if root is None:
        import click

        raise click.UsageError(
            "This is no workshop: neither this folder nor one above it holds site/site.toml. "
            "‘publisher start NAME’ makes a new one."
        )
    workshop, found = open_workshop(root)
    speech.findings(found, dict(workshop.texts))
    return None if has_errors(found) else workshop


def some_chosen(speech: Speech, workshop: Workshop, names: Sequence[str]) -> tuple[str, ...]:
    """The patterns asked for, as ``chosen`` finds them; it is said where there are none."""
    found = chosen(workshop, names)
    if not found:
        speech.trouble("There is no pattern in content/ yet.")
    return found


def chosen(workshop: Workshop, names: Sequence[str]) -> tuple[str, ...]:
    """The patterns asked for, each once; all of them where none was named.

    A path to a pattern's folder or file will do for its name.
    """
    from publisher.workshop import pattern_names

    if not names:
        return pattern_names(workshop)
    return tuple(dict.fromkeys(_name(workshop, name) for name in names))


def _name(workshop: Workshop, given: str) -> str:
    path = Path(given)
    if path.name == "pattern.md":
        path = path.parent
    whole = path.resolve()
    if whole.parent == workshop.root / "content" and (len(path.parts) > 1 or whole.is_dir()):
        return whole.name
    return given.strip("/")


def shown(path: Path) -> str:
    """A path as short as it gets from the current folder."""
    try:
        return str(path.relative_to(Path.cwd()))
    except ValueError:
        return str(path)
