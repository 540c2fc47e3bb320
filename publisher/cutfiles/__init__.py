"""Cut files at true scale, from exact flat geometry: SVG, DXF R2010 and PDF, one per sheet.

Takes a pattern and its sheets, gives bytes. Reports nothing: what cannot be cut was found
before. The same input gives the same bytes.
"""

from publisher.cutfiles.dxf import sheet_dxf
from publisher.cutfiles.pdf import sheet_pdf
from publisher.cutfiles.svg import sheet_svg
from publisher.cutfiles.write import FORMATS, cut_file_path, write_cut_files

__all__ = [
    "FORMATS",
    "cut_file_path",
    "sheet_dxf",
    "sheet_pdf",
    "sheet_svg",
    "write_cut_files",
]
