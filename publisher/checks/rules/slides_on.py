"""``X slides on Y``: a sleeve, band or lid over a closed body, with the play that is left.

Every band is also checked against the body it was made for, claimed or not.
"""

from __future__ import annotations

from publisher.assembly import closed_size
from publisher.checks.bags import room_of
from publisher.checks.claims import Measured, said, verdict
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.interior import Room, band_room, tray_room
from publisher.checks.places import PARALLEL
from publisher.checks.prisms import fits_tube
from publisher.checks.rules.goes_into import inside
from publisher.checks.types import CheckResult
from publisher.diagnostics import Span
from publisher.model.filled import closes_flat
from publisher.model.folding import closed_angles, facet_poses
from publisher.model.types import BandOf, Claim, Opening, Piece

CODE = "does-not-slide-on"


def check(context: Context) -> Results:
    claimed: set[str] = set()
    for claim in context.pattern.claims:
        if claim.verb == "slides on" and claim.object is not None:
            claimed.add(claim.subject.piece)
            yield _claim(context, claim)
    for piece in context.pattern.pieces:
        if isinstance(piece.derived, BandOf) and piece.name not in claimed:
            room = band_room(piece)
            if room is not None:
                body = context.pattern.piece(piece.derived.piece)
                yield _verdict(context, piece, body, room, 0.0, None, piece.span)


def _claim(context: Context, claim: Claim) -> CheckResult:
    piece = context.pattern.piece(claim.subject.piece)
    assert claim.object is not None
    body = context.pattern.piece(claim.object.piece)
    for opening in piece.openings:
        if claim.subject.kind == "opening" and opening.name == claim.subject.part:
            return _slot(context, claim, opening, body)
    over = fits_tube(context, claim, CODE, claim.object, piece)
    if over is not None:
        return over
    room = room_of(piece, context.story.end.bonds)
    if room is None:
        return failed(
            "claim-not-proven",
            piece.name,
            (),
            f"{piece.name} has no inside that could slide on {body.name}",
            claim.span,
        )
    return _verdict(context, piece, body, room, claim.least_mm or 0.0, claim.most_mm, claim.span)


def _slot(context: Context, claim: Claim, slot: Opening, body: Piece) -> CheckResult:
    """A slot over the edge of another paper: its width less the thickness of that."""
    thick = body.stock.caliper_mm
    terms = (("slot_width_mm", slot.width_mm), ("caliper_mm", thick))
    return verdict(
        context,
        claim,
        CODE,
        Measured("play", slot.width_mm - thick, terms),
        f"{said(claim.subject)} slides on {body.name} with {{}} of play",
        f"{said(claim.subject)} is too narrow for {body.name}: {{}} is missing",
        tolerance_mm=1e-9,
    )


def contents(context: Context, body: Piece) -> list[tuple[float, float, float]]:
    """Everything that the claims put into the body."""
    pairs = [p for p in map(inside, context.pattern.claims) if p is not None]
    return [
        content.size_mm
        for content, holder in pairs
        if holder.piece == body.name and content.size_mm is not None
    ]


def filled_size(context: Context, body: Piece) -> tuple[float, float, float]:
    """The closed body with its contents in it: a tray's contents count from its floor up; a
    flat pocket grows by their thickness; under a flap with a spine they lie between the papers,
    as far as the spine leaves room."""
    width, height, thick = closed_size(body)
    for _across, _down, deep in contents(context, body):
        if tray_room(body) is not None:
            thick = max(thick, deep + body.stock.caliper_mm)
        elif closes_flat(body):
            thick += deep
        else:
            poses = facet_poses(body, closed_angles(body))
            lying = sum(abs(pose.normal[2]) > PARALLEL for pose in poses.values())
            thick = max(thick, deep + lying * body.stock.caliper_mm)
    return width, height, thick


def _verdict(
    context: Context,
    piece: Piece,
    body: Piece,
    room: Room,
    least: float,
    most: float | None,
    span: Span,
) -> CheckResult:
    width, height, thick = filled_size(context, body)
    plays: list[tuple[str, float]] = []
    if room.kind == "band":
        assert isinstance(piece.derived, BandOf)
        if piece.derived.direction == "down":
            plays.append(("high", room.down_mm - height))
        else:
            plays.append(("wide", room.across_mm - width))
        if room.deep_mm is not None:
            plays.append(("thick", room.deep_mm - thick))
    else:
        plays = [("wide", room.across_mm - width), ("high", room.down_mm - height)]
    numbers = (
        *((f"play_{name}_mm", value) for name, value in plays),
        ("body_width_mm", width),
        ("body_height_mm", height),
        ("body_thick_mm", thick),
        ("least_mm", least),
        *((("most_mm", most),) if most is not None else ()),
    )
    slack = tuple((f"least {name}", value - least) for name, value in plays)
    if most is not None:
        slack += tuple((f"most {name}", most - value) for name, value in plays)
    subject = f"{piece.name} on {body.name}"
    terms = "; ".join(f"{t.what} {context.say(t.mm)}" for t in room.sum)
    tight = min(plays, key=lambda p: p[1])
    loose = max(plays, key=lambda p: p[1])
    if tight[1] < least - 1e-9:
        return failed(
            CODE,
            subject,
            numbers,
            f"{piece.name} is too tight on {body.name} where it is {tight[0]}: "
            + (
                f"{context.say(tight[1])} of play is left, {context.say(least)} is wanted"
                if tight[1] >= 0
                else f"{context.say(-tight[1])} is missing"
            ),
            span,
            notes=(f"The inside of {piece.name}: {terms}.",),
            ways_out=(f"give {piece.name} {context.say(least - tight[1])} more",),
            slack=slack,
        )
    if most is not None and loose[1] > most + 1e-9:
        return failed(
            "too-loose",
            subject,
            numbers,
            f"{piece.name} is loose on {body.name} where it is {loose[0]}:"
            f" {context.say(loose[1])} of play is left, {context.say(most)} at most is wanted",
            span,
            notes=(f"The inside of {piece.name}: {terms}.",),
            ways_out=(f"give {piece.name} {context.say(loose[1] - most)} less",),
            slack=slack,
        )
    play = " and ".join(f"{context.told(v)} of play where it is {n}" for n, v in plays)
    return passed(CODE, subject, numbers, f"{piece.name} slides on {body.name} with {play}", slack)
