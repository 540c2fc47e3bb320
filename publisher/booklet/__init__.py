"""The booklet room."""
