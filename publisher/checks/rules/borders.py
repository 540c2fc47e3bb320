"""A layer's border is the same all round, also round a notch, and it stays on its panel."""

from __future__ import annotations

from publisher.checks.borders import Border, borders
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.rules.mirrored import is_for_the_other_hand
from publisher.checks.types import CheckResult
from publisher.model.types import MatOf

CODE = "border-uneven"
OVER = "layer-reaches-over"
OVER_MM2 = 0.05


def check(context: Context) -> Results:
    for border in borders(context.pattern, context.story.end):
        if border.over_mm2 <= OVER_MM2 or not is_for_the_other_hand(context, border.layer):
            yield _verdict(context, border)


def _verdict(context: Context, border: Border) -> CheckResult:
    tolerance = context.practice("border_tolerance_mm")
    layer = context.pattern.piece(border.layer)
    whole = border.panel == border.piece
    panel = border.piece if whole else f"{border.panel} of {border.piece}"
    subject = f"{border.layer} on {panel}"
    values = border.values_mm
    numbers = (
        ("least_mm", min(values)),
        ("greatest_mm", max(values)),
        *((f"ring_least_{i}_mm", r[0]) for i, r in enumerate(border.rings, 1)),
        *((f"ring_greatest_{i}_mm", r[1]) for i, r in enumerate(border.rings, 1)),
        ("over_mm2", border.over_mm2),
    )
    rings = ((f"ring {i} even", tolerance - (m - n)) for i, (n, m) in enumerate(border.rings, 1))
    slack = (("least border", min(values)), *rings)
    if border.over_mm2 > OVER_MM2:
        return failed(
            OVER,
            subject,
            numbers,
            f"{border.layer} reaches over the edge of {panel}",
            layer.span,
            ways_out=(f"write it as a mat: ‘mat on {panel}, … border’",),
            slack=slack,
        )
    for least, most in border.rings:
        if most - least > tolerance:
            return failed(
                CODE,
                subject,
                numbers,
                f"the ring of {border.piece} round the notch of {border.layer} is uneven:"
                f" {context.say(least)} to {context.say(most)}",
                layer.span,
                notes=(
                    "A notch in a layer stays even when it has the same centre as the one below.",
                ),
                ways_out=(f"write it as a mat: ‘mat on {panel}, … border’",),
                slack=slack,
            )
    sides: dict[str, float] = {}
    for side, width in () if border.behind else border.sides:
        sides[side] = min(width, sides.get(side, width))
    for a, b in (("left", "right"), ("top", "bottom")):
        if a in sides and b in sides and abs(sides[a] - sides[b]) > tolerance:
            return failed(
                CODE,
                subject,
                numbers,
                f"the border of {border.layer} is {context.say(sides[a])} at the {a} and"
                f" {context.say(sides[b])} at the {b}",
                layer.span,
                severity="error" if isinstance(layer.derived, MatOf) else "warning",
            )
    if isinstance(layer.derived, MatOf) and max(values) - min(values) > tolerance:
        return failed(
            CODE,
            subject,
            numbers,
            f"the border of {border.layer} runs from {context.say(min(values))} to"
            f" {context.say(max(values))}",
            layer.span,
        )
    return passed(
        CODE,
        subject,
        numbers,
        f"{border.layer} leaves {context.told(min(values))} of {border.piece}"
        + (" all round" if max(values) - min(values) <= tolerance else " at the least"),
        slack,
    )
