"""The command ``publisher``: takes arguments, calls the pipeline, says what it found.

Thin, and quick to answer: everything heavy is imported by the command that needs it. The only
room that prints. Exit codes: 0 fine (warnings too), 1 findings that stop, 2 wrong use.
"""


def main() -> None:
    """The entry point of the command."""
    import contextlib
    import gc
    import os
    import sys

    # Nearly everything made here lives until the end: to look for rubbish in it again and again
    # takes a tenth of a check.
    gc.set_threshold(100_000, 50, 100)
    # Nothing here multiplies matrices so large that threads would pay: starting them takes longer.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # A terminal that cannot show a letter gets a question mark, never a crash.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    from publisher.cli.plain import checked

    code = checked(sys.argv[1:])
    if code is None:
        # Click takes a while to import; nobody who imports this room for its docs should wait.
        from publisher.cli.commands import publisher

        try:
            publisher(prog_name="publisher")
        except SystemExit as left:
            code = left.code if isinstance(left.code, int) else int(left.code is not None)
    # Files are closed and processes joined by now: to take apart, one by one, all that was made
    # takes another twentieth of a check.
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(BrokenPipeError):
            stream.flush()
    os._exit(code or 0)
