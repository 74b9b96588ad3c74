from django.core.management.base import BaseCommand

from coop.engines.ambient import Carries
from coop.engines.carton import Carton, shavings_conductivity
from coop.engines.fish import Flesh
from coop.selectors.hold import Surroundings, hold_curves, packed_of

LEAN_FISH = Flesh(water=0.803, protein=0.18, fat=0.006, ash=0.011, freezing_point=-1.0)
"""White fish of FAO Fisheries Technical Paper 340, Table 31."""
DENSITIES = {"loose shavings, 80 kg/m³": 80.0, "pressed down, 150 kg/m³": 150.0, "tight, 180 kg/m³": 180.0}
STARTS = (-18.0, -25.0)
LAKE = {"latitude_deg": -8.8, "longitude_deg": 31.1, "day_of_year": 288, "zone_offset": 7200.0}
PLACES = {
    "mild, 24/12 °C, shade": {"maximum_c": 24.0, "minimum_c": 12.0, "carries": Carries.SHADE},
    "hot, 34/22 °C, shade": {"maximum_c": 34.0, "minimum_c": 22.0, "carries": Carries.SHADE},
    "hot, 34/22 °C, on a roof in the sun": {"maximum_c": 34.0, "minimum_c": 22.0, "carries": Carries.ROOF},
}
MASS_KG, CLOSED_AT_HOUR, CLOUD, CONFIDENCE, CONDUCTIVITY_CV = 100.0, 16.0, 0.3, 0.95, 0.25


def common_carton(density):
    """1.0 × 0.7 × 0.7 m outside, 5 mm of board, 10 cm of shavings."""
    return Carton(
        outer_length=1.0,
        outer_width=0.7,
        outer_height=0.7,
        board_thickness=0.005,
        board_conductivity=0.08,
        insulation=(0.1,) * 6,
        insulation_conductivity=float(shavings_conductivity(density)),
        insulation_density=density,
        stowage_density=530.0,
    )


def hold_words(density, start, place):
    """'31 (22)': hours by best estimate, and those that nineteen walls in twenty keep."""
    packed = packed_of(
        common_carton(density),
        MASS_KG,
        LEAN_FISH,
        start_temperature_c=start,
        conductivity_cv=CONDUCTIVITY_CV,
        limit=("softened_share", 0.05),
    )
    around = Surroundings(**place, **LAKE, cloud_share=CLOUD, offset_c=0.0, closing_hour=CLOSED_AT_HOUR)
    hold = hold_curves(packed, around, confidence=CONFIDENCE).limits[0]
    return " ".join(("over 96" if hold.best_h is None else f"{hold.best_h:.0f}", _cautious(hold.cautious_h)))


def _cautious(hours):
    return "(over 96)" if hours is None else f"({int(hours)})"


def table():
    """The table of the README, as Markdown."""
    yield f"| 100 kg, hours until 5 % has softened | {' | '.join(PLACES)} |"
    yield f"|---|{'---|' * len(PLACES)}"
    for words, density in DENSITIES.items():
        for start in STARTS:
            holds = (hold_words(density, start, place) for place in PLACES.values())
            yield f"| {words}, closed at {start:.0f} °C".replace("-", "−") + f" | {' | '.join(holds)} |"


class Command(BaseCommand):
    help = "Prints how long the common carton holds: the table of the README."
    requires_system_checks = ()

    def handle(self, **_options):
        for line in table():
            self.stdout.write(line)
