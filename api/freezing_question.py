"""What is asked of a freezing: a freezer, the fish and its shape, and the hours."""

import math

from rest_framework import serializers

from api.question import Number
from api.question_fields import Instant, chosen
from api.rounding import written
from coop.errors import invalid
from coop.selectors import freezing
from coop.selectors.freezers import freezers_of
from coop.selectors.species import all_species

SIDES = {"slab": (), "cylinder": ("length_cm",), "brick": ("width_cm", "length_cm")}
SIDES["ellipsoid"] = SIDES["brick"]
"""Sides besides the thickness that a shape has. One that is not said counts as without end: the slow side."""
LONGEST_WAIT_DAYS = 60


class FreezingQuestion(serializers.Serializer):
    """One lot, in pieces that are alike: single fish are ellipsoids, fish on a tray or in a block a slab."""

    freezer = serializers.SlugField()
    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    mass_kg = Number(min_value=0.1, max_value=100_000)
    besides_kg = Number(min_value=0, max_value=100_000, default=0.0)
    shape = serializers.ChoiceField(choices=freezing.BODY_SHAPES)
    thickness_cm = Number(min_value=0.5, max_value=50)
    width_cm = Number(min_value=0.5, max_value=500, required=False)
    length_cm = Number(min_value=0.5, max_value=500, required=False)
    warm_temperature_c = Number(min_value=5, max_value=30)
    core_c = Number(min_value=-40, max_value=-10, default=-18.0)
    put_in_at = Instant()
    closes_at = Instant(required=False)


def question_of(asked, cooperative):
    """The selectors' FreezingQuestion."""
    require_hours(asked)
    return freezing.FreezingQuestion(
        cooperative=cooperative,
        freezer=chosen(freezers_of(cooperative), "freezer", asked["freezer"]),
        species=chosen(all_species(), "species", asked["species"], key="code"),
        mass_kg=asked["mass_kg"],
        besides_kg=asked["besides_kg"],
        **sides_of(asked),
        initial_c=asked["warm_temperature_c"],
        put_in_at=asked["put_in_at"],
        closes_at=asked.get("closes_at"),
        core_c=asked["core_c"],
    )


def sides_of(asked):
    """m of the sides that are said, each at least as long as the one before; inf for the others."""
    shape, thickness = asked["shape"], asked["thickness_cm"]
    for name in ("width_cm", "length_cm"):
        if name in asked and name not in SIDES[shape]:
            raise invalid(name, asked[name], f"does not count for a {shape}", "not to name it")
    width = asked.get("width_cm", thickness if shape == "cylinder" else math.inf)
    length = asked.get("length_cm", math.inf)
    if width < thickness:
        raise invalid("width_cm", width, "is less than the thickness", f"{thickness:g} or more")
    if length < width:
        right = f"{width:g} or more" if math.isfinite(width) else "width_cm beside it"
        raise invalid("length_cm", length, "is less than the width", right)
    metres = (side / 100 for side in (thickness, width, length))
    return {"shape": shape} | dict(zip(("thickness_m", "width_m", "length_m"), metres, strict=True))


def require_hours(asked):
    closes_at = asked.get("closes_at")
    if closes_at is None:
        return
    days = (closes_at - asked["put_in_at"]).total_seconds() / 86_400
    if not 0 < days <= LONGEST_WAIT_DAYS:
        problem = "is not after it was put in" if days <= 0 else "is months after it was put in"
        right = f"after put_in_at, by at most {LONGEST_WAIT_DAYS} days"
        raise invalid("closes_at", closes_at.isoformat(), problem, right)


def echo_of(asked, zone):
    sides = {name: asked.get(name) for name in ("width_cm", "length_cm")}
    hours = {name: written(asked.get(name), zone) for name in ("put_in_at", "closes_at")}
    return {**asked, **sides, **hours}
