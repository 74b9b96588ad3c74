from coop.models import FishPrice


def fish_prices_of(cooperative):
    prices = FishPrice.objects.of(cooperative).select_related("species")
    return prices.order_by("species__name_en", "-valid_from")


def fish_price_on(cooperative, species, day):
    """What a species costs and fetches on a day, or None."""
    return fish_prices_of(cooperative).filter(species=species).on(day).first()
