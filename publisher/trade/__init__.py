"""What the trade knows: stocks, sheets, common objects, rules of practice. Knows no stage.

Takes the text of the files in ``shared/``, gives frozen values. Reading the files is the
workshop's job.
"""

from publisher.trade.types import CommonObject, Practice, SheetSize, Stock, Trade

__all__ = ["CommonObject", "Practice", "SheetSize", "Stock", "Trade"]
