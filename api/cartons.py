from rest_framework import serializers
from rest_framework.response import Response

from api.cartons_changes import CartonDesignIn, OnQuestion, design_changed
from api.cooperative import person_of, today_of
from api.figures import ESTIMATED, Dated, Figured
from api.filtering import DatedFilters, OneOf, Slug, Text, Truth
from api.materials import MaterialName
from api.question import read
from api.roles import MANAGERS, VISITORS
from api.stored import Row, Rows, one_of
from coop.selectors.cartons import carton_designs_of


class CartonDesignName(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()
    returnable = serializers.BooleanField()

    example = {"slug": "common-carton", "name": "Common carton", "returnable": False}


class DesignMaterialOut(serializers.Serializer):
    material = MaterialName()
    use = serializers.CharField()
    quantity = serializers.FloatField(
        allow_null=True, help_text="null: worked out from the carton and the fish"
    )
    returns_with_box = serializers.BooleanField()

    example = {
        "material": MaterialName.example,
        "use": "insulation",
        "quantity": None,
        "returns_with_box": False,
    }


class CartonDesignOut(Figured, Dated, CartonDesignName):
    id = serializers.IntegerField(help_text="of this version")
    outer_length_m = serializers.FloatField()
    outer_width_m = serializers.FloatField()
    outer_height_m = serializers.FloatField()
    board_thickness_m = serializers.FloatField()
    board_conductivity_w_m_k = serializers.FloatField()
    insulation_left_m = serializers.FloatField()
    insulation_right_m = serializers.FloatField()
    insulation_front_m = serializers.FloatField()
    insulation_back_m = serializers.FloatField()
    insulation_bottom_m = serializers.FloatField()
    insulation_top_m = serializers.FloatField()
    insulation_material = serializers.CharField()
    insulation_density_kg_m3 = serializers.FloatField()
    insulation_conductivity_w_m_k = serializers.FloatField(allow_null=True, help_text="null: by its density")
    insulation_conductivity_cv = serializers.FloatField()
    insulation_specific_heat_j_kg_k = serializers.FloatField()
    measured_on = serializers.DateField(allow_null=True)
    stowage_density_kg_m3 = serializers.FloatField()
    thin_bag_kg = serializers.FloatField()
    rope_wraps_length = serializers.IntegerField()
    rope_wraps_width = serializers.IntegerField()
    expected_trips = serializers.IntegerField()
    loss_chance = serializers.FloatField()
    empty_mass_kg = serializers.FloatField(allow_null=True)
    materials = DesignMaterialOut(many=True, source="materials.all")

    example = {
        **CartonDesignName.example,
        "id": 3,
        "valid_from": "2026-01-01",
        "valid_until": None,
        "outer_length_m": 1.0,
        "outer_width_m": 0.7,
        "outer_height_m": 0.7,
        "board_thickness_m": 0.005,
        "board_conductivity_w_m_k": 0.08,
        "insulation_left_m": 0.1,
        "insulation_right_m": 0.1,
        "insulation_front_m": 0.1,
        "insulation_back_m": 0.1,
        "insulation_bottom_m": 0.1,
        "insulation_top_m": 0.1,
        "insulation_material": "shavings",
        "insulation_density_kg_m3": 150.0,
        "insulation_conductivity_w_m_k": None,
        "insulation_conductivity_cv": 0.25,
        "insulation_specific_heat_j_kg_k": 1600.0,
        "measured_on": None,
        "stowage_density_kg_m3": 500.0,
        "thin_bag_kg": 2.0,
        "rope_wraps_length": 2,
        "rope_wraps_width": 3,
        "expected_trips": 1,
        "loss_chance": 0.0,
        "empty_mass_kg": None,
        "materials": [DesignMaterialOut.example],
        **ESTIMATED,
    }


class CartonDesignFilters(DatedFilters):
    slug = Slug()
    name = Text()
    returnable = Truth()
    insulation_material = OneOf("shavings", "sawdust", "rice_husk", "coir", "cork", "eps", "polyurethane")


class CartonDesigns(Rows):
    """Cartons and boxes: outer size, walls, insulation, and what is bought to pack them.

    The versions that count today, or on the day that is asked for; with `from_date` those to come as well.
    """

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(carton_designs_of)
    filters = CartonDesignFilters
    body = {"POST": CartonDesignIn}
    output = CartonDesignOut
    status = {"POST": 201}

    def rows_for(self, person):
        rows = carton_designs_of(person.cooperative)
        asks_for_days = {"on", "from_date"} & set(self.request.query_params)
        return rows if asks_for_days else rows.on(today_of(person.cooperative))

    def post(self, request):
        row = design_changed(request)
        row = one_of(carton_designs_of(person_of(request).cooperative), pk=row.pk)
        return Response(CartonDesignOut(row).data, status=201)


class CartonDesign(Row):
    """One carton design with its materials, as it counts today or on a day."""

    may = {"GET": VISITORS}
    question = OnQuestion
    output = CartonDesignOut

    def get(self, request, slug):
        asked, person = read(OnQuestion, request), person_of(request)
        day = asked.get("on") or today_of(person.cooperative)
        row = one_of(carton_designs_of(person.cooperative).on(day), slug=slug)
        return Response(CartonDesignOut(row).data)
