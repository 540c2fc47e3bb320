"""What spoilt texts brought to light: answers, and soon."""

from __future__ import annotations

import time

from tests.compiled import codes, compile_text

TUBE = """
```piece tube, in card
panel    wall, 150 x 60 mm
tab      on right of wall, {deep} mm deep, 2 mm taper, mountain, meets left of wall, called seam
```

```step
turn     over tube
curl     right of wall to left of wall of tube
glue     seam of tube
```
"""


def test_a_tab_longer_than_its_tube_stays_stiff() -> None:
    began = time.process_time()
    assert codes(compile_text(TUBE.replace("{deep}", "12"))) == []
    assert codes(compile_text(TUBE.replace("{deep}", "1225"))) != []
    assert time.process_time() - began < 8.0  # it took ten, and that grew with its square


def test_an_ellipse_three_times_as_high_as_wide() -> None:
    body = "\n```piece leaf, in card\noutline  ellipse, 30 x 90 mm\n```\n\n```step\nlay leaf\n```\n"
    assert codes(compile_text(body)) == []
