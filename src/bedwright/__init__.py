"""Bedwright: from a garden book and a weather record to a season people can plant from."""

__version__ = "0.1.0"
