"""Where things are: ``middle of left of panel 1``, ``6 mm in from top``, as points and lines.

Takes places of the language and the piece they speak of, gives points, edges, lines, panels.
"""
