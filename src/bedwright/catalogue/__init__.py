"""Crops and materials, every value with its source."""
