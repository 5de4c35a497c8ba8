"""lowside: walks a refrigeration technician from a warm cabinet to a proven cause."""

__version__ = "0.7.0"
