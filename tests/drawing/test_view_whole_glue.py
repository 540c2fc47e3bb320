"""Glue all over a piece is seen in its picture, however narrow the piece is."""

from __future__ import annotations

import pytest

from publisher.drawing.space_view import draw_story
from tests.compiled import told_by
from tests.drawing.view_scenes import area, fills

TEXT = """
```piece base, in card
panel    face, 120 x 90 mm
```

```piece mat, in card
outline  rectangle, {size}
```

```step
glue     mat to face of base
```
"""


@pytest.mark.parametrize("size", ["5 x 5 mm", "4 x 60 mm", "20 x 20 mm"])
def test_a_narrow_piece_has_its_glue_too(size: str) -> None:
    glued = draw_story(*told_by(TEXT.format(size=size)))[-1]
    glue, paper = (
        sum(area(f).area for f in fills(glued, role) if not f.id.startswith("close-up"))
        for role in ("glue-through", "front-moving")
    )
    assert 0.1 < glue / paper < 0.8
