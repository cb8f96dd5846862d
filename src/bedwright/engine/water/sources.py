"""The publications behind the water stage, by the keys its results carry."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.model.source import Source

FAO56 = "FAO56"
FAO33 = "FAO33"
CROPWAT_KY = "CROPWAT_KY"
OG_HOSE = "OG_HOSE"
PURDUE_INCH = "PURDUE_INCH"
VCE_426_322 = "VCE_426_322"
UCANR_MARIN = "UCANR_MARIN"
AGRILIFE_FLOYD = "AGRILIFE_FLOYD"
OSU_PENHALLEGON = "OSU_PENHALLEGON"
HTT_WATERING = "HTT_WATERING"
MARTIN_ROOF = "MARTIN_ROOF"

SOURCES: Mapping[str, Source] = {
    source.id: source
    for source in (
        Source(
            FAO56,
            "Allen, R.G., Pereira, L.S., Raes, D. & Smith, M. (1998) Crop evapotranspiration. FAO Irrigation"
            " and Drainage Paper 56. FAO, Rome.",
            "Chapters 6 to 10 and Annex 8 read in a full text of the paper kept in a public repository,"
            " without the corrected Examples 35 and 38 of February 2006.",
        ),
        Source(
            FAO33,
            "Doorenbos, J. & Kassam, A.H. (1979) Yield response to water. FAO Irrigation and Drainage"
            " Paper 33. FAO, Rome.",
            "Not seen; its seasonal factors read in FAO-56 Table 24.",
        ),
        Source(
            CROPWAT_KY,
            "Yield response factors by growth stage of FAO's program CropWat 4 and of FAO Irrigation and"
            " Drainage Paper 66, as repeated in the public MATLAB function SWB_CropParameters.",
            "Read in that function only; its repository was not named.",
        ),
        Source(
            OG_HOSE,
            "Organic Gardening, How do you convert inches of water to the flow of your hose?"
            " organicgardening.com/print/16605.",
            "Read; a magazine, gives 0.85 for drip and 0.70 for sprinklers.",
        ),
        Source(
            PURDUE_INCH,
            "Purdue Landscape Report, What is an inch of water? purduelandscapereport.org.",
            "Read as an excerpt.",
        ),
        Source(
            VCE_426_322,
            "Virginia Cooperative Extension, Irrigating the Home Garden, 426-322 (HORT-178P), 2015.",
            "Summary on the author's page read: the first two weeks of growth establish the plant.",
        ),
        Source(
            UCANR_MARIN,
            "UC Marin Master Gardeners, Planting Seeds & Starts,"
            " marinmg.ucanr.edu/CARE/PLANTING/Seedsandstarts.",
            "Read: transplants every third day, more often in heat, until established.",
        ),
        Source(
            AGRILIFE_FLOYD,
            "Floyd, J., Texas AgriLife Extension Service, Gardening: watering the garden, Odessa American.",
            "Read as an excerpt on oaoa.com; undated.",
        ),
        Source(
            OSU_PENHALLEGON,
            "Penhallegon, R., Oregon State University, when to water vegetables, as reported by swgarden.ca.",
            "Second-hand page read.",
        ),
        Source(
            HTT_WATERING,
            "harvesttotable.com, Vegetable watering tips.",
            "Read; a cupful of water for each transplant. Unsigned page.",
        ),
        Source(
            MARTIN_ROOF,
            "Martin (1980), as quoted on silentstorm.co.uk, Permaculture, water: 80 to 85 % of the rain"
            " on a roof is collected, after 2 mm a month for wetting.",
            "Second-hand page read; the original not seen.",
        ),
    )
}
