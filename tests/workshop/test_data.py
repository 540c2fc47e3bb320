"""Shared data is found in the workshop first, then in the package, then in a checkout."""

from pathlib import Path

from publisher.workshop.data import folder_files, locate


def put(path: Path, text: str = "x") -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)
    return path


def test_the_workshops_own_comes_first_then_the_package_then_the_checkout(tmp_path: Path) -> None:
    package = tmp_path / "code" / "publisher"
    root = tmp_path / "workshop"
    put(tmp_path / "code" / "pyproject.toml")
    in_checkout = put(tmp_path / "code" / "shared" / "stocks.toml")
    assert locate("shared/stocks.toml", root, package) == in_checkout
    in_package = put(package / "_data" / "shared" / "stocks.toml")
    assert locate("shared/stocks.toml", root, package) == in_package
    own = put(root / "shared" / "stocks.toml")
    assert locate("shared/stocks.toml", root, package) == own
    assert locate("shared/stocks.toml", None, package) == in_package


def test_what_lies_beside_an_installed_package_is_not_taken(tmp_path: Path) -> None:
    package = tmp_path / "site-packages" / "publisher"
    put(tmp_path / "site-packages" / "shared" / "stocks.toml")
    assert locate("shared/stocks.toml", None, package) is None


def test_here_the_shared_data_is_found() -> None:
    for name in ("stocks", "sheets", "objects", "practice", "licences"):
        assert locate(f"shared/{name}.toml", None) is not None


def test_files_of_a_folder_by_path(tmp_path: Path) -> None:
    put(tmp_path / "theme" / "b" / "two.txt", "2")
    put(tmp_path / "theme" / "one.txt", "1")
    put(tmp_path / "theme" / ".hidden", "no")
    put(tmp_path / "theme" / ".git" / "config", "no")
    put(tmp_path / "secret", "no")
    (tmp_path / "theme" / "link.txt").symlink_to(tmp_path / "secret")
    assert folder_files(tmp_path / "theme") == {"b/two.txt": b"2", "one.txt": b"1"}
