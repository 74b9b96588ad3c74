"""Ways to damage the rows of an archived day, each against what one trigger of the database holds."""

from uuid import uuid4

# trigger -> (table, line that its damage adds)
OVERLAPPING = {
    "buyer_limit_overlap": ("buyerlimit", 2),
    "carton_design_overlap": ("cartondesign", 2),
    "charge_overlap": ("charge", 2),
    "fish_price_overlap": ("fishprice", 2),
    "material_price_overlap": ("materialprice", 4),
    "receiving_hours_overlap": ("receivinghours", 2),
    "tariff_overlap": ("tariff", 3),
    "terms_overlap": ("terms", 2),
    "timetable_overlap": ("timetable", 2),
}


def again(lines, place=0, **columns):
    """Another line like one that is there."""
    lines.append({**lines[place], **columns})


def first_parcel(tables):
    return tables["parcel"][0]["uuid"]


def open_parcel(tables):
    return [tables["parcel"][1]["uuid"]]


def too_small_a_carton(tables):
    tables["parcelcarton"][0]["capacity_kg"] = 10.0


def too_small_a_lot(tables):
    tables["lot"][0].update(mass_kg=15.0, may_be_split=True)


def half_a_lot(tables):
    tables["part"][0]["mass_kg"] = 10.0


def a_lot_in_two_cartons(tables):
    again(tables["parcelcarton"], position=2)
    tables["part"][0]["mass_kg"] = 10.0
    again(tables["part"], carton=[first_parcel(tables), 2])


def a_withdrawn_lot(tables):
    tables["lot"][1]["withdrawn_at"] = "2026-03-01T08:00:00+00:00"


def another_buyer(tables):
    again(tables["buyer"], slug="stall", name="Stall")
    tables["lot"][1]["buyer"] = [tables["lot"][1]["buyer"][0], "stall"]


def an_empty_closed_carton(tables):
    again(tables["parcelcarton"], position=2)


def an_open_carton_in_a_closed_parcel(tables):
    again(tables["parcelcarton"], 1, parcel=[first_parcel(tables)], position=2)


def no_carton(tables):
    again(tables["parcel"], uuid=str(uuid4()))


def of_an_open_parcel(table, **columns):
    return lambda tables: again(tables[table], parcel=open_parcel(tables), **columns)


def a_correction_for_another(tables):
    fellow = next(member for member in tables["member"] if member["name"] == "Fellow")
    tables["entry"][1]["member"] = [*fellow["cooperative"], fellow["name"], fellow["phone"]]


def shared_claim(awarded_minor, estate_minor):
    def change(tables):
        answer = {"estate_minor": estate_minor, "rule": "proportional"}
        tables["claim"][0].update(answer, shared_at="2026-03-05T09:00:00+00:00")
        tables["claimpart"][0]["awarded_minor"] = awarded_minor

    return change


def sold_twice(tables):
    lot = [tables["lot"][1]["uuid"]]
    answer = {"state": "accepted", "accepted_kg": 40.0, "answered_at": "2026-03-01T15:00:00+00:00"}
    tables["quote"][0].update(answer, lot=lot)
    again(tables["quote"], uuid=str(uuid4()))


def promised_and_placed(tables):
    sold_twice(tables)
    tables["quote"][1]["supply"] = [tables["supply"][1]["uuid"]]


def taken_from_another(tables):
    tables["supply"][1]["member"] = tables["supply"][0]["member"]


def overlapping(table):
    """Another row of the same thing that begins a day or an hour later, while the first still counts."""

    def change(tables):
        later = {"valid_from": "2025-06-01"} if "valid_from" in tables[table][0] else {"opens_at": "09:00:00"}
        again(tables[table], **later)

    return change


# trigger -> (what is changed, line of the row that is told, words)
HELD = {
    "part_fits_its_carton": (
        too_small_a_carton,
        "parcelcarton.jsonl line 1",
        "more than there is",
    ),
    "part_within_its_lot": (too_small_a_lot, "lot.jsonl line 1", "more than there is of 15 kg"),
    "part_not_split_without_consent": (half_a_lot, "lot.jsonl line 1", "split without its owner's consent"),
    "part_of_a_withdrawn_lot": (a_withdrawn_lot, "lot.jsonl line 2", "withdrawn and in an open carton"),
    "part_goes_another_way": (another_buyer, "part.jsonl line 2", "another way than its lot"),
    "carton_closes_with_fish": (an_empty_closed_carton, "parcelcarton.jsonl line 3", "closed without fish"),
    "carton_of_an_open_parcel": (
        an_open_carton_in_a_closed_parcel,
        "parcelcarton.jsonl line 3",
        "open in a closed parcel",
    ),
    "parcel_closes_with_its_cartons": (no_carton, "parcel.jsonl line 3", "closed without a carton"),
    "bill_line_as_the_parcel_closes": (
        of_an_open_parcel("billline"),
        "billline.jsonl line 2",
        "of a parcel that is open",
    ),
    "share_as_the_parcel_closes": (
        of_an_open_parcel("share", amount_minor=0),
        "share.jsonl line 2",
        "of a parcel that is open",
    ),
    "stability_as_the_parcel_closes": (
        of_an_open_parcel("stability"),
        "stability.jsonl line 2",
        "of a parcel that is open",
    ),
    "entry_corrects_one_of_the_same_member": (
        a_correction_for_another,
        "entry.jsonl line 2",
        "corrects an entry of another",
    ),
    "claim_shared_with_its_awards": (shared_claim(None, 5000), "claimpart.jsonl line 1", "has no award"),
    "quote_within_its_lot": (promised_and_placed, "lot.jsonl line 2", "more than there is of 20 kg"),
    "supply_lot_of_its_member": (
        taken_from_another,
        "supply.jsonl line 2",
        "is taken from a lot of another",
    ),
    "quote_within_its_supply": (sold_twice, "supply.jsonl line 1", "more than there is of 60 kg"),
    **{
        trigger: (overlapping(table), f"{table}.jsonl line {line}, ", "overlaps with the one from")
        for trigger, (table, line) in OVERLAPPING.items()
    },
}
# The same words of the database seen from the other of two rows, or a second way to break them.
BESIDES = {
    "carton_holds_its_parts": HELD["part_fits_its_carton"],
    "lot_in_an_open_carton_not_withdrawn": HELD["part_of_a_withdrawn_lot"],
    "part_not_split_without_consent, in two": (
        a_lot_in_two_cartons,
        "lot.jsonl line 1",
        "10 + 10 kg",
    ),
    "claim_shared_with_its_awards, too much": (
        shared_claim(6000, 5000),
        "claim.jsonl line 1",
        "more than was got back",
    ),
}
ALL = HELD | BESIDES
