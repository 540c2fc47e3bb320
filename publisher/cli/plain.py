"""``publisher check NAME``, said without options: what is asked most answers soonest.

Reading options takes Click, and to load that takes a twentieth of such a check.
"""

from __future__ import annotations

from collections.abc import Sequence


def checked(words: Sequence[str]) -> int | None:
    """The exit code of a plain check, done; None where the words want a reader of options or
    are wrong use, of which that reader tells."""
    if words[:1] != ["check"] or any(word.startswith("-") for word in words):
        return None
    from publisher.cli import run
    from publisher.cli.speech import Speech, form_named

    speech = Speech(form_named("full"))
    try:
        run.check(speech, words[1:])
    except (KeyboardInterrupt, BrokenPipeError):
        return 1
    except Exception as wrong:
        import click

        if isinstance(wrong, click.UsageError):
            return None
        raise
    return speech.end()
