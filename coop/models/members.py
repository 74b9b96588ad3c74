from django.db import models

from coop.models.columns import Day, Text
from coop.models.keys import Keyed
from coop.models.ownership import Owned


class Member(Owned, Keyed):
    key_fields = ("cooperative__slug", "name", "phone")

    name = Text("name", max_length=120)
    phone = Text("telephone", max_length=32, blank=True)
    joined_on = Day("member since")

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "name", "phone"],
                name="member_once_in_a_cooperative",
                violation_error_message="This member stands in the list already.",
            )
        ]

    def __str__(self):
        return self.name
