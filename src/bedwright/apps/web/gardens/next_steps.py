"""What a coordinator would do next in a garden, in order."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden, WeatherFile
from bedwright.apps.web.people.access import Ability, allows
from bedwright.apps.web.people.models import Membership
from bedwright.apps.web.season.models import SavedPlan
from bedwright.model.book import GardenBook


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, and where."""

    text: str
    why: str
    url: str
    needed: bool = False
    """Whether the plan and its papers wait for it; else it makes the plan surer."""


def next_steps(
    garden: Garden, book: GardenBook | None, plan: SavedPlan | None, membership: Membership
) -> list[Step]:
    """What is missing or due; empty for those who cannot change the book."""
    if not allows(membership, Ability.EDIT):
        return []

    def at(name: str, *more: object) -> str:
        return reverse(name, args=[garden.pk, *more])

    if book is None:
        return [Step(_("Mend the book"), _("Its text has problems by today's rules."), at("book:text"), True)]
    steps: list[Step] = []
    if not book.wishes:
        steps.append(
            Step(
                _("Say what you want to grow"),
                _("Search the catalogue and wish for crops, in plants, metres or kilograms."),
                at("book:crops"),
                needed=True,
            )
        )
    if book.weather_file is None:
        steps.append(
            Step(
                _("Add the weather record of your site"),
                _("With some thirty years of daily weather, each date comes with its chance."),
                at("book:weather"),
            )
        )
    elif not WeatherFile.objects.filter(garden=garden, name=book.weather_file).exists():
        steps.append(
            Step(
                _("Upload the weather record"),
                _("The book names %(name)s, which is not here yet.") % {"name": book.weather_file},
                at("book:weather"),
                needed=True,
            )
        )
    if not book.history and book.beds:
        steps.append(
            Step(
                _("Write down what stood where"),
                _("Without it, plant families cannot be moved round."),
                at("book:section", "history"),
            )
        )
    if not book.people:
        steps.append(
            Step(
                _("Say who helps, and for how many hours"),
                _("The plan shows the weeks in which hands are short."),
                at("book:section", "people"),
            )
        )
    return steps + _plan_steps(book, plan, at("season:plans"), at("papers:all"))


def _plan_steps(book: GardenBook, plan: SavedPlan | None, plans: str, papers: str) -> list[Step]:
    if plan is None:
        return (
            [Step(_("Make the season plan"), _("Places, dates and papers, in a minute or two."), plans, True)]
            if book.wishes
            else []
        )
    if plan.behind_book:
        return [Step(_("Make the plan again"), _("The book has changed since the last plan."), plans, True)]
    return [Step(_("Print the papers"), _("Planting plan, bed sheets, labels and cards."), papers, True)]
