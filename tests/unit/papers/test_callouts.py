import itertools

from shapely import LineString, Polygon, box

from bedwright.papers.callouts import Callout, place_callouts

BED = [(40.0, 40.0), (88.0, 40.0), (88.0, 52.0), (40.0, 52.0)]
SHEET = (0.0, 0.0, 200.0, 120.0)


def _blocks(n: int) -> list[Callout]:
    width = 48.0 / n
    return [
        Callout(
            f"p{k}",
            (f"{10 + k} BET", f"C{k}"),
            tuple((40 + width * (k + a), y) for a, y in ((0, 40.0), (1, 40.0), (1, 52.0), (0, 52.0))),
        )
        for k in range(n)
    ]


def test_no_label_touches_a_bed_a_label_or_a_leader() -> None:
    placed = place_callouts(_blocks(8), [BED], SHEET)
    assert len(placed) == 8
    for place in placed.values():
        if place.leader is not None:
            assert not place.box.intersects(Polygon(BED))
        assert box(*SHEET).contains(place.box)
    for one, other in itertools.combinations(placed.values(), 2):
        assert not one.box.intersects(other.box)
        if one.leader and other.leader:
            assert not LineString(one.leader).intersects(LineString(other.leader))
            assert not LineString(one.leader).intersects(other.box)


def test_every_leader_ends_inside_what_it_names() -> None:
    for place in place_callouts(_blocks(5), [BED], SHEET).values():
        assert place.leader is not None
        assert Polygon(place.callout.target).buffer(1e-6).contains(LineString(place.leader).boundary.geoms[1])


def test_a_label_without_room_is_left_out_and_not_squeezed_in() -> None:
    tight = (38.0, 38.0, 90.0, 54.0)
    assert place_callouts(_blocks(12), [BED], tight) == {}


def test_the_same_labels_find_the_same_places() -> None:
    assert place_callouts(_blocks(6), [BED], SHEET) == place_callouts(_blocks(6), [BED], SHEET)
