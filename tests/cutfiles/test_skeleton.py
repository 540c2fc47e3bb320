"""The frame of a DXF file that the package carries is what ezdxf makes today."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from tests.cutfiles.skeleton import FILE

ROOT = Path(__file__).resolve().parents[2]


def test_the_frame_is_current() -> None:
    # In a process of its own: which classes ezdxf declares depends on what was read before.
    script = "import sys; from tests.cutfiles.skeleton import made; sys.stdout.write(made())"
    made = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout
    assert FILE.read_text(encoding="ascii") == made, "renew: python -m tests.cutfiles.skeleton"
