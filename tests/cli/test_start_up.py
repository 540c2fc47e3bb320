"""The command answers at once: what it need not load, it does not."""

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
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


def called(*words: str, cwd: Path = ROOT) -> subprocess.CompletedProcess[bytes]:
    code = "from publisher.cli import main; main()"
    return subprocess.run([sys.executable, "-c", code, *words], capture_output=True, cwd=cwd)


def test_a_plain_check_says_what_one_with_options_says() -> None:
    plain, full = called("check", "envelope"), called("check", "envelope", "--format", "full")
    assert (plain.returncode, plain.stdout, plain.stderr) == (0, full.stdout, full.stderr)
    assert b"envelope: " in plain.stdout + plain.stderr


def test_a_plain_check_loads_no_reader_of_options() -> None:
    code = (
        "import sys\nfrom publisher.cli.plain import checked\n"
        "print(checked(['check', 'envelope']), 'click' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT)
    assert run.stdout.endswith("0 False\n")


def test_wrong_use_of_a_plain_check_is_told_as_ever(tmp_path: Path) -> None:
    run = called("check", cwd=tmp_path)
    assert run.returncode == 2
    assert b"This is no workshop" in run.stderr
    assert b"publisher check" in run.stderr
    assert called("check", "no such pattern").returncode == 1
