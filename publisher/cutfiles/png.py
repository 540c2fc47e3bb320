"""A sheet as a picture of known size: 300 points to the inch, said in the file.

Drawn from the sheet's PDF by PDFium. The resolution stands in the chunk pHYs, in points to the
metre (PNG, third edition, 11.3.4.3), so that a program that heeds it opens the picture at true
size.
"""

from __future__ import annotations

import struct
import zlib

from publisher.cutfiles.lines import SheetLines
from publisher.cutfiles.pdf import to_pdf
from publisher.units import MM_PER_INCH

PER_INCH = 300
PER_METRE = round(PER_INCH / MM_PER_INCH * 1000)
_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_GREYS, _METRE, _NO_FILTER = 0, 1, b"\0"


def to_png(lines: SheetLines) -> bytes:
    """The sheet as PNG, 8 bits of grey to the pixel, black on white."""
    import pypdfium2 as pdfium  # not every build writes pictures

    document = pdfium.PdfDocument(to_pdf(lines))
    try:
        bitmap = document[0].render(scale=PER_INCH / 72, grayscale=True)
        width, height, stride = bitmap.width, bitmap.height, bitmap.stride
        grey = bytes(bitmap.buffer)
    finally:
        document.close()
    rows = b"".join(_NO_FILTER + grey[y * stride : y * stride + width] for y in range(height))
    # Runs of white pack nearly as small by their lengths alone, in a third of the time.
    packer = zlib.compressobj(strategy=zlib.Z_RLE)
    return b"".join(
        (
            _SIGNATURE,
            _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, _GREYS, 0, 0, 0)),
            _chunk(b"pHYs", struct.pack(">IIB", PER_METRE, PER_METRE, _METRE)),
            _chunk(b"IDAT", packer.compress(rows) + packer.flush()),
            _chunk(b"IEND", b""),
        )
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
