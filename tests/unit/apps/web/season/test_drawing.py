"""The drawn pages of a plan: beds by week, ground taken, curves, and why a block stands there."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from html import unescape
from itertools import pairwise

import pytest
from django.test import Client
from django.urls import reverse

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.drawing.curves import water_curves
from bedwright.apps.web.season.drawing.hatches import patterns_of
from bedwright.apps.web.season.drawing.measures import PageMeasures
from bedwright.apps.web.season.drawing.occupancy import occupancy_of
from bedwright.apps.web.season.drawing.plan_data import plantings_data
from bedwright.apps.web.season.drawing.week_plot import WeekPlot
from bedwright.apps.web.season.drawing.weeks import fullest, stands_in, weeks_of
from bedwright.apps.web.season.models import SavedPlan
from bedwright.model.book import WaterLimit
from bedwright.model.care import WaterPlan
from bedwright.model.season import SeasonPlan, Shortfall
from bedwright.model.water import WaterWeek
from bedwright.store.season import season_from_text, season_json

SignIn = Callable[[User | None], Client]


@pytest.fixture
def plan(small_season: str) -> SeasonPlan:
    return season_from_text(small_season)


def page(client: Client, name: str, *args: object, **headers: str) -> str:
    answer = client.get(reverse(f"season:{name}", args=args), headers=headers or None)
    assert answer.status_code == 200, answer.status_code
    return answer.content.decode()


def test_weeks_begin_on_monday_and_hold_every_planting(plan: SeasonPlan) -> None:
    weeks = weeks_of(plan.plantings)
    assert weeks is not None
    assert {monday.weekday() for monday in weeks} == {0}
    for planting in plan.plantings:
        assert weeks.first <= planting.dates.in_ground
        assert planting.dates.clear_by < weeks.last.fromordinal(weeks.last.toordinal() + 7)


def test_there_are_no_weeks_without_plantings() -> None:
    assert weeks_of(()) is None


def test_a_planting_stands_in_the_weeks_of_its_first_and_last_day(plan: SeasonPlan) -> None:
    planting = plan.plantings[0]
    weeks = weeks_of(plan.plantings)
    assert weeks is not None
    shown = [monday for monday in weeks if stands_in(planting, monday)]
    assert shown[0] <= planting.dates.in_ground <= date.fromordinal(shown[0].toordinal() + 6)
    assert shown[-1] <= planting.dates.clear_by <= date.fromordinal(shown[-1].toordinal() + 6)


def test_the_fullest_week_is_the_first_of_those_in_which_most_stands(plan: SeasonPlan) -> None:
    weeks = weeks_of(plan.plantings)
    assert weeks is not None
    counts = {monday: sum(stands_in(each, monday) for each in plan.plantings) for monday in weeks}
    best = fullest(plan.plantings, weeks)
    assert best == min(monday for monday, count in counts.items() if count == max(counts.values()))


def test_each_rotation_group_has_a_hatch_of_its_own(plan: SeasonPlan) -> None:
    patterns = patterns_of(plan)
    groups = {planting.crop.rotation_group for planting in plan.plantings}
    assert {pattern.group for pattern in patterns} == groups
    assert len({(pattern.d, pattern.turn_deg, pattern.height_px) for pattern in patterns}) == len(groups)


def test_the_drawing_has_every_planting_with_the_codes_of_its_pegs(plan: SeasonPlan) -> None:
    data = plantings_data(plan.book, plan.plantings, patterns_of(plan), frozenset())
    assert [each["code"] for each in data] == [each.code for each in plan.plantings]
    for entry, planting in zip(data, plan.plantings, strict=True):
        assert entry["label_code"] == planting.rows[0].code
        assert sum(row[4] for row in entry["rows"]) == planting.n_plants
        assert entry["hatch"].startswith("hatch-")


def test_bars_of_one_bed_that_share_a_lane_do_not_touch(plan: SeasonPlan) -> None:
    chart = occupancy_of(plan, patterns_of(plan), frozenset())
    assert chart is not None
    for band in chart.bands:
        bars = sorted(band.bars, key=lambda bar: (bar.y_px, bar.x_px))
        for one, other in pairwise(bars):
            assert one.y_px < other.y_px or one.x_px + one.width_px <= other.x_px


def test_a_bar_is_as_long_as_its_ground_is_taken(plan: SeasonPlan) -> None:
    chart = occupancy_of(plan, patterns_of(plan), frozenset())
    assert chart is not None
    for bar in (bar for band in chart.bands for bar in band.bars):
        days = (bar.planting.dates.clear_by - bar.planting.dates.in_ground).days + 1
        assert bar.width_px == pytest.approx(days * 2.6, abs=0.11)


def test_a_plot_puts_nought_at_its_foot_and_a_round_level_at_its_top() -> None:
    plot = WeekPlot(date(2027, 3, 1), 4, 37.0)
    levels = plot.levels()
    assert [level.words for level in levels] == ["0", "10", "20", "30", "40"]
    assert levels[0].at_px == plot.foot_px
    assert levels[-1].at_px == plot.top_px


def test_a_stepped_line_is_level_through_each_week() -> None:
    plot = WeekPlot(date(2027, 3, 1), 2, 10.0)
    path = plot.steps([date(2027, 3, 1), date(2027, 3, 8)], [10.0, 0.0])
    assert path == "M58.0 26.0H71.0L71.0 206.0H84.0"


def test_a_plot_of_nothing_does_not_fail() -> None:
    plot = WeekPlot(date(2027, 3, 1), 1, 0.0)
    assert plot.y(0.0) == plot.foot_px


def test_lengths_go_to_feet_and_back() -> None:
    measures = PageMeasures("us")
    assert measures.length_m(measures.length_number(3.048)) == pytest.approx(3.048)
    assert PageMeasures("metric").length_number(1.234) == 1.23


def test_the_newest_plan_is_opened_by_its_drawing(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    answer = sign_in(reader).get(reverse("season:newest-drawing", args=[garden.pk]))
    assert answer["Location"] == reverse("season:drawing", args=[garden.pk, saved_plan.pk])


def test_without_a_plan_the_drawing_leads_to_the_plans(sign_in: SignIn, reader: User, garden: Garden) -> None:
    answer = sign_in(reader).get(reverse("season:newest-drawing", args=[garden.pk]))
    assert answer["Location"] == reverse("season:plans", args=[garden.pk])


def test_the_list_shows_what_stands_in_the_week_of_the_address(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    last = max(plan.plantings, key=lambda each: each.dates.clear_by)
    url = reverse("season:drawing", args=[garden.pk, saved_plan.pk])
    html = sign_in(reader).get(url, {"week": last.dates.clear_by.isoformat()}).content.decode()
    shown = re.findall(r'<tr data-code="([^"]+)"[^>]*?(hidden)?>', html)
    monday = date.fromordinal(last.dates.clear_by.toordinal() - last.dates.clear_by.weekday())
    assert {code for code, hidden in shown if not hidden} == {
        each.code for each in plan.plantings if stands_in(each, monday)
    }


@pytest.mark.parametrize("week", ["", "nonsense", "1900-01-01", "2999-12-31"])
def test_a_week_that_is_none_of_the_season_is_met_with_one_that_is(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, week: str
) -> None:
    url = reverse("season:drawing", args=[garden.pk, saved_plan.pk])
    assert sign_in(reader).get(url, {"week": week}).status_code == 200


def test_only_those_who_may_edit_are_told_so_by_the_drawing(
    sign_in: SignIn, reader: User, leader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    for user, may in ((reader, False), (leader, True)):
        html = page(sign_in(user), "drawing", garden.pk, saved_plan.pk)
        found = re.search(r'<script id="season-data" type="application/json">(.*?)</script>', html)
        assert found is not None
        assert json.loads(found[1])["may_edit"] is may


def test_the_chart_of_beds_has_a_table_that_says_the_same(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    html = page(sign_in(reader), "beds", garden.pk, saved_plan.pk)
    assert html.count('class="bar-link"') == len(plan.plantings)
    table = html[html.index("<table>") :]
    for planting in plan.plantings:
        assert planting.crop.name in table


def test_curves_tell_hours_and_that_water_needs_a_record(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    html = page(sign_in(reader), "curves", garden.pk, saved_plan.pk)
    assert "Hours as a table" in html
    assert re.search(r"Nobody has promised hours yet\.</p>\s*<p>[\d.]+ h are likely in all", html)
    assert "Water is reckoned from a weather record" in html


def test_hours_are_judged_within_the_weeks_for_which_some_are_promised(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    assert plan.care is not None
    weeks = plan.care.hours.weeks
    busy = [k for k, week in enumerate(weeks) if week.needed.likely_h > 0.1]
    enough, short = busy[len(busy) // 3], busy[2 * len(busy) // 3]
    promised = tuple(
        replace(
            week, promised_h=week.needed.likely_h + (1 if k < short else -0.05), short_h=0.05 * (k == short)
        )
        if enough <= k <= short
        else week
        for k, week in enumerate(weeks)
    )
    care = replace(plan.care, hours=replace(plan.care.hours, weeks=promised))
    text = season_json(replace(plan, care=care))
    SavedPlan.objects.filter(pk=saved_plan.pk).update(packed=gzip.compress(text.encode()), digest="promised")
    html = page(sign_in(reader), "curves", garden.pk, saved_plan.pk)
    n_outside = sum(week.short_h > 0 for week in weeks[:enough] + weeks[short + 1 :])
    assert "In 1 of these weeks more are likely to be needed than are promised" in html
    assert f"For {n_outside} weeks with work before or after, nobody has promised hours yet" in html


def test_water_is_drawn_against_the_least_limit_of_each_week_and_says_what_lacks(plan: SeasonPlan) -> None:
    monday = date(2027, 5, 3)
    starts = [monday + timedelta(weeks=k) for k in range(4)]
    weeks = tuple(WaterWeek(start, 50.0, 100.0, 60.0, 120.0, 10.0) for start in starts)
    water = WaterPlan((), weeks, monday, 12.0, (), 0.0, (), (), ())
    assert plan.care is not None
    care = replace(plan.care, water=water)
    limits = (
        WaterLimit("tank", 150.0, starts[0], starts[2] + timedelta(days=2)),
        WaterLimit("permit", 90.0, starts[1], starts[1] + timedelta(days=6)),
        WaterLimit("permit", 110.0, starts[3], starts[3] + timedelta(days=6)),
    )
    found = water_curves(care, limits, PageMeasures("metric"))
    assert found is not None
    assert [mark.most for mark in found.marks] == [150.0, 90.0, None, 110.0]
    assert [round(mark.lacking) for mark in found.marks] == [0, 30, 0, 10]
    assert found.n_lacking == 2
    assert [label.name for label in found.labels] == ["permit", "permit", "tank"]
    # Broken where no limit holds.
    assert found.limit.count("M") == 2
    without = water_curves(care, (), PageMeasures("metric"))
    assert without is not None
    assert (without.limit, without.labels, without.n_lacking) == ("", (), 0)


def test_why_here_gives_every_reason_and_the_citation_of_each_source(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    planting = plan.plantings[0]
    html = unescape(page(sign_in(reader), "why", garden.pk, saved_plan.pk, planting.code))
    for reason in planting.reasons:
        assert reason.text in html
        for key in reason.source_ids:
            assert plan.sources[key].citation in html


def test_a_page_that_asks_for_the_panel_gets_the_panel_alone(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    code = plan.plantings[0].code
    html = page(sign_in(reader), "why", garden.pk, saved_plan.pk, code, **{"HX-Request": "true"})
    assert "<html" not in html
    assert f'data-code="{code}"' in html


def test_a_wish_that_is_met_says_so_and_an_unknown_one_is_no_page(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    client = sign_in(reader)
    assert "in full" in page(client, "short", garden.pk, saved_plan.pk, plan.plantings[0].wish_code)
    assert client.get(reverse("season:short", args=[garden.pk, saved_plan.pk, "kale-9"])).status_code == 404


def test_who_may_change_a_wish_that_fell_short_is_led_to_it_while_it_is_in_the_book(
    sign_in: SignIn, leader: User, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    known, gone = (
        Shortfall(code, code, "eggplant", 4, 0, 2.0, 0.0, "No ground was found.")
        for code in ("eggplant-1", "eggplant-9")
    )
    text = season_json(replace(plan, shortfalls=(known, gone)))
    SavedPlan.objects.filter(pk=saved_plan.pk).update(packed=gzip.compress(text.encode()), digest="short")
    leads = "/book/section/wishes/entry/eggplant-1/"
    tables = page(sign_in(leader), "plan", garden.pk, saved_plan.pk)
    assert reverse("season:short", args=[garden.pk, saved_plan.pk, "eggplant-1"]) in tables
    assert leads in page(sign_in(leader), "short", garden.pk, saved_plan.pk, "eggplant-1")
    assert leads not in page(sign_in(reader), "short", garden.pk, saved_plan.pk, "eggplant-1")
    assert "wishes/entry" not in page(sign_in(leader), "short", garden.pk, saved_plan.pk, "eggplant-9")


def test_every_page_is_there_in_german(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan, plan: SeasonPlan
) -> None:
    client = sign_in(reader)
    for name, args, words in (
        ("drawing", (), "Was in dieser Woche steht"),
        ("beds", (), "Beete nach Wochen"),
        ("curves", (), "Ernte, Stunden, Wasser"),
        ("why", (plan.plantings[0].code,), "Was es sonst gab"),
    ):
        html = page(client, name, garden.pk, saved_plan.pk, *args, **{"Accept-Language": "de"})
        assert words in html
