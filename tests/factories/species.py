import factory

from coop.models import Species


class SpeciesFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Species
        django_get_or_create = ("code",)

    # AAA, AAB, AAC …
    code = factory.Sequence(lambda n: "".join(chr(65 + n // 26**power % 26) for power in (2, 1, 0)))
    scientific_name = factory.LazyAttribute(lambda it: f"Piscis {it.code.lower()}")
    name_en = factory.LazyAttribute(lambda it: f"Fish {it.code}")
    family = "Latidae"
    water_share = 0.80
    protein_share = 0.18
    fat_share = 0.01
    ash_share = 0.01
