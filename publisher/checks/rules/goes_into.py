"""``X goes into Y`` and ``Y holds X``: contents into a tray, a pocket or a band, caliper and
glue taken off."""

from __future__ import annotations

from publisher.assembly import closed_size
from publisher.checks.bags import room_of
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.interior import Room
from publisher.checks.prisms import fits_tube
from publisher.checks.standing import Ends, standing
from publisher.checks.types import CheckResult
from publisher.model.types import Claim, Target

CODE = "does-not-go-in"
UNPROVEN = "claim-not-proven"


def contents_size(context: Context, content: Target) -> tuple[float, float, float]:
    """What is to go in, as it lies: across, down, thick."""
    if content.size_mm is not None:
        return content.size_mm
    return closed_size(context.pattern.piece(content.piece))


def inside(claim: Claim) -> tuple[Target, Target] | None:
    """What a claim puts into what: (contents, container); None where it speaks of neither."""
    if claim.object is None or claim.verb not in ("goes into", "holds"):
        return None
    if claim.verb == "holds":
        return claim.object, claim.subject
    return claim.subject, claim.object


def spares(room: Room, size: tuple[float, float, float]) -> tuple[float, float, float | None]:
    """What is free across, down and deep.

    A pocket is a flat tube: its girth 2 w must go round 2 (c + t), so contents of thickness
    t take t from its width; the same at its closed end.
    """
    if room.kind == "pocket":
        return room.across_mm - size[0] - size[2], room.down_mm - size[1] - size[2], None
    across, down = room.across_mm - size[0], room.down_mm - size[1]
    deep = None if room.deep_mm is None else room.deep_mm - size[2]
    return across, down, deep


def check(context: Context) -> Results:
    for claim in context.pattern.claims:
        pair = inside(claim)
        if pair is None:
            continue
        content, holder = pair
        what = content.part or content.piece
        container = context.pattern.piece(holder.piece)
        flap = holder.part or None
        in_tube = fits_tube(context, claim, CODE, content, container) if not flap else None
        if in_tube is not None:
            yield in_tube
            continue
        room = room_of(container, context.story.end.bonds, flap)
        name = f"{what} in {flap or container.name}"
        if room is None:
            yield failed(
                UNPROVEN,
                name,
                (),
                f"{container.name} encloses no room when it is closed, so nothing can go into it",
                claim.span,
                notes=("A room has walls on three sides or more, or is a pocket or a band.",),
            )
            continue
        place = f"{flap} of {container.name}" if flap else container.name
        ends = standing(context, content, container) if room.kind == "tray" else ()
        if ends:
            yield _upright(context, claim, what, container.name, ends)
            continue
        yield _verdict(context, claim, content, name, place, room)


def _verdict(
    context: Context, claim: Claim, content: Target, name: str, container: str, room: Room
) -> CheckResult:
    size = contents_size(context, content)
    least = claim.least_mm or 0.0
    tries = [size, (size[1], size[0], size[2])]
    best = max(tries, key=lambda s: (min(v for v in spares(room, s)[:2]) >= least, s == size))
    across, down, deep = spares(room, best)
    numbers = (
        ("across_free_mm", room.across_mm),
        ("down_free_mm", room.down_mm),
        *((("deep_free_mm", room.deep_mm),) if room.deep_mm is not None else ()),
        ("across_spare_mm", across),
        ("down_spare_mm", down),
        *((("deep_spare_mm", deep),) if deep is not None else ()),
        *((("least_mm", claim.least_mm),) if claim.least_mm is not None else ()),
        *((("most_mm", claim.most_mm),) if claim.most_mm is not None else ()),
    )
    what = content.part or content.piece
    slack = [("least across", across - least), ("least down", down - least)]
    if deep is not None:
        slack.append(("deep", deep))
    if claim.most_mm is not None:
        slack += [("most across", claim.most_mm - across), ("most down", claim.most_mm - down)]
    tight = [(w, v) for w, v in (("across", across), ("down", down)) if v < least - 1e-9]
    if deep is not None and deep < -1e-9:
        tight.append(("deep", deep))
    loose = [
        (w, v)
        for w, v in (("across", across), ("down", down))
        if claim.most_mm is not None and v > claim.most_mm + 1e-9
    ]
    terms = "; ".join(f"{t.what} {context.say(t.mm)}" for t in room.sum)
    if tight:
        way, value = min(tight, key=lambda t: t[1])
        need = (least if way != "deep" else 0.0) - value
        return failed(
            CODE,
            name,
            numbers,
            f"{what} does not go into {container} {way}: "
            + (
                f"{context.say(value)} is to spare, {context.say(least)} is wanted"
                if value >= 0
                else f"{context.say(-value)} is missing"
            ),
            claim.span,
            notes=(f"The room: {terms}.",),
            ways_out=(f"make {container} {context.say(need)} larger {way}",),
            slack=tuple(slack),
        )
    if loose:
        way, value = max(loose, key=lambda t: t[1])
        return failed(
            "too-loose",
            name,
            numbers,
            f"{what} is loose in {container} {way}: {context.say(value)} is to spare,"
            f" {context.say(claim.most_mm or 0.0)} at most is wanted",
            claim.span,
            notes=(f"The room: {terms}.",),
            slack=tuple(slack),
        )
    free = f"{context.told(across)} across and {context.told(down)} down"
    sentence = f"{what} goes into {container} with {free} to spare"
    return passed(CODE, name, numbers, sentence, tuple(slack))


def _upright(
    context: Context, claim: Claim, what: str, container: str, ends: tuple[Ends, ...]
) -> CheckResult:
    """The verdict over sheets that stand on edge: what is free at their ends, and that they
    stay under the rim."""
    least, most = claim.least_mm or 0.0, claim.most_mm
    tight = min(ends, key=lambda e: e.spare_mm)
    loose = max(ends, key=lambda e: e.spare_mm)
    over = min(e.over_mm for e in ends)
    numbers = (
        ("ends_spare_mm", tight.spare_mm),
        ("over_mm", over),
        ("least_mm", least),
        *((("most_mm", most),) if most is not None else ()),
    )
    slack = [("least at the ends", tight.spare_mm - least), ("deep", over)]
    if most is not None:
        slack.append(("most at the ends", most - loose.spare_mm))
    code, fails = CODE, True
    sentence = f"{what} stands in {container} with {{}} to spare at its ends, in all"
    worst, need = tight, least - tight.spare_mm
    if over < -1e-9:
        need = -over
        sentence = f"{what} stands {{}} above the rim of {container}"
    elif need > 1e-9:
        sentence += f"; {context.say(least)} is wanted"
    elif most is not None and loose.spare_mm > most + 1e-9:
        code, worst = "too-loose", loose
        sentence += f"; {context.say(most)} at most is wanted"
    else:
        fails = False
    name = f"{what} in {container}"
    if not fails:
        said = sentence.format(context.told(worst.spare_mm))
        return passed(CODE, name, numbers, said, tuple(slack))
    said = sentence.format(context.say(need if over < -1e-9 else worst.spare_mm))
    terms = "; ".join(f"{t.what} {context.say(t.mm)}" for t in worst.sum)
    notes = (f"The room: {terms}.",)
    return failed(code, name, numbers, said, claim.span, notes=notes, slack=tuple(slack))
