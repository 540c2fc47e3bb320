"""What a line on a sheet is for, and how each file format names it. Said once, here."""

from __future__ import annotations

from msgspec import Struct

from publisher.cutfiles.options import ScoreAs
from publisher.trade import Machine

LINE_WIDTH_MM = 0.25
LIGHT_WIDTH_MM = 0.1


class Role(Struct, frozen=True):
    """``name`` ends the ids in SVG; ``layer`` is the DXF layer and the PDF's optional content.

    ``dash_mm`` is drawn, gap, drawn, gap, ... in mm, nothing where the line is whole. A reader
    must be able to tell roles apart without colour: all lines are black. ``kind`` says what
    becomes of the paper.
    """

    name: str
    layer: str
    title: str
    dash_mm: tuple[float, ...]
    kind: str


SCORE_VALLEY = Role("score-valley", "SCORE-VALLEY", "score, valley fold", (3.0, 1.5), "score")
SCORE_MOUNTAIN = Role(
    "score-mountain",
    "SCORE-MOUNTAIN",
    "score, mountain fold",
    (6.0, 1.2, 0.6, 1.2, 0.6, 1.2),
    "score",
)
PERFORATION = Role("perforation", "PERFORATION", "tear along", (1.5, 0.75), "perforation")
CUT = Role("cut", "CUT", "cut through", (), "cut")
DRAW = Role("draw", "DRAW", "draw", (0.5, 0.5), "draw")
ENGRAVE = Role("engrave", "ENGRAVE", "cut into the face", (2.0, 0.5, 0.5, 0.5), "engrave")
GLUE = Role("glue", "GLUE", "outline of a glue zone", (0.5, 1.0), "glue")

ROLES = (GLUE, DRAW, ENGRAVE, SCORE_VALLEY, SCORE_MOUNTAIN, PERFORATION, CUT)
"""In the order of work: paper is drawn on and scored while it still lies firm in its sheet."""

ALWAYS = (SCORE_VALLEY, SCORE_MOUNTAIN, CUT)
"""The roles whose layers every file has, used or not."""


def named(used: set[Role]) -> tuple[Role, ...]:
    """The roles that a file names: those it always has, and those that it uses."""
    return tuple(role for role in ROLES if role in used or role in ALWAYS)


def is_dashed(role: Role) -> bool:
    """Whether the role's lines become real dashes where scores are cut as dashes."""
    return role.kind in ("score", "perforation")


def dash_mm(role: Role, score_as: ScoreAs) -> tuple[float, ...]:
    """How the role's lines are drawn; real dashes are drawn whole."""
    return () if score_as == "dashes" and is_dashed(role) else role.dash_mm


def width_mm(role: Role, score_as: ScoreAs) -> float:
    """How wide the role's lines are drawn."""
    light = role.kind in ("glue", "draw") or (score_as == "drawn" and is_dashed(role))
    return LIGHT_WIDTH_MM if light else LINE_WIDTH_MM


def structural_step(role: Role, score_as: ScoreAs, machine: Machine | None) -> str:
    """The type of processing step within the group Structural (ISO 19593-1:2018); "" where it
    names none."""
    if role.kind == "score":
        if score_as == "dashes":
            return "Perforating"
        blade = machine is not None and machine.scores == "blade" and score_as == "groups"
        return "PartialCutting" if blade else "Creasing"
    types = {"perforation": "Perforating", "cut": "Cutting", "glue": "Gluing"}
    return types.get(role.kind, "")


def group_metadata(step: str) -> str:
    """What a PDF layer says of its processing step, nothing where there is none."""
    if not step:
        return ""
    return f" /GTS_Metadata <</GTS_ProcStepsGroup /Structural /GTS_ProcStepsType /{step}>>"
