"""A cutting table for makers with a trimmer and a scoring board.

Takes a pattern, its sheets and the trade; returns for every piece without curves the blank and
its scores as marks of a ruler, and cuts from edge to edge that part the sheets into blanks.
Reports nothing: where a rounded figure changes a distance, the table itself says by how much.
"""

from publisher.trimmer.table import cutting_table
from publisher.trimmer.types import CuttingTable

__all__ = ["CuttingTable", "cutting_table"]
