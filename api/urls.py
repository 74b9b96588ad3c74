"""Every address of the interface, literally."""

from django.urls import path, re_path

from api import (
    buyers,
    carriers,
    cartons,
    charges,
    cooperatives,
    materials,
    members,
    places,
    prices,
    routes,
    schema,
    species,
    stored,
    tariffs,
    timetables,
)

urlpatterns = [
    # what is worked out
    # (departures/, departures/<id>/, hold/ and cost/ stand here)
    # what is stored
    path("buyers/", buyers.Buyers.as_view()),
    path("buyers/<slug:slug>/", buyers.Buyer.as_view()),
    path("carriers/", carriers.Carriers.as_view()),
    path("carriers/<int:pk>/", carriers.Carrier.as_view()),
    path("carton-designs/", cartons.CartonDesigns.as_view()),
    path("carton-designs/<slug:slug>/", cartons.CartonDesign.as_view()),
    path("charges/", charges.Charges.as_view()),
    path("charges/<int:pk>/", charges.Charge.as_view()),
    path("climates/", places.Climates.as_view()),
    path("climates/<int:pk>/", places.Climate.as_view()),
    path("cooperatives/", cooperatives.Cooperatives.as_view()),
    path("cooperatives/<slug:slug>/", cooperatives.Cooperative.as_view()),
    path("day-weather/", places.DayWeathers.as_view()),
    path("day-weather/<int:pk>/", places.DayWeather.as_view()),
    path("fish-prices/", prices.FishPrices.as_view()),
    path("fish-prices/<int:pk>/", prices.FishPrice.as_view()),
    path("legs/", routes.Legs.as_view()),
    path("legs/<int:pk>/", routes.Leg.as_view()),
    path("materials/", materials.Materials.as_view()),
    path("materials/<slug:slug>/", materials.Material.as_view()),
    path("members/", members.Members.as_view()),
    path("members/<int:pk>/", members.Member.as_view()),
    path("places/", places.Places.as_view()),
    path("places/<slug:code>/", places.Place.as_view()),
    path("routes/", routes.Routes.as_view()),
    path("routes/<slug:slug>/", routes.Route.as_view()),
    path("species/", species.SpeciesList.as_view()),
    path("species/<slug:code>/", species.SpeciesOne.as_view()),
    path("tariffs/", tariffs.Tariffs.as_view()),
    path("tariffs/<int:pk>/", tariffs.Tariff.as_view()),
    path("timetables/", timetables.Timetables.as_view()),
    path("timetables/<int:pk>/", timetables.Timetable.as_view()),
    # what all this is
    path("schema/", schema.Description.as_view()),
    # whatever else below /api/v1/ fails in the one shape
    re_path("", stored.Nowhere.as_view()),
]
