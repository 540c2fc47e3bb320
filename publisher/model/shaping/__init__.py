"""Number-level builders: panels, folds, outlines, cuts, glue, mats and bands from plain mm.

They take figures and frozen values and give frozen values. They know nothing of names in the
language and report nothing: what cannot be built is refused by the statements before.
"""
