"""Crops and materials, every value with its source."""

from bedwright.catalogue.load import load_catalogue, read_catalogue
from bedwright.catalogue.names import crop_name, crop_named, nearest_crops
from bedwright.catalogue.share import PublishedShare, share_published
from bedwright.catalogue.sheet import crop_sheet

__all__ = [
    "PublishedShare",
    "crop_name",
    "crop_named",
    "crop_sheet",
    "load_catalogue",
    "nearest_crops",
    "read_catalogue",
    "share_published",
]
