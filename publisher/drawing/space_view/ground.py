"""The ground of a picture: what is drawn, and where words and circles may stand beside it."""

from __future__ import annotations

import shapely
from msgspec import Struct
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry

from publisher.drawing.space_view.taken import Taken

CLEAR_MM = 1.3
_NOTHING = shapely.GeometryCollection()


class Ground(Struct, frozen=True):
    """Where words may stand: in ``frame`` (x0, y0, x1, y1), off everything ``drawn`` (arrows
    included). ``keep_off`` are areas that boxes must not touch, together ``drawn`` grown;
    ``shy`` are lines and rings that leaders rather do not cross."""

    frame: tuple[float, float, float, float]
    drawn: BaseGeometry
    arrows: BaseGeometry
    keep_off: tuple[BaseGeometry, ...]
    round_arrows: BaseGeometry
    taken: Taken
    shy: BaseGeometry = _NOTHING

    @staticmethod
    def of(
        frame: tuple[float, float, float, float], drawn: BaseGeometry, arrows: BaseGeometry
    ) -> Ground:
        grown = shapely.buffer(drawn, CLEAR_MM, quad_segs=2)
        round_arrows = shapely.buffer(arrows, 0.3)
        shapely.prepare([drawn, grown, round_arrows])
        taken = Taken.of(grown, frame)
        return Ground(frame, drawn, arrows, (grown,), round_arrows, taken)

    def drawn_too(self, area: BaseGeometry) -> Ground:
        """The same with one more area drawn."""
        grown = shapely.buffer(area, CLEAR_MM, quad_segs=2)
        drawn = shapely.union(self.drawn, area)  # off the grid: it is only weighed
        shapely.prepare([drawn, grown])
        return replace(
            self,
            drawn=drawn,
            keep_off=(*self.keep_off, grown),
            taken=self.taken.and_of(grown, self.frame),
        )

    def ringed(self, ring: BaseGeometry) -> Ground:
        """The same with one more ring drawn."""
        shy = shapely.GeometryCollection([self.shy, ring])
        return replace(self.drawn_too(ring), shy=shy)
