"""A workshop on the disk, and a pipeline that does what a test tells it to."""

from __future__ import annotations

import sys
import types
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from publisher.cli.commands import publisher
from publisher.diagnostics import Diagnostic, Place, Span, has_errors


@dataclass
class Check:
    result: str


@dataclass
class Made:
    """Stands for the pipeline's outcome."""

    name: str
    diagnostics: tuple[Diagnostic, ...] = ()
    sources: dict[str, str] = field(default_factory=dict)
    pattern: Any = None
    checks: tuple[Check, ...] = ()
    files: dict[str, bytes] = field(default_factory=dict)
    zip_bytes: bytes = b""
    bundles: tuple[Made, ...] = ()
    makers: tuple[tuple[str, bytes], ...] = ()
    variants: tuple[str, ...] = ()

    @property
    def failed(self) -> bool:
        return has_errors(self.diagnostics)


def finding(name: str, severity: Any = "error", message: str = "it does not fit") -> Diagnostic:
    span = Span(f"content/{name}/pattern.md", 2, 7, 2, 1)
    return Diagnostic("too-tight", severity, message, (Place(span),), (("free_mm", -1.5),))


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "shop"
    for name in ("box", "envelope"):
        (root / "content" / name).mkdir(parents=True)
        (root / "content" / name / "pattern.md").write_text(f"# {name}\ndepth\n")
    (root / "site").mkdir()
    (root / "site" / "site.toml").write_text('title = "Shop"\n')
    monkeypatch.chdir(root)
    return root


@pytest.fixture
def pipeline(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Every pattern is fine until a test puts something else into ``pipeline.made``."""
    meta = types.SimpleNamespace(version="1.2.0")
    fake: Any = types.ModuleType("publisher.pipeline")
    fake.made = {}
    fake.asked = []

    def outcome(name: str, variant: str = "") -> Made:
        fake.asked.append(f"{name} as {variant}" if variant else name)
        usual = Made(
            name,
            pattern=types.SimpleNamespace(name=name, meta=meta, variant=variant),
            checks=(Check("pass"), Check("pass")),
            files={"step-1.svg": b"<svg/>"},
            zip_bytes=f"zip of {name}".encode(),
        )
        return fake.made.get(name, usual)

    def build_bundle(_: Any, name: str, progress: Callable[[str], None], variant: str = "") -> Made:
        progress(f"{name}: drawing")
        return outcome(name, variant)

    def build_site(_: Any, names: tuple[str, ...], progress: Callable[[str], None]) -> Made:
        progress("pages")
        made = [outcome(name) for name in names]
        found = tuple(d for m in made for d in m.diagnostics)
        pages = {"index.html": b"<!doctype html>"}
        return Made("site", found, files=pages, bundles=tuple(made))

    fake.check_pattern = lambda _, name, variant="", thorough=False: outcome(name, variant)
    fake.build_bundle = build_bundle
    fake.build_site = build_site
    monkeypatch.setitem(sys.modules, "publisher.pipeline", fake)
    return fake


@pytest.fixture
def run() -> Callable[..., Result]:
    def call(*args: str) -> Result:
        result = CliRunner().invoke(publisher, args, prog_name="publisher")
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return call
