from datetime import date

import factory

from coop.models import CartonDesign, DesignMaterial
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialFactory


class CartonDesignFactory(factory.django.DjangoModelFactory):
    """The common carton: 10 cm of packed shavings all round."""

    class Meta:
        model = CartonDesign

    cooperative = factory.SubFactory(CooperativeFactory)
    slug = factory.Sequence(lambda n: f"carton-{n}")
    name = factory.LazyAttribute(lambda it: it.slug.title())
    outer_length_m = 1.0
    outer_width_m = 0.7
    outer_height_m = 0.7
    board_thickness_m = 0.005
    insulation_density_kg_m3 = 150.0
    stowage_density_kg_m3 = 530.0
    valid_from = date(2025, 1, 1)


class ReturnableBoxFactory(CartonDesignFactory):
    insulation_material = "polyurethane"
    insulation_density_kg_m3 = 40.0
    insulation_conductivity_w_m_k = 0.024
    returnable = True
    expected_trips = 60
    loss_chance = 0.02
    empty_mass_kg = 14.0


class DesignMaterialFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = DesignMaterial

    design = factory.SubFactory(CartonDesignFactory)
    material = factory.SubFactory(MaterialFactory, cooperative=factory.SelfAttribute("..design.cooperative"))
    use = "carton"
    quantity = 1.0
