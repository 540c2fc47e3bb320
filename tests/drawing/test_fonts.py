"""The type faces are static files that hold what the tables of a booklet need."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from publisher.drawing.fonts import (
    TEXT_FAMILY,
    TITLE_FAMILY,
    FaceError,
    face_file,
    family_folder,
    family_folders,
)

FACES = [(TEXT_FAMILY, w, i) for w in (400, 500, 700) for i in (False, True)]
FACES += [(TITLE_FAMILY, w, False) for w in (600, 700, 800)]


def features(font: TTFont) -> set[str]:
    return {record.FeatureTag for record in font["GSUB"].table.FeatureList.FeatureRecord}


@pytest.mark.parametrize(("family", "weight", "italic"), FACES)
def test_face_is_static_and_is_the_one_asked_for(family: str, weight: int, italic: bool) -> None:
    with TTFont(face_file(family, weight, italic)) as font:
        assert "fvar" not in font
        assert font["OS/2"].usWeightClass == weight
        assert bool(font["OS/2"].fsSelection & 1) is italic
        # 0 is "installable embedding" in the OpenType specification, OS/2 fsType.
        assert font["OS/2"].fsType == 0


def test_text_family_sets_fractions_and_tables() -> None:
    with TTFont(face_file(TEXT_FAMILY)) as font:
        assert {"frac", "numr", "dnom", "tnum", "lnum"} <= features(font)
        assert {ord(c) for c in "½¼¾⁄×°±–—‘’“”"} <= set(font.getBestCmap())


def test_both_families_may_be_packed_with_a_document() -> None:
    for family in (TEXT_FAMILY, TITLE_FAMILY):
        licence = (family_folder(family).parent / "LICENSE").read_text("utf-8")
        assert "SIL Open Font License, Version 1.1" in licence
        head = licence.split("SIL Open Font License", 1)[0]
        assert "Reserved Font Name" not in head


def test_unknown_family_and_face_are_told() -> None:
    with pytest.raises(FaceError, match="Nowhere Grotesk is not installed"):
        family_folder("Nowhere Grotesk")
    with pytest.raises(FaceError, match="no face 450"):
        face_file(TEXT_FAMILY, 450)


def test_folders_come_once_each() -> None:
    folders = family_folders([TEXT_FAMILY, TITLE_FAMILY, TEXT_FAMILY])
    assert folders == (family_folder(TEXT_FAMILY), family_folder(TITLE_FAMILY))
