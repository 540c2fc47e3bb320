"""Compiles one Markdown file into everything that a paper pattern needs."""

__version__ = "0.1.0"

__all__ = ["__version__"]
