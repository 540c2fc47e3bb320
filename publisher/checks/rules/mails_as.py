"""``X mails as Y``: the closed and filled thing against the published limits of a kind of post."""

from __future__ import annotations

from publisher.checks.claims import said
from publisher.checks.context import Context, Results, failed, passed
from publisher.checks.rules.goes_into import inside
from publisher.checks.rules.slides_on import filled_size
from publisher.checks.types import CheckResult
from publisher.geometry.measure import area
from publisher.model.types import Claim, Piece
from publisher.trade import Post

CODE = "not-as-post"
BY_HAND = "post-by-hand"


def check(context: Context) -> Results:
    for claim in context.pattern.claims:
        if claim.verb == "mails as":
            yield from _claim(context, claim, context.trade.posts[claim.word])


def mass_g(piece: Piece) -> float:
    """One copy, from its area and its grammage (ISO 536)."""
    return area(piece.outline) * piece.stock.grammage_gsm / 1e6


def _mass(context: Context, claim: Claim) -> tuple[float, tuple[str, ...]]:
    """Of the paper that the claim's piece, all that is glued to it and its contents are made of;
    and the contents whose mass nobody knows."""
    end = context.story.end
    start = next((b.id for b in end.bodies if b.piece == claim.subject.piece), "")
    held = {start}
    for _ in end.bodies:
        for bond in end.bonds:
            if {bond.first[0], bond.second[0]} & held:
                held |= {bond.first[0], bond.second[0]}
    pieces = [b.piece for b in end.bodies if b.id in held and b.piece not in context.story.things]
    unknown = []
    for pair in map(inside, context.pattern.claims):
        if pair is not None and pair[1].piece in pieces:
            content = pair[0]
            if content.size_mm is not None:
                unknown.append(said(content))
            elif content.piece not in pieces:
                pieces.append(content.piece)
    return sum(mass_g(context.pattern.piece(p)) for p in pieces), tuple(unknown)


def _claim(context: Context, claim: Claim, post: Post) -> list[CheckResult]:
    piece = context.pattern.piece(claim.subject.piece)
    width, height, thick = filled_size(context, piece)
    long, short = max(width, height), min(width, height)
    mass, unknown = _mass(context, claim)
    numbers = (
        ("length_mm", long),
        ("height_mm", short),
        ("thick_mm", thick),
        ("ratio", long / short),
        ("mass_g", mass),
    )
    subject = f"{piece.name} as {claim.word}"
    limits = (
        ("long", long, post.length_least_mm, post.length_most_mm),
        ("high", short, post.height_least_mm, post.height_most_mm),
        ("thick", thick, post.thick_least_mm, post.thick_most_mm),
        ("in all three together", long + short + thick, 0.0, post.sum_most_mm),
    )
    slack = tuple((f"least {w}", v - least) for w, v, least, _ in limits if least) + tuple(
        (f"most {w}", most - v) for w, v, _, most in limits if most
    )
    wrong = [
        f"{context.say(v)} {w} where {context.say(least)} is the least"
        for w, v, least, _ in limits
        if v < least - 1e-6
    ] + [
        f"{context.say(v)} {w} where {context.say(most)} is the most"
        for w, v, _, most in limits
        if most and v > most + 1e-6
    ]
    if post.mass_most_g and mass > post.mass_most_g + 1e-6:
        wrong.append(f"{mass:.0f} g where {post.mass_most_g:g} g is the most")
    odd = _odd_ratio(post, long / short)
    if odd and post.ratio_refuses:
        wrong.append(odd)
    notes = [f"Limits: {post.source}; {post.published}."]
    if unknown:
        notes.append(f"Nobody knows what {' and '.join(unknown)} weighs: put it on a scale.")
    if wrong:
        return [
            failed(
                CODE,
                subject,
                numbers,
                f"{piece.name} is no {claim.word}: {'; '.join(wrong)}",
                claim.span,
                notes=tuple(notes),
                severity="warning" if post.doubtful else "error",
                slack=slack,
            )
        ]
    size = context.told(long, short, thick)
    sentence = f"{piece.name} keeps the limits of {claim.word}: {size}, {mass:.0f} g of paper"
    results = [passed(CODE, subject, numbers, sentence, slack)]
    if odd:
        results.append(
            failed(
                BY_HAND,
                subject,
                numbers,
                f"{piece.name} goes as {claim.word}, but not by machine: it is {odd}",
                claim.span,
                notes=tuple(notes),
                severity="warning",
            )
        )
    return results


def _odd_ratio(post: Post, ratio: float) -> str:
    if post.ratio_least and ratio < post.ratio_least - 1e-9:
        return f"{ratio:.2f} times as long as high, {post.ratio_least:g} at least is wanted"
    if post.ratio_most and ratio > post.ratio_most + 1e-9:
        return f"{ratio:.2f} times as long as high, {post.ratio_most:g} at most is wanted"
    return ""
