"""What can be asked for, and how."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from publisher import __version__

Command = TypeVar("Command", bound=Callable[..., Any])

_FORMAT = click.option(
    "--format",
    "form",
    type=click.Choice(["full", "concise", "json"]),
    default="full",
    show_default=True,
    help="How findings are written.",
)
_VARIANT = click.option(
    "--variant",
    default="",
    metavar="VARIANT",
    help="Take this one of the pattern's variants alone.",
)
_NAMES = click.argument("names", nargs=-1, metavar="[NAME]...")


def _out(what: str) -> Callable[[Command], Command]:
    folder = click.Path(file_okay=False, path_type=Path)
    return click.option("--out", type=folder, metavar="DIR", help=what)


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="NAME is a folder of content/; without a name a command takes all of them.",
)
@click.version_option(__version__, message="publisher %(version)s")
def publisher() -> None:
    """Turns one Markdown file into everything that a paper pattern needs."""


@publisher.command()
@click.argument("folder", type=click.Path(path_type=Path), metavar="NAME-OF-FOLDER")
def start(folder: Path) -> None:
    """Make a new workshop with a first pattern in it."""
    from publisher.cli import run
    from publisher.cli.speech import Speech

    speech = Speech("full")
    run.start(speech, folder)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@click.option(
    "--thorough",
    is_flag=True,
    help="Also try sizes over their ranges, makers by hand, rulers and other papers.",
)
@_VARIANT
@_FORMAT
def check(names: tuple[str, ...], thorough: bool, variant: str, form: str) -> None:
    """Say whether patterns fit together, and where not."""
    from publisher.cli import run
    from publisher.cli.speech import Speech, form_named

    speech = Speech(form_named(form))
    run.check(speech, names, thorough, variant)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@_out("Put the zip files into DIR, not into build/bundles.")
@_VARIANT
@_FORMAT
def bundle(names: tuple[str, ...], out: Path | None, variant: str, form: str) -> None:
    """Build everything that a maker gets, one zip for each pattern."""
    from publisher.cli import run
    from publisher.cli.speech import Speech, form_named

    speech = Speech(form_named(form))
    run.bundle(speech, names, out, variant)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@_out("Put the sheets into DIR, not into build/proof.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="The paper of the PDF.",
)
def proof(names: tuple[str, ...], out: Path | None, paper: str) -> None:
    """Write a sheet that shows what fits and by how much, as PDF and as a page."""
    from publisher.cli import proving
    from publisher.cli.speech import Speech

    speech = Speech("full")
    proving.proof(speech, names, out, "letter" if paper == "letter" else "a4")
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@_out("Put the pictures into DIR, not into build/posts.")
def posts(names: tuple[str, ...], out: Path | None) -> None:
    """Draw what is shown where a pattern is posted: its cover, and its making as it moves."""
    from publisher.cli import posting
    from publisher.cli.speech import Speech

    speech = Speech("full")
    posting.posts(speech, names, out)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@_out("Put the pages into DIR, not into build/site.")
@click.option("--bundles", is_flag=True, help="Put the zip files into build/bundles too.")
@_FORMAT
def site(names: tuple[str, ...], out: Path | None, bundles: bool, form: str) -> None:
    """Build the web pages of the workshop."""
    from publisher.cli import run
    from publisher.cli.speech import Speech, form_named

    speech = Speech(form_named(form))
    run.site(speech, names, out, bundles)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@click.option(
    "--times",
    "times",
    type=click.IntRange(1, 1000),
    multiple=True,
    metavar="N",
    help="For how many to reckon; may be said several times. Without it: 1, 10 and 50.",
)
@_FORMAT
def supplies(names: tuple[str, ...], times: tuple[int, ...], form: str) -> None:
    """Say what a pattern takes and, with a price list, what it costs."""
    from publisher.cli import reckoning
    from publisher.cli.speech import Speech, form_named

    speech = Speech(form_named(form))
    reckoning.supplies(speech, names, times)
    raise SystemExit(speech.end())


@publisher.command()
@_NAMES
@click.option("--check", "only", is_flag=True, help="Change nothing; say what is not tidy.")
def tidy(names: tuple[str, ...], only: bool) -> None:
    """Set the lines of patterns and of your own forms in one way; no word is changed."""
    from publisher.cli import tidying
    from publisher.cli.speech import Speech

    speech = Speech("full")
    tidying.tidy(speech, names, only)
    raise SystemExit(speech.end())
