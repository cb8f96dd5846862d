"""Seed, plants and materials to order."""
