"""Drawings, sheets, labels, cards, calendars and tables of a season plan."""
