"""The instruction booklet.

Takes a pattern with its drawings, sheets, supplies and cautions as a ``BookletInput``;
returns the bytes of a tagged PDF (PDF/UA-1 and PDF/A-3a). Also gives the parts that the
website shows in the same words: supplies, cautions, the arrangement of the document. Reports
``letter-not-in-face`` and what is wrong with ``shared/cautions.toml``.
"""

from publisher.booklet.cautions import read_cautions
from publisher.booklet.gather import diagrams, draw_finished, draw_still, gather, with_work
from publisher.booklet.letters import missing_letters
from publisher.booklet.picture import picture
from publisher.booklet.types import BookletInput
from publisher.booklet.typeset import typeset

__all__ = [
    "BookletInput",
    "diagrams",
    "draw_finished",
    "draw_still",
    "gather",
    "missing_letters",
    "picture",
    "read_cautions",
    "typeset",
    "with_work",
]
