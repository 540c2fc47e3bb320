"""The proof sheet: what fits in a pattern, by how much, and for whom. To be shown.

Takes a pattern, its variants and their checks, those that take their time too; returns the sheet
as a PDF and as a page of HTML that stands for itself. Reports ``proof-not-in-theme``.
"""

from publisher.proof.fits import Bar, Fit, fits_of
from publisher.proof.write import TEMPLATES, Part, missing_templates, proof_sheet

__all__ = ["TEMPLATES", "Bar", "Fit", "Part", "fits_of", "missing_templates", "proof_sheet"]
