"""What is folded flat lies on something and does not stick out beyond it."""

from __future__ import annotations

from collections import Counter

import shapely

from publisher.checks.context import Context, Results, failed, passed
from publisher.geometry.flatten import flattened
from publisher.geometry.space import Pose, dot, lift
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import Piece

CODE = "flap-sticks-out"
FLAT = -0.9998


def check(context: Context) -> Results:
    tolerance = context.practice("size_tolerance_mm")
    for piece in context.sound():
        beside = Counter(n for h in piece.hinges for n in (h.parent, h.child))
        # Of two panels that hang on each other alone neither is the flap.
        flaps = [h for h in piece.hinges if beside[h.child] == 1 and beside[h.parent] > 1]
        flat = [h for h in flaps if abs(piece.fold(h.fold).closing_deg) > 179.0]
        if not flat:
            continue
        poses = facet_poses(piece, closed_angles(piece))
        for hinge in flat:
            out = _out_mm(piece, poses, hinge.parent, hinge.child)
            numbers = (("out_mm", out), ("tolerance_mm", tolerance))
            subject = f"{piece.name}: {hinge.child}"
            if out > tolerance:
                yield failed(
                    CODE,
                    subject,
                    numbers,
                    f"folded flat, {hinge.child} of {piece.name} sticks out by {context.say(out)}",
                    piece.fold(hinge.fold).span,
                    severity="warning",
                    ways_out=(f"make {hinge.child} {context.say(out)} shorter",),
                )
            else:
                sentence = f"{hinge.child} of {piece.name} lies on paper all over"
                yield passed(CODE, subject, numbers, sentence)


def _out_mm(piece: Piece, poses: dict[str, Pose], parent: str, child: str) -> float:
    """How far a flap reaches over the edge of everything else that lies flat with it."""
    home = poses[parent].inverse()

    def landed(name: str) -> shapely.Polygon:
        into = home.after(poses[name])
        points = [into.apply(lift(p)) for p in flattened(piece.facet(name).region.outer, 0.01)]
        return shapely.Polygon([(p[0], -p[1]) for p in points])

    flat = [
        f.name
        for f in piece.facets
        if f.name != child and abs(dot(home.after(poses[f.name]).normal, (0, 0, 1))) > -FLAT
    ]
    under = shapely.unary_union([landed(n) for n in flat]).buffer(0.01)
    out = landed(child).difference(under)
    if out.is_empty:
        return 0.0
    return float(shapely.distance(under, shapely.points(shapely.get_coordinates(out))).max())
