"""The frame of a DXF R2010 file as ezdxf makes it, with marks where a sheet's own values go.

``publisher/cutfiles/r2010.txt`` is what this writes: run as a script to renew it, with
``python -m tests.cutfiles.skeleton``.
"""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf
from ezdxf import units

import publisher.cutfiles

FILE = Path(publisher.cutfiles.__file__).with_name("r2010.txt")
Tag = tuple[str, str]
ABOUT_THE_WRITER = ("EZDXF", "EZDXF_META", "ezdxf")


def made() -> str:
    """The frame as text."""
    tags = _tags(_empty_document())
    tags = _header(_classes_in_order(tags))
    for table in ("LTYPE", "LAYER"):
        tags = _table(tags, table)
    start = tags.index(("2", "ENTITIES")) + 1
    tags[start:start] = [("", "@ENTITIES@")]
    tags = _groups(tags)
    tags = _model_layout(tags)
    return "".join(f"{value}\n" if not code else f"{code}\n{value}\n" for code, value in tags)


def _empty_document() -> str:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010", units=units.MM)
        document.header["$MEASUREMENT"] = 1
        document.header["$LASTSAVEDBY"] = ""
        stream = io.StringIO()
        document.write(stream)
        return stream.getvalue()
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _tags(text: str) -> list[Tag]:
    lines = text.splitlines()
    pairs = [(code.strip(), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    return _without_the_writer(pairs)


def _classes_in_order(tags: list[Tag]) -> list[Tag]:
    """The declared classes by name: ezdxf writes them in the order of a set."""
    start = tags.index(("2", "CLASSES")) + 1
    end = tags.index(("0", "ENDSEC"), start)
    marks = [i for i in range(start, end) if tags[i] == ("0", "CLASS")]
    blocks = [tags[a:b] for a, b in zip(marks, [*marks[1:], end], strict=True)]
    ordered = [tag for block in sorted(blocks) for tag in block]
    return [*tags[:start], *ordered, *tags[end:]]


def _without_the_writer(tags: list[Tag]) -> list[Tag]:
    """Leave out the application and the dictionary in which ezdxf says that it was there."""
    meta = tags[tags.index(("3", "EZDXF_META")) + 1][1]
    own = {meta}
    kept: list[Tag] = []
    for entity in _entities(tags):
        values = dict(reversed(entity))
        if entity[0] == ("0", "APPID") and values.get("2") == "EZDXF":
            continue
        if entity[0][1].startswith("DICTIONARY") and (
            values.get("5") in own or values.get("330") in own
        ):
            continue
        kept += entity
    at = kept.index(("3", "EZDXF_META"))
    del kept[at : at + 2]
    at = kept.index(("9", "$LASTSAVEDBY"))
    kept[at + 1] = ("1", "")
    at = kept.index(("2", "APPID"))
    count = next(i for i in range(at, at + 9) if kept[i][0] == "70")
    kept[count] = ("70", str(int(kept[count][1]) - 1))
    return kept


def _entities(tags: list[Tag]) -> list[list[Tag]]:
    found: list[list[Tag]] = []
    for tag in tags:
        if tag[0] == "0":
            found.append([])
        found[-1].append(tag)
    return found


def _header(tags: list[Tag]) -> list[Tag]:
    marks = {
        "$EXTMIN": ("@XMIN@", "@YMIN@", "0"),
        "$EXTMAX": ("@WIDTH@", "@HEIGHT@", "0"),
        "$LIMMIN": ("@XMIN@", "@YMIN@"),
        "$LIMMAX": ("@WIDTH@", "@HEIGHT@"),
        "$HANDSEED": ("@HANDSEED@",),
    }
    for name, values in marks.items():
        at = tags.index(("9", name)) + 1
        for offset, value in enumerate(values):
            tags[at + offset] = (tags[at + offset][0], value)
    return tags


def _table(tags: list[Tag], name: str) -> list[Tag]:
    at = tags.index(("2", name))
    count = next(i for i in range(at, at + 9) if tags[i][0] == "70")
    tags[count] = ("70", f"@{name}-COUNT@")
    end = tags.index(("0", "ENDTAB"), at)
    tags[end:end] = [("", f"@{name}S@")]
    return tags


def _groups(tags: list[Tag]) -> list[Tag]:
    handle = tags[tags.index(("3", "ACAD_GROUP")) + 1][1]
    at = tags.index(("5", handle))
    end = next(i for i in range(at, len(tags)) if tags[i][0] == "0")
    tags[end:end] = [("", "@GROUP-NAMES@")]
    end = len(tags) - 2
    assert tags[end] == ("0", "ENDSEC")
    tags[end:end] = [("", "@GROUPS@")]
    return tags


def _model_layout(tags: list[Tag]) -> list[Tag]:
    """Limits and extents of model space."""
    for entity in _entities(tags):
        if entity[0] == ("0", "LAYOUT") and ("1", "Model") in entity:
            at = tags.index(("1", "Model"))
            codes = {"10", "20", "11", "21", "14", "24", "15", "25"}
            marks = {"4": "@XMIN@ @YMIN@", "5": "@WIDTH@ @HEIGHT@"}
            marks |= {"0": marks["4"], "1": marks["5"]}
            while tags[at][0] != "0":
                code = tags[at][0]
                if code in codes:
                    across, up = marks[code[1]].split()
                    tags[at] = (code, across if code[0] == "1" else up)
                at += 1
    return tags


if __name__ == "__main__":
    FILE.write_text(made(), encoding="ascii", newline="\n")
