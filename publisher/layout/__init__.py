"""The layout room."""
