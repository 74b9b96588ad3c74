"""What is asked of a hold: a carton that is stored or any other, its fish, and what it stands in."""

from rest_framework import serializers

from api.cooperative import today_of
from api.question import Number, refused
from api.question_fields import FishQuestion, Limit, chosen, confidence_field, require_hard
from coop.errors import Problem, invalid
from coop.selectors.cartons import carton_designs_of
from coop.selectors.engine_inputs import carton_of, flesh_of
from coop.selectors.hold_carton import followable_carton
from coop.selectors.hold_weather import between, month_at
from coop.selectors.packing import mass_fault
from coop.selectors.places import places
from coop.selectors.species import all_species, softens_at
from coop.selectors.usable_cartons import fault_of_design

OUTER = ("outer_length_m", "outer_width_m", "outer_height_m")
WALLS = tuple(f"insulation_{face}_m" for face in ("left", "right", "front", "back", "bottom", "top"))
OUTSIDE = ("outside_max_c", "outside_min_c")
COLDEST, HOTTEST = -20, 50
SIZES = {
    "insulation_m": 0.1,
    "board_thickness_m": 0.005,
    "board_conductivity_w_m_k": 0.08,
    "insulation_density_kg_m3": 150.0,
    "insulation_specific_heat_j_kg_k": 1600.0,
    "stowage_density_kg_m3": 500.0,
}
"""Of a carton given by its sizes, what is not said is that of a common one: packed shavings, single fish."""
CARTON = (*OUTER, *WALLS, *SIZES, "insulation_conductivity_w_m_k")
USUAL_CV, USUAL_CLOUD = 0.25, 0.5


def thickness(name):
    return Number(min_value=0.005, max_value=0.5, required=False, help_text=f"m of insulation, {name}")


def told(default, **options):
    """A number that has a default where it counts at all."""
    return Number(required=False, help_text=f"{span(**options)}; {default:g} if not said", **options)


def span(*, min_value, max_value):
    return f"{min_value:g} to {max_value:g}"


class HoldQuestion(FishQuestion):
    """A stored carton by its design, or any by its outer sides; weather by two temperatures or by a month."""

    carton_design = serializers.SlugField(required=False)
    outer_length_m = Number(min_value=0.1, max_value=2.5, required=False)
    outer_width_m = Number(min_value=0.1, max_value=2.5, required=False)
    outer_height_m = Number(min_value=0.1, max_value=2.5, required=False)
    insulation_m = told(SIZES["insulation_m"], min_value=0.005, max_value=0.5)
    insulation_left_m = thickness("left, instead of insulation_m")
    insulation_right_m = thickness("right")
    insulation_front_m = thickness("front")
    insulation_back_m = thickness("back")
    insulation_bottom_m = thickness("bottom")
    insulation_top_m = thickness("top")
    insulation_density_kg_m3 = told(SIZES["insulation_density_kg_m3"], min_value=5, max_value=1000)
    insulation_conductivity_w_m_k = Number(
        min_value=0.005,
        max_value=2,
        required=False,
        help_text="0.005 to 2; that of wood shavings of 80 to 180 kg/m³ if not said",
    )
    insulation_specific_heat_j_kg_k = told(
        SIZES["insulation_specific_heat_j_kg_k"], min_value=500, max_value=4200
    )
    stowage_density_kg_m3 = told(SIZES["stowage_density_kg_m3"], min_value=100, max_value=1000)
    board_thickness_m = told(SIZES["board_thickness_m"], min_value=0, max_value=0.5)
    board_conductivity_w_m_k = told(SIZES["board_conductivity_w_m_k"], min_value=0.005, max_value=2)
    conductivity_cv = told(USUAL_CV, min_value=0.02, max_value=0.6)
    outside_max_c = Number(min_value=COLDEST, max_value=HOTTEST, required=False)
    outside_min_c = Number(min_value=COLDEST, max_value=HOTTEST, required=False)
    cloud_share = told(USUAL_CLOUD, min_value=0, max_value=1)
    place = serializers.SlugField(required=False, help_text="code of a place, with month")
    month = serializers.IntegerField(min_value=1, max_value=12, required=False)
    ride = serializers.ChoiceField(choices=["shade", "sun", "roof", "cabin", "hold"], default="shade")
    offset_c = told(0, min_value=-20, max_value=30)
    closes_at_hour = Number(min_value=0, max_value=24, default=16.0)
    limit = Limit(required=False)
    confidence = confidence_field()


def carton_for(asked, cooperative, species):
    """engines' Carton that is asked about, fit for this fish, and what is said of it with every default."""
    given = [name for name in CARTON if name in asked]
    if "carton_design" not in asked:
        return built_carton(asked, species)
    if given:
        right = "carton_design alone, or sizes alone"
        raise invalid(given[0], asked[given[0]], "is told by carton_design already", right)
    design = chosen(
        carton_designs_of(cooperative).on(today_of(cooperative)), "carton_design", asked["carton_design"]
    )
    fault = fault_of_design(design, species) or mass_fault(design, asked["mass_kg"], places=1)
    if fault:
        raise refused([fault])
    cv = asked.get("conductivity_cv", design.insulation_conductivity_cv)
    return carton_of(design), {"carton_design": design.slug, "conductivity_cv": cv}


def built_carton(asked, species):
    missing = [name for name in OUTER if name not in asked]
    if missing:
        right = f"carton_design, or {', '.join(OUTER)}"
        raise refused([Problem(name, None, "is not said", right) for name in missing])
    sizes = SIZES | {name: asked[name] for name in CARTON if name in asked}
    cv = asked.get("conductivity_cv", USUAL_CV)
    carton = followable_carton(
        sizes,
        flesh_of(species),
        mass_kg=asked["mass_kg"],
        conductivity_cv=cv,
        confidence=asked["confidence"],
    )
    return carton, {**sizes, "conductivity_cv": cv}


def surroundings_of(asked):
    """selectors' Surroundings: of a month at a place, or of two temperatures; and what is said of them."""
    by_month, by_two = ([name for name in names if name in asked] for names in (("place", "month"), OUTSIDE))
    stands = {"ride": asked["ride"], "offset_c": offset_of(asked), "closes_at_hour": asked["closes_at_hour"]}
    if by_month and by_two:
        right = "place and month, or outside_max_c and outside_min_c"
        raise invalid(by_two[0], asked[by_two[0]], "is told by place and month already", right)
    require_both(asked, ("place", "month") if by_month else OUTSIDE)
    if by_month:
        if "cloud_share" in asked:
            raise invalid("cloud_share", asked["cloud_share"], "is told by place and month already", "none")
        place = chosen(places(), "place", asked["place"], key="code")
        return month_at(place, asked["month"], **stands), stands
    low, high = asked["outside_min_c"], asked["outside_max_c"]
    if low > high:
        raise invalid("outside_min_c", low, "is above outside_max_c", f"{COLDEST} to {high:g}")
    cloud = asked.get("cloud_share", USUAL_CLOUD)
    return between(low, high, cloud_share=cloud, **stands), {**stands, "cloud_share": cloud}


def require_both(asked, names):
    missing = [name for name in names if name not in asked]
    if missing:
        right = "a value, beside the other one; or place and month, or outside_max_c and outside_min_c"
        raise refused([Problem(name, None, "is not said", right) for name in missing])


def offset_of(asked):
    """How much warmer it is where the carton rides: nothing is added to the open air."""
    offset, ride = asked.get("offset_c", 0.0), asked["ride"]
    if offset and ride not in ("cabin", "hold"):
        raise invalid("offset_c", offset, f"does not count in the {ride}", "0, or ride=cabin or ride=hold")
    return offset


def fish_in(asked):
    """The species, once the fish is known to be hard."""
    species = chosen(all_species(), "species", asked["species"], key="code")
    require_hard(asked["start_temperature_c"], softens_at(species))
    return species
