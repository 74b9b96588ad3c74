"""Paper that travels with a parcel: the waybill for the driver, the packing list, a label for each lot."""

from zoneinfo import ZoneInfo

from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import person_of
from api.departure_in_full import CAUTIONS
from api.departures_item import vehicle_of
from api.lots import fish_of, name_of, slug_of
from api.papers_shapes import PapersOut
from api.parcels_item import parts_of
from api.qr import qr_of
from api.question import nothing_asked
from api.roles import PACKERS
from api.rounding import minute_down, written
from api.stored import one_of
from coop.selectors.parcel_judgement import judged_cartons
from coop.selectors.parcels import parcels_of


class Papers(APIView):
    """What is printed for a parcel; the code on a label leads to its lot."""

    may = {"GET": PACKERS}
    output = PapersOut

    def get(self, request, uuid):
        nothing_asked(request)
        parcel = one_of(parcels_of(person_of(request).cooperative), uuid=uuid)
        return Response(papers_of(parcel, request.build_absolute_uri("/")))


def papers_of(parcel, origin):
    """PapersOut of a parcel of parcels_of; labels are numbered through all its cartons."""
    zone = ZoneInfo(parcel.cooperative.time_zone)
    filled = [carton for carton in parcel.cartons.all() if carton.parts.all()]
    labelled = list(enumerate(((carton, part) for carton in filled for part in carton.parts.all()), start=1))
    species = {part.lot.species_id: part.lot.species for part in parts_of(parcel)}.values()
    histamine = any(one.histamine_prone for one in species)
    return {
        "waybill": waybill_of(parcel, filled, zone),
        "packing_list": [
            {
                "position": carton.position,
                "parts": [
                    listed(number, part, zone) for number, (within, part) in labelled if within is carton
                ],
            }
            for carton in filled
        ],
        "labels": [label_of(number, carton, part, zone, origin) for number, (carton, part) in labelled],
        "cautions": [*CAUTIONS, *(["histamine"] if histamine else [])],
    }


def waybill_of(parcel, filled, zone):
    weighed = [carton.gross_mass_kg for carton in filled]
    return {
        "parcel": str(parcel.uuid),
        "state": parcel.state,
        "cooperative": parcel.cooperative.name,
        "route": slug_of(parcel.route),
        "carrier": vehicle_of(parcel.timetable.carrier),
        "departs_at": written(parcel.departs_at, zone),
        "latest_safe_departure_at": latest_of(parcel, filled, zone),
        "driver": parcel.driver,
        "plate": parcel.plate,
        "buyer": {**slug_of(parcel.buyer), "place": parcel.buyer.place.name},
        "cartons": [waybill_carton(carton) for carton in filled],
        "cartons_count": len(filled),
        "gross_mass_kg": None if None in weighed else round(sum(weighed), 3),
        "mass_kg": parcel.mass_kg,
    }


def latest_of(parcel, filled, zone):
    """The last hour at which every carton leaves safely, or null where one of them has none."""
    judged = judged_cartons([parcel])
    latest = [judged.get(carton.pk, carton).latest_safe_departure_at for carton in filled]
    return None if None in latest or not latest else written(minute_down(min(latest)), zone)


def waybill_carton(carton):
    species = {part.lot.species_id: part.lot.species for part in carton.parts.all()}
    return {
        "position": carton.position,
        "gross_mass_kg": carton.gross_mass_kg,
        "mass_kg": carton.mass_kg,
        "species": [fish_of(one) for one in species.values()],
    }


def listed(number, part, zone):
    lot = part.lot
    return {
        "label": number,
        "lot": str(lot.uuid),
        "member": name_of(lot.member),
        "species": fish_of(lot.species),
        "mass_kg": part.mass_kg,
        "frozen_since": written(lot.frozen_since, zone),
    }


def label_of(number, carton, part, zone, origin):
    line = listed(number, part, zone)
    parcel = carton.parcel
    return {
        "number": line.pop("label"),
        **line,
        "position": carton.position,
        "departs_at": written(parcel.departs_at, zone),
        "buyer": slug_of(parcel.buyer),
        "qr": qr_of(f"{origin}lots/{part.lot.uuid}"),
    }
