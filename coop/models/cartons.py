from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q

from coop.models.columns import Day, Link, Slug, Text, YesNo
from coop.models.figures import Figured, sourced
from coop.models.history import HistoricLink, History
from coop.models.materials import Material
from coop.models.measures import SHARE, Range, known, number, ranges, rule, whole
from coop.models.ownership import Owned, PartOfOwned
from coop.models.validity import Dated, dated

OUTER = Range(0.1, 2.5)
THICKNESS = Range(0, 0.5)
CONDUCTIVITY = Range(0.005, 2)
DENSITY = Range(5, 1000)
SPECIFIC_HEAT = Range(500, 4200)
# Never measured: 0.25. Nobody knows a wall better than to 2 %.
CONDUCTIVITY_CV = Range(0.02, 0.6)
STOWAGE = Range(100, 1000)
BAG = Range(0.1, 50)
WRAPS = Range(0, 20)
TRIPS = Range(1, 1000)
EMPTY_MASS = Range(0.1, 200)
QUANTITY = Range(0.001, 10_000)
# Between these the table of Granum gives the conductivity of shavings.
TABLED_SHAVINGS = Range(80, 180)
FACES = ("left", "right", "front", "back", "bottom", "top")


class InsulationMaterial(models.TextChoices):
    SHAVINGS = "shavings", "wood shavings"
    SAWDUST = "sawdust", "sawdust"
    RICE_HUSK = "rice_husk", "rice husk"
    COIR = "coir", "coir"
    CORK = "cork", "cork"
    EPS = "eps", "expanded polystyrene"
    POLYURETHANE = "polyurethane", "polyurethane foam"


def face(name):
    return number(f"insulation, {name} (m)", THICKNESS, "thickness once packed", default=0.1)


def room_left(name, outer, one, other):
    return rule(
        name,
        Q(**{f"{outer}__gt": F(one) + F(other) + F("board_thickness_m") * 2}),
        "The walls leave no room inside: board and insulation are thicker than the carton.",
    )


class CartonDesign(Dated, Owned, Figured):
    """One version of a design. One that a parcel travels in never changes: a change is another version."""

    key_fields = ("cooperative__slug", "slug", "valid_from")
    alike = ("cooperative", "slug")

    slug = Slug("short name")
    name = Text("name", max_length=120)
    outer_length_m = number("outer length (m)", OUTER)
    outer_width_m = number("outer width (m)", OUTER)
    outer_height_m = number("outer height (m)", OUTER)
    board_thickness_m = number("thickness of the board (m)", THICKNESS, "0.005 for strong cardboard")
    board_conductivity_w_m_k = number(
        "conductivity of the board (W/(m K))", CONDUCTIVITY, "cardboard 0.05 to 0.12", default=0.08
    )
    insulation_left_m = face("left")
    insulation_right_m = face("right")
    insulation_front_m = face("front")
    insulation_back_m = face("back")
    insulation_bottom_m = face("bottom")
    insulation_top_m = face("top")
    insulation_material = Text(
        "insulation", max_length=16, choices=InsulationMaterial.choices, default=InsulationMaterial.SHAVINGS
    )
    insulation_density_kg_m3 = number(
        "density of the insulation (kg/m³)",
        DENSITY,
        "as packed; shavings 80 loose, 150 pressed down, 180 at most",
    )
    insulation_conductivity_w_m_k = number(
        "conductivity of the insulation (W/(m K))",
        CONDUCTIVITY,
        "empty: by the density, for wood shavings between 80 and 180 kg/m³ only",
        null=True,
    )
    insulation_conductivity_cv = number(
        "how uncertain that is",
        CONDUCTIVITY_CV,
        "standard deviation over mean; 0.25 if never measured",
        default=0.25,
    )
    insulation_specific_heat_j_kg_k = number(
        "specific heat of the insulation (J/(kg K))", SPECIFIC_HEAT, "wood 1600, foam 1400", default=1600
    )
    measured_on = Day(
        "measured on", null=True, blank=True, help_text="day of the ice-melt test; empty: never measured"
    )
    stowage_density_kg_m3 = number(
        "kilograms of fish a cubic metre holds", STOWAGE, "single frozen fish 400 to 550, blocks 800 to 900"
    )
    thin_bag_kg = number("fish in one thin bag (kg)", BAG, default=2)
    rope_wraps_length = whole("turns of rope the long way", WRAPS, default=2)
    rope_wraps_width = whole("turns of rope the short way", WRAPS, default=3)
    returnable = YesNo("comes back", default=False, help_text="an empty box is brought back")
    expected_trips = whole("trips it lasts", TRIPS, "1 for one that stays with the buyer", default=1)
    loss_chance = number("chance that it is lost", SHARE, "on one trip", default=0)
    empty_mass_kg = number(
        "mass when empty (kg)", EMPTY_MASS, "empty: worked out from board and insulation", null=True
    )

    history = History()

    class Meta:
        ordering = ("name", "valid_from", "id")
        verbose_name = "carton design"
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "slug", "valid_from"],
                name="carton_design_version_once_in_a_cooperative",
            ),
            room_left(
                "carton_design_room_along_the_length",
                "outer_length_m",
                "insulation_left_m",
                "insulation_right_m",
            ),
            room_left(
                "carton_design_room_along_the_width",
                "outer_width_m",
                "insulation_front_m",
                "insulation_back_m",
            ),
            room_left(
                "carton_design_room_along_the_height",
                "outer_height_m",
                "insulation_bottom_m",
                "insulation_top_m",
            ),
            rule(
                "carton_design_has_a_conductivity",
                Q(insulation_conductivity_w_m_k__isnull=False)
                | Q(
                    insulation_material=InsulationMaterial.SHAVINGS,
                    insulation_density_kg_m3__gte=TABLED_SHAVINGS.low,
                    insulation_density_kg_m3__lte=TABLED_SHAVINGS.high,
                ),
                "Enter the conductivity: only wood shavings of 80 to 180 kg/m³ have one by their density.",
            ),
            rule(
                "carton_design_one_way_lasts_one_trip",
                Q(returnable=True) | Q(expected_trips=1),
                "A carton that does not come back lasts one trip.",
            ),
            *known("carton_design", insulation_material=InsulationMaterial),
            *ranges("carton_design", outer_length_m=OUTER, outer_width_m=OUTER, outer_height_m=OUTER),
            *ranges("carton_design", **{f"insulation_{name}_m": THICKNESS for name in FACES}),
            *ranges(
                "carton_design",
                board_thickness_m=THICKNESS,
                board_conductivity_w_m_k=CONDUCTIVITY,
                insulation_density_kg_m3=DENSITY,
                insulation_conductivity_w_m_k=CONDUCTIVITY,
                insulation_conductivity_cv=CONDUCTIVITY_CV,
                insulation_specific_heat_j_kg_k=SPECIFIC_HEAT,
                stowage_density_kg_m3=STOWAGE,
                thin_bag_kg=BAG,
                rope_wraps_length=WRAPS,
                rope_wraps_width=WRAPS,
                expected_trips=TRIPS,
                loss_chance=SHARE,
                empty_mass_kg=EMPTY_MASS,
            ),
            *sourced("carton_design"),
            *dated("carton_design"),
        ]

    def __str__(self):
        return self.name


class MaterialUse(models.TextChoices):
    CARTON = "carton", "the carton itself"
    BOX = "box", "the box itself"
    INSULATION = "insulation", "insulation"
    LINER_BAG = "liner_bag", "liner bag"
    THIN_BAG = "thin_bag", "thin bags"
    ROPE = "rope", "rope"
    THREAD = "thread", "sewing thread"
    BOARD = "board", "board"
    OTHER = "other", "other"


class DesignMaterial(PartOfOwned):
    """What one carton of a design needs."""

    owned_through = "design__cooperative"
    key_fields = (
        "design__cooperative__slug",
        "design__slug",
        "design__valid_from",
        "material__slug",
        "use",
    )

    design = HistoricLink(
        CartonDesign, on_delete=models.CASCADE, related_name="materials", verbose_name="carton design"
    )
    material = Link(Material, on_delete=models.PROTECT, related_name="uses", verbose_name="material")
    use = Text("used as", max_length=12, choices=MaterialUse.choices)
    quantity = number(
        "quantity",
        QUANTITY,
        "in the unit of the material; empty: worked out from the carton and the fish",
        null=True,
    )
    returns_with_box = YesNo(
        "comes back with the box", default=False, help_text="and lasts as many trips as the box"
    )

    history = History()

    class Meta:
        ordering = ("design", "id")
        verbose_name = "material of a carton"
        verbose_name_plural = "materials of a carton"
        constraints = [
            models.UniqueConstraint(
                fields=["design", "material", "use"], name="design_material_once_for_a_use"
            ),
            *known("design_material", use=MaterialUse),
            *ranges("design_material", quantity=QUANTITY),
            rule(
                "design_material_other_has_a_quantity",
                ~Q(use=MaterialUse.OTHER) | Q(quantity__isnull=False),
                "Nothing tells how much of this is needed: enter the quantity.",
            ),
        ]

    def __str__(self):
        return f"{self.material} as {self.get_use_display()}"

    def clean(self):
        super().clean()
        if self.material_id and self.design_id and self.material.cooperative_id != self.design.cooperative_id:
            raise ValidationError({"material": "belongs to another cooperative"}, code="other_cooperative")
        if self.returns_with_box and self.design_id and not self.design.returnable:
            raise ValidationError({"returns_with_box": "this carton does not come back"}, code="one_way")
