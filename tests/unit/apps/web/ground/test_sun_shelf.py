from __future__ import annotations

from bedwright.apps.web.ground.sun_shelf import SunShelf
from bedwright.model.book import Bed, Site
from bedwright.model.ground import Rectangle
from bedwright.service.site_sun import site_sun

SITE = Site("Ground", 52.0, 0.0, 30.0, "Europe/London")
SUN = site_sun(SITE, (Bed("A", "", Rectangle(4.0, 1.2, 0.0, 0.0, 0.0), "loam"),), 6)


def test_the_drawing_untouched_longest_is_given_up_first() -> None:
    shelf = SunShelf(most_views=2 * SUN.n_views)
    shelf.put("one", SUN)
    shelf.put("two", SUN)
    shelf.get("one")

    shelf.put("three", SUN)

    assert shelf.get("two") is None
    assert shelf.get("one") is SUN
    assert shelf.get("three") is SUN


def test_one_drawing_too_large_for_the_shelf_is_kept_alone() -> None:
    shelf = SunShelf(most_views=1)
    shelf.put("one", SUN)

    shelf.put("two", SUN)

    assert shelf.get("one") is None
    assert shelf.get("two") is SUN
