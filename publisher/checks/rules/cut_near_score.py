"""Windows and slits keep off the scores that they do not belong to."""

from __future__ import annotations

import shapely

from publisher.checks.context import Context, Results, failed, passed

CODE = "cut-too-near-score"


def check(context: Context) -> Results:
    least = context.practice("cut_to_score_least_mm")
    # A cut that begins on a score is meant to; one that nearly does is said elsewhere.
    touching = context.practice("near_line_mm")
    for piece in context.sound():
        scores = context.scores(piece)
        rings = [shapely.LineString(r.coords) for r in context.paper(piece).interiors]
        cuts = [*rings, *context.slits(piece)]
        gaps = [
            (float(cut.distance(line)), score.name)
            for cut in cuts
            for score, line in zip(piece.scores, scores, strict=True)
        ]
        near = [g for g in gaps if g[0] > touching]
        if not near:
            continue
        gap, name = min(near)
        numbers = (("gap_mm", gap), ("least_mm", least))
        if gap < least - 1e-6:
            yield failed(
                CODE,
                piece.name,
                numbers,
                f"a cut of {piece.name} comes within {context.say(gap)} of the score {name};"
                f" {context.say(least)} is the least, or none at all",
                piece.span,
                severity="warning",
                notes=("The strip between them buckles when the fold is made.",),
            )
        else:
            sentence = f"cuts of {piece.name} keep {context.say(gap)} off its scores"
            yield passed(CODE, piece.name, numbers, sentence)
