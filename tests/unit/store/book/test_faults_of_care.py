"""Faults of water, manure, workdays, rates, suppliers and pins, each beside a twin that is accepted."""

from __future__ import annotations

import pytest

from bedwright.model.problem import BadDocumentError
from bedwright.store.book import read_book_text
from tests.builders import TINY_TEXT, tiny_catalogue
from tests.unit.store.book.case import Case, read

TEXTURE = "    texture: loam\n"
SEASON = "season:\n"


def on_bed(line: str) -> str:
    """A line more for bed A."""
    return f"{TEXTURE}    {line}\n"


def feature(kind: str, stated: str) -> str:
    """A thing on the site."""
    return f"  features: [{{code: F, kind: {kind}, at_m: [1, 1], {stated}}}]\n{SEASON}"


def listed(key: str, *entries: str) -> str:
    """A list of records put before the wishes."""
    return f"{key}: [{', '.join('{' + entry + '}' for entry in entries)}]\nwishes:\n"


def soil(stated: str) -> str:
    """A report for bed A."""
    return on_bed(f"soil_test: {{sampled_on: 2026-10-01, laboratory: L, {stated}}}")


def seller(pack: str, about: str = "name: S, currency: GBP", more: str = "") -> str:
    """A supplier with one pack."""
    return listed("suppliers", f"{about}, packs: [{{{pack}}}]", *([more] if more else []))


def lead_rule(stated: str) -> str:
    """A rule on lead put before the wishes."""
    return f"lead_rule: {{authority: T, {stated}, source: s}}\nwishes:\n"


WATER = (
    Case(
        "a tap that gives nothing",
        SEASON,
        feature("tap", "flow_l_min: 0"),
        feature("tap", "flow_l_min: 0.5"),
        "site.features[1].flow_l_min",
        "0.5 to 100 L/min. A tap that gives nothing is no tap",
    ),
    Case(
        "gallons as litres a minute",
        SEASON,
        feature("tap", "flow_us_gal_min: 40"),
        feature("tap", "flow_us_gal_min: 4"),
        "site.features[1].flow_us_gal_min",
        "40 looks like L/min: in US gal/min that is 10.5669",
    ),
    Case(
        "the flow of a butt",
        SEASON,
        feature("water butt", "flow_l_min: 12"),
        feature("tap", "flow_l_min: 12"),
        "site.features[1].flow_l_min",
        "`flow_l_min` of a water butt; expected `flow_l_min` of a tap",
    ),
    Case(
        "a negative roof",
        SEASON,
        feature("water butt", "roof_m2: -7.2"),
        feature("water butt", "roof_m2: 7.2, volume_l: 200"),
        "site.features[1].roof_m2",
        "0.5 to 5000 m2",
    ),
    Case(
        "the volume of a tree",
        SEASON,
        feature("tree", "volume_l: 200"),
        feature("water butt", "volume_us_gal: 55"),
        "site.features[1].volume_l",
        "of a tree",
    ),
    Case(
        "a butt of a litre",
        SEASON,
        feature("water butt", "volume_l: 1"),
        feature("water butt", "volume_l: 10"),
        "site.features[1].volume_l",
        "10 to 100000 L",
    ),
    Case(
        "an empty can",
        "wishes:\n",
        "water: {can_l: 0}\nwishes:\n",
        "water: {can_us_gal: 2}\nwishes:\n",
        "water.can_l",
        "0.5 to 30 L",
    ),
    Case(
        "less than no water",
        "wishes:\n",
        "water_limits: [{name: permit, week_l: -1, start: 2027-05-01, end: 2027-09-30}]\nwishes:\n",
        "water_limits: [{name: permit, week_us_gal: 400, start: 2027-05-01, end: 2027-09-30}]\nwishes:\n",
        "water_limits[1].week_l",
        "0 to 1000000 L",
    ),
    Case(
        "a limit on water that ends before it begins",
        "wishes:\n",
        "water_limits: [{name: permit, week_l: 900, start: 2027-09-30, end: 2027-05-01}]\nwishes:\n",
        "water_limits: [{name: permit, week_l: 900, start: 2027-05-01, end: 2027-09-30}]\nwishes:\n",
        "water_limits[1].end",
        "2027-09-30",
    ),
    Case(
        "a way of watering that is not known",
        TEXTURE,
        on_bed("irrigation: dripp"),
        on_bed("irrigation: drip"),
        "beds[1].irrigation",
        "Is drip meant?",
    ),
    Case(
        "drip where only a can comes",
        TEXTURE,
        on_bed("watering: can\n    irrigation: drip"),
        on_bed("watering: can\n    irrigation: can"),
        "beds[1].irrigation",
        "By `watering: can` nothing else reaches the bed",
    ),
    Case(
        "water where none comes",
        TEXTURE,
        on_bed("watering: none\n    irrigation: can"),
        on_bed("watering: none"),
        "beds[1].irrigation",
        "expected nothing",
    ),
    Case(
        "mulch in words",
        TEXTURE,
        on_bed("mulch: straw"),
        on_bed("mulch: false"),
        "beds[1].mulch",
        "true or false",
    ),
    Case(
        "boards counted",
        TEXTURE,
        on_bed("stepping_boards: 3"),
        on_bed("stepping_boards: true"),
        "beds[1].stepping_boards",
        "true or false",
    ),
    Case(
        "children counted",
        TEXTURE,
        on_bed("children: 12"),
        on_bed("children: true"),
        "beds[1].children",
        "true or false",
    ),
)

SOIL = (
    Case(
        "nutrients in two kinds of unit",
        TEXTURE,
        soil("p_lb_acre: 62, k_ppm: 164"),
        soil("p_lb_acre: 62, k_lb_acre: 328"),
        "beds[1].soil_test.k_ppm",
        "`k_ppm` beside `p_lb_acre`; expected one kind of unit",
    ),
    Case(
        "phosphorus as element and oxide",
        TEXTURE,
        soil("p_ppm: 31, p2o5_ppm: 71"),
        soil("p2o5_ppm: 71"),
        "beds[1].soil_test",
        "at most one of `p_mg_kg` or `p2o5_mg_kg`",
    ),
    Case(
        "phosphorus in two units",
        TEXTURE,
        soil("p_ppm: 31, p_lb_acre: 62"),
        soil("p_kg_ha: 69"),
        "beds[1].soil_test.p_lb_acre",
        "the same in another unit",
    ),
    Case(
        "lead by the acre",
        TEXTURE,
        soil("lead_lb_acre: 80"),
        soil("lead_ppm: 40"),
        "beds[1].soil_test.lead_lb_acre",
        'the key "lead_lb_acre"',
    ),
    Case(
        "lime below nothing",
        TEXTURE,
        soil("lime_lb_1000_ft2: -1"),
        soil("lime_lb_1000_ft2: 0"),
        "beds[1].soil_test.lime_lb_1000_ft2",
        "0 to 1024.08 lb/1000 ft2",
    ),
    Case(
        "manure on an unknown bed",
        "wishes:\n",
        listed("manure", "bed: C, dug_in_on: 2026-11-20, material: horse manure, state: raw"),
        listed("manure", "bed: A, dug_in_on: 2026-11-20, material: horse manure, state: raw"),
        "manure[1].bed",
        "The beds are A, B.",
    ),
    Case(
        "manure of neither kind",
        "wishes:\n",
        listed("manure", "bed: A, dug_in_on: 2026-11-20, material: horse manure, state: old"),
        listed("manure", "bed: A, dug_in_on: 2026-11-20, material: horse manure, state: composted"),
        "manure[1].state",
        "one of raw, composted",
    ),
    Case(
        "manure whose state is not stated",
        "wishes:\n",
        listed("manure", "bed: A, dug_in_on: 2026-11-20, material: horse manure"),
        listed("manure", "bed: A, dug_in_on: 2026-11-20, material: horse manure, state: raw"),
        "manure[1].state",
        "got nothing",
    ),
    Case(
        "manure of ten years ago",
        "wishes:\n",
        listed("manure", "bed: A, dug_in_on: 2017-11-20, material: m, state: raw"),
        listed("manure", "bed: A, dug_in_on: 2025-01-01, material: m, state: raw"),
        "manure[1].dug_in_on",
        "a day from 2025-01-01 to 2028-12-31",
    ),
    Case(
        "a rule on lead without its source",
        "wishes:\n",
        "lead_rule: {authority: Town, issued: 2027-02-01, screening_mg_kg: 80}\nwishes:\n",
        "lead_rule: {authority: Town, issued: 2027-02-01, screening_ppm: 80, source: letter}\nwishes:\n",
        "lead_rule.source",
        "got nothing",
    ),
    Case(
        "levels of lead upside down",
        "wishes:\n",
        lead_rule("issued: 2027-02-01, screening_mg_kg: 80, removal_mg_kg: 60"),
        lead_rule("issued: 2027-02-01, screening_mg_kg: 80, removal_mg_kg: 80"),
        "lead_rule.screening_mg_kg",
        "at most the 60 mg/kg of `removal_mg_kg`",
    ),
    Case(
        "a rule on lead of the far future",
        "wishes:\n",
        lead_rule("issued: 2092-02-01, screening_mg_kg: 80"),
        lead_rule("issued: 1992-02-01, screening_mg_kg: 80"),
        "lead_rule.issued",
        "not after 2028-12-31",
    ),
)

WORK = (
    Case(
        "a workday outside the season",
        "wishes:\n",
        listed("workdays", "date: 2026-12-31, name: dig, start: 10:00, hours: 3"),
        # The first day of the season is past for most who read the book, and stays in it.
        listed("workdays", "date: 2027-01-01, name: dig, start: 10:00, hours: 3"),
        "workdays[1].date",
        "a day from 2027-01-01 to 2028-12-31",
    ),
    Case(
        "a workday at no time",
        "wishes:\n",
        listed("workdays", "date: 2027-04-10, name: dig, start: 25:00, hours: 3"),
        listed("workdays", 'date: 2027-04-10, name: dig, start: "9:30", hours: 3, people: 12'),
        "workdays[1].start",
        "a time of day such as 9:30",
    ),
    Case(
        "a workday past midnight",
        "wishes:\n",
        listed("workdays", "date: 2027-04-10, name: dig, start: 22:00, hours: 2.5"),
        listed("workdays", "date: 2027-04-10, name: dig, start: 21:30, hours: 2.5"),
        "workdays[1].hours",
        "an end before midnight",
    ),
    Case(
        "a workday twice",
        "wishes:\n",
        listed("workdays", *["date: 2027-04-10, name: dig, start: 10:00, hours: 2"] * 2),
        listed(
            "workdays",
            "date: 2027-04-10, name: dig, start: 10:00, hours: 2",
            "date: 2027-04-10, name: evening dig, start: 18:00, hours: 2",
        ),
        "workdays[2].name",
        "each workday once",
    ),
    Case(
        "nobody expected",
        "wishes:\n",
        listed("workdays", "date: 2027-04-10, name: dig, start: 10:00, hours: 2, people: 0"),
        listed("workdays", "date: 2027-04-10, name: dig, start: 10:00, hours: 2, people: 1"),
        "workdays[1].people",
        "1 to 500 people",
    ),
    Case(
        "a job that is not known",
        "wishes:\n",
        listed("labour_rates", "job: weeding, min_per_m2: 1"),
        listed("labour_rates", "job: weed, min_per_m2: 1"),
        "labour_rates[1].job",
        "one of prepare, sow under cover",
    ),
    Case(
        "a job in the unit of another",
        "wishes:\n",
        listed("labour_rates", "job: weed, min_per_plant: 1"),
        listed("labour_rates", "job: set out, min_per_plant: 1"),
        "labour_rates[1].min_per_plant",
        "`min_per_plant` of weed; expected `min_per_m2`",
    ),
    Case(
        "minutes that fall",
        "wishes:\n",
        listed("labour_rates", "job: sow, min_per_row_m: [3, 2, 4]"),
        listed("labour_rates", "job: sow, min_per_row_ft: [0.5, 0.5, 1]"),
        "labour_rates[1].min_per_row_m",
        "[low, likely, high], none less",
    ),
    Case(
        "two figures of a range",
        "wishes:\n",
        listed("labour_rates", "job: sow, min_per_row_m: [2, 4]"),
        listed("labour_rates", "job: sow, min_per_row_m: [2, 3, 4]"),
        "labour_rates[1].min_per_row_m",
        "got a list of 2; expected 3 figures: low, likely, high",
    ),
    Case(
        "a job without minutes",
        "wishes:\n",
        listed("labour_rates", "job: pick"),
        listed("labour_rates", "job: pick, min_per_lb: 2"),
        "labour_rates[1]",
        "exactly one of `min_per_m2`",
    ),
    Case(
        "a job twice",
        "wishes:\n",
        listed("labour_rates", "job: weed, min_per_m2: 1", "job: weed, min_per_m2: 2"),
        listed("labour_rates", "job: weed, min_per_m2: 1", "job: clear, min_per_m2: 2"),
        "labour_rates[2].job",
        "each job once",
    ),
)

SUPPLIES = (
    Case(
        "prices without a currency",
        "wishes:\n",
        seller("crop: pea, pack_g: 100, price: 2.4", "name: S"),
        seller("crop: pea, pack_g: 100, price: 2.4"),
        "suppliers[1].currency",
        "got nothing",
    ),
    Case(
        "a currency in words",
        "wishes:\n",
        seller("crop: pea, pack_g: 100, price: 2.4", "name: S, currency: pounds"),
        seller("crop: pea, pack_g: 100, price: 2.4", "name: S, currency: EUR"),
        "suppliers[1].currency",
        "three capitals such as GBP",
    ),
    Case(
        "an empty pack",
        "wishes:\n",
        seller("crop: pea, pack_seeds: 0, price: 2.4"),
        seller("crop: pea, pack_seeds: 1, price: 0"),
        "suppliers[1].packs[1].pack_seeds",
        "1 to 1000000 seeds",
    ),
    Case(
        "a pack without a price",
        "wishes:\n",
        seller("crop: pea, pack_seeds: 50"),
        seller("crop: pea, pack_seeds: 50, price: 1.99"),
        "suppliers[1].packs[1].price",
        "got nothing",
    ),
    Case(
        "a price below nothing",
        "wishes:\n",
        seller("crop: pea, pack_seeds: 50, price: -1"),
        seller("crop: pea, pack_seeds: 50, price: 1"),
        "suppliers[1].packs[1].price",
        "0 to 100000 in the supplier's currency",
    ),
    Case(
        "a pack of a crop that is not known",
        "wishes:\n",
        seller("crop: carott, pack_g: 5, price: 2"),
        seller("crop: carrot, variety: Amber Finger, pack_oz: 0.25, price: 2"),
        "suppliers[1].packs[1].crop",
        "Is carrot meant?",
    ),
    Case(
        "a pack of nothing",
        "wishes:\n",
        seller("pack_g: 5, price: 2"),
        seller("material: twine, pack_ft: 50, price: 2"),
        "suppliers[1].packs[1]",
        "exactly one of `crop` or `material`",
    ),
    Case(
        "seed by the litre",
        "wishes:\n",
        seller("crop: pea, pack_l: 5, price: 2"),
        seller("material: straw, pack_l: 5, price: 2"),
        "suppliers[1].packs[1].pack_l",
        "`pack_l` of a crop; expected one of `pack_seeds`",
    ),
    Case(
        "string by the seed",
        "wishes:\n",
        seller("material: twine, pack_seeds: 5, price: 2"),
        seller("material: twine, pack_pieces: 5, price: 2"),
        "suppliers[1].packs[1].pack_seeds",
        "`pack_seeds` of a material",
    ),
    Case(
        "the variety of a material",
        "wishes:\n",
        seller("material: twine, variety: green, pack_m: 5, price: 2"),
        seller("material: green twine, pack_m: 5, price: 2"),
        "suppliers[1].packs[1].variety",
        "`variety` of a material",
    ),
    Case(
        "a pack in two sizes",
        "wishes:\n",
        seller("crop: pea, pack_g: 5, pack_seeds: 50, price: 2"),
        seller("crop: pea, pack_g: 5, price: 2"),
        "suppliers[1].packs[1]",
        "exactly one of `pack_seeds`",
    ),
    Case(
        "the same pack at two prices",
        "wishes:\n",
        seller("crop: pea, pack_g: 5, price: 2}, {crop: Pea, pack_g: 5, price: 3"),
        seller("crop: pea, pack_g: 5, price: 2}, {crop: Pea, pack_g: 50, price: 3"),
        "suppliers[1].packs[2]",
        "each pack once",
    ),
    Case(
        "a supplier twice",
        "wishes:\n",
        seller(
            "crop: pea, pack_g: 5, price: 2",
            more="name: s, currency: USD, packs: [{crop: pea, pack_g: 5, price: 1}]",
        ),
        seller(
            "crop: pea, pack_g: 5, price: 2",
            more="name: T, currency: USD, packs: [{crop: pea, pack_g: 5, price: 1}]",
        ),
        "suppliers[2].name",
        "Put all its packs into one list",
    ),
    Case(
        "a supplier of nothing",
        "wishes:\n",
        listed("suppliers", "name: S, currency: GBP, packs: []"),
        seller("crop: pea, pack_g: 5, price: 2", "name: S, currency: GBP, lead_days: 0"),
        "suppliers[1].packs",
        "1 to 1000 packs",
    ),
    Case(
        "room without a size",
        "wishes:\n",
        "propagation: {}\nwishes:\n",
        "propagation: {bench_ft2: 20}\nwishes:\n",
        "propagation",
        "at least one of `bench_m2`",
    ),
    Case(
        "less than no room",
        "wishes:\n",
        "propagation: {lamp_m2: -1}\nwishes:\n",
        "propagation: {lamp_m2: 0, trays: 12}\nwishes:\n",
        "propagation.lamp_m2",
        "0 to 2000 m2",
    ),
)

PINS = (
    Case(
        "a pin of an unknown wish",
        "wishes:\n",
        listed("pins", "planting: tomatoe-1, bed: B"),
        listed("pins", "planting: tomato-1, bed: B"),
        "pins[1].planting",
        "Is tomato-1 meant?",
    ),
    Case(
        "a pin to an unknown bed",
        "wishes:\n",
        listed("pins", "planting: lettuce-1, bed: C"),
        listed("pins", "planting: lettuce-1-b, bed: A"),
        "pins[1].bed",
        "The beds are A, B.",
    ),
    Case(
        "a pin to a bed the wish rules out",
        "wishes:\n",
        listed("pins", "planting: tomato-1, bed: A"),
        listed("pins", "planting: tomato-1, bed: B"),
        "pins[1].bed",
        "A, which the wish rules out",
    ),
    Case(
        "a pin of a sowing that is not wished",
        "wishes:\n",
        listed("pins", "planting: lettuce-1/4, bed: A"),
        listed("pins", "planting: lettuce-1/3, bed: A"),
        "pins[1].planting",
        "sowing 4 of lettuce-1; expected a sowing up to 3",
    ),
    Case(
        "a pin that settles nothing",
        "wishes:\n",
        listed("pins", "planting: lettuce-1"),
        listed("pins", "planting: lettuce-1, plants: 12"),
        "pins[1]",
        "at least one of `bed`",
    ),
    Case(
        "a place in no bed",
        "wishes:\n",
        listed("pins", "planting: lettuce-1, plants: 6, along_m: 1"),
        listed("pins", "planting: lettuce-1, bed: A, along_m: 1"),
        "pins[1].along_m",
        "`along_m` without `bed`",
    ),
    Case(
        "a place beyond the bed",
        "wishes:\n",
        listed("pins", "planting: lettuce-1, bed: B, along_m: 3"),
        listed("pins", "planting: lettuce-1, bed: B, along_ft: 9"),
        "pins[1].along_m",
        "less than its length, 3 m",
    ),
    Case(
        "a pinned day of another year",
        "wishes:\n",
        listed("pins", "planting: lettuce-1, in_ground: 2026-05-20"),
        listed("pins", "planting: lettuce-1, in_ground: 2027-05-20"),
        "pins[1].in_ground",
        "Check the year",
    ),
    Case(
        "more plants than wished",
        "wishes:\n",
        listed("pins", "planting: lettuce-1, plants: 13"),
        listed("pins", "planting: lettuce-1/2, plants: 4"),
        "pins[1].plants",
        "at most the 12 wished",
    ),
    Case(
        "an unknown bed left alone",
        "wishes:\n",
        "leave_alone: [A, C]\nwishes:\n",
        "leave_alone: [A, B]\nwishes:\n",
        "leave_alone[2]",
        "the code of a bed",
    ),
)
CASES = (*WATER, *SOIL, *WORK, *SUPPLIES, *PINS)
MATERIALS = {"potting mix": "potting mix", "seed compost": "potting mix", "straw": "straw"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.fault)
def test_a_fault_is_told_where_it_is_and_its_twin_is_accepted(case: Case) -> None:
    case.check()


def with_material(name: str) -> str:
    return TINY_TEXT.replace("wishes:\n", seller(f"material: {name}, pack_l: 50, price: 9.5"), 1)


def test_a_material_is_known_by_its_synonyms() -> None:
    book = read_book_text(with_material("Seed  Compost"), "book.yaml", tiny_catalogue(), materials=MATERIALS)
    assert book.suppliers[0].packs[0].item == "potting mix"


def test_a_material_that_is_not_reckoned_with_is_refused_with_the_nearest() -> None:
    with pytest.raises(BadDocumentError, match=r"a material that is reckoned with\. Is straw meant"):
        read_book_text(with_material("strawe"), "book.yaml", tiny_catalogue(), materials=MATERIALS)


def test_any_material_will_do_where_none_are_listed() -> None:
    assert read(with_material("Seed  Compost")).suppliers[0].packs[0].item == "Seed  Compost"


def test_a_pin_of_a_faulty_wish_is_not_a_fault_of_its_own() -> None:
    text = TINY_TEXT.replace("wishes:\n", listed("pins", "planting: tomato-1, bed: B"), 1)
    with pytest.raises(BadDocumentError) as caught:
        read(text.replace("way: buy", "way: bye"))
    assert [problem.where for problem in caught.value.problems] == ["wishes[2].way"]


def test_a_pin_by_the_name_the_book_gives_a_crop_is_offered_its_code() -> None:
    text = TINY_TEXT.replace("wishes:\n", listed("pins", "planting: love-apple-1, bed: B"), 1)
    text = text.replace("crop: tomato", "crop: love apples")
    names = {"love apples": "tomato"}
    with pytest.raises(BadDocumentError) as caught:
        read_book_text(text, "book.yaml", tiny_catalogue(), crop_named=lambda name: names.get(name, name))
    assert "Is tomato-1 meant?" in str(caught.value.problems[0])
