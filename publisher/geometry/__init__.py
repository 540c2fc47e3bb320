"""Flat geometry with exact arcs, and rigid motion in space. Knows no stage.

Flat coordinates are millimetres, x to the right, y down, as on a scoring board and in SVG.
"Clockwise" is always as seen in that frame.
"""
