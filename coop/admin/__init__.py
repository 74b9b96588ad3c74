from coop.admin import buyers, cartons, charges, cooperatives, fares, materials, places, prices, routes

__all__ = [
    "buyers",
    "cartons",
    "charges",
    "cooperatives",
    "fares",
    "materials",
    "places",
    "prices",
    "routes",
]
