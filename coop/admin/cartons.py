from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable
from coop.models import CartonDesign, DesignMaterial


class DesignMaterialRows(admin.TabularInline):
    model = DesignMaterial
    extra = 0


@admin.register(CartonDesign)
class CartonDesignTable(OwnedTable):
    list_display = (
        "name",
        "outer_length_m",
        "outer_width_m",
        "outer_height_m",
        "insulation_material",
        "insulation_density_kg_m3",
        "measured_on",
        "returnable",
        "valid_from",
        "valid_until",
    )
    list_filter = ("cooperative", "insulation_material", "returnable")
    search_fields = ("name", "slug")
    prepopulated_fields = {"slug": ["name"]}
    inlines = (DesignMaterialRows,)
    fieldsets = (
        (None, {"fields": ["cooperative", "name", "slug"]}),
        ("When it counts", {"fields": ["valid_from", "valid_until"]}),
        ("Outside", {"fields": [("outer_length_m", "outer_width_m", "outer_height_m")]}),
        ("Board", {"fields": [("board_thickness_m", "board_conductivity_w_m_k")]}),
        (
            "Insulation, thickness of each side",
            {
                "fields": [
                    ("insulation_left_m", "insulation_right_m"),
                    ("insulation_front_m", "insulation_back_m"),
                    ("insulation_bottom_m", "insulation_top_m"),
                ]
            },
        ),
        (
            "Insulation, what it is",
            {
                "fields": [
                    "insulation_material",
                    "insulation_density_kg_m3",
                    "insulation_conductivity_w_m_k",
                    "insulation_conductivity_cv",
                    "insulation_specific_heat_j_kg_k",
                    "measured_on",
                ]
            },
        ),
        (
            "Fish and packing",
            {"fields": ["stowage_density_kg_m3", "thin_bag_kg", ("rope_wraps_length", "rope_wraps_width")]},
        ),
        (
            "Coming back",
            {"fields": ["returnable", "expected_trips", "loss_chance", "empty_mass_kg"]},
        ),
        SOURCE,
    )
