"""The static site.

Takes patterns with their booklets' contents and bundles, the workshop's settings, a theme's
look and the workshop's own pages; returns every file of the site by its path. Reports nothing.
"""

from publisher.website.build import build_site
from publisher.website.motions import motions_of
from publisher.website.types import SiteLook, SitePattern, SiteSettings, look_of

__all__ = ["SiteLook", "SitePattern", "SiteSettings", "build_site", "look_of", "motions_of"]
