"""The order of the stages, on one screen.

Each function takes a workshop and a pattern's name and returns an ``Outcome``; nothing is
written here. The stages up to the checks stand in ``publisher.workshop.checking``. What only a
build needs is imported where the build begins, so that a check stays quick.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from publisher import __version__
from publisher.diagnostics import Diagnostic, has_errors
from publisher.layout import lay_chosen, to_cut
from publisher.trade import Trade
from publisher.workshop import (
    FolderCache,
    Hands,
    Outcome,
    Results,
    Workshop,
    begin_corners,
    beside_of,
    in_front_order,
    look_of,
    makers_of,
    missing_pattern,
    pattern_file,
    read_companions,
    read_own_pages,
    read_pattern,
    second_hands,
    with_chosen_marks,
    with_results,
    with_verdicts,
)
from publisher.workshop.checking import check_text
from publisher.workshop.handed import cut_out, get_ready, print_out, read_booklets, read_proofs

if TYPE_CHECKING:
    from publisher.booklet.types import BookletInput, PaperName
    from publisher.drawing.theme import Theme
    from publisher.layout import LayoutCache

Progress = Callable[[str], None]
COVER_PX = 1600
"""Width of the cover picture in the bundle."""
PAPERS: tuple[PaperName, ...] = ("a4", "letter")


def quiet(_: str) -> None:
    """No progress."""


def on_sheets(outcome: Outcome, trade: Trade, cache: LayoutCache | None = None) -> Outcome:
    """The same with the pieces laid on sheets."""
    if outcome.failed or outcome.pattern is None:
        return outcome
    cut = to_cut(outcome.pattern, trade, outcome.cutting)
    sheets, found = lay_chosen(cut, trade, outcome.cutting, cache)
    return replace(outcome.told(found), sheets=sheets, cut=cut)


def check_pattern(
    workshop: Workshop, name: str, variant: str = "", thorough: bool = False
) -> Outcome:
    """Everything that can be said of a pattern without writing a file of it."""
    data = read_pattern(workshop, name)
    if data is None:
        return Outcome(name, (missing_pattern(workshop, name),), {})
    usual = workshop.settings.cutting
    given = (workshop.trade, usual, workshop.forms, variant, beside_of(workshop, name), thorough)
    outcome = check_text(data, pattern_file(name), name, *given)
    if outcome.failed or outcome.pattern is None:
        return outcome
    makers = makers_of(workshop, outcome.pattern, outcome.cutting)
    return outcome.told([finding for maker in makers for finding in maker.misfits])


def variants_of(workshop: Workshop, whole: Outcome) -> tuple[Outcome, ...]:
    """Each variant of a pattern checked as it is; none of what is a variant already."""
    if whole.program is None or whole.pattern is None or whole.pattern.variant:
        return ()
    names = [variant.name.text for variant in whole.program.variants]
    return tuple(check_pattern(workshop, whole.name, variant) for variant in names)


def build_bundle(
    workshop: Workshop, name: str, progress: Progress = quiet, variant: str = ""
) -> Outcome:
    """Check, draw, cut, read back, typeset, pack, and open what was packed."""
    with second_hands(get_ready) as handed:
        return _built(workshop, name, progress, handed, variant)[0]


def build_site(workshop: Workshop, names: Sequence[str], progress: Progress = quiet) -> Outcome:
    """The site of these patterns; one that fails stops it."""
    from publisher import website

    books = []
    built: list[Outcome] = []
    names, wrong = in_front_order(workshop, names)
    found: list[Diagnostic] = [*wrong]
    sources: dict[str, str] = {}
    with second_hands(get_ready) as handed:
        for name in names:
            outcome, book = _built(workshop, name, progress, handed)
            built.append(outcome)
            found += outcome.diagnostics
            sources.update(outcome.sources)
            if book is not None and outcome.pattern is not None and not outcome.failed:
                (_, file, data), *others = outcome.zips()
                moved = website.motions_of(outcome.pattern, outcome.story, book.theme)
                books.append(website.SitePattern(book, file, data, tuple(others), moved))
    if has_errors(found):
        return Outcome("site", tuple(found), sources, bundles=tuple(built))
    progress("site: pages")
    theme, files = look_of(workshop)
    own = workshop.settings
    settings = website.SiteSettings(own.title, own.line, own.language, own.address)
    pages = read_own_pages(workshop)
    site = website.build_site(tuple(books), settings, website.look_of(theme, files), pages)
    return Outcome("site", tuple(found), sources, files=site, bundles=tuple(built))


def _built(
    workshop: Workshop, name: str, progress: Progress, handed: Hands, variant: str = ""
) -> tuple[Outcome, BookletInput | None]:
    """The usual bundle, and one for each kind of maker beside it."""
    progress(f"{name}: checks")
    checked = with_chosen_marks(check_pattern(workshop, name, variant), workshop.trade)
    ends = partial(begin_corners, checked, workshop.trade, handed)
    outcome, book = _bundled(workshop, checked, ends, progress, handed)
    if outcome.failed or checked.pattern is None:
        return outcome, book
    at_ends = outcome.checks[len(checked.checks) :]
    for maker in makers_of(workshop, checked.pattern, checked.cutting):
        if not maker.misfits:
            own = replace(checked, cutting=maker.cutting)
            made, _ = _bundled(workshop, own, lambda: lambda: at_ends, progress, handed, maker.name)
            outcome = outcome.told([d for d in made.diagnostics if d not in outcome.diagnostics])
            outcome = replace(outcome, makers=(*outcome.makers, (maker.name, made.zip_bytes)))
    return outcome, book


def _bundled(
    workshop: Workshop,
    checked: Outcome,
    ends: Callable[[], Callable[[], Results]],
    progress: Progress,
    handed: Hands,
    maker: str = "",
) -> tuple[Outcome, BookletInput | None]:
    name, trade, cutting = checked.name, workshop.trade, checked.cutting
    outcome = on_sheets(checked, trade, FolderCache(workshop.build / "layouts"))
    pattern, story, sheets, parts = outcome.pattern, outcome.story, outcome.sheets, outcome.cut
    if outcome.failed or pattern is None or story is None or parts is None:
        return outcome, None
    # What follows is needed by a build alone.
    from concurrent.futures import ThreadPoolExecutor

    from publisher import booklet, bundle, cutfiles
    from publisher.supplies import told

    theme, look = look_of(workshop)
    outcome = outcome.told(booklet.missing_letters(pattern, theme))
    cautions, more = booklet.read_cautions(workshop.text("shared/cautions.toml"))
    outcome = outcome.told(more)
    if outcome.failed:
        return outcome, None
    licence = trade.licences[pattern.meta.licence]
    options = cutfiles.options_for(cutting, trade)
    said = (cutfiles.score_words(options.score_as), cutfiles.copies_words(cutting.copies or 1))
    progress(f"{name}: drawings and cut files")
    still = handed(booklet.draw_still, pattern, story, theme)
    cut_files = handed(cut_out, parts, sheets, options, trade)
    warned = tuple(caution for caution in cautions if caution.when == "knife")
    language = workshop.settings.language
    beside = read_companions(workshop, name)
    printing = handed(print_out, parts, sheets, trade, warned, language, theme, beside)
    reckoning = handed(told.all_data, parts, sheets, trade, cutting)
    at_ends = ends()
    book = booklet.gather(
        pattern,
        story,
        sheets,
        outcome.checks,
        theme=theme,
        template=look["booklet.typ"].decode("utf-8"),
        licence=licence,
        cautions=cautions,
        sheet_files=cutfiles.cut_file_paths(parts, sheets, options, "cut-files/"),
        photographs={p: data for p, data in beside.items() if not p.startswith("artwork/")},
        workshop=workshop.settings.title,
        language=language,
        still=still,
        on_cutting=tuple(text for text in said if text),
        parts=parts,
        trade=trade,
    )
    cut, differs = cut_files()
    book = booklet.with_work(book, cut.work, trade.machines.get(cutting.machine))
    progress(f"{name}: booklets")
    # The typesetter works outside the interpreter's lock: both papers at once.
    with ThreadPoolExecutor(len(PAPERS)) as setters:
        picture = setters.submit(booklet.picture, book.cover.svg, COVER_PX)
        setting = list(setters.map(partial(booklet.typeset, book), PAPERS))
    texts = (
        book.template,
        book.workshop,
        licence.text,
        *(t for c in book.cautions for t in (c.hazard, c.avoid)),
    )
    works = tuple(work for _, work in cut.work)
    booklets = {f"{name}-{p}.pdf": pdf for p, pdf in zip(PAPERS, setting, strict=True)}
    misprints = handed(
        read_booklets, booklets, pattern, sheets, outcome.checks, works, texts, parts, trade
    )
    printed, wrong = printing()
    outcome = with_results(outcome.told([*differs, *wrong]), at_ends())
    if outcome.failed:
        return outcome, None
    proofs: dict[str, bytes] = {}
    if cutting.proof == "in the bundle":
        progress(f"{name}: proof sheet")
        proofs, wrong = _proofs(workshop, outcome, theme, look, handed)
        outcome = outcome.told(wrong)
    progress(f"{name}: bundle")
    diagrams = booklet.diagrams(book)
    files = {f"diagrams/{file}": bundle.BundleFile("diagram", d) for file, d in diagrams.items()}
    files |= bundle.cut_entries(cut.files)
    for file, pdf in booklets.items():
        files[f"instructions/{file}"] = bundle.BundleFile("instructions", pdf)
    for path, pdf in printed.items():
        files[path] = bundle.BundleFile(
            "printed" if path.startswith("printed/") else "template", pdf
        )
    files |= {f"proof/{file}": bundle.BundleFile("proof", data) for file, data in proofs.items()}
    files["pictures/cover.png"] = bundle.BundleFile("picture", picture.result())
    made = (parts, sheets, outcome.checks, files, licence, __version__)
    packed = bundle.pack(*made, dict(cut.work), cutting, maker, reckoning())
    outcome = outcome.told([*misprints(), *bundle.verify(packed)])
    return replace(outcome, files=diagrams, zip_bytes=packed), book


def _proofs(
    workshop: Workshop,
    outcome: Outcome,
    theme: Theme,
    look: Mapping[str, bytes],
    handed: Hands,
) -> tuple[dict[str, bytes], list[Diagnostic]]:
    """The proof sheet of a pattern and its variants, and what is wrong with it."""
    from publisher import proof

    missing = proof.missing_templates(theme, look)
    if missing:
        return {}, missing
    each = (with_verdicts(o, workshop.trade) for o in (outcome, *variants_of(workshop, outcome)))
    parts = [proof.Part(o.pattern, o.checks) for o in each if o.pattern is not None]
    files = proof.proof_sheet(parts, theme, look, workshop.settings.title, PAPERS)
    return files, handed(
        read_proofs, files, [(p.pattern, p.checks) for p in parts], _templates(look)
    )()


def _templates(look: Mapping[str, bytes]) -> list[str]:
    """What a theme says in words of its own."""
    from publisher.proof import TEMPLATES

    return [look[file].decode("utf-8") for file in TEMPLATES]
