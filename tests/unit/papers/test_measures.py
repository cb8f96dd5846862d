from datetime import date

import pytest

from bedwright.papers.measures import Measures, code_runs, day_words, inch_words, span_words

METRIC, US = Measures("metric"), Measures("us")


@pytest.mark.parametrize(
    ("length_m", "metric", "us"),
    [
        (0.35, "35 cm", "1 ft 1¾ in"),
        (1.35, "1.35 m", "4 ft 5¼ in"),
        (0.0, "0 cm", "0 in"),
        (0.3048, "30 cm", "1 ft"),
        (0.9994, "1.00 m", "3 ft 3¼ in"),
        (-1e-12, "0 cm", "0 in"),
    ],
)
def test_places_are_written_as_a_tape_shows_them(length_m: float, metric: str, us: str) -> None:
    # 0.35 m = 13.78 in, 1.35 m = 53.15 in, 0.9994 m = 39.35 in (an inch is 25.4 mm: NIST SP 811)
    assert METRIC.place(length_m) == metric
    assert US.place(length_m) == us


def test_a_metre_is_never_written_as_a_hundred_centimetres() -> None:
    assert METRIC.place(0.997) == "1.00 m"
    assert METRIC.place(0.994) == "99 cm"


def test_a_depth_is_never_rounded_to_nothing() -> None:
    assert US.depth(0.5) == "under ⅛ in"
    assert US.depth(0.0) == "0 in"
    assert US.depth(12.7) == "½ in"
    assert METRIC.depth(12.7) == "13 mm"


def test_inches_carry_to_the_next_whole_number() -> None:
    assert inch_words(6.99, 4) == "7"
    assert inch_words(6.74, 4) == "6¾"
    assert inch_words(0.49, 4) == "½"


def test_days_are_written_so_that_no_country_reads_them_wrongly() -> None:
    assert day_words(date(2026, 5, 4)) == "4 May 2026"
    assert span_words(date(2026, 5, 4), date(2026, 5, 9)) == "4 to 9 May"
    assert span_words(date(2026, 5, 28), date(2026, 6, 3)) == "28 May to 3 Jun"
    assert span_words(date(2026, 5, 4), date(2026, 5, 4)) == "4 May"


def test_row_codes_are_shortened_only_where_they_follow_each_other() -> None:
    assert code_runs(["C4", "C5", "C6", "C9"]) == "C4 to C6, C9"
    assert code_runs(["C9", "C10", "D11"]) == "C9 to C10, D11"
    assert code_runs(["peg", "post"]) == "peg, post"
    assert code_runs([]) == ""


def test_a_difference_of_temperature_is_not_shifted_but_a_temperature_is() -> None:
    assert US.temperature(0.0) == "32 °F"
    assert METRIC.temperature(-2.0) == "-2 °C"


def test_seed_is_rounded_up_never_down() -> None:
    assert METRIC.seed_mass(3.01) == "3.1 g"
    assert US.seed_mass(3.01) == "0.11 oz"


@pytest.mark.parametrize(
    ("told", "metric", "us"),
    [
        ("13 mm (0.5 in) deep, rows A1 to A5", "13 mm deep, rows A1 to A5", "½ in deep, rows A1 to A5"),
        ("3 mm (0.12 in) deep", "3 mm deep", "⅛ in deep"),
        (
            "bed A, 0.00 to 1.22 m (0.0 to 4.0 ft) from the peg.",
            "bed A, 0.00 to 1.22 m from the peg.",
            "bed A, 0 in to 4 ft from the peg.",
        ),
        ("Draw 10 to 13 cm (4 to 5 in) of soil", "Draw 10 to 13 cm of soil", "Draw 4 to 5 in of soil"),
        ("indoors below 7 °C (45 °F).", "indoors below 7 °C.", "indoors below 45 °F."),
        ("(about 0.1 g, 0.0035 oz), for E1.", "(about 0.1 g), for E1.", "(about 0.0035 oz), for E1."),
        ("40 plants (4 rows of 10).", "40 plants (4 rows of 10).", "40 plants (4 rows of 10)."),
    ],
)
def test_sentences_in_both_systems_are_told_in_one(told: str, metric: str, us: str) -> None:
    assert METRIC.alone(told) == metric
    assert US.alone(told) == us


@pytest.mark.parametrize(
    ("told", "us"),
    [
        ("0.75 to 1.50 m along, 2.00 m across", "2 ft 5½ in to 4 ft 11 in along, 6 ft 6¾ in across"),
        ("39 of 60 plants (14.6 m of row) found no ground", "39 of 60 plants (48 ft of row) found no ground"),
        ("6.096 m of row over 0.0508 m between plants", "20 ft of row over 2 in between plants"),
        ("Bed G: 1.9 m² lie farther than 0.75 m from", "Bed G: 20 ft² lie farther than 2 ft 5½ in from"),
        ("4.44 °C or more; frost (-7 °C in the shelter)", "40 °F or more; frost (19 °F in the shelter)"),
        ("240 mg of lead per kg of soil, over 200 mg/kg", "240 mg of lead per kg of soil, over 200 mg/kg"),
        ("17 mol/m2 a day, 5.3 g/m² and 2 m2", "17 mol/m2 a day, 5.3 g/m² and 2 m2"),
        ("between 10 and 13 cm", "between 4 and 5 in"),
        ("0.15 to 2.90 m along", "6 in to 9 ft 6¼ in along"),
        ("6.2 h a day against 4 h needed", "6.2 h a day against 4 h needed"),
    ],
)  # fmt: skip
def test_metric_sentences_are_told_in_us_units(told: str, us: str) -> None:
    # A foot is 0.3048 m, 0.75 m are 29.53 in, 1.9 m2 20.5 ft2, 4.44 deg C 39.99 deg F (NIST SP 811, B.8).
    assert US.alone(told) == us
    assert METRIC.alone(told) == told
