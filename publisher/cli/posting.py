"""The command ``posts``: pictures for posts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from publisher.cli.place import open_here, shown, some_chosen
from publisher.cli.speech import Speech

COVER_PX = 1080


def posts(speech: Speech, names: Sequence[str], out: Path | None) -> None:
    workshop = open_here(speech)
    if workshop is None:
        return
    from publisher.drawing.making import moving_picture
    from publisher.drawing.png import to_png
    from publisher.drawing.space_view import draw_cover
    from publisher.drawing.svg import to_svg
    from publisher.pipeline import check_pattern
    from publisher.workshop import look_of, write_file

    listed = some_chosen(speech, workshop, names)
    theme, _ = look_of(workshop)
    folder = out or workshop.build / "posts"
    for name in listed:
        outcome = check_pattern(workshop, name)
        speech.findings(outcome.diagnostics, outcome.sources)
        if outcome.failed or outcome.pattern is None or outcome.story is None:
            speech.result(f"{name}: what does not hold is not shown; nothing is written")
            continue
        told = outcome.story.handled or outcome.pattern
        stocks = {piece.stock.name: piece.stock for piece in told.pieces}
        cover = to_svg(draw_cover(told, outcome.story), theme, stocks)
        made = {
            f"{name}-cover.png": to_png(cover, COVER_PX),
            f"{name}-making.webp": moving_picture(told, outcome.story, theme),
        }
        for file, data in made.items():
            if data:
                write_file(folder / file, data)
                speech.result(f"{name}: {shown(folder / file)}")
