"""Daily weather files: reading the layouts people can download, writing our own."""

from bedwright.store.weather.reading import read_weather
from bedwright.store.weather.writing import write_weather_csv

__all__ = ["read_weather", "write_weather_csv"]
