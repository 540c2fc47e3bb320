"""The sliding box and the envelope, compiled, are the pieces that were worked out by hand."""

from __future__ import annotations

import pytest

from publisher.model.types import BandOf, MatOf, Pattern
from tests.handmade import (
    drawer,
    envelope,
    envelope_steps,
    sleeve,
    sleeve_mat,
    sliding_box_steps,
)
from tests.model.making import made
from tests.model.same import assert_same
from tests.model.sources import DRAWER, ENVELOPE, FITS, FRONT, MAT, SIZES, SLEEVE, SLIDING_BOX


@pytest.fixture(scope="module")
def box() -> Pattern:
    return made(SLIDING_BOX)


def test_drawer(box: Pattern) -> None:
    assert_same(box.piece("drawer"), drawer())


def test_sleeve(box: Pattern) -> None:
    piece = box.piece("sleeve")
    assert_same(piece, sleeve())
    band, wanted = piece.derived, sleeve().derived
    assert isinstance(band, BandOf)
    assert isinstance(wanted, BandOf)
    assert band.body_mm == pytest.approx(wanted.body_mm)
    assert (band.loop_mm, band.ease_mm, band.overlap_mm) == pytest.approx(
        (wanted.loop_mm, wanted.ease_mm, wanted.overlap_mm)
    )
    assert (band.piece, band.state, band.direction) == ("drawer", ("closed",), "down")
    assert [t.what for t in band.sum] == [t.what for t in wanted.sum]
    assert [t.mm for t in band.sum] == pytest.approx([t.mm for t in wanted.sum])


def test_sleeve_mat(box: Pattern) -> None:
    piece = box.piece("sleeve mat")
    assert_same(piece, sleeve_mat())
    mat = piece.derived
    assert isinstance(mat, MatOf)
    assert (mat.piece, mat.panel, mat.border_mm, mat.behind) == ("sleeve", "panel 1", 4.0, False)
    assert mat.offset == pytest.approx((4.0, 4.0))


@pytest.mark.parametrize("depth", [12, 30, 40])
def test_all_follows_from_the_depth(depth: int) -> None:
    source = SLIDING_BOX.replace("depth   = 22 mm", f"depth   = {depth} mm")
    if depth == 12:
        source = source.replace("120 x 80 x 20 mm", "120 x 80 x 10 mm")
    pattern = made(source)
    assert_same(pattern.piece("drawer"), drawer(depth))
    assert_same(pattern.piece("sleeve"), sleeve(depth))


def test_order_of_lines_and_fences_does_not_matter() -> None:
    head, *lines, tail = DRAWER.replace(",\n         ", ", ").strip().split("\n")
    turned = "\n".join([head, *reversed(lines), tail]) + "\n"
    pattern = made(FRONT + "\n".join([MAT, FITS, SLEEVE, turned, SIZES]))
    ours = pattern.piece("drawer")
    # Panels and tabs come in the order of the lines; the paper is the same.
    assert {p.name for p in ours.panels} == {p.name for p in drawer().panels}
    assert ours.bounds == pytest.approx(drawer().bounds)
    assert_same(pattern.piece("sleeve"), sleeve())
    assert_same(pattern.piece("sleeve mat"), sleeve_mat())


def test_steps_speak_as_planned(box: Pattern) -> None:
    wanted = sliding_box_steps()
    assert [s.title for s in box.steps] == [s.title for s in wanted]
    for ours, theirs in zip(box.steps, wanted, strict=True):
        assert ours.number == theirs.number
        for a, b in zip(ours.actions, theirs.actions, strict=True):
            assert (a.verb, a.relation) == (b.verb, b.relation)
            for x, y in zip((*a.subjects, *a.objects), (*b.subjects, *b.objects), strict=True):
                assert (x.kind, x.piece, x.part, x.copy) == (y.kind, y.piece, y.part, y.copy)


def test_claims_and_objects(box: Pattern) -> None:
    goes, slides = box.claims
    assert (goes.verb, goes.subject.kind, goes.subject.piece) == ("goes into", "object", "stack")
    assert goes.subject.size_mm == (120.0, 80.0, 20.0)
    assert (goes.least_mm, goes.most_mm) == (2.0, 6.0)
    assert slides.object is not None
    assert (slides.object.piece, slides.object.state) == ("drawer", ("closed",))
    assert box.objects == {"stack": (120.0, 80.0, 20.0)}


def test_sizes(box: Pattern) -> None:
    sizes = {s.name: s for s in box.sizes}
    assert sizes["stack"].values == (120.0, 80.0, 20.0)
    assert sizes["depth"].range == (12.0, 40.0)
    assert sizes["depth"].written == "22 mm"
    assert sizes["play"].note == "between drawer and sleeve, in all"


def test_document_in_reading_order(box: Pattern) -> None:
    kinds = [(b.kind, b.name) for b in box.body]
    assert kinds[1:6] == [
        ("sizes", ""),
        ("piece", "drawer"),
        ("piece", "sleeve"),
        ("piece", "sleeve mat"),
        ("fits", ""),
    ]
    assert [n for k, n in kinds if k == "step"] == ["1", "2", "3", "4"]
    spoken = [r.text for b in box.body for r in b.runs if r.spoken]
    assert spoken == ["12 mm (1/2 in)", "4 mm (3/16 in)"]


def test_envelope() -> None:
    pattern = made(ENVELOPE)
    assert_same(pattern.piece("envelope"), envelope())
    for ours, theirs in zip(pattern.steps, envelope_steps(), strict=True):
        for a, b in zip(ours.actions, theirs.actions, strict=True):
            assert (a.verb, a.relation) == (b.verb, b.relation)
            assert [(t.kind, t.part) for t in a.subjects] == [(t.kind, t.part) for t in b.subjects]
