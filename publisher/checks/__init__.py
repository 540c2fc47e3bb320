"""Checks: a pattern that has been assembled -> findings, passed ones too, with numbers.

Takes a ``Pattern`` and its ``Story``; returns ``CheckResult``s in a fixed order.

Reports border-uneven, bridge-too-narrow, claim-not-proven, closed-size-differs,
cut-too-near-score, does-not-clear, does-not-cover, does-not-go-in, does-not-open, does-not-reach,
does-not-slide-on, fails-in-range, fails-in-the-making, figure-differs, figure-unknown,
flap-sticks-out, fold-not-scored, folds-across-grain, glue-covered, glue-leaves-panel,
glue-misses, glue-not-used, glue-still-wet, glue-too-narrow, glued-parts-move, good-side-hidden,
hole-too-small, layer-hidden, layer-over-glue, layer-reaches-over, line-cut-twice,
lines-almost-same, not-as-post, not-flush, not-mirrored, not-tucked-under, outline-not-simple,
overlap-too-short, part-falls-out, picture-without-words, piece-not-used, post-by-hand,
ruler-breaks-fit, score-ends-inside, score-off-paper, scores-too-near, sliver, slit-holds-badly,
small-part, spine-too-narrow, sticks-out, tab-too-narrow, too-loose, too-much-to-spare,
top-of-what, unknown-practice, waiver-not-needed.
"""

from publisher.checks.run import run_checks, run_made
from publisher.checks.types import CheckResult

__all__ = ["CheckResult", "run_checks", "run_made"]
