import pytest

from bedwright.papers.scale import METRIC_SCALES, US_SCALES, fitting_scale, scale_bar


def test_a_bed_of_480_cm_takes_96_mm_at_1_to_50() -> None:
    scale = next(s for s in METRIC_SCALES if s.ratio == 50)
    assert scale.paper_mm(4.8) == pytest.approx(96.0)


def test_a_quarter_inch_to_the_foot_is_what_it_says() -> None:
    scale = next(s for s in US_SCALES if s.words.startswith("¼ in"))
    assert scale.paper_mm(0.3048) == pytest.approx(25.4 / 4)


def test_the_largest_usual_scale_that_fits_is_taken() -> None:
    assert fitting_scale((4.8, 1.2), (200.0, 100.0), "metric").words == "1:25"
    assert fitting_scale((4.8, 1.2), (191.9, 100.0), "metric").words == "1:50"
    assert fitting_scale((4.8, 1.2), (200.0, 100.0), "us").words == "½ in = 1 ft (1:24)"


def test_ground_too_large_for_any_scale_gets_the_smallest() -> None:
    assert fitting_scale((1e6, 1.0), (200.0, 100.0), "metric") is METRIC_SCALES[-1]


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_scale_has_a_bar_that_fits_its_panel(system: str) -> None:
    scales = US_SCALES if system == "us" else METRIC_SCALES
    for scale in scales:
        step_mm, words = scale_bar(scale, system)  # type: ignore[arg-type]
        assert 24.0 <= 4 * step_mm <= 61.0 or (system == "us" and scale.ratio == 24)
        assert words[0] == "0"
        assert words[-1].endswith(("ft", "m"))
