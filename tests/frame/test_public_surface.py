"""Few names to hold on to."""

import publisher


def test_the_public_surface_is_small() -> None:
    assert len(publisher.__all__) <= 8
    assert len(set(publisher.__all__)) == len(publisher.__all__)
    for name in publisher.__all__:
        assert hasattr(publisher, name), name


def test_nothing_else_stands_at_the_top() -> None:
    """A plain import brings in no stage, so that the command starts fast."""
    public = {name for name in vars(publisher) if not name.startswith("_")}
    modules = {name for name in public if type(getattr(publisher, name)).__name__ == "module"}
    assert public - modules <= set(publisher.__all__)
