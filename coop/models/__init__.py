from coop.models.buyers import Buyer, LimitKind, ReceivingHours, Weekday
from coop.models.carriers import Carrier, Ride, Vehicle, WaitsIn
from coop.models.cartons import CartonDesign, DesignMaterial, InsulationMaterial, MaterialUse
from coop.models.charges import Charge, ChargeBasis, ChargeKind
from coop.models.claims import Claim, ClaimKind, ClaimPart
from coop.models.cooperatives import ClaimsRule, Cooperative, Language, SharingRule
from coop.models.entries import Entry, EntryKind
from coop.models.figures import Figures
from coop.models.freezers import Freezer
from coop.models.lots import Lot
from coop.models.materials import Material, MaterialPrice, Unit
from coop.models.members import Member, Role
from coop.models.parcels import Parcel, ParcelCarton, ParcelState, Part
from coop.models.phones import EnrolmentCode, Phone, PhoneToken
from coop.models.places import Climate, DayWeather, Place, WeatherKind
from coop.models.plans import Plan
from coop.models.prices import FishPrice
from coop.models.routes import Leg, Route
from coop.models.separations import Separation
from coop.models.shares import BillLine, Share, Stability
from coop.models.species import Species
from coop.models.tariffs import RuleKind, Tariff, TariffRule, TariffStep
from coop.models.timetables import Timetable

__all__ = [
    "BillLine",
    "Buyer",
    "Carrier",
    "CartonDesign",
    "Charge",
    "ChargeBasis",
    "ChargeKind",
    "Claim",
    "ClaimKind",
    "ClaimPart",
    "ClaimsRule",
    "Climate",
    "Cooperative",
    "DayWeather",
    "DesignMaterial",
    "EnrolmentCode",
    "Entry",
    "EntryKind",
    "Figures",
    "FishPrice",
    "Freezer",
    "InsulationMaterial",
    "Language",
    "Leg",
    "LimitKind",
    "Lot",
    "Material",
    "MaterialPrice",
    "MaterialUse",
    "Member",
    "Parcel",
    "ParcelCarton",
    "ParcelState",
    "Part",
    "Phone",
    "PhoneToken",
    "Place",
    "Plan",
    "ReceivingHours",
    "Ride",
    "Role",
    "Route",
    "RuleKind",
    "Separation",
    "Share",
    "SharingRule",
    "Species",
    "Stability",
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
