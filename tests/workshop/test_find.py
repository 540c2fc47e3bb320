"""A workshop is the nearest folder upwards that holds site/site.toml."""

from pathlib import Path

import pytest

from publisher.trade import Cutting
from publisher.workshop import (
    find_root,
    missing_pattern,
    open_workshop,
    pattern_names,
    read_companions,
    read_pattern,
    read_settings,
    read_theme,
)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = tmp_path / "shop"
    for name in ("seed-box", "envelope"):
        (root / "content" / name).mkdir(parents=True)
        (root / "content" / name / "pattern.md").write_bytes(b"# " + name.encode())
    (root / "content" / "notes").mkdir()
    (root / "site").mkdir()
    (root / "site" / "site.toml").write_text('title = "Shop"\n', encoding="utf-8")
    return root


def test_found_from_within_and_not_from_without(root: Path) -> None:
    assert find_root(root) == root
    assert find_root(root / "content" / "seed-box") == root
    assert find_root(root.parent) is None


def test_the_nearest_one_counts(root: Path) -> None:
    inner = root / "content" / "notes"
    (inner / "site").mkdir()
    (inner / "site" / "site.toml").write_text("")
    assert find_root(inner / "site") == inner


def test_a_workshop_without_data_of_its_own_uses_what_the_package_has(root: Path) -> None:
    workshop, wrong = open_workshop(root)
    assert wrong == ()
    assert workshop.settings.title == "Shop"
    assert workshop.trade.stocks["card"].caliper_mm == 0.4


def test_a_workshop_adds_stocks_of_its_own(root: Path) -> None:
    (root / "shared").mkdir()
    own = '[board]\ntitle = "Board"\ncaliper_mm = 1\ngrammage_gsm = 620\nfront = "#808080"\n'
    own += 'back = "#909090"\ngrain = "long"\npatterned = false\nsheet = "a4"\nsource = "a shop"\n'
    (root / "shared" / "stocks.toml").write_bytes(b"\xef\xbb\xbf" + own.encode())
    workshop, wrong = open_workshop(root)
    assert wrong == ()
    assert workshop.trade.stocks["board"].caliper_mm == 1.0
    assert "card" in workshop.trade.stocks
    assert "a4" in workshop.trade.sheets
    assert workshop.text("shared/stocks.toml") == own


def test_of_two_entries_with_one_name_the_workshops_counts(root: Path) -> None:
    (root / "shared").mkdir()
    thicker = '[card]\ntitle = "Card"\ncaliper_mm = 0.5\ngrammage_gsm = 350\nfront = "#808080"\n'
    thicker += 'back = "#909090"\ngrain = "long"\npatterned = false\nsheet = "letter"\n'
    (root / "shared" / "stocks.toml").write_text(thicker + 'source = "measured"\n')
    rule = '[piece_gap_mm]\nvalue = 4\nunit = "mm"\nmeans = "gap"\nsource = "our machine"\n'
    (root / "shared" / "practice.toml").write_text(rule)
    workshop, wrong = open_workshop(root)
    assert wrong == ()
    assert workshop.trade.stocks["card"].caliper_mm == 0.5
    assert workshop.trade.practice["piece_gap_mm"].value == 4.0
    assert workshop.trade.practice["border_tolerance_mm"].value == 0.1


def test_data_that_is_not_utf_8_is_a_finding(root: Path) -> None:
    (root / "shared").mkdir()
    (root / "shared" / "objects.toml").write_bytes(b"# one\n# caf\xe9\n")
    _, wrong = open_workshop(root)
    assert [(d.code, d.places[0].span.file, d.places[0].span.line) for d in wrong] == [
        ("not-utf-8", "shared/objects.toml", 2)
    ]


def test_patterns_are_the_folders_with_a_source(root: Path) -> None:
    workshop, _ = open_workshop(root)
    assert pattern_names(workshop) == ("envelope", "seed-box")
    assert read_pattern(workshop, "envelope") == b"# envelope"
    assert read_pattern(workshop, "notes") is None
    assert read_pattern(workshop, "../content/envelope") is None


def test_what_lies_beside_a_source(root: Path) -> None:
    (root / "content" / "seed-box" / "pictures").mkdir()
    (root / "content" / "seed-box" / "pictures" / "open.png").write_bytes(b"png")
    workshop, _ = open_workshop(root)
    assert read_companions(workshop, "seed-box") == {"pictures/open.png": b"png"}


def test_a_name_that_is_not_there_brings_the_nearest(root: Path) -> None:
    workshop, _ = open_workshop(root)
    found = missing_pattern(workshop, "seedbox")
    assert found.code == "pattern-missing"
    assert [way.text for way in found.ways_out] == ["write ‘seed-box’"]
    assert missing_pattern(workshop, "zzz").ways_out == ()
    assert [way.text for way in missing_pattern(workshop, "Seed Box").ways_out] == [
        "write ‘seed-box’"
    ]


@pytest.mark.parametrize("theme", ["poting-shed", "../themes/potting-shed", "", "."])
def test_a_theme_that_is_not_there_is_a_finding(root: Path, theme: str) -> None:
    (root / "site" / "site.toml").write_text(f'title = "Shop"\ntheme = "{theme}"\n')
    workshop, wrong = open_workshop(root)
    assert [(d.code, d.places[0].span.line) for d in wrong] == [("settings-wrong", 2)]
    assert read_theme(workshop) is None


def test_the_themes_files_by_path(root: Path) -> None:
    workshop, _ = open_workshop(root)
    files = read_theme(workshop)
    assert files is not None
    assert "theme.toml" in files


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('title = "A"\ntitel = "B"\n', 2, "‘titel’ is not known here"),
        ("title = 4\n", 1, "‘title’ must be words in quotes"),
        ('title = "A\n', 1, "this is not TOML"),
        ('[page]\ntitle = "A"\n', 1, "‘page’ is not known here"),
        ('cutting = "a4"\n', 1, "‘cutting’ is a table: write [cutting]"),
        ('[cutting]\nsheet = "a4"\nscors = "dashes"\n', 3, "‘scors’ is not known here"),
        ("[cutting]\ngap = 2\n", 2, "‘gap’ takes a length, such as 2 mm"),
        ('[cutting]\nscores = "dots"\n', 2, "‘scores’ takes groups, dashes or drawn"),
        ('[cutting]\nformats = "svg, odt"\n', 2, "‘formats’ takes some of svg, svg-72"),
        ("[cutting]\ncopies = 0\n", 2, "‘copies’ takes how many times"),
        ('makers = "all"\n', 1, "‘makers’ takes a table for each"),
        ('[makers]\n"A4" = "a4"\n', 2, "‘A4’ is a table: write [makers.A4]"),
        ('[makers."a/b"]\nsheet = "a4"\n', 1, "‘a/b’ is no name for a maker"),
        (
            '[makers."A4"]\ngap = "2 mm"\n\n[makers."12 in"]\nsheet = "a4"\ngap = "much"\n',
            6,
            "‘gap’ takes a length",
        ),
    ],
)
def test_wrong_settings_are_answered_where_they_stand(text: str, line: int, words: str) -> None:
    _, wrong = read_settings(text)
    assert len(wrong) == 1
    assert wrong[0].message.startswith(words)
    assert wrong[0].places[0].span.line == line
    assert wrong[0].code == "settings-wrong"


def test_choices_about_cutting_are_read() -> None:
    text = (
        'title = "Shop"\n[cutting]\nsheet = "a4"\ncopies = 2\ngap = "1/8 in"\n'
        'formats = "dxf-r12, svg-72"\n[makers."12 in maker"]\nscores = "dashes"\n'
    )
    settings, wrong = read_settings(text)
    assert wrong == ()
    assert settings.title == "Shop"
    assert settings.cutting == Cutting(
        sheet="a4", copies=2, gap_mm=3.175, formats=("svg-72", "dxf-r12")
    )
    assert settings.makers == (("12 in maker", Cutting(scores="dashes")),)


@pytest.mark.parametrize(
    ("table", "line", "words"),
    [
        ('[cutting]\nsheet = "a44"\n', 3, "there is no sheet ‘a44’"),
        ('[makers."A4"]\n\nmachine = "drag knive"\n', 4, "there is no machine ‘drag knive’"),
    ],
)
def test_a_sheet_or_machine_that_nobody_knows(
    tmp_path: Path, table: str, line: int, words: str
) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "site.toml").write_text(f'title = "Shop"\n{table}', encoding="utf-8")
    _, (finding,) = open_workshop(tmp_path)
    assert (finding.code, finding.message) == ("settings-wrong", words)
    assert finding.places[0].span.line == line
    assert finding.ways_out


def test_a_misspelt_setting_is_mended_by_its_way_out() -> None:
    text = 'titel = "Shop"\n'
    edit = read_settings(text)[1][0].ways_out[0].edit
    assert edit is not None
    settings, wrong = read_settings(text[: edit.span.start] + edit.text + text[edit.span.end :])
    assert (settings.title, wrong) == ("Shop", ())
