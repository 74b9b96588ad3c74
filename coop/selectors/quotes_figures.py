"""Every figure of a quote as it is issued: what is promised, at what price a kilogram, until when."""

from datetime import datetime, time, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from coop.engines.carton_choice import fewest_cartons
from coop.engines.money import exact
from coop.errors import Conflict, Problem
from coop.models import Parcel, Quote
from coop.selectors.buyer_limits import limit_on
from coop.selectors.cost import Prices, tariff_counting
from coop.selectors.parcel_judgement import Fill
from coop.selectors.parcels import capacity_kg, places_left
from coop.selectors.prices_known import prices_known_at
from coop.selectors.quotes_chances import Safety, safety_of
from coop.selectors.quotes_ladder import Reckoning, Weight, ladder_figures, step_kg, weights_of

ASKED, ENDS, CLOSES = "asked", "ends", "closes"
"""Why a quote ends when it does: somebody said so, something that it rests on ends, or the carton closes."""


def parcel_for(quote: Quote, closes_at) -> Parcel:
    """A parcel that nobody has opened, as a quote's cartons would travel in it."""
    return Parcel(
        cooperative=quote.cooperative,
        route=quote.route,
        buyer=quote.buyer,
        timetable=quote.timetable,
        design=quote.design,
        departs_at=quote.departs_at,
        closes_at=closes_at,
    )


def fish_of(supply, deliver_by, mass_kg=0.0) -> Fill:
    """What lies in each carton of a supply."""
    return Fill(mass_kg, (supply.species,), supply.start_temperature_c, deliver_by)


def day_of(quote):
    """The day on which it leaves, where the cooperative is."""
    return quote.departs_at.astimezone(ZoneInfo(quote.cooperative.time_zone)).date()


def reckoning_of(quote: Quote, coin_minor, design=None) -> Reckoning:
    """How the weights of a quote are reckoned, in cartons of its design or of another version of it."""
    carrier = quote.timetable.carrier
    return Reckoning(
        carrier, design or quote.design, day_of(quote), quote.profit_kind, quote.profit_share, coin_minor
    )


def figures_of(quote: Quote, prices: Prices, *, closes_at, deliver_by=None, asked_until=None) -> dict:
    """Figures of a quote that is not issued yet; NotSafe where no carton of it would surely arrive hard.

    Plain numbers and words only, instants as ISO 8601: they stay as they are, whatever becomes of the rows.
    """
    supply, cooperative = quote.supply, quote.cooperative
    fits = capacity_kg(quote.design)
    safety = safety_of(parcel_for(quote, closes_at), fish_of(supply, deliver_by), min(fits, supply.mass_kg))
    reckoning = reckoning_of(quote, cooperative.coin_minor)
    step = step_kg(supply.mass_kg)
    weights = weights_for(quote, safety, step)
    rests_on = rows_behind(quote, prices, reckoning.day)
    until, because = valid_until_of(rests_on, closes_at, asked_until, ZoneInfo(cooperative.time_zone))
    return {
        **names_of(quote),
        **promise_of(safety, weights),
        "closes_at": closes_at.isoformat(),
        "deliver_by": deliver_by and deliver_by.isoformat(),
        "coin_minor": cooperative.coin_minor,
        "step_kg": float(step),
        "rests_on": rests_on,
        "valid_until": until.isoformat(),
        "valid_until_because": because,
        **ladder_figures(prices, reckoning, weights, step=step),
    }


def worked_out_again(quote: Quote) -> dict:
    """{lines, rungs, ladder} of a quote from what was known when it was issued, whatever has changed since.

    They equal those that it keeps, to the coin.
    """
    known = prices_known_at(
        quote.issued_at, quote.cooperative, quote.route, quote.buyer, quote.supply.species, quote.design
    )
    figures = quote.figures
    reckoning = reckoning_of(quote, figures["coin_minor"], known.design)
    step = exact("step_kg", figures["step_kg"])
    return ladder_figures(known.prices, reckoning, weights_of(figures), step=step)


def weights_for(quote, safety: Safety, step: Fraction):
    """Every Weight that a buyer may choose: in the fewest cartons, evenly filled, each of them safe."""
    places, fits = places_left(quote.timetable, quote.departs_at), capacity_kg(quote.design)
    found = []
    for number in range(1, int(Fraction(str(quote.supply.mass_kg)) / step) + 1):
        kg = float(number * step)
        cartons = int(fewest_cartons(kg, capacity=fits))
        if cartons <= places and safety.holds(kg / cartons):
            chance, softened = safety.around(kg / cartons)
            found.append(Weight(kg, cartons, round_down(chance), round_up(softened)))
    if not found:
        raise nothing_to_quote(quote.supply, safety, places)
    return found


def nothing_to_quote(supply, safety, places):
    if places < 1:
        wrong = Problem("departure", None, "has no place for a carton left", "another departure")
        return Conflict("This vehicle has no place for a carton left.", wrong)
    right = f"{safety.least_kg:g} to {safety.most_kg:g} kg in each carton"
    wrong = Problem("mass_kg", supply.mass_kg, "fills no carton so that it surely arrives hard", right)
    return Conflict(f"{supply.mass_kg:g} kg do not fill a carton so that it surely arrives hard.", wrong)


def round_down(chance):
    """Chances are never hoped too high, and softening never too little: to the careful side."""
    return float(int(chance * 1000) / 1000)


def round_up(share):
    return float(-int(-share * 10_000 // 1) / 10_000)


def names_of(quote):
    """Who sells what to whom, and how it travels."""
    supply, cooperative, route = quote.supply, quote.cooperative, quote.route
    carrier, design, species = quote.timetable.carrier, quote.design, supply.species
    return {
        "cooperative": {"slug": cooperative.slug, "name": cooperative.name},
        "currency": cooperative.currency,
        "currency_decimals": cooperative.currency_decimals,
        "time_zone": cooperative.time_zone,
        "member": {"id": supply.member_id, "name": supply.member.name},
        "buyer": {"slug": quote.buyer.slug, "name": quote.buyer.name},
        "route": {"slug": route.slug, "name": route.name},
        "origin": route.origin.name,
        "destination": route.destination.name,
        "carrier": {"id": carrier.pk, "name": carrier.name, "vehicle": carrier.vehicle},
        "departs_at": quote.departs_at.isoformat(),
        "leaves_when_full": quote.timetable.leaves_when_full,
        "carton_design": {"slug": design.slug, "name": design.name, "returnable": design.returnable},
        "species": {
            "code": species.code,
            "name_en": species.name_en,
            "name_fr": species.name_fr,
            "histamine_prone": species.histamine_prone,
        },
        "supply_kg": supply.mass_kg,
        "start_temperature_c": supply.start_temperature_c,
    }


def promise_of(safety: Safety, weights):
    """When it comes and how sure it is hard then: for whichever weight the least sure."""
    departure = safety.fullest.departure
    standard = departure.slot.standard
    first, _, last = (departure.after_closing(seconds) for seconds in departure.judgement.window)
    return {
        "limit_kind": standard.limit_kind,
        "limit_value": standard.limit_value,
        "confidence": standard.confidence,
        "chance_hard": min(weight.chance_hard for weight in weights),
        "softened_share": max(weight.softened_share for weight in weights),
        "latest_safe_departure_at": safety.latest_safe_departure_at.isoformat(),
        "arrives_from": minute_before(first).isoformat(),
        "arrives_until": minute_after(last).isoformat(),
        "rests_on_trips": departure.trips,
        "rests_on_weather": departure.weather,
        "insulation_measured": departure.design.measured_on is not None,
    }


def minute_before(instant):
    """The whole minute that is not later."""
    return instant.replace(second=0, microsecond=0)


def minute_after(instant):
    """The whole minute that is not earlier."""
    before = minute_before(instant)
    return before if before == instant else before + timedelta(minutes=1)


def rows_behind(quote, prices: Prices, day):
    """The dated rows that a quote rests on, by what they are called, with the day on which each ends."""
    fish = next((row for row in prices.fish_prices if row.counts_on(day)), None)
    found = [
        ("tariff", tariff_counting(prices, quote.timetable.carrier, day)),
        ("fish_price", fish),
        *(
            ("material_price", prices.material_price(row.material, day))
            for row in quote.design.materials.all()
        ),
        *(("charge", row) for row in prices.charges if row.counts_on(day)),
        ("terms", prices.terms_on(day)),
        ("buyer_limit", limit_on(quote.buyer, day)),
        ("timetable", quote.timetable),
        ("carton_design", quote.design),
    ]
    return [
        {
            "subject": subject,
            "id": row.pk,
            "valid_from": row.valid_from.isoformat(),
            "valid_until": row.valid_until and row.valid_until.isoformat(),
        }
        for subject, row in found
        if row is not None
    ]


def valid_until_of(rests_on, closes_at, asked_until, zone):
    """(instant, why) of the end of a quote: the first of what was asked, what it rests on, and closing."""
    ends = [
        (first_instant(row["valid_until"], zone), {"code": ENDS, "subject": row["subject"]})
        for row in rests_on
        if row["valid_until"]
    ]
    asked = [(asked_until, {"code": ASKED})] if asked_until else []
    return min([*asked, *ends, (closes_at, {"code": CLOSES})], key=lambda end: end[0])


def first_instant(day, zone):
    return datetime.combine(datetime.fromisoformat(day).date(), time.min, zone)
