"""The top level holds what a newcomer looks for, and nothing else."""

import subprocess

import pytest

from tests.frame.modules import PACKAGE, ROOT

ALLOWED = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "Makefile",
    "pyproject.toml",
    "requirements.lock",
    "content",
    "publisher",
    "shared",
    "site",
    "tests",
    "themes",
}


def kept() -> set[str]:
    """The paths that git keeps, or would keep if all were added."""
    if not (ROOT / ".git").exists():
        pytest.skip("this is no checkout")
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout.decode()
    return {path for path in listed.split("\0") if path and (ROOT / path).exists()}


def test_only_what_belongs_there() -> None:
    top = {path.split("/")[0] for path in kept()}
    assert {name for name in top if not name.startswith(".")} - ALLOWED == set()


def test_nothing_that_was_built_is_kept() -> None:
    built = [p for p in kept() if p.endswith((".zip", ".dxf", ".pyc")) or p.startswith("build/")]
    assert built == []


def test_tests_mirror_the_folders() -> None:
    folders = {p.name for p in (ROOT / "tests").iterdir() if p.is_dir()} - {"__pycache__"}
    rooms = {p.name for p in PACKAGE.iterdir() if p.is_dir()}
    beside = {"frame", "outside", "suite", "goldens", "bench", "shown", "fuzz"}
    assert folders - rooms - beside == set()
