"""Survey workbooks for the electrical rooms of commercial buildings."""

__version__ = "0.1.0"
