"""What is closed, shared or written down never changes; what a carton holds fits it and belongs together.

A later migration that rebuilds one of these tables on SQLite drops its triggers, and stops at the triggers of
others that name it: it begins by taking REFUSALS back (`refuse_rows` reversed) and ends with them again.
"""

from django.db import migrations

from coop.migrations._refusals import Refusal, refuse_rows

# Masses are floats: what is less than a milligram apart is the same.
SAME_KG = 0.000001
OWNED = ("claim", "entry", "freezer", "lot", "parcel", "plan", "separation")
# (table, column, table that it names)
POINTS_AT = (
    ("lot", "member", "member"),
    ("lot", "route", "route"),
    ("lot", "buyer", "buyer"),
    ("lot", "offered_by", "member"),
    ("parcel", "route", "route"),
    ("parcel", "buyer", "buyer"),
    ("parcel", "timetable", "timetable"),
    ("parcel", "design", "cartondesign"),
    ("parcel", "opened_by", "member"),
    ("claim", "parcel", "parcel"),
    ("claim", "raised_by", "member"),
    ("entry", "member", "member"),
    ("entry", "parcel", "parcel"),
    ("entry", "claim", "claim"),
    ("entry", "corrects", "entry"),
    ("entry", "written_by", "member"),
    ("plan", "route", "route"),
    ("plan", "buyer", "buyer"),
    ("plan", "asked_by", "member"),
    ("plan", "accepted_by", "member"),
)
FORWARD = ("open>closed", "closed>departed", "departed>handed_over", "handed_over>settled")


def owner(table, row):
    return f"(SELECT cooperative_id FROM coop_{table} WHERE id = {row})"


def on_writing(name, table, condition):
    return [Refusal(name, f"coop_{table}", event, condition) for event in ("INSERT", "UPDATE")]


def on(event, name, table, condition="TRUE"):
    return Refusal(name, f"coop_{table}", event, condition)


def differ(*columns, nullable=()):
    """Whether one of these columns is written anew."""
    changed = [f"NEW.{column} <> OLD.{column}" for column in (*columns, *nullable)]
    emptied = [f"(NEW.{column} IS NULL) <> (OLD.{column} IS NULL)" for column in nullable]
    return f"({' OR '.join(changed + emptied)})"


def never(table, name):
    """Rows of this table are written once."""
    return [on("UPDATE", f"{name}_never_changes", table), on("DELETE", f"{name}_never_vanishes", table)]


WHOSE = (
    *(
        on(
            "UPDATE OF cooperative_id",
            f"{table}_stays_with_its_cooperative",
            table,
            "NEW.cooperative_id <> OLD.cooperative_id",
        )
        for table in OWNED
    ),
    *(
        refusal
        for table, column, target in POINTS_AT
        for refusal in on_writing(
            f"{table}_{column}_of_its_cooperative",
            table,
            f"{owner(target, f'NEW.{column}_id')} <> NEW.cooperative_id",
        )
    ),
    *on_writing(
        "carton_closed_by_of_its_cooperative",
        "parcelcarton",
        f"{owner('member', 'NEW.closed_by_id')} <> {owner('parcel', 'NEW.parcel_id')}",
    ),
    *on_writing(
        "part_lot_of_its_cooperative",
        "part",
        f"{owner('lot', 'NEW.lot_id')} <> (SELECT p.cooperative_id FROM coop_parcel AS p JOIN coop_parcelcarton"
        " AS c ON c.parcel_id = p.id WHERE c.id = NEW.carton_id)",
    ),
    *on_writing(
        "share_member_of_its_cooperative",
        "share",
        f"{owner('member', 'NEW.member_id')} <> {owner('parcel', 'NEW.parcel_id')}",
    ),
    *on_writing(
        "claim_part_member_of_its_cooperative",
        "claimpart",
        f"{owner('member', 'NEW.member_id')} <> {owner('claim', 'NEW.claim_id')}",
    ),
    on(
        "INSERT",
        "entry_corrects_one_of_the_same_member",
        "entry",
        "(SELECT member_id FROM coop_entry WHERE id = NEW.corrects_id) <> NEW.member_id",
    ),
)


def parts(where, besides=""):
    return f"(SELECT COALESCE(SUM(mass_kg), 0) FROM coop_part WHERE {where}{besides})"


def too_much(which, room):
    """Refusals of a part that is more than there is room for, or than there is of its lot."""
    more = f"NEW.mass_kg > {room} + {SAME_KG}"
    return {
        "INSERT": f"{parts(f'{which} = NEW.{which}')} + {more}",
        "UPDATE": f"{parts(f'{which} = NEW.{which}', ' AND id <> OLD.id')} + {more}",
    }


def of_lot(column):
    return f"(SELECT {column} FROM coop_lot WHERE id = NEW.lot_id)"


ANOTHER_PART = "EXISTS (SELECT 1 FROM coop_part WHERE lot_id = NEW.lot_id{0})"
SPLIT = (
    f"NOT {of_lot('may_be_split')} AND (ABS(NEW.mass_kg - {of_lot('mass_kg')}) > {SAME_KG} OR {ANOTHER_PART})"
)
IN_CARTON = "(SELECT closed_at FROM coop_parcelcarton WHERE id = {0}.carton_id) IS NOT NULL"
ANOTHER_WAY = (
    "EXISTS (SELECT 1 FROM coop_lot AS l, coop_parcelcarton AS c JOIN coop_parcel AS p ON p.id = c.parcel_id"
    " WHERE l.id = NEW.lot_id AND c.id = NEW.carton_id"
    " AND (l.route_id <> p.route_id OR l.buyer_id <> p.buyer_id))"
)
FITS = too_much("carton_id", "(SELECT capacity_kg FROM coop_parcelcarton WHERE id = NEW.carton_id)")
THERE_IS = too_much("lot_id", of_lot("mass_kg"))
CARTONS = (
    *(on(event, "part_fits_its_carton", "part", condition) for event, condition in FITS.items()),
    *(on(event, "part_within_its_lot", "part", condition) for event, condition in THERE_IS.items()),
    on("INSERT", "part_not_split_without_consent", "part", SPLIT.format("")),
    on("UPDATE", "part_not_split_without_consent", "part", SPLIT.format(" AND id <> OLD.id")),
    *on_writing("part_of_a_withdrawn_lot", "part", f"{of_lot('withdrawn_at')} IS NOT NULL"),
    *on_writing("part_goes_another_way", "part", ANOTHER_WAY),
    on("INSERT", "part_of_a_closed_carton_stays", "part", IN_CARTON.format("NEW")),
    on(
        "UPDATE",
        "part_of_a_closed_carton_stays",
        "part",
        f"{IN_CARTON.format('NEW')} OR {IN_CARTON.format('OLD')}",
    ),
    on("DELETE", "part_of_a_closed_carton_stays", "part", IN_CARTON.format("OLD")),
    on("UPDATE", "carton_closed_never_changes", "parcelcarton", "OLD.closed_at IS NOT NULL"),
    on("DELETE", "carton_closed_never_vanishes", "parcelcarton", "OLD.closed_at IS NOT NULL"),
    on("INSERT", "carton_begins_open", "parcelcarton", "NEW.closed_at IS NOT NULL"),
    on(
        "INSERT",
        "carton_of_an_open_parcel",
        "parcelcarton",
        "(SELECT state FROM coop_parcel WHERE id = NEW.parcel_id) <> 'open'",
    ),
    on("UPDATE OF parcel_id", "carton_stays_in_its_parcel", "parcelcarton", differ("parcel_id")),
    on(
        "UPDATE OF capacity_kg",
        "carton_holds_its_parts",
        "parcelcarton",
        f"{parts('carton_id = NEW.id')} > NEW.capacity_kg + {SAME_KG}",
    ),
    on(
        "UPDATE OF closed_at",
        "carton_closes_with_fish",
        "parcelcarton",
        "NEW.closed_at IS NOT NULL AND NOT EXISTS (SELECT 1 FROM coop_part WHERE carton_id = NEW.id)",
    ),
    on(
        "UPDATE",
        "lot_in_a_carton_stays_as_it_is",
        "lot",
        "EXISTS (SELECT 1 FROM coop_part WHERE lot_id = OLD.id) AND "
        + differ(
            "uuid",
            "member_id",
            "route_id",
            "buyer_id",
            "species_id",
            "mass_kg",
            "frozen_since",
            "ready_at",
            "start_temperature_c",
            "may_be_split",
            nullable=["deliver_by"],
        ),
    ),
    on(
        "UPDATE OF withdrawn_at",
        "lot_in_an_open_carton_not_withdrawn",
        "lot",
        "NEW.withdrawn_at IS NOT NULL AND EXISTS (SELECT 1 FROM coop_part AS p JOIN coop_parcelcarton AS c"
        " ON c.id = p.carton_id WHERE p.lot_id = OLD.id AND c.closed_at IS NULL)",
    ),
)
HAS_FISH = (
    "EXISTS (SELECT 1 FROM coop_part AS p JOIN coop_parcelcarton AS c ON c.id = p.carton_id"
    " WHERE c.parcel_id = OLD.id)"
)
PARCELS = (
    on("INSERT", "parcel_begins_open", "parcel", "NEW.state <> 'open'"),
    on("DELETE", "parcel_closed_never_vanishes", "parcel", "OLD.state <> 'open'"),
    on(
        "UPDATE OF state",
        "parcel_goes_forward",
        "parcel",
        f"NEW.state <> OLD.state AND OLD.state || '>' || NEW.state NOT IN {FORWARD}",
    ),
    on(
        "UPDATE",
        "parcel_with_fish_stays_as_it_is",
        "parcel",
        f"(OLD.state <> 'open' OR {HAS_FISH}) AND "
        + differ("uuid", "route_id", "buyer_id", "timetable_id", "design_id", "departs_at", "closes_at"),
    ),
    on(
        "UPDATE OF state",
        "parcel_closes_with_its_cartons",
        "parcel",
        "OLD.state = 'open' AND NEW.state = 'closed' AND"
        " (EXISTS (SELECT 1 FROM coop_parcelcarton WHERE parcel_id = OLD.id AND closed_at IS NULL)"
        " OR NOT EXISTS (SELECT 1 FROM coop_parcelcarton WHERE parcel_id = OLD.id))",
    ),
    on(
        "UPDATE",
        "parcel_closing_stays",
        "parcel",
        f"OLD.closed_at IS NOT NULL AND {differ('sharing_rule', nullable=['closed_at'])}",
    ),
    on(
        "UPDATE",
        "parcel_departure_stays",
        "parcel",
        "OLD.departed_at IS NOT NULL AND "
        + differ("driver", "plate", "departed_note", nullable=["departed_at"]),
    ),
    on(
        "UPDATE",
        "parcel_hand_over_stays",
        "parcel",
        "OLD.handed_over_at IS NOT NULL AND "
        + differ(
            "received_by",
            "handed_over_note",
            nullable=["arrived_at", "handed_over_at", "is_hard", "soft_kg", "core_temperature_c"],
        ),
    ),
    on(
        "UPDATE",
        "parcel_settlement_stays",
        "parcel",
        f"OLD.settled_at IS NOT NULL AND {differ(nullable=['settled_at', 'received_minor'])}",
    ),
)
NOT_CLOSING = "(SELECT state FROM coop_parcel WHERE id = NEW.parcel_id) <> 'closed'"
SHARED = "EXISTS (SELECT 1 FROM coop_share WHERE parcel_id = NEW.parcel_id)"
BOOKED = "EXISTS (SELECT 1 FROM coop_entry WHERE parcel_id = NEW.parcel_id AND kind = 'share')"
DECIDED = "(SELECT shared_at IS NOT NULL OR rejected_at IS NOT NULL FROM coop_claim WHERE id = {0}.claim_id)"
MONEY = (
    *never("billline", "bill_line"),
    *never("share", "share"),
    *never("stability", "stability"),
    *never("entry", "entry"),
    # Lines first, then shares, then the entries: each shuts the one before.
    on("INSERT", "bill_line_as_the_parcel_closes", "billline", f"{NOT_CLOSING} OR {SHARED}"),
    on("INSERT", "share_as_the_parcel_closes", "share", f"{NOT_CLOSING} OR {BOOKED}"),
    on("INSERT", "stability_as_the_parcel_closes", "stability", f"{NOT_CLOSING} OR {BOOKED}"),
    on("UPDATE", "claim_decided_stays", "claim", "OLD.shared_at IS NOT NULL OR OLD.rejected_at IS NOT NULL"),
    on("DELETE", "claim_decided_stays", "claim", "OLD.shared_at IS NOT NULL OR OLD.rejected_at IS NOT NULL"),
    on("INSERT", "claim_begins_undecided", "claim", "NEW.shared_at IS NOT NULL"),
    on("UPDATE OF parcel_id", "claim_stays_with_its_parcel", "claim", differ("parcel_id")),
    on(
        "UPDATE OF shared_at",
        "claim_shared_with_its_awards",
        "claim",
        "NEW.shared_at IS NOT NULL AND (EXISTS (SELECT 1 FROM coop_claimpart WHERE claim_id = NEW.id AND"
        " awarded_minor IS NULL) OR (SELECT COALESCE(SUM(awarded_minor), 0) FROM coop_claimpart"
        " WHERE claim_id = NEW.id) > NEW.estate_minor)",
    ),
    on("INSERT", "claim_part_of_a_decided_claim_stays", "claimpart", DECIDED.format("NEW")),
    on(
        "UPDATE",
        "claim_part_of_a_decided_claim_stays",
        "claimpart",
        f"{DECIDED.format('NEW')} OR {DECIDED.format('OLD')}",
    ),
    on("DELETE", "claim_part_of_a_decided_claim_stays", "claimpart", DECIDED.format("OLD")),
    on("UPDATE", "plan_accepted_stays", "plan", "OLD.accepted_at IS NOT NULL"),
    on("DELETE", "plan_accepted_stays", "plan", "OLD.accepted_at IS NOT NULL"),
)
REFUSALS = (*WHOSE, *CARTONS, *PARCELS, *MONEY)


class Migration(migrations.Migration):
    dependencies = (("coop", "0005_lots_and_parcels"),)
    operations = (refuse_rows(REFUSALS),)
