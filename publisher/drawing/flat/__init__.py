"""Pieces as they lie flat: what is measured, where the figures and names go."""
