"""A bundle made by hand, for the tests of this room."""

from publisher.bundle import BundleFile
from publisher.checks.types import CheckResult
from publisher.layout.types import Placed, Sheet
from publisher.trade import Licence, SheetSize
from tests.handmade import CARD, PATTERNED, sliding_box_pattern

A4 = SheetSize("a4", "A4", 210, 297, 5, "ISO 216:2007, A series")
SQUARE = SheetSize("12 x 12 in", "12 x 12 in", 304.8, 304.8, 6.35, "common practice, no source")
LICENCE = Licence("personal", "For your own table", "Make it.\n\nDo not sell it.", "own words")

PATTERN = sliding_box_pattern()
SHEETS = (
    Sheet("card-1", CARD, A4, (Placed("drawer", 1, 5, 6, 90),)),
    Sheet("card-2", CARD, A4, (Placed("sleeve", 1, 5, 5, 0),)),
    Sheet("patterned-paper-1", PATTERNED, SQUARE, (Placed("sleeve mat", 1, 6.35, 6.35, 0),)),
)
CHECKS = (
    CheckResult("goes-into", "stack", "pass", (("free_mm", 3.99999999), ("asked_mm", 2.0)), "ok"),
    CheckResult("border", "sleeve mat", "warning", (("least_mm", -0.0),), "nearly"),
)
FILES = {
    "instructions/sliding-box-a4.pdf": BundleFile("instructions", b"%PDF a4"),
    "instructions/sliding-box-letter.pdf": BundleFile("instructions", b"%PDF letter"),
    "cut-files/svg/card-1.svg": BundleFile("cut-file", b"<svg/>" * 200, "card-1"),
    "cut-files/svg/card-2.svg": BundleFile("cut-file", b"<svg>2</svg>", "card-2"),
    "cut-files/dxf/card-1.dxf": BundleFile("cut-file", b"0\nEOF", "card-1"),
    "diagrams/step-1.svg": BundleFile("diagram", b"<svg>1</svg>"),
    "pictures/cover.png": BundleFile("picture", b"\x89PNG"),
}
