"""Shared cartons in the state that a test needs, filled and sent on beside the screens."""

from datetime import date, datetime, timedelta
from types import SimpleNamespace
from uuid import uuid4

from tests.browser.landing import ZONE
from tests.browser.parcels import enrolled, writing

YESTERDAY = (date.today() - timedelta(days=1)).isoformat()
STEPS = ("open", "closed", "departed")
TO_LUSAKA = SimpleNamespace(route="mpulungu-lusaka", buyer="lusaka-wholesaler")


def lot_of(write, person, soon, kg):
    """Hard fish of a member, on offer for that departure; answers with its id."""
    fish = {"species": "IRQ", "mass_kg": kg, "start_temperature_c": -25, "may_be_split": False}
    where = {"route": soon.route, "buyer": soon.buyer, "member": person["id"], "id": str(uuid4())}
    hours = {"frozen_since": f"{YESTERDAY}T00:00+02:00", "ready_at": f"{YESTERDAY}T12:00+02:00"}
    return write("/api/v1/lots/", fish | where | hours)["id"]


def lot_on_offer(page, person):
    """The id of a lot that waits for a carton; offers one where a plan has taken all of them."""
    waiting = enrolled(page, person)("/api/v1/lots/?state=offered&page_size=1")["results"]
    return waiting[0]["id"] if waiting else lot_of(writing(page, person), person, TO_LUSAKA, 20)


def parcel_on(write, departure, soon):
    """One empty carton that is being filled; the parcel as the server tells of it."""
    timetable, day, design = departure["id"].split("-", 2)
    where = {"timetable": int(timetable), "date": f"{day[:4]}-{day[4:6]}-{day[6:]}", "carton_design": design}
    return write("/api/v1/parcels/", where | {"buyer": soon.buyer, "id": str(uuid4())})


def filled(write, departure, soon, lots, state="open"):
    """A carton with these lots that is being filled, closed, or on its way; answers with its path."""
    path = f"/api/v1/parcels/{parcel_on(write, departure, soon)['id']}/"
    for lot in lots:
        write(f"{path}join/", {"lot": lot})
    if STEPS.index(state) > 0:
        write(f"{path}cartons/1/close/", {})
    if STEPS.index(state) > 1:
        write(f"{path}depart/", {"departed_at": datetime.now(ZONE).isoformat()})
    return path


def screen_of(path):
    """The address of the screen on which an answer of the server stands."""
    return path.removeprefix("/api/v1").removesuffix("/")
