"""Soil tests, compost and feeding."""
