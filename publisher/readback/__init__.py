"""What was written, measured against the model by readers that had no part in the writing.

Takes the bytes of the cut files, the pattern and its sheets, or of the templates, the printed
pieces, the booklets and proof sheets, gives findings. Reports
``written-file-differs``, ``written-file-missing`` and ``printed-figure-differs``. SVG is read by
svgelements, PDF by PDFium, DXF by ezdxf's loader and audit.
"""

from publisher.readback.booklet_figures import measure_booklets
from publisher.readback.known import Known, known
from publisher.readback.measure import TOLERANCE_MM, cut_and_measured, measure_written
from publisher.readback.printed_pages import measure_printed, pieces_printed
from publisher.readback.proof_figures import measure_proofs
from publisher.readback.true_pages import measure_templates, printed_and_measured

__all__ = [
    "TOLERANCE_MM",
    "Known",
    "cut_and_measured",
    "known",
    "measure_booklets",
    "measure_printed",
    "measure_proofs",
    "measure_templates",
    "measure_written",
    "pieces_printed",
    "printed_and_measured",
]
