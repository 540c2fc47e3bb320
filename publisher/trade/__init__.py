"""What the trade knows: stocks, sheets, common objects, rules of practice. Knows no stage.

Takes the text of the files in ``shared/``, gives frozen values. Reading the files is the
workshop's job. Reports ``shared-file-wrong``, ``shared-value-wrong``, ``shared-key-unknown``
and ``shared-source-missing``.
"""

from publisher.trade.read import FILES, read_trade
from publisher.trade.types import CommonObject, Licence, Machine, Practice, SheetSize, Stock, Trade

__all__ = [
    "FILES",
    "CommonObject",
    "Licence",
    "Machine",
    "Practice",
    "SheetSize",
    "Stock",
    "Trade",
    "read_trade",
]
