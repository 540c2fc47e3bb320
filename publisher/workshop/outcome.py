"""What became of one pattern, or of the site."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from publisher.assembly.types import Story
from publisher.checks.types import CheckResult
from publisher.diagnostics import Diagnostic, has_errors, told_once
from publisher.model.types import Pattern
from publisher.trade import Cutting

if TYPE_CHECKING:
    from publisher.language.program import Program
    from publisher.layout import Sheet


class Outcome(Struct, frozen=True):
    """What became of one pattern, or of the site; ``diagnostics`` in the order of the stages.

    ``files`` are the diagrams of a bundle, or the pages of the site, by path. ``bundles`` are
    what the site was built from. ``cutting`` is what was chosen about sheets and cut files;
    ``makers`` are the names and zips of further bundles, each for one kind of maker. By
    ``program`` a pattern can be built again with other sizes. ``cut`` is the pattern as it lies
    on the sheets, pieces that go on none whole in parts. ``variants`` were looked at too.
    """

    name: str
    diagnostics: tuple[Diagnostic, ...]
    sources: Mapping[str, str]
    pattern: Pattern | None = None
    story: Story | None = None
    sheets: tuple[Sheet, ...] = ()
    checks: tuple[CheckResult, ...] = ()
    files: Mapping[str, bytes] = field(default_factory=dict)
    zip_bytes: bytes = b""
    bundles: tuple[Outcome, ...] = ()
    cutting: Cutting = Cutting()
    makers: tuple[tuple[str, bytes], ...] = ()
    cut: Pattern | None = None
    variants: tuple[str, ...] = ()
    program: Program | None = None

    @property
    def failed(self) -> bool:
        return has_errors(self.diagnostics)

    def zips(self) -> tuple[tuple[str, str, bytes], ...]:
        """Every bundle: for which kind of maker ("" for everybody, which comes first), the
        file's name, the zip. Nothing where there is no pattern."""
        from publisher.bundle import folder_name  # a check does without

        pattern = self.pattern
        if pattern is None:
            return ()
        made = (("", self.zip_bytes), *self.makers)
        return tuple((maker, f"{folder_name(pattern, maker)}.zip", data) for maker, data in made)

    def told(self, more: Sequence[Diagnostic]) -> Outcome:
        """The same with further findings."""
        return replace(self, diagnostics=(*self.diagnostics, *told_once(more)))
