"""Things of the trade as a pattern speaks of them, against standards and their tolerances."""

from __future__ import annotations

import pytest

from tests.compiled import compile_text

# ISO 216:2007, trimmed sizes in mm, and how far a cut sheet may stray: 1.5 mm up to 150 mm, 2 mm
# up to 600 mm, 3 mm above.
ISO_216 = {"a5 card": (148.0, 210.0), "a6 card": (105.0, 148.0), "a7 card": (74.0, 105.0)}

# ISO 269:1985 (reported withdrawn; DIN 678-1 has the same sizes), mm.
ISO_269 = {
    "c4 envelope": (229.0, 324.0),
    "c5 envelope": (162.0, 229.0),
    "c6 envelope": (114.0, 162.0),
    "c7 envelope": (81.0, 114.0),
    "dl envelope": (110.0, 220.0),
}

# ISO/IEC 7810:2019, ID-1: an unused card lies between these (the band from memory), and is
# 0.76 mm thick within 0.08 mm.
ID_1 = ((85.47, 85.72), (53.92, 54.03), (0.68, 0.84))


def tolerance_mm(size_mm: float) -> float:
    return 1.5 if size_mm <= 150.0 else 2.0 if size_mm <= 600.0 else 3.0


def is_iso_216(measured: tuple[float, float], name: tuple[float, float]) -> bool:
    return all(
        abs(m - n) <= tolerance_mm(n) for m, n in zip(sorted(measured), sorted(name), strict=True)
    )


def spoken(*exprs: str) -> list[float]:
    """Lengths in mm as the language works them out."""
    lines = [f"value {chr(97 + n)} = {expr}" for n, expr in enumerate(exprs)]
    pattern = compile_text("\n```sizes\n" + "\n".join(lines) + "\n```\n").pattern
    assert pattern is not None
    return [size.values[0] for size in pattern.sizes]


def sides(name: str) -> tuple[float, float]:
    width, height = spoken(f"width of {name}", f"height of {name}")
    return width, height


def test_the_tolerance_tells_a_good_sheet_from_a_bad_one() -> None:
    assert is_iso_216((209.9, 296.0), (210.0, 297.0))
    assert not is_iso_216((207.9, 297.0), (210.0, 297.0))
    assert not is_iso_216((148.0, 208.0 - 1e-6), (148.0, 210.0))
    assert not is_iso_216((150.0, 210.0), (148.0, 210.0))


@pytest.mark.parametrize("name", ISO_216)
def test_cards_of_the_a_series(name: str) -> None:
    assert sorted(sides(name)) == sorted(ISO_216[name])
    assert is_iso_216(sides(name), ISO_216[name])


@pytest.mark.parametrize("name", ISO_269)
def test_envelopes(name: str) -> None:
    assert sorted(sides(name)) == sorted(ISO_269[name])


def test_the_id_1_card_lies_in_its_band() -> None:
    found = (*sides("id-1 card"), *spoken("depth of id-1 card"))
    assert all(low <= mm <= high for mm, (low, high) in zip(found, ID_1, strict=True))
    # The inches of the standard are rounded and lie in the band too, though not on the figure.
    across, down = spoken("3.370 in", "2.125 in")
    assert ID_1[0][0] <= across <= ID_1[0][1]
    assert ID_1[1][0] <= down <= ID_1[1][1]


def test_what_holds_the_largest_card_holds_every_card() -> None:
    """A pocket as wide as the card with 0.5 mm free has room for the largest that the standard
    allows: 85.72 mm."""
    (pocket,) = spoken("width of id-1 card + 0.5 mm")
    assert pocket - ID_1[0][1] == pytest.approx(0.38, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "mm"),
    # An inch is 25.4 mm (international yard, 1959), a point 1/72 in (as in PostScript and PDF).
    [("1 in", 25.4), ("5 1/4 in", 133.35), ("½ in", 12.7), ("72 pt", 25.4), ("1 cm", 10.0)],
)
def test_units(written: str, mm: float) -> None:
    assert spoken(written) == pytest.approx([mm], abs=1e-12)
