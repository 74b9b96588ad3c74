"""The packing sheet: how each carton is filled, and what is bought for all of them."""

from rest_framework import serializers

from api.cartons import CartonDesignName
from api.rounding import down, nearest, up

FACES = ("left", "right", "front", "back", "bottom", "top")
METRES, KILOGRAMS = 4, 2


class FacesOut(serializers.Serializer):
    left = serializers.FloatField()
    right = serializers.FloatField()
    front = serializers.FloatField()
    back = serializers.FloatField()
    bottom = serializers.FloatField()
    top = serializers.FloatField()

    example = {face: 0.1 for face in FACES}


class InsulationOut(serializers.Serializer):
    material = serializers.CharField()
    density_kg_m3 = serializers.FloatField(help_text="as packed")
    volume_m3 = serializers.FloatField()
    mass_kg = serializers.FloatField()
    sacks = serializers.IntegerField(allow_null=True)

    example = {
        "material": "shavings",
        "density_kg_m3": 150.0,
        "volume_m3": 0.3184,
        "mass_kg": 47.77,
        "sacks": 6,
    }


class PurchaseOut(serializers.Serializer):
    name = serializers.CharField()
    quantity = serializers.FloatField()
    unit = serializers.CharField()
    amount_minor = serializers.IntegerField(allow_null=True)
    priced_on = serializers.DateField(allow_null=True)

    example = {
        "name": "Dry shavings",
        "quantity": 6.0,
        "unit": "sack",
        "amount_minor": 9000,
        "priced_on": "2026-02-20",
    }


class PackingOut(serializers.Serializer):
    carton_design = CartonDesignName()
    outer_m = serializers.ListField(child=serializers.FloatField(), help_text="length, width, height")
    faces_m = FacesOut()
    board_m = serializers.FloatField()
    fish_m = serializers.ListField(child=serializers.FloatField(), help_text="in each carton")
    fill_above_m = serializers.FloatField(help_text="insulation between a part load and the top insulation")
    cartons = serializers.IntegerField()
    mass_kg = serializers.FloatField(help_text="fish in all cartons")
    mass_in_one_kg = serializers.FloatField()
    capacity_kg = serializers.FloatField(help_text="most fish that one carton holds")
    gross_kg = serializers.FloatField(help_text="all cartons packed")
    gross_in_one_kg = serializers.FloatField()
    insulation = InsulationOut(help_text="in each carton")
    ua_w_k = serializers.FloatField(help_text="of each carton in still air")
    atp_k_w_m2_k = serializers.FloatField(help_text="of the full carton: to compare, no certificate")
    buy = PurchaseOut(many=True, help_text="for all cartons")

    example = {
        "carton_design": CartonDesignName.example,
        "outer_m": [1.0, 0.7, 0.7],
        "faces_m": FacesOut.example,
        "board_m": 0.005,
        "fish_m": [0.79, 0.49, 0.39],
        "fill_above_m": 0.1,
        "cartons": 1,
        "mass_kg": 80.0,
        "mass_in_one_kg": 80.0,
        "capacity_kg": 100.5,
        "gross_kg": 131.2,
        "gross_in_one_kg": 131.2,
        "insulation": InsulationOut.example,
        "ua_w_k": 1.61,
        "atp_k_w_m2_k": 0.71,
        "buy": [PurchaseOut.example],
    }


def packing_of(sheet, cartons):
    """PackingOut of so many cartons, each packed as a selectors' PackingSheet says."""
    design, carton, load = sheet.design, sheet.carton, sheet.load
    sides = (carton.outer_length, carton.outer_width, carton.outer_height)
    return {
        "carton_design": {"slug": design.slug, "name": design.name, "returnable": design.returnable},
        "outer_m": [nearest(side, METRES) for side in sides],
        "faces_m": {
            face: nearest(value, METRES) for face, value in zip(FACES, carton.insulation, strict=True)
        },
        "board_m": nearest(carton.board_thickness, METRES),
        "fish_m": [nearest(side, METRES) for side in (load.fish_length, load.fish_width, load.fish_height)],
        "fill_above_m": nearest(load.fill_above, METRES),
        "cartons": cartons,
        "mass_kg": nearest(load.mass * cartons, KILOGRAMS),
        "mass_in_one_kg": nearest(load.mass, KILOGRAMS),
        "capacity_kg": down(sheet.capacity_kg, 1),
        "gross_kg": up(sheet.gross_kg * cartons, 1),
        "gross_in_one_kg": up(sheet.gross_kg, 1),
        "insulation": insulation_of(design, sheet.materials),
        "ua_w_k": nearest(sheet.conductance, 3),
        "atp_k_w_m2_k": nearest(sheet.atp_k, 3),
        "buy": [purchase_of(one, cartons) for one in sheet.purchases],
    }


def insulation_of(design, materials):
    return {
        "material": design.insulation_material,
        "density_kg_m3": design.insulation_density_kg_m3,
        "volume_m3": nearest(materials.insulation_volume, 4),
        "mass_kg": nearest(materials.insulation_mass, KILOGRAMS),
        "sacks": materials.insulation_sacks,
    }


def purchase_of(purchase, cartons):
    amount = purchase.amount_minor
    return {
        "name": purchase.name,
        "quantity": nearest(purchase.quantity * cartons, 4),
        "unit": purchase.unit,
        "amount_minor": amount if amount is None else amount * cartons,
        "priced_on": purchase.priced_on and purchase.priced_on.isoformat(),
    }
