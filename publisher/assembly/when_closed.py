"""The outside of a piece when it is closed, also where its panels bend."""

from __future__ import annotations

import math
from functools import lru_cache

from publisher.assembly.bending import standing
from publisher.assembly.creased import bent_panels
from publisher.assembly.creases import creased, strip_name
from publisher.assembly.press_in import UPRIGHT_DEG
from publisher.geometry.space import Vector, lift, turned
from publisher.model.folding import box_round
from publisher.model.folding import closed_size as folded_size
from publisher.model.hinges import hang, joints
from publisher.model.types import Piece


@lru_cache(maxsize=256)
def closed_size(piece: Piece) -> Vector:
    """Across, down and deep in mm, caliper counted: every fold at its closing angle. Where flaps
    lie beyond curved scores, all of them are pressed in upright, and the panels bend with them:
    across is then along their chord, and deep is how far the thing bulges."""
    if all(score.fold is not None for score in piece.scores):
        return folded_size(piece)
    made = creased(piece)
    bent = bent_panels(made)
    curves = [c.score for own in bent.values() for c in own.curves]
    if not curves:
        return folded_size(piece)
    try:
        bends = standing(made, bent, UPRIGHT_DEG, curves)
    except ValueError:  # told where a step folds it: the paper would have to stretch
        return folded_size(piece)
    angles = {f.name: f.closing_deg for f in made.folds if not f.smooth and not f.part_of}
    poses = hang(made, joints(made), angles | bends)
    name, own = next((n, own) for n, own in bent.items() if own.curves)
    level = poses[strip_name(name, len(own.at_mm) // 2)]
    lean = turned((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), _lean_deg(own.u))
    home = level.after(lean).inverse()
    least, greatest = box_round(made, {n: home.after(pose) for n, pose in poses.items()})
    return (greatest[0] - least[0], greatest[1] - least[1], greatest[2] - least[2])


def _lean_deg(u: tuple[float, float]) -> float:
    x, y, _ = lift(u)
    return math.degrees(math.atan2(y, x))
