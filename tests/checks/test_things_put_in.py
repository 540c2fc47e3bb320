"""Claims about what a step puts somewhere by its size: a token under a tongue."""

from __future__ import annotations

import pytest

from tests.compiled import codes, compile_text

TEXT = """
```sizes
token = 80 x 50 x 0.8 mm
```

```piece carrier, in card
outline  rectangle, 100 x 70 mm
slit     half round, 40 mm wide, facing top, at 10 mm above middle of bottom, called tongue
window   circle, 10 mm across, at 15 mm above middle, called eye
```

```fits
{claim}
```

## Make it

```step
cut      tongue of carrier
tuck     token under tongue of carrier
```
"""


@pytest.mark.parametrize(
    ("claim", "expected"),
    [
        # The token stops at the ends of the slit, 10 from the lower edge; so it is 10 from the
        # upper edge, and from both sides.
        ("token stays inside carrier with at least 9.9 mm to spare", []),
        ("token stays inside carrier with at least 10.1 mm to spare", ["sticks-out"]),
        # The tongue is half a circle of 40: it reaches 20 over the token.
        ("token tucks under tongue of carrier with at least 19.9 mm to spare", []),
        (
            "token tucks under tongue of carrier with at least 20.1 mm to spare",
            ["not-tucked-under"],
        ),
        # A circle of 10, its middle 20 from the upper edge of the carrier: 5 to the nearest
        # edge of the token.
        ("token covers eye of carrier with at least 4.9 mm to spare", []),
        ("token covers eye of carrier with at least 5.1 mm to spare", ["does-not-cover"]),
    ],
)
def test_where_the_token_lies(claim: str, expected: list[str]) -> None:
    assert codes(compile_text(TEXT.replace("{claim}", claim))) == expected


def test_what_no_step_puts_anywhere_cannot_be_spoken_of() -> None:
    text = TEXT.replace("{claim}", "token stays inside carrier").replace(
        "tuck     token under tongue of carrier\n", ""
    )
    assert codes(compile_text(text)) == ["claim-not-proven"]
