from django.contrib import admin

from coop.admin.tables import SOURCE, OwnedTable, Table
from coop.models import Climate, DayWeather, Place, Species


class ClimateRows(admin.TabularInline):
    model = Climate
    extra = 0
    max_num = 12
    fields = (
        "month",
        "temperature_max_c",
        "temperature_min_c",
        "figures",
        "cloud_share",
        "cloud_figures",
        "source",
    )


@admin.register(Place)
class PlaceTable(Table):
    list_display = ("name", "code", "country", "latitude_deg", "longitude_deg", "altitude_m", "figures")
    list_filter = ("country", "figures")
    search_fields = ("name", "code")
    prepopulated_fields = {"code": ["name"]}
    inlines = (ClimateRows,)
    fieldsets = (
        (None, {"fields": ["name", "code", "country", "time_zone"]}),
        ("Where it lies", {"fields": ["latitude_deg", "longitude_deg", "altitude_m"]}),
        SOURCE,
    )


@admin.register(DayWeather)
class DayWeatherTable(OwnedTable):
    list_display = ("date", "place", "kind", "temperature_max_c", "temperature_min_c", "cloud_share")
    list_filter = ("cooperative", "kind", "place")
    list_select_related = ("place",)
    date_hierarchy = "date"


@admin.register(Species)
class SpeciesTable(Table):
    list_display = ("name_en", "code", "scientific_name", "family", "histamine_prone", "figures")
    list_filter = ("histamine_prone", "family", "figures")
    search_fields = ("code", "scientific_name", "name_en", "name_fr", "name_mg", "name_sw")
    fieldsets = (
        (None, {"fields": ["code", "scientific_name", "family", "histamine_prone"]}),
        ("Names", {"fields": ["name_en", "name_fr", "name_mg", "name_sw"]}),
        (
            "Flesh",
            {"fields": ["water_share", "protein_share", "fat_share", "ash_share", "freezing_point_c"]},
        ),
        SOURCE,
    )
