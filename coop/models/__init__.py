from coop.models.buyer_limits import BuyerLimit, LimitKind
from coop.models.buyers import Buyer, ReceivingHours, Weekday
from coop.models.calendar_links import CalendarLink
from coop.models.carriers import Carrier, Ride, Vehicle, WaitsIn
from coop.models.cartons import CartonDesign, DesignMaterial, InsulationMaterial, MaterialUse
from coop.models.charges import Charge, ChargeBasis, ChargeKind
from coop.models.claims import Claim, ClaimKind, ClaimPart
from coop.models.cooperatives import ClaimsRule, Cooperative, Language, SharingRule
from coop.models.entries import Entry, EntryKind
from coop.models.figures import Figures
from coop.models.freezers import Freezer
from coop.models.kept import Kept
from coop.models.lots import Lot
from coop.models.materials import Material, MaterialPrice, Unit
from coop.models.members import Member, Role
from coop.models.parcels import Parcel, ParcelCarton, ParcelState, Part
from coop.models.phones import EnrolmentCode, Phone, PhoneToken
from coop.models.places import Climate, DayWeather, Place, WeatherKind
from coop.models.plans import Plan
from coop.models.prices import FishPrice
from coop.models.quotes import Becomes, ProfitKind, Quote, QuoteQuestion, QuoteState
from coop.models.routes import Leg, Route
from coop.models.separations import Separation
from coop.models.shares import BillLine, Share, Stability
from coop.models.species import Species
from coop.models.supplies import Supply
from coop.models.tariffs import RuleKind, Tariff, TariffRule, TariffStep
from coop.models.terms import Terms
from coop.models.timetables import Timetable
from coop.models.writes import Write

__all__ = [
    "Becomes",
    "BillLine",
    "Buyer",
    "BuyerLimit",
    "CalendarLink",
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
    "Kept",
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
    "ProfitKind",
    "Quote",
    "QuoteQuestion",
    "QuoteState",
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
    "Supply",
    "Tariff",
    "TariffRule",
    "TariffStep",
    "Terms",
    "Timetable",
    "Unit",
    "Vehicle",
    "WaitsIn",
    "WeatherKind",
    "Weekday",
    "Write",
]
