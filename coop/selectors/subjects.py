"""The dated subjects by the word that stands in their address, and what people call a row of each."""

from dataclasses import dataclass

from coop.models import BuyerLimit, CartonDesign, Charge, FishPrice, MaterialPrice, Tariff, Terms, Timetable

NOT_FIGURES = {"id", "cooperative", "figures", "source", "slug", "valid_from"}


@dataclass(frozen=True)
class Subject:
    """`beside` are the relations that the name of a row needs; a record of a history has the same."""

    word: str
    model: type
    name: object
    beside: tuple = ()
    parts: str = ""
    """The figure that stands for the parts of a row, if it has any."""

    @property
    def figures(self):
        """Columns that a change may change; what makes a row the row of its thing is none."""
        fields = self.model._meta.concrete_fields
        return tuple(
            field.name
            for field in fields
            if field.name not in NOT_FIGURES and field.name not in self.model.alike
        )

    @property
    def is_confirmed(self):
        """Whether somebody asks about it from time to time."""
        return "confirmed_on" in self.figures


def _way(row):
    return f"{row.carrier.name}, {row.route.name}"


def _charge(row):
    return ", ".join([row.name, *(other.name for other in (row.route, row.buyer) if other)])


SUBJECTS = {
    subject.word: subject
    for subject in (
        Subject("tariffs", Tariff, _way, ("carrier", "route"), "rules"),
        Subject("fish-prices", FishPrice, lambda row: row.species.name_en, ("species",)),
        Subject("material-prices", MaterialPrice, lambda row: row.material.name, ("material",)),
        Subject("charges", Charge, _charge, ("route", "buyer")),
        Subject(
            "timetables",
            Timetable,
            lambda row: f"{_way(row)}, {row.departs_at_local:%H:%M}",
            ("carrier", "route"),
        ),
        Subject("carton-designs", CartonDesign, lambda row: row.name, (), "materials"),
        Subject("terms", Terms, lambda _row: "terms"),
        Subject("buyer-limits", BuyerLimit, lambda row: row.buyer.name, ("buyer",)),
    )
}
