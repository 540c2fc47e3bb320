"""Files in the pattern's folder that a line speaks of: a font, a drawing."""

from __future__ import annotations

from publisher.diagnostics import Edit, WayOut
from publisher.diagnostics.near import nearest
from publisher.language.ast import Quoted
from publisher.model.bench import Bench
from publisher.model.findings import listed, refuse


def read_file(bench: Bench, said: Quoted, name: str, endings: tuple[str, ...]) -> bytes:
    """The bytes of a file beside the pattern; ``endings`` are those that could be meant."""
    beside = bench.shop.beside()
    path = name.replace("\\", "/").removeprefix("./")
    if path and path in beside:
        return beside[path]
    known = sorted(name for name in beside if name.lower().endswith(endings))
    near = nearest(path, known)
    hint = f". Nearest: ‘{near}’" if near else ""
    ways = (WayOut(f"write ‘{near}’", Edit(said.span, f'from file "{near}"')),) if near else ()
    note = f"There is {listed(known)}" if known else f"None ends in {' or '.join(endings)} yet"
    raise refuse(
        "file-missing",
        f"there is no file ‘{name}’ in the pattern’s folder{hint}",
        said.span,
        notes=() if near else (note,),
        ways_out=ways,
    )
