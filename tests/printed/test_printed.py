"""Printed pieces: artwork found, bleed, both sides in register, cut lines apart."""

from __future__ import annotations

import io
import math

import pikepdf
import pypdfium2 as pdfium
import pytest
import shapely
from msgspec.structs import replace
from PIL import Image

from publisher.geometry.path import Region, polygon
from publisher.geometry.shapely_bridge import to_shapely
from publisher.layout import Placed, Sheet, placed_bounds
from publisher.model.types import Pattern
from publisher.printed import Fill, Written, read_artwork, write_printed
from publisher.printed.artwork import covering, read_image
from publisher.printed.pages import bleeding, crosses, over
from publisher.readback import measure_printed
from tests.handmade import CARD, sliding_box_pattern
from tests.sheets import trade
from tests.templates.printed import of, plain

FILL = Fill("#b7c8ae", "#8f9c88", 4.0, 0.45)


def picture(wide: int, high: int, form: str = "PNG", colour: str = "#c04020") -> bytes:
    target = io.BytesIO()
    Image.new("RGB", (wide, high), colour).save(target, form)
    return target.getvalue()


def two_sided() -> Pattern:
    """A slip with a front and a back, and one with a front alone."""
    return of(plain("slip", 80.0, 50.0, copies=2), plain("tag", 30.0, 60.0))


FILES = {
    "artwork/slip.png": picture(900, 600, colour="#ff0000"),
    "artwork/slip-back.jpg": picture(900, 600, "JPEG", "#0000ff"),
    "artwork/tag.png": picture(400, 700, colour="#00ff00"),
    "photograph.jpg": picture(10, 10, "JPEG"),
}


def printed(pattern: Pattern, files: dict[str, bytes]) -> Written:
    artwork, doubts = read_artwork(pattern, files, trade())
    assert doubts == []
    return write_printed(pattern, artwork, {}, trade())[0]


def test_pictures_are_found_by_their_names() -> None:
    artwork, doubts = read_artwork(two_sided(), FILES, trade())
    assert doubts == []
    assert [(a.piece, a.face) for a in artwork] == [
        ("slip", "back"),
        ("slip", "front"),
        ("tag", "front"),
    ]


@pytest.mark.parametrize(
    ("file", "data", "said"),
    [
        ("artwork/slipp.png", picture(9, 9), "belongs to no piece"),
        ("artwork/slip.png", b"none", "cannot be read as a picture"),
        ("artwork/slip.png", picture(900, 600)[:200], "cannot be read as a picture"),
        # 80 and 3 on either side are 86 mm: 300 dots on 3.386 in are 89 to the inch.
        ("artwork/slip.png", picture(300, 200), "has 89 dots to the inch on slip"),
    ],
)
def test_what_is_doubtful_is_a_warning(file: str, data: bytes, said: str) -> None:
    _, doubts = read_artwork(two_sided(), {file: data}, trade())
    assert [d.severity for d in doubts] == ["warning"]
    assert said in doubts[0].message


def test_enough_dots_are_enough() -> None:
    """What the finding asks for is accepted, and no less."""
    _, (doubt,) = read_artwork(two_sided(), {"artwork/slip.png": picture(300, 200)}, trade())
    asked = doubt.ways_out[0].text.split()
    wide, high = int(asked[2]), int(asked[4])
    for less, count in ((0, 0), (3, 1)):
        data = {"artwork/slip.png": picture(wide - less, high - less)}
        assert len(read_artwork(two_sided(), data, trade())[1]) == count


def test_transparent_pictures_lie_on_white() -> None:
    target = io.BytesIO()
    Image.new("RGBA", (4, 4), (0, 0, 0, 0)).save(target, "PNG")
    found = read_image(target.getvalue())
    assert found is not None
    import zlib

    assert set(zlib.decompress(found.data)) == {255}


def test_a_picture_covers_the_piece_and_its_bleed() -> None:
    found = read_image(picture(200, 100))
    assert found is not None
    assert covering(found, (0.0, 0.0, 50.0, 50.0)) == (-25.0, 0.0, 75.0, 50.0)


def test_bleed_goes_on_round_the_piece_and_into_windows() -> None:
    """A frame of 60 x 40 with a window of 20 x 10, 3 mm: 66 x 46 and 14 x 4."""
    hole = polygon([(20.0, 10.0), (20.0, 20.0), (40.0, 20.0), (40.0, 10.0)])
    frame = Region(plain("frame", 60.0, 40.0).outline.outer, (hole,))
    outer, inner = (to_shapely(Region(ring)) for ring in bleeding(frame, 3.0))
    assert outer.bounds == pytest.approx((-3.0, -3.0, 63.0, 43.0))
    assert outer.area == pytest.approx(66 * 46)
    assert inner.area == pytest.approx(14 * 4)


def test_flipping_twice_brings_everything_back() -> None:
    region = plain("slip", 30.0, 20.0).outline
    for name in ("a4", "12 x 12 in"):
        sheet = Sheet("s", CARD, trade().sheets[name], (Placed("slip", 1, 0.0, 0.0, 0.0),))
        assert to_shapely(over(over(region, sheet), sheet)).equals_exact(to_shapely(region), 1e-9)
    # On upright A4 the long edge is upright: left and right change places, up and down do not.
    sheet = Sheet("s", CARD, trade().sheets["a4"], ())
    assert to_shapely(over(region, sheet)).bounds == pytest.approx((180.0, 0.0, 210.0, 20.0))


def test_crosses_lie_on_each_other_from_both_sides() -> None:
    points = set(crosses(210.0, 297.0))
    assert {(210.0 - x, y) for x, y in points} == points
    assert {(x, 297.0 - y) for x, y in points} == points


def test_bleeds_keep_apart_and_off_the_crosses() -> None:
    pattern = of(*(plain(f"slip {n}", 40.0 + n, 25.0) for n in range(12)))
    names = {f"artwork/slip-{n}.png": picture(500, 400) for n in range(12)}
    for sheet in printed(pattern, names).sheets:
        boxes = [
            shapely.box(*placed_bounds(pattern.piece(p.piece), p)).buffer(3.0) for p in sheet.placed
        ]
        for index, one in enumerate(boxes):
            assert all(one.distance(other) >= 0.99 for other in boxes[index + 1 :])
            for x, y in crosses(sheet.size.width_mm, sheet.size.height_mm):
                assert one.distance(shapely.box(x - 2.9, y - 2.9, x + 2.9, y + 2.9)) > 0.0


def test_both_sides_by_their_ink() -> None:
    """Red on the front, blue on the back at the mirrored place, nothing on the cut lines."""
    pattern = two_sided()
    made = printed(pattern, FILES)
    document = pdfium.PdfDocument(made.files[0][1])
    (sheet,) = made.sheets
    assert len(document) == 3
    scale = 4.0
    front, back, lines = (
        page.render(scale=scale * 25.4 / 72).to_pil().convert("RGB") for page in document
    )
    seen = 0
    for placed in sheet.placed:
        x0, y0, x1, y1 = placed_bounds(pattern.piece(placed.piece), placed)
        at = ((x0 + x1) / 2, (y0 + y1) / 2)
        colour = (255, 0, 0) if placed.piece == "slip" else (0, 255, 0)
        # In the bleed, 2 mm beyond the cut, and in the middle.
        for x, y in (at, (x0 - 2.0, at[1]), (at[0], y1 + 2.0)):
            # A PDF unit is 1/72 in; rendered are ``scale`` dots to the mm.
            assert front.getpixel((round(x * scale), round(y * scale))) == colour
            mirrored = (round((210.0 - x) * scale), round(y * scale))
            red, _, blue = back.getpixel(mirrored)
            assert (blue > 240 and red < 15) == (placed.piece == "slip")
            seen += 1
        assert front.getpixel((round((x0 - 3.6) * scale), round(at[1] * scale))) == (255, 255, 255)
        assert lines.getpixel((round(at[0] * scale), round(at[1] * scale))) == (255, 255, 255)
    assert seen == 9


def test_the_flip_is_said() -> None:
    document = pdfium.PdfDocument(printed(two_sided(), FILES).files[0][1])
    texts = [page.get_textpage().get_text_range() for page in document]
    assert "print on both sides, flip on the long edge" in texts[0]
    assert "back: print on both sides, flip on the long edge" in texts[1]
    assert "cut lines" in texts[2]
    alone = printed(two_sided(), {"artwork/tag.png": FILES["artwork/tag.png"]})
    texts = [p.get_textpage().get_text_range() for p in pdfium.PdfDocument(alone.files[0][1])]
    assert len(texts) == 2
    assert "flip" not in texts[0]


def test_cut_lines_are_a_group_of_their_own() -> None:
    made = printed(two_sided(), FILES)
    with pikepdf.open(io.BytesIO(made.files[0][1])) as document:
        contents = [page.Contents.read_bytes() for page in document.pages]
        assert [b"/OC /CUT BDC" in text for text in contents] == [False, False, True]
        # Each picture is in the file once, though the slip is printed twice.
        pictures = [o for o in document.objects if isinstance(o, pikepdf.Stream)]
        assert sum(o.get("/Subtype") == "/Image" for o in pictures) == 3


def test_patterned_paper_can_be_printed() -> None:
    pattern = sliding_box_pattern()
    a4, letter = write_printed(pattern, (), {"patterned paper": FILL}, trade())
    assert (a4.paper, letter.paper) == ("a4", "letter")
    assert {p.piece for p in a4.sheets[0].placed} == {"sleeve mat"}
    assert [path for path, _ in a4.files] == ["sliding-box-a4.pdf", "svg/sliding-box-a4-1.svg"]
    for made in (a4, letter):
        assert measure_printed(made, pattern, [], 3.0) == []


def test_nothing_to_print_is_no_file() -> None:
    assert write_printed(two_sided(), (), {}, trade()) == ()


def test_what_a_page_cannot_hold_is_named() -> None:
    pattern = of(plain("slip", 80.0, 50.0), plain("long", 200.0, 60.0), plain("wide", 290.0, 290.0))
    files = {f"artwork/{name}.png": picture(2000, 2000) for name in ("slip", "long", "wide")}
    made = printed(pattern, files)
    assert made.too_large == ("wide",)


def test_measured_again() -> None:
    pattern, backs = two_sided(), ["slip"]
    made = printed(pattern, FILES)
    assert measure_printed(made, pattern, backs, 3.0) == []
    assert any("not 2 mm larger" in d.message for d in measure_printed(made, pattern, backs, 2.0))
    moved = replace(made.sheets[0].placed[0], x_mm=made.sheets[0].placed[0].x_mm + 0.03)
    sheet = replace(made.sheets[0], placed=(moved, *made.sheets[0].placed[1:]))
    found = measure_printed(replace(made, sheets=(sheet,)), pattern, backs, 3.0)
    assert {d.message.split(", ")[1].split(":")[0] for d in found} == {"page 1", "page 2", "page 3"}
    assert any("not 2" in d.message for d in measure_printed(made, pattern, [], 3.0))


@pytest.mark.parametrize("turn_deg", [0.0, 9.0, 18.0, 40.0])
@pytest.mark.parametrize("tips", [5, 8])
def test_the_bleed_of_a_star_is_pointed(tips: int, turn_deg: float) -> None:
    """Sharper than 60 degrees, its tips are cut off twice the bleed out."""
    ring = [
        (
            30.0 + (20.0 if k % 2 else 6.0) * math.cos(math.radians(turn_deg + 180.0 * k / tips)),
            30.0 + (20.0 if k % 2 else 6.0) * math.sin(math.radians(turn_deg + 180.0 * k / tips)),
        )
        for k in range(2 * tips)
    ]
    star = replace(plain("star", 1.0, 1.0), outline=Region(polygon(ring)))
    pattern, files = of(star), {"artwork/star.png": picture(700, 700)}
    made = printed(pattern, files)
    assert measure_printed(made, pattern, [], 3.0) == []
    assert measure_printed(made, pattern, [], 2.0) != []


def test_the_same_bytes_twice() -> None:
    assert printed(two_sided(), FILES) == printed(two_sided(), FILES)
