"""The command answers at once: what it need not load, it does not."""

import subprocess
import sys
import time

HEAVY = ("shapely", "numpy", "ezdxf", "cairosvg", "typst", "lark", "rich", "pypdf", "jinja2")


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\n"
        "sys.argv = ['publisher', '--help']\n"
        "from publisher.cli.commands import publisher\n"
        "try:\n    publisher()\nexcept SystemExit:\n    pass\n"
        f"print('loaded', [name for name in {HEAVY!r} if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.endswith("loaded []\n")


def test_help_is_quick() -> None:
    """Target 0.15 s on two cores; ten times that would mean that something heavy crept in."""
    started = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", "from publisher.cli import main; main()", "--help"],
        capture_output=True,
        check=True,
    )
    assert time.perf_counter() - started < 1.5


def test_a_letter_that_the_terminal_lacks_is_no_crash() -> None:
    run = subprocess.run(
        [sys.executable, "-c", "from publisher.cli import main; main()", "check"],
        capture_output=True,
        cwd="/",
        env={"PYTHONIOENCODING": "ascii"},
        check=False,
    )
    assert run.returncode == 2
    assert b"Traceback" not in run.stderr
