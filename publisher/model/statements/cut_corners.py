"""``rounded corners, 4 mm radius at top left and top right``: corners of a shape as part of it."""

from __future__ import annotations

from publisher.diagnostics import Span
from publisher.geometry.corners import CornerCut, with_corner
from publisher.geometry.path import Path, Point
from publisher.language.ast import Place, Prep, Ref, Several
from publisher.model.bench import Bench
from publisher.model.findings import refuse
from publisher.model.statements.corners import read_cut_size
from publisher.model.statements.phrases import Phrases

WORDS: dict[str, CornerCut] = {
    "rounded corners": "rounded",
    "bevelled corners": "bevelled",
    "scooped corners": "scooped",
}
_NAMES = ("top left", "top right", "bottom right", "bottom left")


def read_corner_cut(
    bench: Bench, phrases: Phrases, else_mm: float | None = None
) -> tuple[CornerCut, float, Span] | None:
    """How the corners are cut, the radius or depth in mm, and where that is said; None where the
    line says nothing of corners. ``else_mm`` is taken where no size is said."""
    word = phrases.word(*WORDS)
    if word is None:
        return None
    how = WORDS[word]
    label = "deep" if how == "bevelled" else "radius"
    span = phrases.word_span(word)
    if else_mm is not None and not any(p.label == label for p in phrases.statement.phrases):
        return how, else_mm, span
    size, said = read_cut_size(bench, phrases, how, f"{phrases.head} …, {word}, 4 mm {label}")
    return how, size, said.span


def rectangle_with_corners(bench: Bench, phrases: Phrases, ring: Path) -> Path:
    """The rectangle (from its top left corner, clockwise) with the corners that the line says."""
    wanted = _corners_said(phrases)
    cut = read_corner_cut(bench, phrases)
    if cut is None:
        return ring
    how, size, span = cut
    spots: dict[str, Point] = {
        name: segment.start for name, segment in zip(_NAMES, ring.segments, strict=True)
    }
    for name in wanted or _NAMES:
        found = with_corner(ring, spots[name], how, size)
        if not isinstance(found, Path):
            raise refuse(
                "corner-too-large",
                "the corners of this shape take more than its edges have",
                span,
                numbers=(("size_mm", size),),
            )
        ring = found
    return ring


def _corners_said(phrases: Phrases) -> tuple[str, ...]:
    """The corners of ``4 mm radius at top left and top right``."""
    for phrase in phrases.statement.phrases:
        if phrase.label not in ("radius", "deep"):
            continue
        preps = [j for j in phrase.joinings if isinstance(j, Prep) and j.word == "at"]
        named = [_corner(place) for prep in preps for place in prep.places]
        names = tuple(name for several in named for name in several)
        if names:
            phrases.take_joinings(preps)
            return names
    return ()


def _corner(place: Place) -> tuple[str, ...]:
    items = place.items if isinstance(place, Several) else (place,)
    names = [
        item.segments[0].name
        for item in items
        if isinstance(item, Ref) and item.segments[0].kind == "corner"
    ]
    if len(names) != len(items):
        raise refuse("wrong-place", "corners are wanted here, such as ‘top left’", place.span)
    return tuple(names)
