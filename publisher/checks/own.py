"""Waivers and thresholds of a pattern's own: applied, printed with their reasons, and missed
where nothing needs them any more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from publisher.checks.context import failed
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic, Place
from publisher.model.types import Pattern
from publisher.trade import Trade, Waiver

CODE = "waiver-not-needed"
UNKNOWN = "unknown-practice"
OWN = "own-practice"
UNITS = ("mm", "deg", "gsm", "calipers")
NEVER = ("claim-not-proven", "outline-not-simple", CODE, UNKNOWN)
"""What is promised unproven, or cannot be cut at all, no reason makes right."""
ONLY_THOROUGH = (
    "fails-in-range",
    "fails-in-the-making",
    "folds-across-grain",
    "ruler-breaks-fit",
    "small-part",
)
"""Codes that a plain check does not look for: a waiver of one may be needed all the same."""


def own_trade(pattern: Pattern, trade: Trade) -> Trade:
    """The trade with the pattern's own thresholds in place of its."""
    own = pattern.meta.own.practices
    if not own:
        return trade
    practice = dict(trade.practice)
    for item in own:
        name = named(item.name, trade)
        if name is not None:
            practice[name] = replace(practice[name], value=item.value, source=item.reason)
    return replace(trade, practice=practice)


def named(said: str, trade: Trade) -> str | None:
    """The threshold that an author means: its name with spaces, the unit left out."""
    for name in trade.practice:
        stem, _, unit = name.rpartition("_")
        bare = stem if unit in UNITS else name
        if said in (bare.replace("_", " "), name.replace("_", " ")):
            return name
    return None


def practices(pattern: Pattern, trade: Trade) -> Iterator[CheckResult]:
    """One result for each threshold of the pattern's own, with what the trade says."""
    for item in pattern.meta.own.practices:
        name = named(item.name, trade)
        usual = trade.practice.get(name or "")
        if usual is None or (item.unit and usual.unit not in (item.unit, "share")):
            what = "no threshold" if usual is None else f"measured in {usual.unit}"
            yield failed(
                UNKNOWN,
                item.name,
                (),
                f"‘{item.name}’ is {what} of the checks",
                *pattern.meta.own_places,
                notes=("Thresholds and their meaning stand in practice.toml.",),
            )
            continue
        sentence = (
            f"{item.name} is {item.value:g} {usual.unit} here, usually {usual.value:g},"
            f" because {item.reason}"
        )
        numbers = (("own", item.value), ("usual", usual.value))
        yield CheckResult(OWN, item.name, "pass", numbers, sentence)


def waived(
    pattern: Pattern, results: Iterable[CheckResult], *, thorough: bool = False
) -> tuple[CheckResult, ...]:
    """The results with the pattern's waivers: what stopped it only warns, what warned is said
    among what passes, and each says why. A waiver that meets nothing is a finding."""
    waivers = pattern.meta.own.waivers
    if not waivers:
        return tuple(results)
    used: set[Waiver] = set()
    told: list[CheckResult] = []
    for result in results:
        waiver = next((w for w in waivers if _meets(w, result)), None)
        if waiver is None:
            told.append(result)
        else:
            used.add(waiver)
            told.append(_let_be(result, waiver))
    for waiver in waivers:
        elsewhere = (waiver.code in ONLY_THOROUGH) != thorough
        if waiver not in used and not elsewhere:
            about = f" in {waiver.subject}" if waiver.subject else ""
            told.append(
                failed(
                    CODE,
                    f"{waiver.code}{about}",
                    (),
                    f"the waiver of {waiver.code}{about} from {waiver.date} is not needed",
                    *(Place(p) for p in pattern.meta.own_places),
                    severity="warning",
                    ways_out=("take it out of the front matter",),
                )
            )
    return tuple(told)


def _meets(waiver: Waiver, result: CheckResult) -> bool:
    return (
        result.result != "pass"
        and result.code == waiver.code
        and result.code not in NEVER
        and waiver.subject in result.subject
    )


def _let_be(result: CheckResult, waiver: Waiver) -> CheckResult:
    why = f"Waived on {waiver.date}, because {waiver.reason}."
    if result.result == "warning" or result.finding is None:
        sentence = f"{result.sentence}; waived on {waiver.date}, because {waiver.reason}"
        return replace(result, result="pass", sentence=sentence, finding=None)
    finding: Diagnostic = replace(
        result.finding, severity="warning", notes=(*result.finding.notes, why)
    )
    return replace(result, result="warning", finding=finding)
