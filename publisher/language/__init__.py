"""Language: the fences of a document become a program, and its expressions values.

Takes a ``Document`` (``parse``), gives a frozen ``Program``; takes a program and a scope for
everything that is no size (``evaluate_sizes``), gives the sizes. The trees are in
``publisher.language.ast``, the statements in ``publisher.language.statements``.
Reports: asked, empty-file, front-matter-missing-key, goes-in-a-circle, line-too-long,
list-too-long, missing-phrase, missing-stock, missing-unit, name-taken, name-too-long, no-paper,
not-yet, number, out-of-range, quotation-mark, range-backwards, said-twice, several-meant,
sum-too-long, syntax, two-outlines, unknown-action, unknown-fence, unknown-form, unknown-name,
unknown-sign, unknown-statement, unknown-unit, unknown-variant, unknown-word, which-face,
wrong-count, wrong-unit.
"""

from publisher.language.evaluate import angle_deg, evaluate, holds, length_mm, plain_number
from publisher.language.forms import Library
from publisher.language.parse import parse
from publisher.language.program import Outside, Program
from publisher.language.sizes import SizeResult, Sizes, evaluate_sizes

__all__ = [
    "Library",
    "Outside",
    "Program",
    "SizeResult",
    "Sizes",
    "angle_deg",
    "evaluate",
    "evaluate_sizes",
    "holds",
    "length_mm",
    "parse",
    "plain_number",
]
