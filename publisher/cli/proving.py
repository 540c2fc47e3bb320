"""The command ``proof``: what fits and by how much, on a sheet to be shown."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.cli.place import open_here, shown, some_chosen
from publisher.cli.speech import Speech

if TYPE_CHECKING:
    from publisher.booklet.types import PaperName


def proof(speech: Speech, names: Sequence[str], out: Path | None, paper: PaperName) -> None:
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.pipeline import check_pattern, variants_of
    from publisher.proof import Part, missing_templates, proof_sheet
    from publisher.workshop import look_of, thoroughly, write_file

    listed = some_chosen(speech, workshop, names)
    theme, look = look_of(workshop)
    missing = missing_templates(theme, look)
    if missing:
        speech.findings(missing, {})
        return
    folder = out or workshop.build / "proof"
    for name in listed:
        outcome = thoroughly(check_pattern(workshop, name), workshop.trade)
        speech.findings(outcome.diagnostics, outcome.sources)
        if outcome.failed or outcome.pattern is None:
            speech.result(f"{name}: what does not hold has no proof sheet; nothing is written")
            continue
        each = (outcome, *(thoroughly(v, workshop.trade) for v in variants_of(workshop, outcome)))
        parts = [Part(o.pattern, o.checks) for o in each if o.pattern is not None]
        made = proof_sheet(parts, theme, look, workshop.settings.title, (paper,))
        for file, data in made.items():
            write_file(folder / file, data)
            speech.result(f"{name}: {shown(folder / file)}")
