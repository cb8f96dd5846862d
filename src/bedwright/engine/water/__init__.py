"""Soil water and watering."""
