"""Quotes of the demonstration, made beside the screens, and the addresses of all screens of the office."""

from datetime import UTC, datetime, timedelta
from urllib.parse import urlencode

from axe_playwright_python.sync_playwright import Axe

from tests.browser.parcels import enrolled, writing
from tests.browser.screens import too_wide
from tests.browser.shared_cartons import lot_on_offer

MASS_KG, START_C, SPECIES = 80, -25, "IRQ"
LITTLE_KG = 18


def kept_late(place):
    """Whether files lie in a place that only those have who need them."""
    return f"""caches.has('{place}').then((has) => has && caches.open('{place}')
      .then((pages) => pages.keys())
      .then((files) => files.length > 0))"""


KEPT_LATE, KEPT_OFFICE = kept_late("late pages"), kept_late("office pages")
SUBJECTS = (
    "tariffs",
    "timetables",
    "fish-prices",
    "material-prices",
    "charges",
    "carton-designs",
    "terms",
    "buyer-limits",
)


def can_be_read(page):
    """What only some step brings onto a screen is read aloud and fits, too."""
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []
    assert too_wide(page) == 0


def fish():
    """Hard and cold, frozen the day before yesterday."""
    since = datetime.now(UTC) - timedelta(days=2)
    ready = datetime.now(UTC) - timedelta(hours=1)
    return {
        "species": SPECIES,
        "mass_kg": MASS_KG,
        "frozen_since": since.isoformat(),
        "ready_at": ready.isoformat(),
        "start_temperature_c": START_C,
    }


def about(soon, mass_kg=MASS_KG):
    """What an address of a journey or of a quote says of the fish."""
    return urlencode(
        {"species": SPECIES, "mass_kg": mass_kg, "start_temperature_c": START_C, "buyer": soon.buyer}
    )


def slots_of(asked, soon, last, mass_kg=MASS_KG):
    """What of that carrier is safe until the last day."""
    of = f"route={soon.route}&from={soon.date}&to={last}&page_size=100&{about(soon, mass_kg)}"
    found = asked(f"/api/v1/departures/?{of}")["results"]
    return [one for one in found if one["carrier"]["name"] == soon.carrier and one["safe"]]


def surest_of(asked, soon):
    """That departure with the carton in which little fish stays hard longest, at whatever hour it leaves."""
    return max(slots_of(asked, soon, soon.date, LITTLE_KG), key=lambda one: one["margin_h"])


def departures_of(asked, soon, days=3):
    """Departures of that carrier by their day, each with the carton that is cheapest there."""
    last = (datetime.fromisoformat(soon.date) + timedelta(days=days - 1)).date().isoformat()
    found = slots_of(asked, soon, last)
    found.sort(key=lambda one: one["cost_per_kg_minor"], reverse=True)
    return {one["departs_at"][:10]: one for one in found}


def quoted(write, departure, soon, **more):
    """A quote for that departure, with its link."""
    wanted = {"departure": departure["id"], "buyer": soon.buyer, "becomes": "lot", "fish": fish()}
    profit = {"profit_kind": "mark_up", "profit_share": 0.25}
    return write("/api/v1/quotes/", wanted | profit | more)


def quotes_in_each_state(page, person, soon):
    """Ids of quotes that wait, were accepted, were declined and were taken back."""
    asked, write = enrolled(page, person), writing(page, person)
    departure = list(departures_of(asked, soon).values())[-1]
    made = [quoted(write, departure, soon) for _ in range(4)]
    _, accepted, declined, revoked = made
    kg = accepted["quote"]["most_kg"]
    page.request.post(f"{accepted['address']}accept/", form={"kg": str(kg), "name": "Mrs Phiri"})
    page.request.post(f"{declined['address']}decline/", form={"note": "Too dear for us."})
    page.request.post(f"{made[0]['address']}ask/", form={"text": "Are they gutted?"})
    write(f"/api/v1/quotes/{revoked['quote']['id']}/revoke/", {})
    states = {one["id"]: one["state"] for one in asked("/api/v1/quotes/?page_size=100")["results"]}
    ids = [one["quote"]["id"] for one in made]
    assert [states[one] for one in ids] == ["issued", "accepted", "declined", "revoked"]
    return departure, ids


def office_addresses(page, person, soon):
    """Every screen of the office, with rows of the demonstration in each state."""
    departure, quotes = quotes_in_each_state(page, person, soon)
    rows = {one["rules"][0]["kind"]: one["id"] for one in first_page(page, person, "tariffs")}
    lot = lot_on_offer(page, person)
    yield from ("/quotes", f"/quotes/new?departure={departure['id']}&{about(soon)}", f"/quotes/new?lot={lot}")
    yield from (f"/quotes/{identity}" for identity in quotes)
    yield from ("/fares", *(f"/fares?subject={one}" for one in SUBJECTS))
    yield from (f"/fares/change?subject=tariffs&id={rows[kind]}" for kind in ("per_carton", "by_step"))
    for subject in ("timetables", "terms", "buyer-limits", "fish-prices"):
        yield f"/fares/change?subject={subject}&id={first_page(page, person, subject)[0]['id']}"
    design = first_page(page, person, "carton-designs")[0]["slug"]
    yield from (f"/fares/change?subject=carton-designs&id={design}", "/fares/change?subject=charges")
    yield from ("/fares/history", "/imports", "/who")


def first_page(page, person, subject):
    return enrolled(page, person)(f"/api/v1/{subject}/?page_size=100")["results"]
