"""Patterns that nobody would write: whatever comes in, an answer comes out, and soon."""
