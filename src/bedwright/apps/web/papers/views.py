"""Papers of a plan to open and print."""

from __future__ import annotations

import io
import zipfile

from django.db.models import QuerySet
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.field.pegs import link_base
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.papers.made import FILES, SIZES, SYSTEMS, TYPES, all_papers, bed_sheet, paper_file
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.apps.web.season.reading import newest, plan_of
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.papers import PaperName
from bedwright.papers.write import papers_of

_WORDS: dict[str, tuple[Promise, Promise | str]] = {
    "planting-plan.pdf": (_("Planting plan"), _("Site and beds drawn to scale, with the plant schedule.")),
    "bed-sheets.pdf": (_("Bed sheets"), _("One sheet a bed: where each row lies, measured from the peg.")),
    "labels.pdf": (_("Peg labels"), _("A label for each planting, to cut or on label sheets.")),
    "cards.pdf": (_("Planting cards"), _("How each crop is sown or set out, and what of it is eaten.")),
    "week-list.pdf": (_("Week list"), _("Every job, week by week.")),
    "order-list.pdf": (_("Order list"), _("Seed and young plants to buy, after what the drawer holds.")),
    "preparation.pdf": (_("Preparation"), _("What each bed gets before its first planting.")),
    "water.pdf": (
        _("Water sheet"),
        _("Litres and minutes a week for each bed, and what a tank would cover."),
    ),
    "feeding.pdf": (_("Feeding sheet"), _("Needs of the soil, materials, side dressing and mulch.")),
    "hours.pdf": (_("Hours of work"), _("Hours needed week by week, beside those promised.")),
    "picking.pdf": (_("Picking"), _("What each crop is likely to give, week by week.")),
    "safety.pdf": (_("Safety sheet"), _("Cautions with rule, source and date.")),
    "changes.pdf": (_("What changed"), _("What is different from the plan before, drawn and listed.")),
    "climate.pdf": (_("Climate"), _("Frost, warmth and rain of the site, from its own record.")),
    "sources.pdf": (_("Sources"), _("Where every number comes from.")),
    "plantings.csv": (_("Plantings"), ""),
    "rows.csv": (_("Rows"), ""),
    "plants.csv": (_("Plants"), ""),
    "tasks.csv": (_("Jobs"), ""),
    "orders.csv": (_("Orders"), ""),
    "shortfalls.csv": (_("Shortfalls"), ""),
    "hours.csv": (_("Hours of work"), ""),
    "water.csv": (_("Water"), ""),
    "supplies.csv": (_("Supplies"), ""),
}


def _listed(ending: str) -> list[tuple[str, str, str]]:
    """Files with what they are called; one that has no words yet goes by its name."""
    found: list[tuple[str, str, str]] = []
    for file in FILES:
        if file.endswith(ending):
            plain = file.removesuffix(ending).replace("-", " ").capitalize()
            name, what = _WORDS.get(file, (plain, ""))
            found.append((file, str(name), str(what)))
    return found


@garden_page(Ability.READ)
def papers(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The papers of the newest plan, or of one that is chosen."""
    return papers_page(request, garden)


def papers_page(request: GardenRequest, garden: Garden, *, link: str = "", status: int = 200) -> HttpResponse:
    """The page; `link` is a calendar link just made, shown this once."""
    number = request.GET.get("plan", "")
    saved = get_object_or_404(_done(garden), pk=int(number)) if number.isdecimal() else newest(garden)
    context: dict[str, object] = {
        "saved": saved,
        "link": link,
        "links": garden.calendar_links.select_related("made_by"),
    }
    if saved is not None:
        plan = plan_of(saved)
        paper, units = _choice(request, plan.book.site.paper, plan.book.site.units)
        context |= {
            "sheets": [sheet for sheet in _listed(".pdf") if _is_there(plan, FILES[sheet[0]])],
            "tables": _listed(".csv"),
            "planted": _planted(plan),
            "pegs_linked": link_base(garden, request) is not None,
            "paper": paper,
            "units": units,
            "plans": _done(garden)[:20],
            "query": f"paper={paper}&units={units}",
        }
    return render(request, "papers/papers.html", context, status=status)


def _is_there(plan: SeasonPlan, name: PaperName) -> bool:
    """Whether a plan has such a paper."""
    return name in papers_of(plan) and (name != "climate" or plan.climate is not None)


def _done(garden: Garden) -> QuerySet[SavedPlan]:
    return garden.plans.filter(state=PlanState.DONE).defer("packed")


def _choice(request: GardenRequest, paper: PaperSize, units: UnitSystem) -> tuple[PaperSize, UnitSystem]:
    """Paper size and units asked for, else those given."""
    asked_paper = next((size for size in SIZES if size == request.GET.get("paper")), paper)
    asked_units = next((system for system in SYSTEMS if system == request.GET.get("units")), units)
    return asked_paper, asked_units


@garden_page(Ability.READ)
def paper(request: GardenRequest, garden: Garden, plan_id: int, file: str) -> HttpResponse:
    """One paper, to look at in the browser or to keep."""
    saved = get_object_or_404(_done(garden), pk=plan_id)
    if file not in FILES:
        raise Http404
    plan = plan_of(saved)
    choice = _choice(request, plan.book.site.paper, plan.book.site.units)
    if file == "bed-sheets.pdf" and "bed" in request.GET:
        return _bed_sheet(request.GET["bed"], saved, choice)
    path = paper_file(saved, file, *choice, link_base(garden, request))
    if path is None:
        raise Http404
    # Papers are small: read whole, nothing stays open should the reader go away.
    return _answer(path.read_bytes(), file)


def _bed_sheet(code: str, saved: SavedPlan, choice: tuple[PaperSize, UnitSystem]) -> HttpResponse:
    """The sheet of one bed."""
    if code not in _planted(plan_of(saved)):
        raise Http404
    return _answer(bed_sheet(saved, code, *choice), f"bed-sheet-{code}.pdf")


def _planted(plan: SeasonPlan) -> list[str]:
    """Codes of beds that have a sheet."""
    return [bed.code for bed in plan.book.beds if plan.in_bed(bed.code)]


def _answer(content: bytes, file: str) -> HttpResponse:
    ending = f".{file.rpartition('.')[2]}"
    shown = "inline" if ending == ".pdf" else "attachment"
    headers = {"Content-Disposition": f'{shown}; filename="{file}"'}
    return HttpResponse(content, content_type=TYPES[ending], headers=headers)


@garden_page(Ability.READ)
def everything(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """All papers and tables in one file."""
    saved: SavedPlan = get_object_or_404(_done(garden), pk=plan_id)
    site = plan_of(saved).book.site
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in all_papers(saved, *_choice(request, site.paper, site.units), link_base(garden, request)):
            packed.write(path, path.name)
        packed.writestr("season.json", saved.json)
    return HttpResponse(
        out.getvalue(),
        content_type="application/zip",
        headers={"Content-Disposition": f'attachment; filename="season-{saved.digest}.zip"'},
    )
