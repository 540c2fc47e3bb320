"""Tables whose entries are loaded when they are first asked for."""

from __future__ import annotations

import json
import sys

import pytest

from publisher.registry import OnDemand


def table() -> OnDemand[object]:
    return OnDemand("json", {"read": "decoder:JSONDecoder", "write": "encoder:JSONEncoder"})


def test_keys_are_known_and_in_order_before_anything_is_loaded() -> None:
    known = table()
    assert list(known) == ["read", "write"]
    assert len(known) == 2
    assert "write" in known
    assert "draw" not in known


def test_a_value_comes_from_its_module() -> None:
    assert table()["read"] is json.decoder.JSONDecoder
    assert table().get("draw") is None
    with pytest.raises(KeyError):
        table()["draw"]


def test_only_what_is_asked_for_is_loaded() -> None:
    known: OnDemand[object] = OnDemand("wsgiref", {"a": "headers:Headers", "b": "util:FileWrapper"})
    sys.modules.pop("wsgiref.util", None)
    assert known["a"] is not None
    assert "wsgiref.util" not in sys.modules
