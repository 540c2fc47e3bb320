"""What the trade knows: stocks, sheets, common objects, rules of practice. Knows no stage.

Takes the text of the files in ``shared/``, gives frozen values. Reading the files is the
workshop's job. Reports ``shared-file-wrong``, ``shared-value-wrong``, ``shared-key-unknown``
and ``shared-source-missing``.
"""

from publisher.trade.cutting import FORMATS as CUT_FORMATS
from publisher.trade.cutting import KEYS as CUTTING_KEYS
from publisher.trade.cutting import Cutting, chosen, read_cutting
from publisher.trade.read import FILES, read_trade
from publisher.trade.types import (
    CommonObject,
    Licence,
    Machine,
    Post,
    Practice,
    SheetSize,
    Stock,
    Trade,
)

__all__ = [
    "CUTTING_KEYS",
    "CUT_FORMATS",
    "FILES",
    "CommonObject",
    "Cutting",
    "Licence",
    "Machine",
    "Post",
    "Practice",
    "SheetSize",
    "Stock",
    "Trade",
    "chosen",
    "read_cutting",
    "read_trade",
]
