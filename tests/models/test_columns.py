from django.db import models

from coop.models.columns import Link, Number, Text


def test_a_migration_names_the_field_of_django_and_none_of_the_words():
    column = Number("altitude (m)", help_text="above the sea", validators=[print], null=True)
    assert column.deconstruct()[1:] == ("django.db.models.FloatField", [], {"null": True})


def test_a_choice_more_makes_no_migration():
    few = Text("kind", max_length=8, choices=[("a", "A")])
    many = Text("kind", max_length=8, choices=[("a", "A"), ("b", "B")])
    assert few.deconstruct() == many.deconstruct()
    assert few.deconstruct()[3] == {"max_length": 8}


def test_a_link_stays_a_foreign_key_with_what_the_database_needs():
    link = Link("coop.Place", on_delete=models.PROTECT, verbose_name="place")
    _, path, _, options = link.deconstruct()
    assert path == "django.db.models.ForeignKey"
    assert options == {"to": "coop.place", "on_delete": models.PROTECT}
