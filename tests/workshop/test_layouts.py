"""Layouts kept on the disk."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from publisher.layout import lay_out
from publisher.layout.laying import _laid
from publisher.workshop import FolderCache
from publisher.workshop.layouts import MOST
from tests.handmade import sliding_box_pattern
from tests.sheets import trade

KEY = "0123456789abcdef" * 4


def test_what_was_put_is_there_for_the_next_build(tmp_path: Path) -> None:
    FolderCache(tmp_path / "layouts").put(KEY, "said")
    assert FolderCache(tmp_path / "layouts").get(KEY) == "said"
    assert FolderCache(tmp_path / "layouts").get(KEY[::-1]) is None


@pytest.mark.parametrize("key", ["", "../x", KEY[:-1], KEY.upper(), f"{KEY}\n"])
def test_no_other_file_can_be_reached(tmp_path: Path, key: str) -> None:
    with pytest.raises(ValueError, match="is no key"):
        FolderCache(tmp_path).get(key)


def test_a_disk_that_says_no_makes_it_forget(tmp_path: Path) -> None:
    (tmp_path / "layouts").write_text("a file in the way")
    cache = FolderCache(tmp_path / "layouts")
    cache.put(KEY, "said")
    assert cache.get(KEY) is None


def test_only_so_many_are_kept(tmp_path: Path) -> None:
    cache = FolderCache(tmp_path)
    for number in range(MOST):
        path = tmp_path / f"{number:064x}.txt"
        path.write_text("old")
        os.utime(path, ns=(number, number))
    (tmp_path / "README.txt").write_text("somebody's own")
    cache.put(KEY, "new")
    assert cache.get(KEY) == "new"
    assert cache.get(f"{0:064x}") is None
    assert cache.get(f"{1:064x}") == "old"
    assert (tmp_path / "README.txt").is_file()


@pytest.mark.parametrize(
    "harm",
    [
        lambda text: "",
        lambda text: text[:-20],
        lambda text: text.replace("5.0", "6.0"),
        lambda text: text + "]",
        lambda text: "\xff" * 90,
    ],
)
def test_a_damaged_layout_is_found_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, harm: object
) -> None:
    """And put right for the time after; a sound one is not laid again."""
    pattern = sliding_box_pattern()
    times = []

    def counted(*asked: object) -> object:
        times.append(1)
        return _laid(*asked)  # type: ignore[arg-type]

    monkeypatch.setattr("publisher.layout.laying._laid", counted)
    without = lay_out(pattern, trade())
    laid = len(times)
    cache = FolderCache(tmp_path)
    assert lay_out(pattern, trade(), cache=cache) == without
    (file,) = tmp_path.glob("*.txt")
    assert callable(harm)
    changed = harm(file.read_text(encoding="ascii"))
    assert changed != file.read_text(encoding="ascii")
    file.write_bytes(changed.encode("latin-1"))
    times.clear()
    assert lay_out(pattern, trade(), cache=cache) == without
    assert len(times) == laid
    times.clear()
    assert lay_out(pattern, trade(), cache=cache) == without
    # A stock with one piece is laid as fast as it is read.
    assert len(times) == laid - 1
