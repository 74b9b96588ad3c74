import factory

from coop.models import BillLine, Share, Stability
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelCartonFactory, ParcelFactory, PartFactory, closed


class ClosedParcelFactory(ParcelFactory):
    """A parcel with one carton of one lot, closed; its bill is not written yet."""

    @factory.post_generation
    def closing(parcel, create, extracted, **options):  # noqa: N805 factory-boy calls it with the row
        PartFactory(carton=ParcelCartonFactory(parcel=parcel))
        closed(parcel)

    class Meta:
        skip_postgeneration_save = True


class BillLineFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = BillLine

    parcel = factory.SubFactory(ClosedParcelFactory)
    position = 1
    code = "fare"
    name = "Fare"
    amount_minor = 20_000


class ShareFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Share

    parcel = factory.SubFactory(ClosedParcelFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..parcel.cooperative"))
    rule = "capped"
    mass_kg = 20.0
    amount_minor = 20_000
    alone_minor = 25_000


class StabilityFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Stability

    parcel = factory.SubFactory(ClosedParcelFactory)
    rule = "capped"
    core_is_empty = False
