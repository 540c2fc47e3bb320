"""What a ``sizes`` fence can say."""

from __future__ import annotations

from publisher.language.statements.sizes import (
    size,
    variant,
)
from publisher.language.statements.spec import StatementSpec

SIZES: dict[str, StatementSpec] = {
    spec.head: spec
    for spec in (
        size.SPEC,
        variant.SPEC,
    )
}
