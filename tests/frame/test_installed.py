"""The package as a stranger gets it: a wheel, with the shared data and the themes inside."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.frame.modules import PACKAGE, ROOT

SHARED = ("stocks", "sheets", "objects", "practice", "licences")


def python(code: str, cwd: Path, path: str = "") -> str:
    env = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    if path:
        env["PYTHONPATH"] = path
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=cwd, env=env, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built from a copy of what git keeps, so that nothing is left in the checkout."""
    if not (ROOT / ".git").exists():
        pytest.skip("this is no checkout")
    source = tmp_path_factory.mktemp("source")
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout.decode()
    for name in filter(None, listed.split("\0")):
        if (ROOT / name).is_file():
            (source / name).parent.mkdir(parents=True, exist_ok=True)
            (source / name).write_bytes((ROOT / name).read_bytes())
    out = tmp_path_factory.mktemp("wheel")
    code = (
        f"import sys, hatchling.build as build\nsys.stdout.write(build.build_wheel({str(out)!r}))"
    )
    name = python(code, source).strip().splitlines()[-1]
    return out / name


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel unpacked, which is all that installing a pure one does to its files."""
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(wheel) as zipped:
        zipped.extractall(folder)
    return folder


def test_the_wheel_carries_the_data(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as zipped:
        names = set(zipped.namelist())
    for name in SHARED:
        assert f"publisher/_data/shared/{name}.toml" in names
    for path in sorted((ROOT / "themes").rglob("*")):
        if path.is_file() and not path.name.startswith("."):
            assert f"publisher/_data/{path.relative_to(ROOT).as_posix()}" in names
    assert "publisher/workshop/starter/content/first-pattern/pattern.md" in names
    assert not any(name.startswith(("tests/", "content/", "site/")) for name in names)


def test_from_a_wheel_the_data_is_the_packages_own(installed: Path, tmp_path: Path) -> None:
    code = (
        "from publisher.workshop import locate\n"
        "import publisher\n"
        "print(publisher.__file__)\n"
        f"for name in {SHARED!r}:\n    print(locate(f'shared/{{name}}.toml', None))\n"
        "print(locate('themes/potting-shed', None))"
    )
    lines = python(code, tmp_path, str(installed)).splitlines()
    assert lines[0] == str(installed / "publisher" / "__init__.py")
    data = installed / "publisher" / "_data"
    assert lines[1:] == [
        *(str(data / "shared" / f"{name}.toml") for name in SHARED),
        str(data / "themes" / "potting-shed"),
    ]


def test_from_a_wheel_a_new_workshop_has_all_it_needs(installed: Path, tmp_path: Path) -> None:
    code = (
        "from pathlib import Path\n"
        "from publisher.workshop import open_workshop, pattern_names, read_theme, start_workshop\n"
        "start_workshop(Path('new'))\n"
        "workshop, wrong = open_workshop(Path('new'))\n"
        "print(wrong, pattern_names(workshop), sorted(workshop.trade.stocks)[0])\n"
        "print('theme.toml' in read_theme(workshop))"
    )
    assert python(code, tmp_path, str(installed)).splitlines() == [
        "() ('first-pattern',) card",
        "True",
    ]


def test_from_a_wheel_a_new_workshop_builds(installed: Path, tmp_path: Path) -> None:
    code = "import sys\nfrom publisher.cli import main\nsys.argv[1:] = {}\nmain()"
    python(code.format(["start", "new"]), tmp_path, str(installed))
    said = python(code.format(["bundle"]), tmp_path / "new", str(installed))
    assert said.endswith("build/bundles/first-pattern-1.0.0.zip\n")
    from publisher.bundle import verify

    assert verify((tmp_path / "new/build/bundles/first-pattern-1.0.0.zip").read_bytes()) == []


def test_from_an_editable_install_the_data_is_the_checkouts(tmp_path: Path) -> None:
    code = (
        "import publisher\nfrom publisher.workshop import locate\n"
        "print(publisher.__file__)\nprint(locate('shared/stocks.toml', None))"
    )
    lines = python(code, tmp_path).splitlines()
    assert lines == [str(PACKAGE / "__init__.py"), str(ROOT / "shared" / "stocks.toml")]
