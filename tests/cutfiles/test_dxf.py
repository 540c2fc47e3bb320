"""A sheet as DXF."""

from __future__ import annotations

import io
from datetime import datetime, tzinfo

import ezdxf
import pytest
from ezdxf.document import Drawing

from publisher.layout import Sheet
from publisher.model.types import Pattern
from tests.handmade import sliding_box_pattern
from tests.sheets import all_laid, laid, window_pattern, written


def read(pattern: Pattern, sheet: Sheet) -> Drawing:
    return ezdxf.read(io.StringIO(written(pattern, sheet, "dxf").decode("utf-8")))


def test_layers_and_line_types() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    document = read(pattern, sheets[0])
    layers = {layer.dxf.name: layer for layer in document.layers}
    assert {"CUT", "SCORE-VALLEY", "SCORE-MOUNTAIN"} <= set(layers)
    assert {layer.dxf.color for layer in layers.values()} == {7}
    assert layers["CUT"].dxf.linetype.upper() == "CONTINUOUS"
    assert layers["SCORE-VALLEY"].dxf.linetype == "SCORE-VALLEY"


def test_lines_are_polylines_closed_where_they_close_with_arcs_as_bulges() -> None:
    pattern, sheets = laid(window_pattern())
    document = read(pattern, sheets[0])
    lines = [e for e in document.modelspace() if e.dxf.layer == "CUT"]
    assert {e.dxftype() for e in document.modelspace()} == {"LWPOLYLINE"}
    kinds = sorted((len(e), e.closed) for e in lines)
    assert kinds == [(2, False)] * 4 + [(2, True)] * 2 + [(6, True)] * 2
    # A half circle has a bulge of 1: two in each window, one in each curved slit and notch.
    bulges = [abs(b) for e in lines for *_, b in e.get_points("xyb") if b]
    assert bulges == pytest.approx([1.0] * 8)


def test_entities_stand_in_the_order_of_work() -> None:
    """Scored before cut; of each copy's cuts the outline is the last."""
    pattern, sheets = laid(window_pattern())
    document = read(pattern, sheets[0])
    layers = [e.dxf.layer for e in document.modelspace()]
    cut = [layer == "CUT" for layer in layers]
    assert cut == sorted(cut)
    for _, group in document.groups:
        own = {e.dxf.handle for e in group}
        cuts = [e for e in document.modelspace() if e.dxf.handle in own and e.dxf.layer == "CUT"]
        assert [len(e) for e in cuts] == [2, 2, 2, 6]


def test_y_is_up_and_the_piece_is_not_mirrored() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    # The sleeve's first notch lies 42.9 below the piece's top, and the sheet is 297 high.
    document = read(pattern, sheets[1])
    (cut,) = [e for e in document.modelspace() if e.dxf.layer == "CUT"]
    arcs = [e for e in cut.virtual_entities() if e.dxftype() == "ARC"]
    top = max(arc.dxf.center.y for arc in arcs)
    assert top == pytest.approx(297 - 5 - 42.9, abs=1e-6)


def test_copies_are_groups() -> None:
    pattern, sheets = laid(window_pattern())
    document = read(pattern, sheets[0])
    names = {name: len(list(g)) for name, g in document.groups}
    assert names == {"window-card-1": 6, "window-card-2": 6}


def test_the_library_switch_is_put_back() -> None:
    pattern, sheets = laid(sliding_box_pattern())
    for before in (False, True):
        ezdxf.options.write_fixed_meta_data_for_testing = before
        written(pattern, sheets[0], "dxf")
        assert ezdxf.options.write_fixed_meta_data_for_testing is before
    ezdxf.options.write_fixed_meta_data_for_testing = False


class Later(datetime):
    """Another day, whatever the clock says."""

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> Later:
        return cls(2031, 3, 4, 5, 6, tzinfo=tz)


def test_same_bytes_at_another_time(monkeypatch: pytest.MonkeyPatch) -> None:
    pattern, sheets = laid(sliding_box_pattern())
    first = written(pattern, sheets[0], "dxf")
    monkeypatch.setattr("ezdxf.document.datetime", Later)
    assert written(pattern, sheets[0], "dxf") == first


@pytest.mark.parametrize(("pattern", "sheets"), all_laid())
def test_audit_finds_nothing(pattern: Pattern, sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        auditor = read(pattern, sheet).audit()
        assert auditor.errors == []
        assert auditor.fixes == []
