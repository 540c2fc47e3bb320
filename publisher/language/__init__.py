"""Language: the fences of a document become a program of sizes, pieces, steps and claims.

Takes a ``Document`` (``parse``); gives a frozen ``Program``. The trees are in
``publisher.language.ast``, the statements in ``publisher.language.statements``.
"""

from publisher.language.parse import parse
from publisher.language.program import Outside, Program

__all__ = ["Outside", "Program", "parse"]
