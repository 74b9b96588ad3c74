"""Papers: what the driver carries, what is ticked off, and a label for each lot whose code leads to it."""

import re

import pytest

from api.papers import papers_of
from api.papers_shapes import PapersOut
from api.qr import qr_of
from coop.selectors.parcels import parcel_named
from tests.api.packing_scene import clock, day, made
from tests.api.test_openapi import differences
from tests.factories.parcels import (
    DEPARTS_AT,
    ParcelCartonFactory,
    PartFactory,
    closed,
    departed,
    lot_of,
    parcel_of,
)
from tests.factories.species import SpeciesFactory

__all__ = ["clock", "day"]


@pytest.fixture
def parcel(day):
    """20 and 30 kg in carton 1, 40 of another species in carton 3; carton 2 is empty."""
    row = parcel_of(day.shore)
    third = ParcelCartonFactory(parcel=row, position=3)
    ParcelCartonFactory(parcel=row, position=2)
    other = SpeciesFactory(name_en="Tuna", histamine_prone=True)
    for who, carton, mass_kg, more in (
        ("anna", row.cartons.first(), 20.0, {}),
        ("bwalya", row.cartons.first(), 30.0, {}),
        ("anna", third, 40.0, {"species": other}),
    ):
        lot = lot_of(day.shore, member=day.members[who], mass_kg=mass_kg, **more)
        PartFactory(carton=carton, lot=lot)
    return row


def papers(day, parcel):
    found = made(day.packer(f"parcels/{parcel.uuid}/papers/"), 200)
    assert differences(PapersOut(), found) == []
    return found


def closed_without_the_empty_one(parcel, **facts):
    parcel.cartons.get(position=2).delete()
    return closed(parcel, **facts)


def test_labels_are_numbered_through_all_cartons_and_the_list_names_them(day, parcel):
    found = papers(day, parcel)
    labels = [(one["number"], one["position"], one["member"]["name"]) for one in found["labels"]]
    assert labels == [(1, 1, "Anna"), (2, 1, "Bwalya"), (3, 3, "Anna")]
    listed = [
        (carton["position"], part["label"], part["lot"])
        for carton in found["packing_list"]
        for part in carton["parts"]
    ]
    assert listed == [(one["position"], one["number"], one["lot"]) for one in found["labels"]]


def test_the_code_of_a_label_is_the_address_of_its_lot(day, parcel):
    for label in papers(day, parcel)["labels"]:
        assert label["qr"] == qr_of(f"http://testserver/lots/{label['lot']}")
        assert re.fullmatch(r"(M\d+ \d+h\d+v1h-\d+z)+", label["qr"]["path"])


def test_the_waybill_sums_what_travels(day, parcel):
    closed_without_the_empty_one(parcel, gross_mass_kg=75.5, latest_safe_departure_at=DEPARTS_AT)
    departed(parcel, driver="Moses", plate="ABC 123")
    waybill = papers(day, parcel)["waybill"]
    assert [one["position"] for one in waybill["cartons"]] == [1, 3]
    assert (waybill["mass_kg"], waybill["cartons_count"], waybill["gross_mass_kg"]) == (90.0, 2, 151.0)
    assert (waybill["driver"], waybill["plate"]) == ("Moses", "ABC 123")
    assert waybill["latest_safe_departure_at"] == "2026-03-02T16:00:00+02:00"
    assert [one["species"][0]["name"] for one in waybill["cartons"]][1] == "Tuna"


def test_what_was_not_weighed_or_not_judged_is_not_told(day, parcel):
    closed_without_the_empty_one(parcel)
    waybill = papers(day, parcel)["waybill"]
    assert (waybill["gross_mass_kg"], waybill["latest_safe_departure_at"]) == (None, None)


def test_fish_that_can_carry_histamine_is_cautioned_of(day, parcel):
    assert papers(day, parcel)["cautions"][-1] == "histamine"
    plain = parcel_of(day.shore)
    found = papers(day, plain)
    assert "histamine" not in found["cautions"]
    assert (found["labels"], found["packing_list"], found["waybill"]["cartons_count"]) == ([], [], 0)


def test_the_origin_of_a_code_is_that_of_the_server(day, parcel):
    row = parcel_named(parcel.cooperative, parcel.uuid)
    [first, *_] = papers_of(row, "https://fish.example/")["labels"]
    assert first["qr"] == qr_of(f"https://fish.example/lots/{first['lot']}")
