"""A carton design as a manager changes it: another version from a day on, or one that there was not yet."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response

from api.body import read_body
from api.changes import ChangeIn, Ending, Withdrawal
from api.cooperative import person_of, today_of
from api.figures import Dated
from api.question import Number, read, refused
from api.question_fields import Day, chosen
from api.stored import one_of
from coop.errors import Problem
from coop.selectors.cartons import carton_designs_of
from coop.selectors.materials import materials_of
from coop.services.carton_designs import add_carton_design, change_carton_design

INSULATIONS = ("shavings", "sawdust", "rice_husk", "coir", "cork", "eps", "polyurethane")
USES = ("carton", "box", "insulation", "liner_bag", "thin_bag", "rope", "thread", "board", "other")
NEEDED = (
    "name",
    "outer_length_m",
    "outer_width_m",
    "outer_height_m",
    "board_thickness_m",
    "insulation_density_kg_m3",
    "stowage_density_kg_m3",
    "materials",
)
"""What a design that is new has to say: nothing else can be guessed."""


class OnQuestion(serializers.Serializer):
    on = Day(required=False, help_text="the version that counts on a day such as 2026-03-02; else today's")


def size(low, high, **options):
    return Number(min_value=low, max_value=high, required=False, **options)


class UseIn(serializers.Serializer):
    material = serializers.SlugField(max_length=64, help_text="short name of a material")
    use = serializers.ChoiceField(choices=USES)
    quantity = Number(
        min_value=0.001,
        max_value=10_000,
        allow_null=True,
        default=None,
        help_text="in the unit of the material; null: worked out from the carton and the fish",
    )
    returns_with_box = serializers.BooleanField(default=False)

    example = {"material": "shavings", "use": "insulation", "quantity": None, "returns_with_box": False}


class CartonDesignIn(ChangeIn):
    """What is left out stays as it is on that day; a short name that is new makes a new design."""

    slug = serializers.SlugField(max_length=50)
    name = serializers.CharField(max_length=120, required=False)
    outer_length_m = size(0.1, 2.5)
    outer_width_m = size(0.1, 2.5)
    outer_height_m = size(0.1, 2.5)
    board_thickness_m = size(0, 0.5)
    board_conductivity_w_m_k = size(0.005, 2)
    insulation_left_m = size(0, 0.5)
    insulation_right_m = size(0, 0.5)
    insulation_front_m = size(0, 0.5)
    insulation_back_m = size(0, 0.5)
    insulation_bottom_m = size(0, 0.5)
    insulation_top_m = size(0, 0.5)
    insulation_material = serializers.ChoiceField(choices=INSULATIONS, required=False)
    insulation_density_kg_m3 = size(5, 1000)
    insulation_conductivity_w_m_k = size(0.005, 2, allow_null=True)
    insulation_conductivity_cv = size(0.02, 0.6)
    insulation_specific_heat_j_kg_k = size(500, 4200)
    measured_on = Day(allow_null=True, required=False)
    stowage_density_kg_m3 = size(100, 1000)
    thin_bag_kg = size(0.1, 50)
    rope_wraps_length = serializers.IntegerField(min_value=0, max_value=20, required=False)
    rope_wraps_width = serializers.IntegerField(min_value=0, max_value=20, required=False)
    returnable = serializers.BooleanField(required=False)
    expected_trips = serializers.IntegerField(min_value=1, max_value=1000, required=False)
    loss_chance = size(0, 1)
    empty_mass_kg = size(0.1, 200, allow_null=True)
    materials = UseIn(many=True, required=False, max_length=50)

    example = {**ChangeIn.example, "slug": "common-carton", "insulation_top_m": 0.12}


def design_changed(request):
    """The version that a body makes, of a design that there is or of a new one."""
    asked, person = read_body(CartonDesignIn, request), person_of(request)
    slug, who = asked.pop("slug"), {"by": person.member, "now": timezone.now()}
    if "materials" in asked:
        known = list(materials_of(person.cooperative))
        asked["materials"] = [
            {**row, "material": chosen(known, f"materials.{place}.material", row["material"])}
            for place, row in enumerate(asked["materials"])
        ]
    versions = carton_designs_of(person.cooperative).filter(slug=slug)
    found = versions.on(asked["valid_from"]).first() or versions.order_by("-valid_from").first()
    if found:
        return change_carton_design(design=found, **who, **asked)
    missing = [name for name in NEEDED if name not in asked]
    if missing:
        right = "a value, or the short name of a design that there is"
        raise refused([Problem(name, None, "is not said of a new design", right) for name in missing])
    return add_carton_design(slug=slug, **who, **asked)


class VersionOut(Dated):
    id = serializers.IntegerField()
    slug = serializers.CharField()

    example = {"id": 3, "slug": "common-carton", "valid_from": "2026-01-01", "valid_until": "2026-03-31"}


class OneVersion:
    """The version that an address names: that of today, or of the day that is asked for."""

    question = {"POST": OnQuestion}
    parameters = ("on",)
    select = staticmethod(carton_designs_of)

    def row(self, request, person, slug):
        asked = read(OnQuestion, request)
        day = asked.get("on") or today_of(person.cooperative)
        return one_of(carton_designs_of(person.cooperative).on(day), slug=slug)


class CartonDesignEnding(OneVersion, Ending):
    """From a day on this design no longer counts."""

    output = VersionOut

    def shown(self, row, _person):
        return Response(VersionOut(row).data)


class CartonDesignWithdrawal(OneVersion, Withdrawal):
    """A version that has not begun is taken back."""
