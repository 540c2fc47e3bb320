"""Every file whole or not at all; nothing touched that was not written here."""

import os
import stat
from pathlib import Path

import pytest

from publisher.workshop import write_file, write_folder


def tree(folder: Path) -> dict[str, bytes]:
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file() and p.name != ".written"
    }


def test_a_file_comes_with_the_folders_on_its_way(tmp_path: Path) -> None:
    write_file(tmp_path / "a" / "b" / "c.txt", b"one")
    write_file(tmp_path / "a" / "b" / "c.txt", b"two")
    assert tree(tmp_path) == {"a/b/c.txt": b"two"}
    plain = tmp_path / "plain"
    plain.write_bytes(b"")
    mode = (tmp_path / "a" / "b" / "c.txt").stat().st_mode
    assert stat.S_IMODE(mode) == stat.S_IMODE(plain.stat().st_mode)


def test_the_old_file_stays_when_the_new_one_cannot_be_finished(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "box-1.0.0.zip"
    write_file(path, b"good")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_file(path, b"half of a new one")
    assert tree(tmp_path) == {"box-1.0.0.zip": b"good"}


def test_nobody_sees_half_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "file"
    write_file(path, b"old")
    seen = []
    rename = os.replace

    def look(src: Path, dst: Path) -> None:
        seen.append((dst.read_bytes(), src.read_bytes(), src.parent == dst.parent))
        rename(src, dst)

    monkeypatch.setattr(os, "replace", look)
    write_file(path, b"new")
    assert seen == [(b"old", b"new", True)]


def test_the_same_bytes_are_not_written_again(tmp_path: Path) -> None:
    path = tmp_path / "file"
    write_file(path, b"same")
    before = path.stat().st_ino
    write_file(path, b"same")
    assert path.stat().st_ino == before
    write_file(path, b"else")
    assert path.read_bytes() == b"else"


def test_stale_outputs_go_and_other_files_stay(tmp_path: Path) -> None:
    out = tmp_path / "site"
    write_folder(out, {"index.html": b"1", "box/step-1.svg": b"1", "box/step-2.svg": b"1"})
    (out / "box" / "mine.txt").write_bytes(b"mine")
    (out / "CNAME").write_bytes(b"mine")
    write_folder(out, {"index.html": b"2", "envelope/step-1.svg": b"2"})
    assert tree(out) == {
        "index.html": b"2",
        "envelope/step-1.svg": b"2",
        "box/mine.txt": b"mine",
        "CNAME": b"mine",
    }


def test_folders_left_empty_go_too(tmp_path: Path) -> None:
    write_folder(tmp_path, {"a/b/c/d.svg": b"1", "e.svg": b"1"})
    write_folder(tmp_path, {"e.svg": b"1"})
    assert not (tmp_path / "a").exists()


def test_a_file_may_become_a_folder_and_back(tmp_path: Path) -> None:
    write_folder(tmp_path, {"a": b"1", "b/c/d": b"1"})
    write_folder(tmp_path, {"a/x": b"2", "b": b"2"})
    assert tree(tmp_path) == {"a/x": b"2", "b": b"2"}


@pytest.mark.parametrize("name", ["../x", "/x", "a/../../x", "", ".", "a\\b", "a\nb", ".written"])
def test_no_path_leads_out(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="no path"):
        write_folder(tmp_path / "out", {"fine": b"1", name: b"2"})
    assert not (tmp_path / "out").exists()


def test_no_link_leads_out(tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "kept").write_bytes(b"kept")
    out = tmp_path / "out"
    out.mkdir()
    (out / "link").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(ValueError, match="leads out"):
        write_folder(out, {"link/new": b"1"})
    (out / ".written").write_text("link/kept\n../elsewhere/kept\n", encoding="utf-8")
    write_folder(out, {"a": b"1"})
    assert tree(tmp_path / "elsewhere") == {"kept": b"kept"}
