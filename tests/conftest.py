"""How every test is run."""

import os
import shutil

import pytest
from hypothesis import settings

# The usual run is the same every time; the thorough one looks further, with new examples.
settings.register_profile("usual", deadline=None, derandomize=True)
settings.register_profile("thorough", deadline=None, max_examples=2000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "usual"))

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if any(shutil.which(name) for name in BROWSERS):
        return
    skip = pytest.mark.skip(reason="there is no Chromium on this machine")
    for item in items:
        if item.get_closest_marker("browser"):
            item.add_marker(skip)
