"""``curl``: a panel bends evenly and keeps its length."""

from __future__ import annotations

import math
from collections.abc import Iterator

from publisher.assembly.approach import first_of, fold_approach
from publisher.assembly.bodies import taken_up, with_bodies
from publisher.assembly.change import Approach, Change, finding, not_yet
from publisher.assembly.kit import Kit
from publisher.assembly.rigid import followers, refolded
from publisher.assembly.strips import STRIPS, Rulings, bend_names, rulings, tabs_beyond
from publisher.assembly.targets import acted_on, edge_name, panel_name, target_bodies
from publisher.assembly.types import Body, FacetId, FoldMotion, State
from publisher.geometry.booleans import region_union
from publisher.geometry.space import Pose, moved, scaled
from publisher.model.types import Action, Bend, Facet, Pattern, Piece, Target

ROUND_DEG = 360.0
"""How far a panel is curled where nothing is said: into a tube, end to end."""

_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def panel_of(piece: Piece, target: Target) -> str:
    """The panel that a target of ``curl`` means; "" where that is not one."""
    name = panel_name(target)
    if any(p.name == name for p in piece.panels):
        return name
    return piece.panels[0].name if len(piece.panels) == 1 or target.kind == "piece" else ""


def way_of(action: Action, target: Target) -> bool | None:
    """Whether it runs round across (True) or down; None where nobody said."""
    if "across" in action.words or "down" in action.words:
        return "across" in action.words
    edge = edge_name(target) or target.part
    return edge in ("left", "right") if target.kind == "edge" and edge in _OPPOSITE else None


def bend_of(action: Action) -> Bend:
    return "valley" if "valley" in action.words else "mountain"


def curled_panels(pattern: Pattern) -> Iterator[tuple[str, str, bool | None, Bend]]:
    """What steps curl: piece, panel, which way, and how."""
    pieces = {piece.name: piece for piece in pattern.pieces}
    for step in pattern.steps:
        for action in step.actions:
            if action.verb == "curl":
                for target in action.subjects:
                    if target.piece in pieces:
                        panel = panel_of(pieces[target.piece], target)
                        yield target.piece, panel, way_of(action, target), bend_of(action)


def curl(kit: Kit, state: State, action: Action) -> Change:
    """Turn every line between the strips of a panel by the same share of the whole angle.

    A tube of n strips is a polygon with n corners, of which the last is where its ends meet:
    so each line turns by one n-th. In a cone the strips are narrow triangles round its tip, and
    each line turns by the outer angle of a regular spherical polygon. A tab at the end turns on.
    """
    target = acted_on(action)[0]
    start = taken_up(kit, state, target_bodies(state, target))
    bodies = target_bodies(start, target)
    piece = kit.pieces.get(target.piece)
    name = panel_of(piece, target) if piece is not None else ""
    strips = [f for f in piece.facets if f.panel == name] if piece is not None else []
    bends = bend_names(name, STRIPS)
    if piece is None or len(bodies) != 1 or len(strips) < STRIPS or len(action.subjects) > 1:
        note = "Say one panel in a line, with no other folds or slits in it."
        return Change(start, start, findings=(not_yet(action, "Curling this", note),))
    edges = [edge_name(t) or t.part for t in (target, *action.objects) if t.kind == "edge"]
    if action.objects and (len(edges) != 2 or _OPPOSITE.get(edges[0]) != edges[1]):
        note = "Say an edge and the one across from it: ‘curl right of wall to left of wall’."
        return Change(start, start, findings=(not_yet(action, "Curling this so", note),))
    whole = Facet(name, name, region_union([f.region for f in strips])[0])
    cut = rulings(whole.region, STRIPS, way_of(action, target))
    total = _total(action, cut)
    if total > ROUND_DEG + 1e-6:
        text = f"{name} would go round more than once: {total:.0f} degrees"
        return Change(start, start, findings=(finding("wrong-angle", action, text, target),))
    each = _each(total, cut)
    body = start.body(bodies[0])
    angles = dict(body.angles) | dict.fromkeys(bends, each)
    if total > ROUND_DEG - 1e-6:
        for tab, _ in tabs_beyond(_uncut(piece, whole), whole, cut):
            angles[tab.panel] = each if _same_bend(piece, tab, bends[0]) else -each
            own = [f.name for f in piece.folds if f.name.endswith(f" of {tab.panel}")]
            angles |= dict.fromkeys(own, each)
    last = bool(edges) and edges[0] in ("left", "top")
    return _turned(kit, start, body, angles, strips[-1 if last else 0].name, last, bends)


def _uncut(piece: Piece, whole: Facet) -> Piece:
    """The piece with its tabs as single facets, to look for them."""
    from msgspec.structs import replace

    tabs = [p.name for p in piece.panels if p.kind == "tab"]
    facets = [
        Facet(n, n, region_union([f.region for f in piece.facets if f.panel == n])[0]) for n in tabs
    ]
    return replace(piece, facets=(whole, *facets))


def _same_bend(piece: Piece, tab: Facet, bend: str) -> bool:
    return piece.fold(tab.panel).bend == piece.fold(bend).bend


def _total(action: Action, cut: Rulings) -> float:
    if action.length_mm is not None and cut.centre is None:
        return math.degrees((cut.greatest - cut.least) / action.length_mm)
    return ROUND_DEG if action.angle_deg is None else action.angle_deg


def _each(total: float, cut: Rulings) -> float:
    if cut.centre is None:
        return total / STRIPS
    half = math.cos(math.pi / STRIPS) / math.cos(math.radians(cut.step) / 2.0)
    return (180.0 - 2.0 * math.degrees(math.asin(half))) * total / ROUND_DEG


def _tabs_inside(kit: Kit, body: Body, bend: str) -> Approach:
    """Where a tab goes on round, it lies within."""
    piece = kit.pieces[body.piece]
    tabs = {p.name for p in piece.panels if p.kind == "tab"}
    panel = {f.name: f.panel for f in piece.facets}
    inner = -1.0 if piece.fold(bend).bend == "mountain" else 1.0

    def approach(first: FacetId, second: FacetId) -> tuple[Pose, Pose] | None:
        if first[0] != body.id or second[0] != body.id:
            return None
        ends = [panel[f[1]] in tabs for f in (first, second)]
        if ends[0] == ends[1]:
            return None
        poses = [body.facet_pose(f[1]) for f in (first, second)]
        k = 0 if ends[0] else 1
        poses[k] = moved(scaled(poses[k].normal, inner)).after(poses[k])
        return poses[0], poses[1]

    return approach


def _turned(
    kit: Kit,
    start: State,
    body: Body,
    angles: dict[str, float],
    anchor: str,
    last: bool,
    bends: list[str],
) -> Change:
    before = dict(body.angles)
    after = refolded(kit, body, angles, anchor)
    turning = tuple((n, before[n], a) for n, a in angles.items() if abs(a - before[n]) > 1e-9)
    moving = tuple(f.name for f in kit.pieces[body.piece].facets if f.name != anchor)
    end = with_bodies(start, [after, *followers(kit, start, body, after)])
    shown = (bends[0] if last else bends[-1],)
    usual = fold_approach(kit, end, body, after, anchor, [n for n, _, _ in turning])
    approach = first_of((_tabs_inside(kit, after, bends[0]), usual))
    motion = FoldMotion(body.id, turning, moving, shown)
    return Change(start, end, (motion,), approach=approach)
