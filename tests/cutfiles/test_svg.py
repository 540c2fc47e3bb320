"""A sheet as SVG."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from publisher.layout import Sheet
from publisher.model.types import Pattern
from tests.handmade import sliding_box_pattern
from tests.sheets import all_laid, laid, window_pattern, written

SVG = "{http://www.w3.org/2000/svg}"


def tree(pattern: Pattern, sheet: Sheet) -> ElementTree.Element:
    return ElementTree.fromstring(written(pattern, sheet, "svg"))


def group(root: ElementTree.Element, name: str) -> ElementTree.Element:
    (found,) = [g for g in root.iter(f"{SVG}g") if g.get("id") == name]
    return found


def test_each_copy_is_one_group_that_holds_its_roles() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    drawer = group(tree(pattern, sheets[0]), "drawer-1")
    assert [g.get("id") for g in drawer] == ["drawer-1-score-mountain", "drawer-1-cut"]
    mat = group(tree(pattern, sheets[2]), "sleeve-mat-1")
    assert [g.get("id") for g in mat] == ["sleeve-mat-1-cut"]


def test_copies_are_apart_and_ids_are_used_once() -> None:
    pattern, sheets = laid(window_pattern())
    root = tree(pattern, sheets[0])
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    assert {"window-card-1", "window-card-2", "window-card-2-score-valley"} <= set(ids)


def test_windows_and_slits_come_before_the_outline() -> None:
    pattern, sheets = laid(window_pattern())
    cut = [p.get("d", "") for p in group(tree(pattern, sheets[0]), "window-card-1-cut")]
    assert len(cut) == 4
    inner = sorted((d.count("A"), d.count("L"), d[-1] == "Z") for d in cut[:-1])
    # A straight slit, a curved one, a round window.
    assert inner == [(0, 1, False), (1, 0, False), (2, 0, True)]
    outline = cut[-1]
    assert (outline.count("A"), outline[-1]) == (1, "Z")
    assert outline.count("L") in (4, 5)  # the closing line is not drawn twice


def test_no_transform_style_colour_or_class_is_left() -> None:
    for pattern, sheets in all_laid():
        for sheet in sheets:
            for element in tree(pattern, sheet).iter():
                assert not {"transform", "style", "class"} & set(element.attrib)
                assert element.get("stroke", "#000000") == "#000000"
                assert element.get("fill", "none") == "none"


def test_roles_are_told_apart_by_their_dashes() -> None:
    pattern, sheets = laid(window_pattern())
    root = tree(pattern, sheets[0])
    names = [f"window-card-1-{r}" for r in ("cut", "score-valley", "score-mountain")]
    dashes = [group(root, name).get("stroke-dasharray") for name in names]
    assert dashes[0] is None
    assert len(set(dashes)) == 3
    assert len((dashes[1] or "").split()) == 2
    assert len((dashes[2] or "").split()) == 6


def test_size_is_said_in_mm_and_in_96ths() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    root = tree(pattern, sheets[0])
    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")
    assert root.get("viewBox") == "0 0 793.70079 1122.51969"


def test_names_that_xml_minds_are_escaped() -> None:
    from msgspec.structs import replace

    pattern, sheets = laid(sliding_box_pattern())
    odd = replace(pattern, meta=replace(pattern.meta, title='Tins & "jars" <small>'))
    title = tree(odd, sheets[0]).find(f"{SVG}title")
    assert title is not None
    assert title.text == 'Tins & "jars" <small>, card-1'


@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_numbers_are_short_and_bytes_the_same(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        text = written(pattern, sheet, "svg").decode()
        assert text.encode() == written(pattern, sheet, "svg")
        for data in re.findall(r' d="([^"]*)"', text):
            assert not re.search(r"\d\.\d{6}|e-\d|-0\b", data)
