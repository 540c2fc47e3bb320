"""The commands themselves: ask the pipeline, write what it gives, say what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.cli.place import chosen, open_here, shown, some_chosen
from publisher.cli.speech import Speech

if TYPE_CHECKING:
    from publisher.workshop import Outcome, Workshop


def check(speech: Speech, names: Sequence[str], thorough: bool = False, variant: str = "") -> None:
    _named(names, variant)
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.pipeline import check_pattern

    for name in some_chosen(speech, workshop, names):
        outcome = check_pattern(workshop, name, variant, thorough)
        shown_before = len(outcome.checks)
        if thorough:
            from publisher.workshop import thoroughly

            outcome = thoroughly(outcome, workshop.trade)
        speech.findings(outcome.diagnostics, outcome.sources)
        for result in outcome.checks[shown_before:]:
            if result.result == "pass":
                speech.result(f"{name}: {result.sentence}")
        speech.result(f"{name}: {_verdict(outcome)}")


def bundle(speech: Speech, names: Sequence[str], out: Path | None, variant: str = "") -> None:
    _named(names, variant)
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.pipeline import build_bundle

    folder = out or workshop.build / "bundles"
    for name in some_chosen(speech, workshop, names):
        with speech.progress() as say:
            outcome = build_bundle(workshop, name, say, variant)
        speech.findings(outcome.diagnostics, outcome.sources)
        _write_bundle(speech, workshop, folder, outcome)


def _write_bundle(speech: Speech, workshop: Workshop, folder: Path, outcome: Outcome) -> None:
    from publisher.bundle import folder_name
    from publisher.workshop import write_file, write_folder

    name = outcome.name
    if outcome.failed or outcome.pattern is None:
        speech.result(f"{name}: {_verdict(outcome)}; nothing is written")
        return
    path = folder / f"{folder_name(outcome.pattern)}.zip"
    others = [
        (folder / f"{folder_name(outcome.pattern, maker)}.zip", data)
        for maker, data in outcome.makers
    ]
    try:
        write_file(path, outcome.zip_bytes)
        for other, data in others:
            write_file(other, data)
        write_folder(workshop.build / "diagrams" / name, outcome.files)
    except OSError as error:
        speech.trouble(f"{name}: cannot write {shown(path)}: {error.strerror or error}")
        return
    speech.result(f"{name}: {_verdict(outcome)}; {shown(path)}")
    for other, _ in others:
        speech.result(f"{name}: {shown(other)}")


def site(
    speech: Speech, names: Sequence[str], out: Path | None, with_bundles: bool = False
) -> None:
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.pipeline import build_site
    from publisher.workshop import write_folder

    folder = out or workshop.build / "site"
    with speech.progress() as say:
        outcome = build_site(workshop, chosen(workshop, names), say)
    speech.findings(outcome.diagnostics, outcome.sources)
    if with_bundles:
        for made in outcome.bundles:
            _write_bundle(speech, workshop, workshop.build / "bundles", made)
    if outcome.failed:
        speech.result("site: findings stop it; nothing is written")
        return
    try:
        write_folder(folder, outcome.files)
    except OSError as error:
        speech.trouble(f"site: cannot write {shown(folder)}: {error.strerror or error}")
        return
    speech.result(f"site: {shown(folder / 'index.html')}")


def start(speech: Speech, folder: Path) -> None:
    import click

    from publisher.workshop import start_workshop

    try:
        written = start_workshop(folder)
    except OSError as error:
        speech.trouble(f"cannot make {folder}: {error.strerror or error}")
        return
    if written is None:
        raise click.UsageError(f"There is something in {folder} already. Choose a new name.")
    for name in written:
        speech.result(f"{folder / name}")
    speech.result(f"\nGo on with:\n\n    cd {folder}\n    publisher check\n    publisher bundle")


def _named(names: Sequence[str], variant: str) -> None:
    if variant and not names:
        import click

        raise click.UsageError("Name the pattern whose variant is meant.")


def _verdict(outcome: Outcome) -> str:
    stops = sum(d.severity == "error" for d in outcome.diagnostics)
    warnings = len(outcome.diagnostics) - stops
    parts = []
    if stops:
        parts.append("1 finding stops it" if stops == 1 else f"{stops} findings stop it")
    elif outcome.checks:
        passed = sum(check.result == "pass" for check in outcome.checks)
        parts.append(f"{passed} of {len(outcome.checks)} checks pass")
        parts += [f"also as {' and as '.join(outcome.variants)}"] if outcome.variants else []
    else:
        parts.append("fine")
    if warnings:
        parts.append("1 warning" if warnings == 1 else f"{warnings} warnings")
    return ", ".join(parts)
