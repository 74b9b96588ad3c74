from coop.models import Material, MaterialPrice


def materials_of(cooperative):
    """Materials with all their prices, newest first."""
    return Material.objects.of(cooperative).prefetch_related("prices")


def material_prices_of(cooperative):
    prices = MaterialPrice.objects.of(cooperative)
    return prices.select_related("material").order_by("material__name", "-valid_from")


def price_on(material, day):
    """The price of a material that counts on a day, or None; no query where its prices were fetched."""
    counting = (price for price in material.prices.all() if price.counts_on(day))
    return next(counting, None)
