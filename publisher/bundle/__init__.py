"""The bundle: one zip with everything a maker gets.

Takes a pattern, its sheets and checks, and every file the earlier stages wrote; returns the
zip's bytes, the same for the same input. ``verify`` opens such a zip again and reports
``bundle-damaged``.
"""

from publisher.bundle.entries import cut_entries
from publisher.bundle.pack import folder_name, pack
from publisher.bundle.types import BundleFile, Role, media_type
from publisher.bundle.verify import verify

__all__ = ["BundleFile", "Role", "cut_entries", "folder_name", "media_type", "pack", "verify"]
