"""Checks: a pattern that has been assembled -> findings, passed ones too, with numbers.

Takes a ``Pattern`` and its ``Story``; returns ``CheckResult``s in a fixed order.

Reports outline-not-simple, line-cut-twice, score-off-paper, score-ends-inside, glue-leaves-panel,
glue-too-narrow, glue-misses, glued-parts-move, border-uneven, layer-reaches-over, does-not-go-in,
does-not-slide-on, too-loose, closed-size-differs, not-flush, does-not-cover, sticks-out,
does-not-clear, does-not-open, does-not-reach, not-tucked-under, too-much-to-spare, not-as-post,
post-by-hand, claim-not-proven, piece-not-used, figure-differs, figure-unknown, fails-in-range,
fails-in-the-making, ruler-breaks-fit.
"""

from publisher.checks.run import run_checks, run_made
from publisher.checks.types import CheckResult

__all__ = ["CheckResult", "run_checks", "run_made"]
