"""Two people at the same moment: each in a thread with a connection of its own, on a database in a file."""

from coop.errors import Conflict, NoRoom
from coop.models import Part
from coop.services.closing import close_carton
from coop.services.parcels import add_carton, join_parcel, open_parcel
from tests.factories.parcels import DEPARTS_AT, PartFactory
from tests.services.at_once import at_once
from tests.services.packing_day import CLOSES_AT, NOW, lot, packing_day


def test_of_two_who_fill_the_last_place_one_gets_it_and_the_other_hears_what_is_next(file_database):
    day = packing_day()
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=70.0))
    people = (day.owner, day.fellow)
    lots = [lot(day, member, mass_kg=30.0) for member in people]
    answers = at_once(
        *(
            lambda by=by, mine=mine: join_parcel(by=by, parcel=day.parcel, lot=mine, now=NOW)
            for by, mine in zip(people, lots, strict=True)
        )
    )
    [refusal] = [answer for answer in answers if isinstance(answer, NoRoom)]
    [parcel] = [answer for answer in answers if answer is not refusal]
    assert parcel.mass_kg == 100.0
    assert refusal.room_kg == 0.5
    assert refusal.offer.departs_at > DEPARTS_AT
    assert sorted(Part.objects.values_list("mass_kg", flat=True)) == [30.0, 70.0]


def test_eight_who_fill_one_carton_never_fill_it_beyond_its_room(file_database):
    day = packing_day()
    lots = [lot(day, mass_kg=30.0) for _ in range(8)]
    answers = at_once(
        *(lambda mine=mine: join_parcel(by=day.owner, parcel=day.parcel, lot=mine, now=NOW) for mine in lots)
    )
    assert sum(isinstance(answer, NoRoom) for answer in answers) == 5
    assert sum(Part.objects.values_list("mass_kg", flat=True)) == 90.0


def test_one_lot_that_is_placed_twice_at_once_is_placed_once(file_database):
    day = packing_day()
    mine = lot(day)
    answers = at_once(
        *(2 * [lambda: join_parcel(by=day.owner, parcel=day.parcel, lot=mine, now=NOW)]),
    )
    assert sum(isinstance(answer, Conflict) for answer in answers) == 1
    assert Part.objects.get().mass_kg == 20.0


def test_a_carton_that_two_close_at_once_is_closed_once(file_database):
    day = packing_day()
    PartFactory(carton=day.parcel.cartons.get(), lot=lot(day, mass_kg=70.0))
    carton = day.parcel.cartons.get()
    answers = at_once(
        *(lambda by=by: close_carton(by=by, carton=carton, now=CLOSES_AT) for by in (day.packer, day.manager))
    )
    assert sum(isinstance(answer, Conflict) for answer in answers) == 1
    carton.refresh_from_db()
    assert carton.closed_by in (day.packer, day.manager)


def test_of_two_who_take_the_last_place_of_a_vehicle_one_gets_it(file_database):
    day = packing_day(carrier={"carton_places": 2})
    opening = {
        "timetable": day.timetable,
        "date": DEPARTS_AT.date(),
        "design": day.design,
        "buyer": day.buyer,
    }
    answers = at_once(
        lambda: open_parcel(by=day.packer, **opening, now=NOW),
        lambda: add_carton(by=day.manager, parcel=day.parcel),
    )
    assert sum(isinstance(answer, Conflict) for answer in answers) == 1
