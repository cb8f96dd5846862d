"""Bedwright: from a garden book and a weather record to a season people can plant from."""
