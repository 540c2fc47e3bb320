"""Step views and the cover picture: the paper in space, drawn flat.

Takes the pattern and the story of its assembly, gives drawings (display lists). Reports no
codes: what cannot be drawn well is drawn as well as it can be.
"""

from publisher.drawing.space_view.captions import shown_action
from publisher.drawing.space_view.cover import draw_cover
from publisher.drawing.space_view.frame import Setting
from publisher.drawing.space_view.story import draw_frame, draw_story, draw_told
from publisher.drawing.space_view.telling import told_frames

__all__ = [
    "Setting",
    "draw_cover",
    "draw_frame",
    "draw_story",
    "draw_told",
    "shown_action",
    "told_frames",
]
