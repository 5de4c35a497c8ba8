"""The tree language: text with positions to a typed, proven library."""
