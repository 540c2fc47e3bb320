"""The proof sheet: figures of the checks, at their places, in both of its forms."""

from __future__ import annotations

import io
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import svgelements
from msgspec.structs import replace

from publisher import proof
from publisher.checks.context import Context
from publisher.checks.making_verdicts import making_verdicts
from publisher.checks.ruler_verdicts import ruler_verdicts
from publisher.checks.types import CheckResult
from publisher.model.types import Pattern
from publisher.pipeline import build_bundle, check_pattern
from publisher.proof import TEMPLATES, Fit, Part, fits_of, missing_templates, proof_sheet
from publisher.proof.sketch import sketch_of
from publisher.readback import measure_proofs
from publisher.workshop import look_of, open_workshop
from tests.compiled import workshop
from tests.workshops import built, copied


@cache
def proven() -> tuple[Pattern, tuple[CheckResult, ...]]:
    outcome = check_pattern(workshop(), "sliding-box")
    assert outcome.pattern is not None
    assert outcome.story is not None
    context = Context(outcome.pattern, outcome.story, workshop().trade)
    return outcome.pattern, (
        *outcome.checks,
        *making_verdicts(context),
        *ruler_verdicts(context),
    )


@cache
def sheet() -> dict[str, bytes]:
    theme, look = look_of(workshop())
    return proof_sheet([Part(*proven())], theme, look, "Potting Shed Paper")


def fit(subject: str) -> Fit:
    return next(f for f in fits_of(proven()[1], "mm") if f.subject == subject)


def test_margins_lie_where_the_figures_say() -> None:
    """3.2 mm across and 4 mm down of 2 to 6 mm; 2 mm deep of no more than is there."""
    across, down, deep = fit("stack in drawer").bars
    assert (across.what, across.ends) == ("across", ("least", "most"))
    assert across.share == pytest.approx((3.2 - 2) / (6 - 2))
    assert across.said == "1.2 mm above least, 2.8 mm below most"
    assert down.share == pytest.approx(0.5)
    assert deep.ends == ("deep",)
    assert deep.share == pytest.approx(2 / 5)


def test_makers_and_rulers_are_those_of_the_checks() -> None:
    sleeve = fit("sleeve on drawer")
    assert sleeve.makers.startswith("fits by machine; by hand 4 in 100 will be too tight")
    assert sleeve.rulers == ("millimetres: fits", "inches: fits")
    assert fit("sleeve mat on panel 1 of sleeve").makers == ""


def test_what_is_missing_is_said() -> None:
    short = CheckResult("does-not-go-in", "a in b", "fail", (), "too wide", slack=(("deep", -1.5),))
    (found,) = fits_of([short], "mm")
    assert not found.holds
    assert found.bars[0].said == "1.5 mm is missing"
    assert found.bars[0].share == 0.0


def test_the_sketch_is_to_scale() -> None:
    """The stack is 120 x 80 mm, the drawer 123.2 x 84 mm between its walls and tabs."""
    theme, _ = look_of(workshop())
    svg = sketch_of(fit("stack in drawer"), proven()[0], theme).svg
    boxes = [
        e
        for e in svgelements.SVG.parse(io.StringIO(svg)).elements()
        if e.values.get("tag") == "rect"
    ]
    inner, outer = ((b.width, b.height) for b in boxes)
    assert inner[0] / outer[0] == pytest.approx(120 / 123.2, rel=1e-3)
    assert inner[1] / outer[1] == pytest.approx(80 / 84, rel=1e-3)


class Words(HTMLParser):
    """The text of a page; raises where a tag is closed that is not open."""

    def __init__(self) -> None:
        super().__init__()
        self.text, self.open = "", [""]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data if self.open[-1] != "style" else ""


def test_both_forms_say_every_fit() -> None:
    files = sheet()
    assert sorted(files) == ["sliding-box-proof.html", "sliding-box-proof.pdf"]
    page = Words()
    page.feed(files["sliding-box-proof.html"].decode())
    pdf = pypdfium2.PdfDocument(files["sliding-box-proof.pdf"])
    printed = " ".join(p.get_textpage().get_text_range() for p in pdf)
    html, printed = (" ".join(t.split()) for t in (page.text, printed))
    for found in fits_of(proven()[1], "mm"):
        for text in (html, printed):
            assert found.sentence in text
            assert all(bar.said in text for bar in found.bars)
            assert all(figure in text for _, figure in found.sum)


def test_the_same_bytes_every_time() -> None:
    theme, look = look_of(workshop())
    assert proof_sheet([Part(*proven())], theme, look, "Potting Shed Paper") == sheet()


# ---------------------------------------------------------------- variants, and read back


@cache
def parted() -> tuple[Part, Part]:
    """The pattern, and it again as one of its variants would be."""
    pattern, checks = proven()
    outcome = check_pattern(workshop(), "plan-wallet")
    assert outcome.pattern is not None
    return Part(pattern, checks), Part(replace(outcome.pattern, variant="slim"), outcome.checks)


@cache
def two_parts() -> dict[str, bytes]:
    theme, look = look_of(workshop())
    return proof_sheet(parted(), theme, look, "Potting Shed Paper", ("a4", "letter"))


def read(files: dict[str, bytes]) -> list[str]:
    _, look = look_of(workshop())
    templates = [look[file].decode() for file in TEMPLATES]
    found = measure_proofs(files, [(p.pattern, p.checks) for p in parted()], templates)
    assert {d.code for d in found} <= {"printed-figure-differs"}
    return [d.message for d in found]


def test_each_variant_has_a_part_and_each_paper_a_file() -> None:
    files = two_parts()
    assert sorted(files) == [
        "sliding-box-proof-a4.pdf",
        "sliding-box-proof-letter.pdf",
        "sliding-box-proof.html",
    ]
    html = files["sliding-box-proof.html"].decode()
    assert html.index('<h2 class="part">Slim</h2>') > html.index("Sleeve on drawer")
    assert html.count("font/woff2;base64,") == 4
    assert "Plan in body" in html
    assert read(files) == []


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("1.2 mm above least", "1.3 mm above least", "nothing in the design is 1.3 mm"),
        ("4 mm (3/16 in) of", "4 mm (5/16 in) of", "nothing in the design is 4 mm (5/16 in)"),
        ("Stack goes into", "It goes into", "it does not say that stack goes into drawer"),
        ("</article>", "</div>", "it cannot be read"),
    ],
)
def test_a_page_that_says_something_else_is_caught(old: str, new: str, message: str) -> None:
    html = two_parts()["sliding-box-proof.html"].decode()
    assert old in html
    found = read({"proof.html": html.replace(old, new).encode()})
    assert any(m.startswith(f"proof.html: {message}") for m in found), found


def test_a_pdf_that_says_something_else_is_caught() -> None:
    """As a slip of the checks' figures between checking and setting would."""
    theme, look = look_of(workshop())
    first, second = parted()
    checks = tuple(
        replace(r, sentence=r.sentence.replace("3 mm (1/8", "2 mm (1/8")) for r in first.checks
    )
    wrong = proof_sheet((Part(first.pattern, checks), second), theme, look, "Potting Shed Paper")
    found = read({"proof.pdf": wrong["sliding-box-proof.pdf"]})
    assert "proof.pdf, page 1: nothing in the design is 2 mm (1/8 in)" in found


def test_a_theme_without_templates_is_told() -> None:
    theme, look = look_of(workshop())
    without = {path: data for path, data in look.items() if path != "proof.typ"}
    assert missing_templates(theme, look) == []
    (found,) = missing_templates(theme, without)
    assert (found.code, found.message) == (
        "proof-not-in-theme",
        "the theme potting-shed has no proof.typ",
    )


# ---------------------------------------------------------------- in the bundle

WANTED = ("licence: personal", "proof: in the bundle\nlicence: personal")


def test_a_bundle_has_the_sheet_where_it_is_wanted(tmp_path: Path) -> None:
    bundle = built(copied(tmp_path, sliding_box=WANTED), "sliding-box")
    listed = {f["path"]: f["role"] for f in bundle.manifest["files"]}
    assert {path for path, role in listed.items() if role == "proof"} == {
        "proof/sliding-box-proof-a4.pdf",
        "proof/sliding-box-proof-letter.pdf",
        "proof/sliding-box-proof.html",
    }
    assert "proof: what fits" in bundle.files["START-HERE.txt"].decode()
    assert b"Makers" in bundle.files["proof/sliding-box-proof.html"]


def test_a_bundle_has_none_where_nobody_asks(tmp_path: Path) -> None:
    bundle = built(copied(tmp_path), "sliding-box")
    assert [path for path in bundle.files if path.startswith("proof/")] == []


def test_a_wrong_sheet_does_not_leave(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened, _ = open_workshop(copied(tmp_path, sliding_box=WANTED))
    own = proof.proof_sheet

    def misprinted(*given: Any) -> dict[str, bytes]:
        return {
            path: data.replace(b"3.2 mm", b"2.3 mm") if path.endswith("html") else data
            for path, data in own(*given).items()
        }

    monkeypatch.setattr(proof, "proof_sheet", misprinted)
    outcome = build_bundle(opened, "sliding-box")
    assert outcome.failed
    assert {d.code for d in outcome.diagnostics} == {"printed-figure-differs"}
