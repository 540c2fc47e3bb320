"""The signs of what is done with a tool, for the legend: cut, scored, pressed along."""

from __future__ import annotations

from publisher.drawing.space_view.tools import Tool, ToolKind, tool_items
from publisher.drawing.types import Fill, Item, Stroke
from publisher.geometry.path import Line, Path, Point, polygon

_LEFT, _TOP, _RIGHT, _BOTTOM = 1.0, 1.0, 17.0, 7.0
_SHARE = 0.7  # of its size in a picture
_AT: Point = (8.0, 5.8)


def cut_sign(stock: str) -> list[Item]:
    """A cut that has come half way along its line, which is thin ahead of the blade."""
    done = Path((Line((_LEFT + 2.0, _AT[1]), _AT),), closed=False)
    ahead = Path((Line(_AT, (_RIGHT - 2.0, _AT[1])),), closed=False)
    both = [Stroke("cut", (done,)), Stroke("inner", (ahead,))]
    return [*_sheet(stock), *both, *_tool("knife", _AT, 28.0)]


def score_sign(stock: str) -> list[Item]:
    """A score that a bone folder draws; nothing is folded."""
    line = Path((Line((_LEFT, _AT[1]), (_RIGHT, _AT[1])),), closed=False)
    return [*_sheet(stock), Stroke("valley", (line,)), *_tool("score", _AT, 28.0)]


def crease_sign(stock: str) -> list[Item]:
    """Paper that is folded, its fold at the right, and a bone folder laid along that."""
    fold = _RIGHT - 3.0
    ring = polygon(((_LEFT, _TOP), (fold, _TOP), (fold, _BOTTOM), (_LEFT, _BOTTOM)))
    sheet: list[Item] = [Fill("back", (ring,), stock), Stroke("outline", (ring,))]
    return [*sheet, *_tool("crease", (fold, _TOP - 0.4), -90.0, 0.55)]


def _tool(kind: ToolKind, at: Point, lean_deg: float, share: float = _SHARE) -> list[Item]:
    return list(tool_items(Tool(kind, at, lean_deg, share)))


def _sheet(stock: str) -> list[Item]:
    ring = polygon(((_LEFT, _TOP), (_RIGHT, _TOP), (_RIGHT, _BOTTOM), (_LEFT, _BOTTOM)))
    return [Fill("front", (ring,), stock), Stroke("outline", (ring,))]
