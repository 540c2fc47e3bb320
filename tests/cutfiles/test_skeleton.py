"""The frame of a DXF file that the package carries is what ezdxf makes today."""

from __future__ import annotations

from tests.cutfiles.skeleton import FILE, made


def test_the_frame_is_current() -> None:
    assert FILE.read_text(encoding="ascii") == made(), "renew: python -m tests.cutfiles.skeleton"
