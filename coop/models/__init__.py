from coop.models.buyers import Buyer, LimitKind, ReceivingHours, Weekday
from coop.models.carriers import Carrier, Ride, Vehicle, WaitsIn
from coop.models.cartons import CartonDesign, DesignMaterial, InsulationMaterial, MaterialUse
from coop.models.charges import Charge, ChargeBasis, ChargeKind
from coop.models.cooperatives import Cooperative, Language
from coop.models.figures import Figures
from coop.models.materials import Material, MaterialPrice, Unit
from coop.models.members import Member
from coop.models.places import Climate, DayWeather, Place, WeatherKind
from coop.models.prices import FishPrice
from coop.models.routes import Leg, Route
from coop.models.species import Species
from coop.models.tariffs import RuleKind, Tariff, TariffRule, TariffStep
from coop.models.timetables import Timetable

__all__ = [
    "Buyer",
    "Carrier",
    "CartonDesign",
    "Charge",
    "ChargeBasis",
    "ChargeKind",
    "Climate",
    "Cooperative",
    "DayWeather",
    "DesignMaterial",
    "Figures",
    "FishPrice",
    "InsulationMaterial",
    "Language",
    "Leg",
    "LimitKind",
    "Material",
    "MaterialPrice",
    "MaterialUse",
    "Member",
    "Place",
    "ReceivingHours",
    "Ride",
    "Route",
    "RuleKind",
    "Species",
    "Tariff",
    "TariffRule",
    "TariffStep",
    "Timetable",
    "Unit",
    "Vehicle",
    "WaitsIn",
    "WeatherKind",
    "Weekday",
]
