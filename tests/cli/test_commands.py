"""What the commands say, write and answer."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from publisher import __version__
from tests.cli.conftest import Check, Made, finding

Run = Callable[..., Result]


def test_help_names_the_commands(run: Run) -> None:
    result = run("--help")
    assert result.exit_code == 0
    for command in ("start", "check", "bundle", "site"):
        assert f"\n  {command} " in result.stdout


def test_version(run: Run) -> None:
    assert run("--version").stdout == f"publisher {__version__}\n"


@pytest.mark.parametrize(
    "args",
    [
        ("fold",),
        ("check", "--format", "xml"),
        ("check", "--out", "x"),
        ("start",),
        ("bundle", "--out"),
        ("check", "--loud"),
        ("check", "--variant", "mini"),
        ("bundle", "--variant", "mini"),
    ],
)
def test_wrong_use_is_2(run: Run, shop: Path, args: tuple[str, ...]) -> None:
    assert run(*args).exit_code == 2


@pytest.mark.parametrize("command", ["check", "bundle", "site"])
def test_outside_of_a_workshop_is_wrong_use(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(command)
    assert result.exit_code == 2
    assert "site/site.toml" in result.stderr
    assert "publisher start" in result.stderr


def test_one_variant(run: Run, shop: Path, pipeline: Any) -> None:
    assert run("check", "box", "--variant", "mini").exit_code == 0
    result = run("bundle", "box", "--variant", "mini")
    assert pipeline.asked == ["box as mini", "box as mini"]
    assert "box-1.2.0-mini.zip" in result.stdout
    assert (shop / "build" / "bundles" / "box-1.2.0-mini.zip").is_file()


def test_says_which_variants_were_looked_at(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made("box", checks=(Check("pass"),), variants=("mini", "A6"))
    assert "1 of 1 checks pass, also as mini and as A6" in run("check", "box").stdout


def test_no_name_means_all(run: Run, shop: Path, pipeline: Any) -> None:
    result = run("check")
    assert pipeline.asked == ["box", "envelope"]
    assert result.exit_code == 0
    assert result.stdout == "box: 2 of 2 checks pass\nenvelope: 2 of 2 checks pass\n"


def test_names_are_taken_once_and_paths_count_as_names(
    run: Run, shop: Path, pipeline: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    run("check", "envelope", "content/envelope/", "content/box/pattern.md", "box")
    assert pipeline.asked == ["envelope", "box"]
    monkeypatch.chdir(shop / "content")
    run("check", "box", "./envelope", "../content/box")
    assert pipeline.asked[2:] == ["box", "envelope"]


def test_a_finding_that_stops_is_1(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made(
        "box", (finding("box"),), {"content/box/pattern.md": "# box\ndepth\n"}
    )
    result = run("check", "box", "envelope")
    assert result.exit_code == 1
    assert "error[too-tight]: it does not fit\n  content/box/pattern.md:2:1\n" in result.stdout
    assert "    2 | depth\n      | ^^^^^" in result.stdout
    assert "box: 1 finding stops it\n" in result.stdout
    assert "envelope: 2 of 2 checks pass\n" in result.stdout


def test_a_warning_is_fine(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made(
        "box", (finding("box", "warning"),), checks=(Check("pass"), Check("warning"))
    )
    result = run("check", "box")
    assert result.exit_code == 0
    assert "box: 1 of 2 checks pass, 1 warning\n" in result.stdout


def test_concise_is_one_line_each(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made("box", (finding("box"), finding("box", message="too long")))
    lines = run("check", "box", "--format", "concise").stdout.splitlines()
    assert lines == [
        "content/box/pattern.md:2:1: error[too-tight]: it does not fit",
        "content/box/pattern.md:2:1: error[too-tight]: too long",
        "box: 2 findings stop it",
    ]


@pytest.mark.parametrize("command", ["check", "bundle", "site"])
def test_json_is_one_array_and_nothing_else(
    run: Run, shop: Path, pipeline: Any, command: str
) -> None:
    pipeline.made["box"] = Made("box", (finding("box"),))
    pipeline.made["envelope"] = Made("envelope", (finding("envelope", "warning"),))
    result = run(command, "--format", "json")
    told = json.loads(result.stdout)
    assert [(d["code"], d["severity"]) for d in told] == [
        ("too-tight", "error"),
        ("too-tight", "warning"),
    ]
    assert told[0]["numbers"] == {"free_mm": -1.5}
    assert told[0]["places"][0]["file"] == "content/box/pattern.md"
    assert result.exit_code == 1


def test_json_without_findings_is_an_empty_array(run: Run, shop: Path, pipeline: Any) -> None:
    assert json.loads(run("check", "--format", "json").stdout) == []


def test_bundle_writes_the_zip_and_the_diagrams(run: Run, shop: Path, pipeline: Any) -> None:
    result = run("bundle")
    assert result.exit_code == 0
    assert (shop / "build/bundles/box-1.2.0.zip").read_bytes() == b"zip of box"
    assert (shop / "build/bundles/envelope-1.2.0.zip").read_bytes() == b"zip of envelope"
    assert (shop / "build/diagrams/box/step-1.svg").read_bytes() == b"<svg/>"
    assert "box: 2 of 2 checks pass; build/bundles/box-1.2.0.zip\n" in result.stdout
    assert "box: drawing\n" in result.stderr


def test_bundle_out_holds_the_zip_directly(run: Run, shop: Path, pipeline: Any) -> None:
    result = run("bundle", "box", "--out", "../elsewhere/here")
    assert result.exit_code == 0
    assert [p.name for p in (shop.parent / "elsewhere" / "here").iterdir()] == ["box-1.2.0.zip"]
    assert not (shop / "build" / "bundles").exists()


def test_a_failed_build_leaves_an_earlier_good_one(run: Run, shop: Path, pipeline: Any) -> None:
    run("bundle", "box")
    pipeline.made["box"] = Made("box", (finding("box"),), zip_bytes=b"half")
    result = run("bundle")
    assert result.exit_code == 1
    assert "box: 1 finding stops it; nothing is written\n" in result.stdout
    assert (shop / "build/bundles/box-1.2.0.zip").read_bytes() == b"zip of box"
    assert (shop / "build/diagrams/box/step-1.svg").exists()
    # The other pattern is built all the same.
    assert (shop / "build/bundles/envelope-1.2.0.zip").exists()


def test_a_diagram_that_is_no_more_goes(run: Run, shop: Path, pipeline: Any) -> None:
    run("bundle", "box")
    pattern = pipeline.build_bundle(None, "box", lambda _: None).pattern
    pipeline.made["box"] = Made("box", pattern=pattern, files={"step-2.svg": b"2"}, zip_bytes=b"z")
    run("bundle", "box")
    names = {p.name for p in (shop / "build/diagrams/box").iterdir()}
    assert names == {"step-2.svg", ".written"}


def test_site_is_written_whole(run: Run, shop: Path, pipeline: Any) -> None:
    result = run("site")
    assert result.exit_code == 0
    assert (shop / "build/site/index.html").read_bytes() == b"<!doctype html>"
    assert result.stdout == "site: build/site/index.html\n"
    assert run("site", "--out", "public").stdout == "site: public/index.html\n"
    assert (shop / "public/index.html").exists()


def test_site_gives_the_bundles_that_it_built(run: Run, shop: Path, pipeline: Any) -> None:
    result = run("site", "--bundles")
    assert pipeline.asked == ["box", "envelope"]
    assert (shop / "build/bundles/box-1.2.0.zip").read_bytes() == b"zip of box"
    assert (shop / "build/diagrams/envelope/step-1.svg").read_bytes() == b"<svg/>"
    assert result.stdout == (
        "box: 2 of 2 checks pass; build/bundles/box-1.2.0.zip\n"
        "envelope: 2 of 2 checks pass; build/bundles/envelope-1.2.0.zip\n"
        "site: build/site/index.html\n"
    )


def test_what_is_sound_of_a_failed_site_is_bundled(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made("box", (finding("box"),))
    result = run("site", "--bundles")
    assert result.exit_code == 1
    assert [p.name for p in (shop / "build/bundles").iterdir()] == ["envelope-1.2.0.zip"]
    assert not (shop / "build/site").exists()


def test_a_failed_site_writes_nothing(run: Run, shop: Path, pipeline: Any) -> None:
    pipeline.made["box"] = Made("box", (finding("box"),))
    assert run("site").exit_code == 1
    assert not (shop / "build").exists()


def test_a_disk_that_says_no_is_told_and_is_1(run: Run, shop: Path, pipeline: Any) -> None:
    (shop / "build").write_text("a file where the folder should be")
    result = run("bundle", "box")
    assert result.exit_code == 1
    assert "box: cannot write build/bundles/box-1.2.0.zip: " in result.stderr
    assert "site: cannot write build/site: " in run("site").stderr


def test_settings_that_are_wrong_stop_everything(run: Run, shop: Path, pipeline: Any) -> None:
    (shop / "site/site.toml").write_text('titel = "Shop"\n')
    result = run("check")
    assert result.exit_code == 1
    assert "error[settings-wrong]" in result.stdout
    assert "1 | titel" in result.stdout
    assert pipeline.asked == []


def test_a_workshop_without_patterns_says_so(run: Run, shop: Path, pipeline: Any) -> None:
    for path in shop.glob("content/*/pattern.md"):
        path.unlink()
    result = run("check")
    assert result.exit_code == 1
    assert "no pattern" in result.stderr


def test_start_makes_a_workshop_that_is_one(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("start", "potting-bench")
    assert result.exit_code == 0
    made = sorted(
        str(p.relative_to(tmp_path)) for p in (tmp_path / "potting-bench").rglob("*") if p.is_file()
    )
    assert made == [
        "potting-bench/.gitignore",
        "potting-bench/README.md",
        "potting-bench/content/first-pattern/pattern.md",
        "potting-bench/site/site.toml",
    ]
    assert all(name in result.stdout for name in made)
    assert 'title = "Potting bench"' in (tmp_path / made[3]).read_text()
    from publisher.workshop import find_root, open_workshop, pattern_names

    root = find_root(tmp_path / "potting-bench" / "content")
    assert root == tmp_path / "potting-bench"
    workshop, wrong = open_workshop(root)
    assert wrong == ()
    assert pattern_names(workshop) == ("first-pattern",)


def test_start_touches_nothing_that_is_there(run: Run, tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "note").write_text("mine")
    (tmp_path / "file").write_text("mine")
    for name in ("mine", "file"):
        result = run("start", str(tmp_path / name))
        assert result.exit_code == 2
        assert "Choose a new name" in result.stderr
    assert os.listdir(tmp_path / "mine") == ["note"]


def test_start_in_an_empty_folder(run: Run, tmp_path: Path) -> None:
    (tmp_path / "new").mkdir()
    assert run("start", str(tmp_path / "new")).exit_code == 0
    assert (tmp_path / "new" / "site" / "site.toml").exists()


@pytest.mark.parametrize("name", ['my "best" shop', "back\\slash", "œuf & co", "a_b--c"])
def test_start_with_an_odd_name(run: Run, tmp_path: Path, name: str) -> None:
    from publisher.workshop import open_workshop

    assert run("start", str(tmp_path / name)).exit_code == 0
    workshop, wrong = open_workshop(tmp_path / name)
    assert wrong == ()
    assert workshop.settings.title
