"""What parts two libraries: which answers now end elsewhere, and what comes of that for examples and sessions."""
