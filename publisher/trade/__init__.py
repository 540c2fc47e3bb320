"""What the trade knows: stocks, sheets, common objects, rules of practice. Knows no stage.

Takes the text of the files in ``shared/``, gives frozen values. Reading the files is the
workshop's job. Reports ``shared-file-wrong``, ``shared-value-wrong``, ``shared-key-unknown``
and ``shared-source-missing``.
"""

from publisher.trade.cutting import FORMATS as CUT_FORMATS
from publisher.trade.cutting import KEYS as CUTTING_KEYS
from publisher.trade.cutting import Cutting, chosen, read_cutting
from publisher.trade.own import OWN_KEYS, Own, OwnPractice, Waiver, read_own
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
    "OWN_KEYS",
    "CommonObject",
    "Cutting",
    "Licence",
    "Machine",
    "Own",
    "OwnPractice",
    "Post",
    "Practice",
    "SheetSize",
    "Stock",
    "Trade",
    "Waiver",
    "chosen",
    "read_cutting",
    "read_own",
    "read_trade",
]
