"""A damaged bundle is noticed."""

import io
import json
import zipfile
import zlib

import pytest

from publisher.bundle import verify
from publisher.bundle.archive import archive
from tests.bundle.test_pack import opened, packed

TOP = "sliding-box-1.0.0/"
GOOD = packed()


def again(files: dict[str, bytes]) -> bytes:
    return archive(files, "2026-11-25")


def said(data: bytes) -> str:
    found = verify(data)
    assert all(d.code == "bundle-damaged" and d.severity == "error" for d in found)
    return "\n".join(d.message for d in found)


def test_a_sound_bundle_passes() -> None:
    assert verify(GOOD) == []


def test_what_is_no_zip_is_told() -> None:
    assert "cannot be opened" in said(b"")
    assert "cannot be opened" in said(b"PK\x03\x04 and nothing more")
    assert "cannot be opened" in said(GOOD[: len(GOOD) // 2])


def test_a_flipped_bit_in_any_file_is_found() -> None:
    """Every entry in turn, in the middle of its packed bytes."""
    with zipfile.ZipFile(io.BytesIO(GOOD)) as zipped:
        entries = zipped.infolist()
    for entry in entries:
        start = entry.header_offset + 30 + len(entry.filename.encode())
        at = start + entry.compress_size // 2
        broken = GOOD[:at] + bytes([GOOD[at] ^ 0x10]) + GOOD[at + 1 :]
        assert entry.filename in said(broken)


def test_a_stored_checksum_that_was_changed_is_found() -> None:
    files = opened(GOOD)
    crc = zlib.crc32(files[TOP + "START-HERE.txt"]).to_bytes(4, "little")
    assert GOOD.count(crc) == 2  # beside the file and in the list at the end
    broken = GOOD.replace(crc, bytes(4))
    assert "START-HERE.txt" in said(broken)


def test_a_file_that_is_another_one_is_found() -> None:
    files = opened(GOOD)
    other = again({**files, TOP + "diagrams/step-1.svg": b"<svg>2</svg>"})
    assert "‘diagrams/step-1.svg’ is not the file that was listed" in said(other)
    longer = again({**files, TOP + "diagrams/step-1.svg": b"<svg>11</svg>"})
    assert "has 13 bytes, listed are 12" in said(longer)


def test_a_file_too_many_or_too_few_is_found() -> None:
    files = opened(GOOD)
    assert "‘note.txt’ is there and not listed" in said(again({**files, TOP + "note.txt": b""}))
    less = {name: data for name, data in files.items() if "LICENCE" not in name}
    assert "‘LICENCE.txt’ is listed and not there" in said(again(less))


def test_a_manifest_that_is_gone_or_unreadable_is_told() -> None:
    files = opened(GOOD)
    manifest = TOP + "manifest.json"
    gone = {name: data for name, data in files.items() if name != manifest}
    assert "manifest.json is missing" in said(again(gone))
    assert "cannot be read" in said(again({**files, manifest: b"{"}))
    assert "cannot be read" in said(again({**files, manifest: b"[]"}))
    assert "cannot be read" in said(again({**files, manifest: b'{"files": [{}]}'}))


def test_a_sheets_file_that_is_not_listed_is_found() -> None:
    files = opened(GOOD)
    listing = json.loads(files[TOP + "manifest.json"])
    listing["sheets"][0]["files"].append({"path": "cut-files/svg/card-9.svg", "format": "svg"})
    changed = again({**files, TOP + "manifest.json": json.dumps(listing).encode()})
    assert "‘cut-files/svg/card-9.svg’ belongs to a sheet" in said(changed)


@pytest.mark.parametrize("name", ["../evil.txt", "/evil.txt", TOP + "../../evil.txt", "C:\\evil"])
def test_a_path_that_leads_out_is_found(name: str) -> None:
    assert "leads out" in said(again({**opened(GOOD), name: b""}))


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_stands_twice_is_found() -> None:
    target = io.BytesIO(GOOD)
    with zipfile.ZipFile(target, "a") as zipped:
        zipped.writestr(TOP + "START-HERE.txt", b"another")
    assert "stands in the zip twice" in said(target.getvalue())
