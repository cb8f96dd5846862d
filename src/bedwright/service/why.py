"""Why a planting stands where and when it does, or why a wish fell short."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.model.season import DateChoice, Planting, SeasonPlan, Shortfall
from bedwright.papers import Measures

LEAST_SHADE_H = 0.05
"""Hours a day below which shade of other crops is not worth a word."""


def why(plan: SeasonPlan, code: str) -> str | None:
    """Reasons in plain words with their sources, or None if the plan knows no such code.

    Parameters
    ----------
    plan
        A season plan.
    code
        A row code (`C4`), a planting code, a wish code, a bed code or a crop; case does not matter.
    """
    wanted = code.strip().casefold()
    plantings = [planting for planting in plan.plantings if wanted in _names(planting)]
    shortfalls = [
        short
        for short in plan.shortfalls
        if wanted in (short.wish_code.casefold(), short.planting_code.casefold(), short.crop.casefold())
    ]
    if not plantings and not shortfalls:
        return None
    parts = [_planting_text(plan, planting) for planting in plantings]
    measures = Measures(plan.book.site.units)
    parts += [measures.alone(_shortfall_text(short)) for short in shortfalls]
    return "\n\n".join(parts) + "\n"


def known_codes(plan: SeasonPlan) -> tuple[str, ...]:
    """Codes of plantings with their crops, and of wishes that fell short, for a hint; bed by bed."""
    codes = [f"{planting.label_code} {planting.crop.name}" for planting in plan.plantings]
    return (*codes, *dict.fromkeys(short.planting_code for short in plan.shortfalls))


def _names(planting: Planting) -> set[str]:
    codes = {planting.code, planting.wish_code, planting.bed_code, *(row.code for row in planting.rows)}
    return {name.casefold() for name in (*codes, planting.crop.name)}


def _planting_text(plan: SeasonPlan, planting: Planting) -> str:
    lines = [_heading(plan, planting), "", "Why here"]
    lines += [f"  - {reason.text}{_keys(reason.source_ids)}" for reason in planting.reasons]
    lines += [f"  - {text}" for text in _light_lines(plan, planting)]
    lines += ["", "Why then"]
    lines += [f"  - {text}" for text in _date_lines(planting.dates)]
    lines += ["", "What else there was"]
    lines += [f"  - {text}" for text in _other_lines(planting)]
    lines += ["", "Where the numbers come from"]
    for origin in planting.origins:
        value = "" if origin.value is None else f" = {_plain(origin.value)}"
        lines.append(
            f"  - {origin.quantity}{value}: {origin.rule} ({origin.standing}){_keys(origin.source_ids)}"
        )
    measures = Measures(plan.book.site.units)
    lines = [measures.alone(line) for line in lines]
    named = {key for reason in planting.reasons for key in reason.source_ids}
    named |= {key for origin in planting.origins for key in origin.source_ids}
    if named:
        lines += ["", "Sources"]
        lines += [f"  [{key}] {plan.sources[key].citation}" for key in sorted(named)]
    return "\n".join(lines)


def _light_lines(plan: SeasonPlan, planting: Planting) -> Iterator[str]:
    """Sun and light over its own weeks."""
    light = next((each for each in plan.planting_light if each.planting_code == planting.code), None)
    if light is None:
        return
    text = f"Over its own weeks it gets {light.sun_h:.1f} h of direct sun a day under a clear sky"
    if light.crop_shade_h >= LEAST_SHADE_H:
        text += f", {light.crop_shade_h:.1f} h of which taller crops about it take"
    yield f"{text}."
    if light.average_mol_m2 is None:
        yield f"Daily light there: {light.clear_mol_m2:.0f} mol/m2 a day under a clear sky."
    else:
        yield (
            f"Daily light there: {light.average_mol_m2:.0f} mol/m2 a day under the sky of the record, "
            f"{light.clear_mol_m2:.0f} under a clear one."
        )


def _other_lines(planting: Planting) -> Iterator[str]:
    """The best other bed and date, or that there was none."""
    found = {one.kind: one for one in planting.alternatives}
    beds, dates = found.get("another bed"), found.get("another date")
    if beds is not None:
        yield f"Best in another bed. {beds.text}"
    else:
        yield "No other bed has free ground for all of it on any date that would do."
    if dates is not None:
        yield f"Best on another date. {dates.text}"
    elif beds is None or beds.in_ground == planting.dates.in_ground:
        yield "On no other date is there free ground for all of it."


def _heading(plan: SeasonPlan, planting: Planting) -> str:
    bed = plan.book.bed(planting.bed_code)
    name = f"{planting.crop.name} {planting.variety}".strip()
    return (
        f"{planting.label_code}  {name}: {planting.n_plants} plants in bed {bed.code} ({bed.name}), "
        f"{planting.along_m[0]:.2f} to {planting.along_m[1]:.2f} m along, "
        f"{planting.across_m[0]:.2f} to {planting.across_m[1]:.2f} m across from the peg"
    )


def _date_lines(dates: DateChoice) -> Iterator[str]:
    if dates.sow_under_cover is not None:
        yield f"sow under cover {dates.sow_under_cover:%-d %B %Y}"
    yield f"into the ground {dates.in_ground:%-d %B %Y}"
    yield (
        f"first pick about {dates.first_pick:%-d %B %Y} "
        f"(between {dates.first_pick_early:%-d %B} and {dates.first_pick_late:%-d %B} in six years of ten), "
        f"last pick {dates.last_pick:%-d %B %Y}"
    )
    if dates.chance is None:
        yield "chance not known: there is no weather record"
    else:
        yield f"would have worked in {dates.chance:.0%} of {dates.n_years} recorded years"
    if dates.ground_frost_share is not None:
        text = (
            f"on clear nights low plants are colder than the shelter: in {dates.ground_frost_share:.0%} "
            "of the years they could still freeze after this"
        )
        if dates.cover_until is not None:
            text += f"; have covers ready until {dates.cover_until:%-d %B}"
        yield text
    for cause, share in dates.failures:
        yield f"lost to {cause} in {share:.0%} of the years"


def _shortfall_text(short: Shortfall) -> str:
    text = (
        f"{short.planting_code}  {short.crop}: {short.placed_plants} of {short.wanted_plants} plants placed. "
        f"{short.missing_row_m:.1f} m of row have no place for {short.missing_weeks:.0f} weeks. {short.why}"
    )
    if short.would_help:
        text += "\n\nWhat would help\n" + "\n".join(f"  - {line}" for line in short.would_help)
    return text


def _keys(source_ids: tuple[str, ...]) -> str:
    return f" [{', '.join(source_ids)}]" if source_ids else ""


def _plain(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:g}"
