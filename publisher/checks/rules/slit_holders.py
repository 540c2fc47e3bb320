"""A tongue cut out of paper holds what is tucked under it, and lets it in again.

Four measures: the bite, how far the tongue lies over the thing; the headroom, what is free between
two tongues that face each other, so that the thing goes in without being bent; the width of the
tongue, wide enough to hold and narrower than the thing, which would slip through the slit; and the
paper between the slit and the nearest edge, which tears first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import shapely
from msgspec import Struct

from publisher.assembly.tongues import Tongue, tongue_of
from publisher.assembly.types import Body, Frame
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.lying import CHORD_MM, shape_of
from publisher.checks.places import seen_from
from publisher.checks.types import CheckResult
from publisher.geometry.shapely_bridge import path_to_shapely, to_shapely
from publisher.model.types import Opening, Piece

CODE = "slit-holds-badly"
DUST_MM = 1e-6
OPPOSITE = -0.99


class Held(Struct, frozen=True):
    """A thing under a tongue: how far it reaches beyond the foot along the tongue and away from
    it, and how wide it is across; ``bite_mm`` is what the tongue lies over."""

    name: str
    slit: Opening
    tongue: Tongue
    holder: Piece
    low_mm: float
    high_mm: float
    wide_mm: float
    bite_mm: float


def check(context: Context) -> Results:
    told: set[tuple[str, str, str]] = set()
    for frame in context.story.frames:
        held = [h for h in _held(context, frame) if _key(h) not in told]
        told |= {_key(h) for h in held}
        for one in held:
            yield from _verdicts(context, one, held)


def _key(held: Held) -> tuple[str, str, str]:
    return held.holder.name, held.slit.name, held.name


def _held(context: Context, frame: Frame) -> Iterator[Held]:
    new = [b for b in frame.after.bonds if b.by == "tuck" and b not in frame.before.bonds]
    for bond in new:
        thing, holder = frame.after.body(bond.first[0]), frame.after.body(bond.second[0])
        piece = context.handled(holder.piece)
        slit = next((o for o in piece.openings if o.name == bond.second[1]), None)
        tongue = tongue_of(slit) if slit is not None else None
        if slit is not None and tongue is not None:
            yield _measured(context, thing, holder, piece, slit, tongue)


def _measured(
    context: Context, thing: Body, holder: Body, piece: Piece, slit: Opening, tongue: Tongue
) -> Held:
    """Along the tongue, from its foot, in the flat coordinates of the paper it is cut from."""
    own = shape_of(piece, holder, tongue.facet)
    shapes = [shape_of(context.handled(thing.piece), thing, name) for name, _ in thing.facets]
    flat = shapely.union_all([seen_from(own.pose, shape) for shape in shapes])
    along = _extent(flat, tongue.foot, tongue.out)
    across = _extent(flat, tongue.foot, (tongue.out[1], -tongue.out[0]))
    under = own.flat.intersection(flat)
    bite = _extent(under, tongue.foot, tongue.out) if not under.is_empty else (0.0, 0.0)
    return Held(
        thing.piece,
        slit,
        tongue,
        piece,
        along[0],
        along[1],
        across[1] - across[0],
        bite[1] - bite[0],
    )


def _extent(
    flat: shapely.Geometry, start: tuple[float, float], way: tuple[float, float]
) -> tuple[float, float]:
    points = shapely.get_coordinates(flat)
    off = (points[:, 0] - start[0]) * way[0] + (points[:, 1] - start[1]) * way[1]
    return float(off.min()), float(off.max())


def _verdicts(context: Context, held: Held, others: Iterable[Held]) -> Results:
    tongue, say = held.slit.name, context.say
    least = context.practice("tongue_bite_least_mm")
    yield _verdict(
        held,
        "bite",
        (("bite_mm", held.bite_mm), ("least_mm", least)),
        held.bite_mm >= least - CHORD_MM,
        f"{tongue} lies {say(held.bite_mm)} over {held.name}",
        f"it slips out; {say(least)} holds",
        f"make {tongue} deeper, or wider where it is half round",
    )
    room = _headroom(held, others)
    if room is not None:
        least = context.practice("tongue_headroom_least_mm")
        yield _verdict(
            held,
            "headroom",
            (("headroom_mm", room), ("least_mm", least)),
            room >= least - DUST_MM,
            f"{say(room)} is free between {tongue} and the one that faces it",
            f"{held.name} goes in only where it is bent; {say(least)} lets it in",
            f"move {tongue} further out",
        )
    least, wide = context.practice("tongue_width_least_mm"), held.tongue.width_mm
    edge = context.practice("tongue_inside_least_mm")
    narrow = wide < least - DUST_MM
    yield _verdict(
        held,
        "width",
        (("width_mm", wide), ("thing_mm", held.wide_mm), ("least_mm", least), ("edge_mm", edge)),
        not narrow and wide <= held.wide_mm - 2.0 * edge + DUST_MM,
        f"{tongue} is {say(wide)} wide"
        + ("" if narrow else f", and {held.name} {say(held.wide_mm)}"),
        f"it holds little; {say(least)} holds" if narrow else "it slips through the slit",
        f"make {tongue} wider" if narrow else f"make {tongue} narrower",
    )
    least, left = context.practice("slit_to_edge_least_mm"), _to_edge(held)
    yield _verdict(
        held,
        "edge",
        (("to_edge_mm", left), ("least_mm", least)),
        left >= least - DUST_MM,
        f"{say(left)} of paper is left between {tongue} and the edge",
        f"it tears; {say(least)} holds",
        f"move {tongue} further in",
    )


def _verdict(
    held: Held,
    what: str,
    numbers: tuple[tuple[str, float], ...],
    holds: bool,
    sentence: str,
    so: str,
    way: str,
) -> CheckResult:
    subject = f"{what} of {held.slit.name} of {held.holder.name}"
    if holds:
        return passed(CODE, subject, numbers, sentence)
    return failed(
        CODE,
        subject,
        numbers,
        f"{sentence}: {so}",
        held.slit.span,
        notes=("Common practice, no source: try it once in the paper that you mean.",),
        ways_out=(way,),
        severity="warning",
    )


def _headroom(held: Held, others: Iterable[Held]) -> float | None:
    """What is free between the feet of two tongues beside the thing; None for a tongue that no
    other faces."""
    out = held.tongue.out
    for other in others:
        across = other.tongue.out[0] * out[0] + other.tongue.out[1] * out[1]
        if other.name == held.name and other.holder is held.holder and across < OPPOSITE:
            (x0, y0), (x1, y1) = held.tongue.foot, other.tongue.foot
            between = (x1 - x0) * out[0] + (y1 - y0) * out[1]
            return between - (held.high_mm - held.low_mm)
    return None


def _to_edge(held: Held) -> float:
    """From the slit to the nearest edge of the paper, or of a hole in it."""
    line = path_to_shapely(held.slit.path, CHORD_MM)
    return float(to_shapely(held.holder.outline, CHORD_MM).boundary.distance(line))
