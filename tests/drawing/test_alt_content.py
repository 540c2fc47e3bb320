"""Alternative texts of every content pattern and every form: all that moves is named, each way,
place and partner is that of the computed motion, and nothing is said twice."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from msgspec.structs import replace

from publisher.assembly import FoldMotion, Frame, Mark, MoveMotion, Story, TurnMotion
from publisher.drawing.space_view import draw_story, told_frames
from publisher.drawing.space_view.opened import refolded
from publisher.drawing.space_view.resting_words import own_host
from publisher.drawing.space_view.seated import seated
from publisher.drawing.space_view.shapes import region_polygon
from publisher.drawing.space_view.stage import named_bodies, set_stage
from publisher.drawing.space_view.telling import tell
from publisher.drawing.space_view.told_moves import move_sentences
from publisher.drawing.space_view.words import angle, body_name, heading
from publisher.drawing.types import Drawing
from publisher.geometry.space import Vector, dot, lift, sub
from publisher.model.types import GlueZone, Pattern, Piece
from tests.drawing.hearing import PLACES, centre, hears, parts_of, points_of, sentences
from tests.drawing.test_view_content import NAMES, told
from tests.drawing.view_scenes import labels
from tests.guide.form_pages import EXAMPLES, built

FORMS = sorted(path.stem for path in EXAMPLES.glob("*.md"))
EVERY = [*NAMES, *(f"form {name}" for name in FORMS)]

MOST = 700
"""So many letters at most; longer only where it is said why."""

WAYS: dict[str, Vector] = {
    "up": (0.0, 0.0, 1.0),
    "down": (0.0, 0.0, -1.0),
    "to the left": (-1.0, 0.0, 0.0),
    "to the right": (1.0, 0.0, 0.0),
    "towards you": (0.0, -1.0, 0.0),
    "away from you": (0.0, 1.0, 0.0),
}


@cache
def scenes(name: str) -> tuple[Pattern, Story, tuple[Drawing, ...]]:
    if not name.startswith("form "):
        return told(name)
    outcome = built(Path(EXAMPLES / f"{name[5:]}.md").read_text(encoding="utf-8"))
    assert outcome.pattern is not None
    assert outcome.story is not None
    pattern = outcome.story.handled or outcome.pattern
    return pattern, outcome.story, draw_story(pattern, outcome.story)


@cache
def frames_of(name: str) -> list[tuple[Frame, Drawing, dict[str, Piece]]]:
    """Every picture as it is before the maker."""
    pattern, story, drawings = scenes(name)
    pieces = {b: pattern.piece(p) for b, p in story.body_pieces.items()}
    telling = tell(pattern, story)
    return [
        (seated(frame, view), drawing, pieces)
        for frame, view, drawing in zip(telling.frames, telling.views, drawings, strict=True)
    ]


def turned(piece: Piece, motion: FoldMotion, name: str) -> str:
    """The panel on the side of a fold that moves."""
    own = piece.fold(name).child
    ends = [e for h in piece.hinges if h.fold == name for e in (h.child, h.parent)]
    panels = [piece.facet(e).panel for e in ends if e in motion.moving]
    return own if own in panels else panels[0]


def missing(frame: Frame, pieces: dict[str, Piece], said: str) -> list[str]:
    """What a blind maker is not told of a frame: moving parts, ways, angles, glue and faces."""
    lacking: list[str] = []
    words: list[str] = []
    for motion in frame.motions:
        if isinstance(motion, FoldMotion):
            piece = pieces[motion.body]
            whole = body_name(piece, motion.body)
            lacking += [] if hears(whole, said) else [whole]
            if f"{whole} folds with it" in said:
                continue
            if motion.shown:  # paper that bends is told by its flaps
                flaps = [piece.fold(n).child for n in motion.shown]
                lacking += [n for n in flaps if not hears(n, said)]
                continue
            for name, start, end in motion.folds:
                alone = sum(f.child == piece.fold(name).child for f in piece.folds) == 1
                part = turned(piece, motion, name) if alone else name
                lacking += [] if hears(part, said) else [part]
                if frame.action.verb == "push":
                    named = {t.part for t in frame.action.subjects}
                    words += ["from behind", "faces inside"]
                    words += [angle(round(abs(end), 1))] if name in named else []
                elif "of itself" not in said and "of themselves" not in said:
                    words.append(angle(round(abs(end - start), 1)))
                    back = start * end >= 0.0 and abs(end) < abs(start)
                    words.append("unfold" if back else "faces inside")
            still = {f.panel for f in piece.facets if f.name not in motion.moving}
            along = {piece.facet(f).panel for f in motion.moving} - still
            lacking += [panel for panel in sorted(along) if not hears(panel, said)]
        elif isinstance(motion, TurnMotion | MoveMotion):
            if getattr(motion, "manner", "") != "wrap":
                names = [body_name(pieces[b], b) for b in motion.bodies]
                lacking += [n for n in names if not hears(n, said)]
            if isinstance(motion, TurnMotion):
                words.append("turn" if "Tip " not in said else "tip")
            else:
                lacking += [
                    t.said or t.part or t.piece
                    for t in frame.action.objects
                    if not hears(t.said or t.part or t.piece, said)
                ]
        elif isinstance(motion, Mark):
            piece = pieces[motion.body]
            lacking += [] if hears(body_name(piece, motion.body), said) else [motion.body]
            if motion.what in ("glue", "tape"):
                words += [motion.what, f"{motion.face} face"]
                zones = [z for z in piece.glue_zones if z.name in motion.names]
                panels = [z.panel or piece.name for z in zones]
                if len({f.panel for f in piece.facets}) > 1:
                    lacking += [p for p in panels if not hears(p, said)]
            elif motion.what in ("cut", "press", "hold"):
                lacking += [n for n in motion.names if not hears(n, said)]
            elif motion.what == "score":
                scores = [s for s in piece.scores if s.name in motion.names]
                words += sorted({s.bend for s in scores})
                lines = len({s.fold or s.name for s in scores})
                counts = sum(int(n) for n in counted(said, piece.name))
                lacking += [] if counts == lines else [f"{lines} lines, not {counts}"]
    return lacking + [w for w in dict.fromkeys(words) if w not in said.lower()]


def counted(said: str, piece: str) -> list[str]:
    own = next(s for s in sentences(said) if s.startswith(f"Score the {piece} "))
    return re.findall(
        r"(?:: |; |, | and )(\d+)(?= (?:valley|mountain|from|for|curved|between))", own
    )


@pytest.mark.parametrize("name", EVERY)
def test_every_part_way_and_zone_is_told(name: str) -> None:
    lacking = {}
    for frame, drawing, pieces in frames_of(name):
        gaps = missing(frame, pieces, drawing.alt)
        shown = [re.split(r", \d", label.text)[0] for label in labels(drawing)]
        gaps += [label for label in shown if not hears(label, drawing.alt)]
        if gaps:
            lacking[drawing.name] = gaps
    assert lacking == {}


def test_a_part_that_is_not_told_is_noticed() -> None:
    frame, drawing, pieces = frames_of("sliding-box")[2]
    said = drawing.alt
    assert missing(frame, pieces, said) == []
    assert missing(frame, pieces, said.replace("and back walls", "wall").replace("back", "")) != []
    assert missing(frame, pieces, said.replace("90", "80")) == ["90 degrees"]


@pytest.mark.parametrize("name", EVERY)
def test_no_text_is_long_or_says_a_thing_twice(name: str) -> None:
    for _, drawing, _ in frames_of(name):
        assert len(drawing.alt) <= MOST, (drawing.name, drawing.alt)
        said = sentences(drawing.alt)
        assert len(set(said)) == len(said), drawing.alt
        assert drawing.alt.endswith(".")
        assert not re.search(r"  |\.\.|,,| ,|,\.|the the| of the$", drawing.alt), drawing.alt


@pytest.mark.parametrize("name", EVERY)
def test_the_view_is_told_first_and_where_it_changes(name: str) -> None:
    first, *others = (drawing.alt for _, drawing, _ in frames_of(name))
    assert "Seen from" in first
    assert "as you sit at the table" in first
    views = [first[first.index("Seen from") :].split(".")[0]]
    for said in others:
        assert "as you sit" not in said
        if "Seen from" in said:
            view = said[said.index("Seen from") :].split(".")[0]
            assert view != views[-1]
            views.append(view)


FOLDS = re.compile(
    r"(?:Fold|Unfold) (.+?) (up|down|inwards|outwards|towards you|away from you|to the left|"
    r"to the right)(?: and over| and under)? by"
)


def set_out(frame: Frame, motion: FoldMotion, piece: Piece) -> dict[str, Vector]:
    """Where the middle of each facet goes as the motion begins, by facet."""
    body = frame.before.body(motion.body)
    still = next((f.name for f in piece.facets if f.name not in motion.moving), None)
    held = still or piece.facets[0].name
    angles = dict(body.angles) | {n: a + (b - a) * 0.01 for n, a, b in motion.folds}
    moved = refolded(piece, {held: body.facet_pose(held)}, angles, held)
    ways = {}
    for facet in motion.moving:
        ring = region_polygon(piece.facet(facet).region).centroid
        point = lift((ring.x, ring.y))
        ways[facet] = sub(moved[facet].apply(point), body.facet_pose(facet).apply(point))
    return ways


@pytest.mark.parametrize("name", EVERY)
def test_folds_set_out_the_way_that_is_told(name: str) -> None:
    heard = 0
    for frame, drawing, pieces in frames_of(name):
        folds = [m for m in frame.motions if isinstance(m, FoldMotion) and not m.shown]
        own = FOLDS.findall(drawing.alt)
        if len(folds) != 1 or "of themselves" in drawing.alt:
            continue
        piece, motion = pieces[folds[0].body], folds[0]
        ways = set_out(frame, motion, piece)
        still = [f.name for f in piece.facets if f.name not in motion.moving]
        middle = centre(points_of(piece, frame.before.body(motion.body), still))
        for parts, way in own:
            roots = [
                f
                for f in ways
                if hears(piece.facet(f).panel, parts)
                and any(f in (h.parent, h.child) and {h.parent, h.child} & set(still)
                        for h in piece.hinges)
            ]  # fmt: skip
            for facet in roots:
                at = centre(points_of(piece, frame.before.body(motion.body), [facet]))
                wanted = WAYS.get(way) or sub(middle, at)
                share = dot(ways[facet], wanted)
                assert share < 0.0 if way == "outwards" else share > 0.0, (drawing.name, facet, way)
                heard += 1
    assert heard or name in WITHOUT_FOLDS


WITHOUT_FOLDS = {
    "pop-up-card", "form accordion", "form cone", "form divider", "form prism-base", "form star",
    "form pop-up-step",
}  # fmt: skip
"""Where no fold of a motion by itself has a way of its own to be told."""

THEN = re.compile(r"(?:Then|Before this,) (.*?)\.(?: |$)")


@pytest.mark.parametrize("name", EVERY)
def test_what_lies_on_which_side_is_there(name: str) -> None:
    """Places after a turn, and of what is new, against the middles of the parts in space."""
    for frame, drawing, pieces in frames_of(name):
        for clause in sentences(drawing.alt):
            after = clause.startswith("Then ")
            if not after and not clause.startswith("Before this"):
                continue
            turns = [b for m in frame.motions if isinstance(m, TurnMotion) for b in m.bodies]
            about = [b for b in pieces if hears(body_name(pieces[b], b), clause)]
            own_bodies = turns if after else about
            parts = [p for p in parts_of(frame, pieces, after) if p[0] in own_bodies]
            for place, (axis, sign) in PLACES.items():
                for found in re.finditer(rf"([a-z0-9 ,]+?)(?: is| are)? {place}", clause):
                    own = re.split(r"nearest you|at the (?:far side|left|right|top|bottom)|"
                                   r"face (?:is )?up", found[1])[-1]  # fmt: skip
                    if "open" in own or "crease" in own or "slot" in own:
                        continue
                    for body, part, points in parts:
                        longer = [p for b, p, _ in parts if p.startswith(f"{part} ")]
                        if not hears(part, own) or part == pieces[body].name:
                            continue
                        if any(hears(p, own) for p in longer):
                            continue  # "front" in "the front and back flaps"
                        others = [p for b, _, ps in parts if b == body for p in ps]
                        off = (
                            centre(points)[axis]
                            - (min(p[axis] for p in others) + max(p[axis] for p in others)) / 2.0
                        )
                        assert off * sign > 0.0, (drawing.name, part, place)


@pytest.mark.parametrize("name", EVERY)
def test_turns_go_the_way_that_is_told(name: str) -> None:
    for frame, drawing, pieces in frames_of(name):
        for motion in frame.motions:
            if not isinstance(motion, TurnMotion) or not motion.bodies:
                continue
            body = motion.bodies[0]
            before, after = frame.before.body(body), frame.after.body(body)
            facet = before.facets[0][0]
            carry = after.facet_pose(facet).after(before.facet_pose(facet).inverse())
            piece = pieces[body]
            tipped = re.search(r"Tip .+? (to the left|to the right|towards you|away from you) by",
                               drawing.alt)  # fmt: skip
            if tipped:
                assert heading(carry.turn((0.0, 0.0, 1.0))) == tipped[1]
            elif "near edge goes to the far side" in drawing.alt:
                assert heading(carry.turn((0.0, -1.0, 0.0))) == "away from you"
                assert heading(carry.turn((1.0, 0.0, 0.0))) == "to the right"
            elif "left and right change places" in drawing.alt:
                assert heading(carry.turn((1.0, 0.0, 0.0))) == "to the left"
            else:
                assert "round by" in drawing.alt
            face = re.search(r"its (front|back) face is up", drawing.alt)
            levels = {round(pose.normal[2]) for _, pose in after.facets}
            if face:
                assert levels == {1 if face[1] == "front" else -1}
            else:
                assert levels not in ({1}, {-1})
                assert piece.facets


def sides_of(zone: GlueZone, piece: Piece, frame: Frame, body: str) -> set[str]:
    """On which sides of its panel the middle of a zone lies, where it is off the middle."""
    facet = next(f for f in piece.facets if zone.panel in (None, f.panel))
    pose = frame.before.body(body).facet_pose(facet.name)
    own, whole = region_polygon(zone.region), region_polygon(facet.region)
    off = pose.turn(sub(lift((own.centroid.x, own.centroid.y)),
                        lift((whole.centroid.x, whole.centroid.y))))  # fmt: skip
    names = (("left", "right"), ("near", "far"), ("bottom", "top"))
    most = max(abs(v) for v in off)
    return {names[k][v > 0.0] for k, v in enumerate(off) if abs(v) > 0.8 * most > 0.5}


@pytest.mark.parametrize("name", EVERY)
def test_glue_is_on_the_edges_that_are_told(name: str) -> None:
    for frame, drawing, pieces in frames_of(name):
        for mark in frame.motions:
            if not isinstance(mark, Mark) or mark.what not in ("glue", "tape"):
                continue
            (put,) = [s for s in sentences(drawing.alt) if s.startswith("Put ")][:1]
            if "all over" in put or "all four edges" in put:
                continue
            piece = pieces[mark.body]
            wanted: set[str] = set()
            for zone in (z for z in piece.glue_zones if z.name in mark.names):
                wanted |= sides_of(zone, piece, frame, mark.body)
            lacking = {side for side in wanted if not re.search(rf"\b{side}\b", put)}
            assert not lacking, (drawing.name, put, lacking)


def own_names(frame: Frame, body: str, pieces: dict[str, Piece]) -> set[str]:
    """The panels to which a body is joined, and the openings in them."""
    found = set()
    for host, facet in own_host(frame.after, frame.before, body):
        panel = pieces[host].facet(facet).panel
        found |= {panel, *(o.name for o in pieces[host].openings if o.panel == panel)}
    return found


@pytest.mark.parametrize("name", EVERY)
def test_each_goes_to_its_own_place(name: str) -> None:
    for frame, drawing, pieces in frames_of(name):
        if "its own" not in drawing.alt:
            continue
        moves = [m.bodies[0] for m in frame.motions if isinstance(m, MoveMotion)]
        for body in moves:
            number = body.rsplit("-", 1)[-1]
            own = {n for n in own_names(frame, body, pieces) if n.endswith(f" {number}")}
            assert own & {t.part for t in frame.action.objects}, body


def test_pairs_that_are_not_in_order_are_told_one_by_one() -> None:
    """The first two backings swapped: backing 1 goes behind pane 2."""
    pattern, story, _ = scenes("lantern")
    frames = told_frames(pattern, story)
    frame = next(f for f in frames if sum(isinstance(m, MoveMotion) for m in f.motions) == 4)
    pieces = {b: pattern.piece(p) for b, p in story.body_pieces.items()}
    swap = {"backing-1": "backing-2", "backing-2": "backing-1"}
    bonds = tuple(
        replace(b, first=(swap.get(b.first[0], b.first[0]), b.first[1])) for b in frame.after.bonds
    )
    crossed = replace(frame, after=replace(frame.after, bonds=bonds))
    moves = [m for m in frame.motions if isinstance(m, MoveMotion)]
    stage = set_stage(pattern, frame)
    (straight,) = move_sentences(frame, moves, stage, pieces, pattern.meta.ruler)
    (said,) = move_sentences(crossed, moves, stage, pieces, pattern.meta.ruler)
    assert "backings 1 to 4, back face up, behind panes 1 to 4 of the lantern, each behind" in (
        straight
    )
    assert "backing 1 behind pane 2, backing 2 behind pane 1, backing 3 behind pane 3" in said
    assert "its own" not in said


@pytest.mark.parametrize("name", EVERY)
def test_what_is_lain_on_is_there(name: str) -> None:
    """Where a slide ends "to lie on" something, that lies right under what came."""
    for frame, drawing, pieces in frames_of(name):
        found = re.search(r"to lie on ([a-z0-9 ,]+)\.", drawing.alt)
        moves = [m for m in frame.motions if isinstance(m, MoveMotion)]
        if found is None or not moves:
            continue
        low = min(p[2] for b in moves[-1].bodies for p in points_of(pieces[b], frame.after.body(b)))
        hosts = {b for t in frame.action.objects for b in named_bodies(frame.before, t)}
        under = [
            points
            for body, part, points in parts_of(frame, pieces, after=True)
            if body in hosts and hears(part, found[1]) and part != pieces[body].name
        ]
        assert under
        for points in under:
            assert max(p[2] for p in points) == pytest.approx(low, abs=1.0)


@pytest.mark.parametrize("name", EVERY)
def test_slides_go_the_way_that_is_told(name: str) -> None:
    for frame, drawing, _ in frames_of(name):
        for motion in frame.motions:
            if not isinstance(motion, MoveMotion) or motion.manner not in ("slide", "tuck", "pull"):
                continue
            stage = set_stage(scenes(name)[0], frame)
            body = motion.bodies[0]
            shown = stage.of(body)[0]
            end = frame.after.body(body).facet_pose(shown.facet)
            way = sub(end.shift, shown.pose.shift)
            if motion.manner == "pull":
                continue
            assert f" {heading(way)}" in drawing.alt, drawing.name
            assert named_bodies(frame.before, frame.action.objects[0])


def test_what_is_new_is_told_how_it_lies() -> None:
    for name in EVERY:
        met: set[str] = set()
        pattern, _, _ = scenes(name)
        for frame, drawing, pieces in frames_of(name):
            shown = set(set_stage(pattern, frame).bodies)
            for body in shown - met:
                assert hears(body_name(pieces[body], body), drawing.alt), (name, drawing.name, body)
                assert re.search(r"face up|underneath|rests|stand|folded|open at", drawing.alt)
            met |= shown


def test_what_lies_as_the_last_picture_left_it_is_not_told_again() -> None:
    for name in NAMES:
        _, *later = frames_of(name)
        again = [d.alt for f, d, _ in later if "Before this" in d.alt]
        assert len(again) <= len(later) / 2, name
