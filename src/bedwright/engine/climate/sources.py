"""The publications behind the climate stage, by the keys its results carry."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.model.source import Source

CLIMATE_SOURCES: Mapping[str, Source] = {
    source.id: source
    for source in (
        Source(
            "FAO56",
            "Allen, R.G., Pereira, L.S., Raes, D. & Smith, M. (1998) Crop evapotranspiration. FAO Irrigation"
            " and Drainage Paper 56. FAO, Rome.",
            "Equations and worked examples as quoted by public test suites; the paper itself not seen.",
        ),
        Source(
            "ASCE_EWRI_05",
            "ASCE-EWRI (2005) The ASCE standardized reference evapotranspiration equation. ASCE, Reston.",
            "The worked day at Fallon and the limits of the cloudiness share, in the public package RefET.",
        ),
        Source(
            "MW97",
            "McMaster, G.S. & Wilhelm, W.W. (1997) Growing degree-days: one equation, two interpretations."
            " Agricultural and Forest Meteorology 87:291-300.",
            "Abstract read.",
        ),
        Source(
            "MET_EIREANN",
            "Met Éireann, degree days: the four cases of the daily formula.",
            "Rule read on the service's page.",
        ),
        Source(
            "NOAA_NORMALS",
            "NOAA National Centers for Environmental Information, U.S. Climate Normals 1991-2020: methodology"
            " of the supplemental (agricultural) normals.",
            "Method of the freeze probabilities and of the truncated degree days read.",
        ),
        Source(
            "KATTERER_ANDREN_09",
            "Kätterer, T. & Andrén, O. (2009) Predicting daily soil temperature profiles in arable soils in"
            " cold temperate regions from air temperature and leaf area index. Acta Agriculturae"
            " Scandinavica B 59:77-86.",
            "Equations as documented in the public R package reclim; the paper itself not seen.",
        ),
        Source(
            "HILLEL82",
            "Hillel, D. (1982) Introduction to soil physics. Academic Press, New York.",
            "The yearly wave as given by Oklahoma State University, soil physics toolkit.",
        ),
        Source(
            "RAIN_OR_SHINE",
            "Ochsner, T.E., Rain or Shine: an introduction to soil physical properties and processes."
            " Oklahoma State University Libraries, section 13.4.",
            "Damping depth and its worked example read; author's name from memory.",
        ),
        Source(
            "KNMI_260",
            "Royal Netherlands Meteorological Institute (KNMI), daily observations, station 260 De Bilt.",
            "Daily values 1980-2019 used.",
        ),
    )
}
