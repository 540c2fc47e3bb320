"""Flat pieces, steps, claims and the document: everything worked out, nothing left to ask.

Takes a parsed program and what the trade knows, gives a ``Pattern`` of frozen values
(``publisher.model.types``), or None where nothing can be made of it. Reports ``border-too-wide``,
``bridge-too-wide``, ``changes-nothing``, ``corner-too-large``, ``drawing-empty``,
``drawing-has-words``, ``drawing-not-allowed``, ``drawing-open-line``, ``drawing-part-missing``,
``drawing-too-large``, ``drawing-unreadable``, ``file-missing``, ``font-unreadable``,
``glue-leaves-panel``, ``goes-in-a-circle``, ``island-falls-out``, ``island-not-in-window``,
``letter-not-in-face``, ``letters-too-large``,
``line-off-paper``, ``lists-differ``, ``missing-phrase``, ``missing-stock``,
``name-taken``, ``no-corner``, ``no-fold``, ``no-fold-there``, ``no-paper``, ``not-alike``,
``not-positive``, ``notch-off-edge``, ``notch-on-fold``, ``notch-too-deep``, ``nothing-left``,
``panels-collide``, ``paper-falls-apart``, ``range-backwards``, ``row-too-long``, ``said-twice``,
``several-meant``,
``shape-closed``, ``shape-crosses-itself``, ``slit-leaves-paper``, ``too-many-parts``,
``too-large``, ``too-much-taper``, ``too-small``, ``too-wide``, ``two-outlines``,
``unknown-action``,
``unknown-copy``, ``unknown-edge``, ``unknown-licence``, ``unknown-machine``, ``unknown-name``,
``unknown-post``, ``unknown-sheet``, ``unknown-statement``, ``unknown-stock``, ``unknown-word``,
``which-face``, ``window-leaves-paper``, ``window-meets-edge``, ``wrong-angle``, ``wrong-count``,
``wrong-measure``, ``wrong-place``, ``wrong-unit``.
"""

from publisher.model.pattern import build_pattern

__all__ = ["build_pattern"]
