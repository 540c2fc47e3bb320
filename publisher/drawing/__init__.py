"""Drawings.

Takes a pattern, the frames of its story and its sheets; gives display lists (``Drawing``) of
flat pieces, steps in space, sheet maps and the legend's signs; and writes them, with a theme,
as SVG and PNG. Reports nothing: what is wrong with a design was found before.
"""
