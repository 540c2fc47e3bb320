"""Templates for the knife: pages of pieces at true size, to print on A4 and Letter.

Takes a pattern, its sheets and the trade, returns the bytes of a tagged PDF for each paper.
Reports nothing: what can be cut can be printed, in parts where it is larger than the page.
"""

from publisher.templates.types import INCH_MM, METRIC_MM, Warned
from publisher.templates.write import PAPERS, template_path, write_templates

__all__ = ["INCH_MM", "METRIC_MM", "PAPERS", "Warned", "template_path", "write_templates"]
