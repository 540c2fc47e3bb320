"""No layer lies over paper that is to be glued to something else."""

from __future__ import annotations

from publisher.checks.context import Context, Results, failed, passed
from publisher.geometry.shapely_bridge import to_shapely
from publisher.geometry.transform import translated
from publisher.model.types import MatOf

CODE = "layer-over-glue"
LEAST_MM2 = 1.0


def check(context: Context) -> Results:
    for layer in context.pattern.pieces:
        if not isinstance(layer.derived, MatOf) or layer.derived.behind:
            continue
        parent = context.pattern.piece(layer.derived.piece)
        placed = to_shapely(translated(layer.outline, *layer.derived.offset), 0.02)
        for zone in parent.glue_zones:
            if zone.face != "front":
                continue
            shared = float(to_shapely(zone.region, 0.02).intersection(placed).area)
            numbers = (("over_mm2", shared),)
            subject = f"{layer.name} over {zone.name} of {parent.name}"
            if shared > LEAST_MM2:
                yield failed(
                    CODE,
                    subject,
                    numbers,
                    f"{layer.name} lies over the glue at {zone.name} of {parent.name}",
                    layer.span,
                    zone.span,
                    severity="warning",
                    notes=("The joint then holds no better than the layer does.",),
                )
            else:
                yield passed(CODE, subject, numbers, f"{layer.name} leaves {zone.name} free")
