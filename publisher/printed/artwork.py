"""Pictures for pieces: found by their file's name, made ready for a PDF.

``artwork/sleeve-mat.png`` is the front of the sleeve mat, ``artwork/sleeve-mat-back.jpg`` its
back.
"""

from __future__ import annotations

import hashlib
import io
import zlib
from collections.abc import Mapping
from pathlib import PurePosixPath

from publisher.diagnostics import Diagnostic, Place, WayOut, nearest
from publisher.geometry.measure import Bounds
from publisher.model.types import Face, Pattern, Piece
from publisher.printed.types import Artwork
from publisher.templates.canvas import Image
from publisher.trade import Trade
from publisher.units import MM_PER_INCH, number

FOLDER = "artwork/"
CODE = "artwork-doubtful"
ENDINGS = (".jpeg", ".jpg", ".png")


def read_artwork(
    pattern: Pattern, files: Mapping[str, bytes], trade: Trade
) -> tuple[tuple[Artwork, ...], list[Diagnostic]]:
    """The pictures among the files of a pattern's folder, and what is doubtful about them:
    one that belongs to no piece, cannot be read, or is coarser than the trade's practice."""
    faces = {}
    for piece in pattern.pieces:
        stem = piece.name.replace(" ", "-")
        faces[f"{stem}-back"] = (piece, "back")
        faces[stem] = (piece, "front")
    found: list[Artwork] = []
    doubts: list[Diagnostic] = []
    for path in sorted(files):
        file = PurePosixPath(path)
        if not path.startswith(FOLDER) or file.suffix.lower() not in ENDINGS:
            continue
        known = faces.get(file.stem)
        if known is None:
            near = nearest(file.stem, faces)
            ways = (WayOut(f"call it {near}{file.suffix}"),) if near else ()
            doubts.append(_doubt(pattern, path, "belongs to no piece", ways_out=ways))
            continue
        piece, face = known
        image = read_image(files[path])
        if image is None:
            doubts.append(_doubt(pattern, path, "cannot be read as a picture", piece))
            continue
        found.append(Artwork(path, piece.name, "back" if face == "back" else "front", image))
        doubts += _coarse(pattern, path, piece, image, trade)
    return tuple(found), doubts


def _coarse(
    pattern: Pattern, path: str, piece: Piece, image: Image, trade: Trade
) -> list[Diagnostic]:
    least = MM_PER_INCH / trade.practice["artwork_dot_most_mm"].value
    bleed = trade.practice["bleed_mm"].value
    box = covering(image, grown(piece.bounds, bleed))
    each = image.width_px / ((box[2] - box[0]) / MM_PER_INCH)
    if each >= least:
        return []
    wide = -int(-image.width_px * least // each)
    high = -int(-image.height_px * least // each)
    said = f"has {number(each, 0)} dots to the inch on {piece.name}, {number(least, 0)} are wanted"
    way = WayOut(f"give it {wide} x {high} dots or more")
    return [_doubt(pattern, path, said, piece, (("dots_per_inch", each),), (way,))]


def _doubt(
    pattern: Pattern,
    path: str,
    what: str,
    piece: Piece | None = None,
    numbers: tuple[tuple[str, float], ...] = (),
    ways_out: tuple[WayOut, ...] = (),
) -> Diagnostic:
    span = (piece or pattern.pieces[0]).span
    message = f"{path} {what}"
    return Diagnostic(CODE, "warning", message, (Place(span),), numbers, ways_out=ways_out)


def read_image(data: bytes) -> Image | None:
    """A picture as a PDF holds it: a plain JPEG as it is, anything else as samples, on white
    where it is transparent. None for what is no picture."""
    # Few patterns have artwork.
    from PIL import Image as Pictures

    try:
        picture = Pictures.open(io.BytesIO(data))
        name = f"A{hashlib.sha256(data).hexdigest()[:12]}"
        width, height = picture.size
        if picture.format == "JPEG" and picture.mode in ("RGB", "L"):
            picture.load()
            colours = "DeviceRGB" if picture.mode == "RGB" else "DeviceGray"
            return Image(name, width, height, colours, "DCTDecode", data)
        shown = picture.convert("RGBA")
    except (OSError, SyntaxError, ValueError, Pictures.DecompressionBombError):
        # Pillow's own error for what is no picture is an OSError.
        return None
    white = Pictures.new("RGBA", shown.size, "white")
    samples = Pictures.alpha_composite(white, shown).convert("RGB").tobytes()
    return Image(name, width, height, "DeviceRGB", "FlateDecode", zlib.compress(samples, 9))


def covering(image: Image, box: Bounds) -> Bounds:
    """The box of a picture, its proportions kept, that covers another box from its middle."""
    x0, y0, x1, y1 = box
    scale = max((x1 - x0) / image.width_px, (y1 - y0) / image.height_px)
    wide, high = image.width_px * scale, image.height_px * scale
    x, y = (x0 + x1 - wide) / 2, (y0 + y1 - high) / 2
    return (x, y, x + wide, y + high)


def grown(box: Bounds, by_mm: float) -> Bounds:
    """The box with a border round it."""
    return (box[0] - by_mm, box[1] - by_mm, box[2] + by_mm, box[3] + by_mm)


def named_face(artwork: Artwork) -> tuple[str, Face]:
    """Piece and face, as a key."""
    return artwork.piece, artwork.face
