"""Takes a ``Pattern``, returns a ``Story``: where every facet is before and after each action.

Positions come from fold angles about axes in space. Reports ``curve-too-deep``, ``folded-already``,
``folds-against-score``, ``folds-do-not-close``, ``glue-meets-nothing``, ``glued-parts-move``,
``layers-cannot-lie``, ``layers-undecided``, ``no-fold``, ``no-glue-zone``, ``no-way-in``,
``not-closed``, ``not-inside``, ``not-yet``, ``papers-collide``, ``tab-misses``, ``tuck-misses``,
``wrong-angle``.
"""

from publisher.assembly.layers import Layers, layers
from publisher.assembly.opening import Opening, opening
from publisher.assembly.sizes import finished_size
from publisher.assembly.story import assemble
from publisher.assembly.types import (
    Body,
    Bond,
    FacetId,
    FoldMotion,
    Frame,
    Mark,
    Motion,
    MoveMotion,
    State,
    Story,
    TurnMotion,
)
from publisher.assembly.when_closed import closed_size

__all__ = [
    "Body",
    "Bond",
    "FacetId",
    "FoldMotion",
    "Frame",
    "Layers",
    "Mark",
    "Motion",
    "MoveMotion",
    "Opening",
    "State",
    "Story",
    "TurnMotion",
    "assemble",
    "closed_size",
    "finished_size",
    "layers",
    "opening",
]
