"""Findings that say one thing of ``glue 1``, ``glue 2`` and their like, said once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from publisher.diagnostics.types import Diagnostic

_NUMBERED = re.compile(r"([^\W\d][\w’'-]*) (\d+)(?![\w.,/]*\d| (?:mm|cm|in|pt|degrees)\b)")
_IN_A_ROW = 4
"""From so many numbers in a row on only the first and the last are said."""


def told_once(findings: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Findings at one place whose words differ by one number of a name are told as one, which
    names the others."""
    listed = list(findings)
    if len(listed) < 2:
        return listed
    groups: dict[object, list[Diagnostic]] = {}
    for number, finding in enumerate(_from_one_end(listed)):
        groups.setdefault(_key(finding) or number, []).append(finding)
    return [_joined(group) for group in groups.values()]


def _from_one_end(findings: Sequence[Diagnostic]) -> list[Diagnostic]:
    """A name that is given twice, told at one of both places: the paper is laid out in another
    order than its lines are read in, so each stage takes another one for the first."""
    ends: set[frozenset[object]] = set()
    kept: list[Diagnostic] = []
    for finding in findings:
        both = frozenset(place.span for place in finding.places)
        if finding.code == "name-taken" and len(both) > 1:
            if both in ends:
                continue
            ends.add(both)
        kept.append(finding)
    return kept


def _key(finding: Diagnostic) -> object:
    """What alike findings have in common; None of one that does not name one numbered thing."""
    names = set(_NUMBERED.findall(finding.message))
    if len(names) != 1 or not finding.places:
        return None
    name = " ".join(next(iter(names)))
    words = (finding.message, *finding.notes, *(w.text for w in finding.ways_out))
    same = tuple(re.sub(rf"\b{re.escape(name)}\b", "#", text) for text in words)
    edits = tuple(w.edit for w in finding.ways_out)
    return (finding.code, finding.severity, same, finding.places, edits, name.rsplit(" ", 1)[0])


def _joined(group: Sequence[Diagnostic]) -> Diagnostic:
    """The first of them, with a note that names the others."""
    first = group[0]
    if len(group) == 1:
        return first
    stem, number = _NUMBERED.findall(first.message)[0]
    others = sorted({int(_NUMBERED.findall(f.message)[0][1]) for f in group} - {int(number)})
    note = f"The same is true of {_listed(stem, others)}." if others else ""
    return replace(first, notes=(*first.notes, *filter(None, (note,))))


def _listed(stem: str, numbers: Sequence[int]) -> str:
    names = [f"{stem} {n}" for n in numbers]
    if len(names) == 1:
        return names[0]
    if len(names) >= _IN_A_ROW and numbers[-1] - numbers[0] == len(names) - 1:
        return f"{names[0]} to {names[-1]}"
    return ", ".join(names[:-1]) + f" and {names[-1]}"
