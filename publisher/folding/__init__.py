"""Takes flat pieces and their folds, returns how they can lie in space: angles that close every
loop of facets, in which order layers can lie, where paper would pass through paper, how a
curled panel unrolls.

It knows no steps: ``assembly`` asks it. It reports no codes of its own.
"""
