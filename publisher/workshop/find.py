"""The workshop itself, and what lies in it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from publisher.diagnostics import Diagnostic, Place, Span, WayOut
from publisher.trade import FILES, Trade, read_trade
from publisher.workshop.data import folder_files, locate
from publisher.workshop.settings import FILE, Settings, read_settings


@dataclass(frozen=True, slots=True)
class Workshop:
    """A folder that holds ``site/site.toml``, its settings, and the data its patterns use.

    ``texts`` are the settings and shared files as read, by the name that findings use.
    """

    root: Path
    settings: Settings
    trade: Trade
    texts: tuple[tuple[str, str], ...] = ()

    @property
    def build(self) -> Path:
        """Where everything that is built goes."""
        return self.root / "build"


def find_root(start: Path) -> Path | None:
    """The nearest folder, from ``start`` upwards, that holds ``site/site.toml``."""
    here = start.resolve()
    for folder in (here, *here.parents):
        if (folder / FILE).is_file():
            return folder
    return None


def open_workshop(root: Path) -> tuple[Workshop, tuple[Diagnostic, ...]]:
    """Read the settings and the shared data; what is wrong with them comes beside them."""
    wrong: list[Diagnostic] = []
    texts: dict[str, str] = {}
    site = _read_text(root / FILE, FILE, wrong)
    texts[FILE] = site
    settings, wrong_settings = read_settings(site)
    wrong.extend(wrong_settings)
    shared = {}
    for name in FILES:
        shown = f"shared/{name}"
        path = locate(shown, root)
        if path is not None:
            shared[name] = texts[shown] = _read_text(path, shown, wrong)
    trade, wrong_trade = read_trade(shared)
    wrong.extend(wrong_trade)
    return Workshop(root, settings, trade, tuple(texts.items())), tuple(wrong)


def _read_text(path: Path, shown: str, wrong: list[Diagnostic]) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        span = Span(shown, 0, 0, error.object.count(b"\n", 0, error.start) + 1, 1)
        message = f"this file is not UTF-8: byte {error.start + 1} cannot be read"
        wrong.append(Diagnostic("not-utf-8", "error", message, (Place(span),)))
        return ""


def pattern_file(name: str) -> str:
    """The pattern's source as shown to its designer."""
    return f"content/{name}/pattern.md"


def pattern_names(workshop: Workshop) -> tuple[str, ...]:
    """Every folder of ``content/`` that holds a ``pattern.md``, sorted."""
    content = workshop.root / "content"
    return tuple(sorted(path.parent.name for path in content.glob("*/pattern.md")))


def nearest_name(name: str, names: Iterable[str]) -> str | None:
    """The name that looks most like the one asked for, if any does."""
    near = difflib.get_close_matches(name.lower().replace(" ", "-"), sorted(names), 1)
    return near[0] if near else None


def missing_pattern(workshop: Workshop, name: str) -> Diagnostic:
    """The finding for a name that no folder has."""
    names = pattern_names(workshop)
    near = nearest_name(name, names)
    ways_out = (WayOut(f"write ‘{near}’"),) if near else ()
    notes = (f"Here are {', '.join(names)}.",) if names else ("There is none in content/ yet.",)
    message = f"there is no pattern ‘{name}’"
    place = Place(Span(pattern_file(name), 0, 0, 1, 1))
    return Diagnostic("pattern-missing", "error", message, (place,), notes=notes, ways_out=ways_out)


def read_pattern(workshop: Workshop, name: str) -> bytes | None:
    """The bytes of ``pattern.md``; None where there is no such file."""
    path = workshop.root / pattern_file(name)
    if Path(name).name != name or not path.is_file():
        return None
    return path.read_bytes()


def read_companions(workshop: Workshop, name: str) -> dict[str, bytes]:
    """What lies beside ``pattern.md``: pictures and artwork, by path inside the folder."""
    files = folder_files(workshop.root / "content" / name)
    files.pop("pattern.md", None)
    return files


def read_theme(workshop: Workshop) -> dict[str, bytes] | None:
    """Every file of the workshop's theme by path inside its folder; None without the theme."""
    folder = locate(f"themes/{workshop.settings.theme}", workshop.root)
    return folder_files(folder) if folder is not None and folder.is_dir() else None
