from django.db import models
from django.db.models import F, Q

from coop.models.buyers import Buyer
from coop.models.cartons import CartonDesign
from coop.models.columns import Instant, Link, Text, YesNo
from coop.models.cooperatives import SharingRule
from coop.models.keys import Identified
from coop.models.lots import LOT_KG, NOTE_LENGTH, Lot
from coop.models.measures import CELSIUS, MONEY_MINOR, SHARE, Range, known, money, number, ranges, rule, whole
from coop.models.members import Member
from coop.models.ownership import Owned, PartOfOwned
from coop.models.routes import Route
from coop.models.timetables import Timetable

POSITION = Range(1, 1000)
# The least that is weighed, to a part of a lot in one carton.
PART_KG = Range(0.001, LOT_KG.high)
CAPACITY_KG = Range(0.1, 5000)
GROSS_KG = Range(0.1, 6000)
SOFT_KG = Range(0, 1_000_000)


class ParcelState(models.TextChoices):
    OPEN = "open", "open"
    CLOSED = "closed", "closed"
    DEPARTED = "departed", "on its way"
    HANDED_OVER = "handed_over", "handed over"
    SETTLED = "settled", "settled"
    CALLED_OFF = "called_off", "called off"


REACHED_AT = {
    ParcelState.CLOSED: "closed_at",
    ParcelState.DEPARTED: "departed_at",
    ParcelState.HANDED_OVER: "handed_over_at",
    ParcelState.SETTLED: "settled_at",
}
"""When a parcel came to a state; these follow one another. Called off branches off from closed."""


def agrees_with_its_times(state):
    """A parcel in this state has the times of it and of those before, and none of those after."""
    is_called_off = state == ParcelState.CALLED_OFF
    reached = ParcelState.values.index(ParcelState.CLOSED if is_called_off else state)
    times = {f"{column}__isnull": n >= reached for n, column in enumerate(REACHED_AT.values())}
    return Q(state=state, called_off_at__isnull=not is_called_off, **times)


def one_of_the_states():
    condition = Q()
    for state in ParcelState.values:
        condition |= agrees_with_its_times(state)
    return condition


class Parcel(Owned, Identified):
    """What travels with one departure to one buyer in cartons of one design: one consignment."""

    within_cooperative = ("route", "buyer", "timetable", "design", "opened_by")

    route = Link(Route, on_delete=models.PROTECT, related_name="parcels", verbose_name="route")
    buyer = Link(Buyer, on_delete=models.PROTECT, related_name="parcels", verbose_name="buyer")
    timetable = Link(Timetable, on_delete=models.PROTECT, related_name="parcels", verbose_name="timetable")
    design = Link(
        CartonDesign, on_delete=models.PROTECT, related_name="parcels", verbose_name="carton design"
    )
    departs_at = Instant("planned to leave at")
    closes_at = Instant("planned to close at")
    opened_by = Link(
        Member, on_delete=models.PROTECT, related_name="parcels_opened", verbose_name="opened by"
    )
    opened_at = Instant("opened at")
    state = Text("state", max_length=12, choices=ParcelState.choices, default=ParcelState.OPEN)
    sharing_rule = Text(
        "its bill was shared",
        max_length=10,
        choices=SharingRule.choices,
        blank=True,
        help_text="the rule that counted when it closed; empty while it is open",
    )
    closed_at = Instant("closed at", null=True, blank=True, help_text="when the last carton closed")
    departed_at = Instant("left at", null=True, blank=True)
    driver = Text("driver", max_length=120, blank=True)
    plate = Text("number plate", max_length=32, blank=True)
    departed_note = Text("note on leaving", max_length=NOTE_LENGTH, blank=True)
    arrived_at = Instant("arrived at", null=True, blank=True, help_text="at the last stop")
    handed_over_at = Instant("handed over at", null=True, blank=True, help_text="in the buyer's freezer")
    is_hard = YesNo("arrived hard", null=True, blank=True)
    soft_kg = number("fish that had softened (kg)", SOFT_KG, null=True)
    core_temperature_c = number("temperature in the middle on arrival (°C)", CELSIUS, null=True)
    received_by = Text("received by", max_length=120, blank=True)
    handed_over_note = Text("note on the hand-over", max_length=NOTE_LENGTH, blank=True)
    settled_at = Instant("settled at", null=True, blank=True)
    received_minor = money(
        "received from the buyer", "in minor units; empty: the buyer pays each owner", null=True
    )
    called_off_at = Instant(
        "called off at", null=True, blank=True, help_text="closed, it did not leave: back into the freezer"
    )
    called_off_note = Text("why it was called off", max_length=NOTE_LENGTH, blank=True)

    class Meta:
        ordering = ("-departs_at", "-id")
        constraints = [
            *known("parcel", state=ParcelState),
            *ranges("parcel", soft_kg=SOFT_KG, core_temperature_c=CELSIUS, received_minor=MONEY_MINOR),
            rule(
                "parcel_state_agrees_with_its_times",
                one_of_the_states(),
                "The state of a parcel agrees with the times that are written down.",
            ),
            rule(
                "parcel_shared_by_a_rule_once_closed",
                Q(state=ParcelState.OPEN, sharing_rule="")
                | (~Q(state=ParcelState.OPEN) & Q(sharing_rule__in=SharingRule.values)),
                "A parcel has its rule from the day on which it closes.",
            ),
            rule(
                "parcel_closes_before_it_leaves",
                Q(closes_at__lte=F("departs_at")),
                "It is planned to close before it is planned to leave.",
            ),
            rule(
                "parcel_leaves_after_closing",
                Q(departed_at__isnull=True) | Q(departed_at__gte=F("closed_at")),
                "It leaves after it is closed.",
            ),
            rule(
                "parcel_handed_over_after_leaving",
                Q(handed_over_at__isnull=True) | Q(handed_over_at__gte=F("departed_at")),
                "It is handed over after it left.",
            ),
            rule(
                "parcel_arrives_on_the_way",
                Q(arrived_at__isnull=True)
                | Q(arrived_at__gte=F("departed_at"), arrived_at__lte=F("handed_over_at")),
                "It arrives after it left and before it is handed over.",
            ),
            rule(
                "parcel_handed_over_says_how_it_was",
                Q(handed_over_at__isnull=True, is_hard__isnull=True, soft_kg__isnull=True)
                # A comparison with nothing is not false, and a check lets it pass: so nothing is named.
                | Q(
                    Q(is_hard=True) | Q(soft_kg__gt=0),
                    handed_over_at__isnull=False,
                    is_hard__isnull=False,
                    soft_kg__isnull=False,
                ),
                "Whoever hands it over says whether it was hard, and how much had softened.",
            ),
            rule(
                "parcel_paid_when_settled",
                Q(received_minor__isnull=True) | Q(settled_at__isnull=False),
                "What the buyer paid is written down when it is settled.",
            ),
            rule(
                "parcel_called_off_after_closing",
                Q(called_off_at__isnull=True) | Q(called_off_at__gte=F("closed_at")),
                "It is called off after it is closed.",
            ),
            rule(
                "parcel_called_off_says_why",
                Q(called_off_at__isnull=True, called_off_note="")
                | (Q(called_off_at__isnull=False) & ~Q(called_off_note="")),
                "Whoever calls it off says why.",
            ),
        ]

    def __str__(self):
        return f"{self.departs_at:%Y-%m-%d %H:%M} to {self.buyer}"

    @property
    def mass_kg(self):
        return rounded_kg(carton.mass_kg for carton in self.cartons.all())

    @property
    def room_kg(self):
        """Room in the cartons that are still open."""
        return rounded_kg(carton.room_kg for carton in self.cartons.all())


class ParcelCarton(PartOfOwned):
    """One numbered carton of a parcel; closed, it never changes again."""

    owned_through = "parcel__cooperative"
    key_fields = ("parcel__uuid", "position")

    parcel = Link(Parcel, on_delete=models.CASCADE, related_name="cartons", verbose_name="parcel")
    position = whole("number", POSITION, "1 is the first carton")
    capacity_kg = number("fish that fits (kg)", CAPACITY_KG, "by its design, on the day that it was opened")
    closed_at = Instant("closed at", null=True, blank=True)
    closed_by = Link(
        Member,
        on_delete=models.PROTECT,
        related_name="cartons_closed",
        verbose_name="closed by",
        null=True,
        blank=True,
    )
    gross_mass_kg = number("weighed, carton and all (kg)", GROSS_KG, null=True)
    core_temperature_c = number("measured in the middle (°C)", CELSIUS, "when it was closed", null=True)
    chance_hard = number("chance of arriving hard", SHARE, "as judged when it was closed", null=True)
    latest_safe_departure_at = Instant("leaves not later than", null=True, blank=True)

    class Meta:
        ordering = ("parcel", "position")
        verbose_name = "carton of a parcel"
        verbose_name_plural = "cartons of a parcel"
        constraints = [
            models.UniqueConstraint(fields=["parcel", "position"], name="carton_position_once_in_a_parcel"),
            *ranges(
                "carton",
                position=POSITION,
                capacity_kg=CAPACITY_KG,
                gross_mass_kg=GROSS_KG,
                core_temperature_c=CELSIUS,
                chance_hard=SHARE,
            ),
            rule(
                "carton_closed_with_its_facts",
                Q(closed_at__isnull=False, closed_by__isnull=False, chance_hard__isnull=False)
                | Q(
                    closed_at__isnull=True,
                    closed_by__isnull=True,
                    chance_hard__isnull=True,
                    gross_mass_kg__isnull=True,
                    core_temperature_c__isnull=True,
                    latest_safe_departure_at__isnull=True,
                ),
                "A carton that is closed says by whom and how safe it was; an open one says nothing yet.",
            ),
        ]

    def __str__(self):
        return f"carton {self.position} of {self.parcel}"

    @property
    def mass_kg(self):
        return rounded_kg(part.mass_kg for part in self.parts.all())

    @property
    def room_kg(self):
        return 0.0 if self.closed_at else max(0.0, rounded_kg((self.capacity_kg, -self.mass_kg)))


class Part(PartOfOwned):
    """Fish of one lot in one carton."""

    owned_through = "carton__parcel__cooperative"
    key_fields = ("carton__parcel__uuid", "carton__position", "lot__uuid")

    carton = Link(ParcelCarton, on_delete=models.PROTECT, related_name="parts", verbose_name="carton")
    lot = Link(Lot, on_delete=models.PROTECT, related_name="parts", verbose_name="lot")
    mass_kg = number("fish (kg)", PART_KG)

    class Meta:
        ordering = ("carton", "id")
        verbose_name = "part of a lot"
        verbose_name_plural = "parts of lots"
        constraints = [
            models.UniqueConstraint(fields=["carton", "lot"], name="part_once_in_a_carton"),
            *ranges("part", mass_kg=PART_KG),
        ]

    def __str__(self):
        return f"{self.mass_kg:g} kg of {self.lot}"


def rounded_kg(masses):
    """Their sum to the gram, so that 0.1 and 0.2 kg are 0.3 kg."""
    return round(sum(masses), 3)
