"""Bad input: a clear finding with its place, exit code 1, an earlier good bundle untouched."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from publisher.cli.commands import publisher
from tests.compiled import HEAD
from tests.workshops import copied

PIECE = "```piece card, in card\noutline rectangle, 60 x 40 mm\n```\n"
STEP = "## Cut it\n\n```step\ncut {piece}\n```\n"


def pattern(*parts: str) -> bytes:
    return (HEAD.replace("{units}", "mm") + "\n" + "\n".join(parts)).encode()


CASES: dict[str, tuple[bytes | None, str, str | None]] = {
    # what is wrong: the file's bytes, the finding's code, the words it stands at
    "missing file": (None, "pattern-missing", None),
    "empty file": (b"", "empty-file", None),
    "not UTF-8": (pattern(PIECE).replace(b"60", b"6\xff0"), "not-utf-8", None),
    "front matter no YAML": (
        pattern(PIECE).replace(b"level: easy", b"level: [easy"),
        "front-matter-yaml",
        None,
    ),
    "a fence with a syntax error": (
        pattern(PIECE.replace("60 x 40 mm", "60 x x 40 mm")),
        "syntax",
        "x",
    ),
    "an unknown unit": (
        pattern("```sizes\nwide = 40 furlong\n```\n", PIECE),
        "unknown-unit",
        "furlong",
    ),
    "a size defined through itself": (
        pattern("```sizes\nwide = deep + 1 mm\ndeep = wide + 1 mm\n```\n", PIECE),
        "goes-in-a-circle",
        None,
    ),
    "a piece named twice": (pattern(PIECE, PIECE), "name-taken", "card"),
    "a fold on a panel that is not there": (
        pattern(PIECE, "## Fold\n\n```step\nfold   flap of card\n```\n"),
        "unknown-name",
        "flap",
    ),
    "a negative width": (
        pattern(PIECE.replace("60 x 40 mm", "(20 mm - 30 mm) x 40 mm")),
        "not-positive",
        None,
    ),
    "a panel larger than any sheet": (
        pattern(PIECE.replace("60 x 40 mm", "900 x 700 mm"), STEP.replace("{piece}", "card")),
        "piece-larger-than-sheet",
        None,
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_bad_input_is_answered_and_harms_nothing(
    case: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data, code, words = CASES[case]
    root = copied(tmp_path / "shed")
    folder = root / "content" / "trial"
    folder.mkdir()
    earlier = root / "build" / "bundles" / "trial-1.0.0.zip"
    earlier.parent.mkdir(parents=True)
    earlier.write_bytes(b"an earlier good bundle")
    if data is not None:
        (folder / "pattern.md").write_bytes(data)
    monkeypatch.chdir(root)
    runner = CliRunner()
    for command in ("check", "bundle"):
        result = runner.invoke(publisher, [command, "trial", "--format", "json"])
        assert result.exit_code == 1, result.output
        assert result.exception is None or isinstance(result.exception, SystemExit)
        findings = json.loads(result.stdout)
        findings = findings["findings"] if isinstance(findings, dict) else findings
        (finding,) = [f for f in findings if f["code"] == code][:1] or [None]
        assert finding is not None, findings
        place = finding["places"][0]
        assert place["file"] == "content/trial/pattern.md"
        if words is not None and data is not None:
            at = data.decode()[place["start"] : place["end"]]
            assert words in at
    assert earlier.read_bytes() == b"an earlier good bundle"
    assert sorted(p.name for p in earlier.parent.iterdir()) == ["trial-1.0.0.zip"]
    full = runner.invoke(publisher, ["check", "trial"])
    assert full.exit_code == 1
    assert f"error[{code}]" in full.output
    if words is not None:
        assert "^" in full.output


def test_wrong_use_is_two(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert CliRunner().invoke(publisher, ["check"]).exit_code == 2
    assert CliRunner().invoke(publisher, ["fold"]).exit_code == 2
