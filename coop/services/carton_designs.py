from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from coop.errors import Conflict, Problem, invalid
from coop.models import CartonDesign, DesignMaterial, Member
from coop.services.changes import NoParts, Wanted, change, pen_of
from coop.services.roles import require_own

NO_FIGURES = {"id", "cooperative", "slug", "figures", "source", "valid_from", "valid_until"}
FIGURES = tuple(field.name for field in CartonDesign._meta.concrete_fields if field.name not in NO_FIGURES)


@transaction.atomic
def change_carton_design(
    *,
    by: Member,
    design: CartonDesign,
    valid_from: date,
    materials: list[dict] | None = None,
    valid_until: date | None = None,
    note: str = "",
    now: datetime | None = None,
    **figures,
) -> CartonDesign:
    """A version of a design that counts from a day on; what is not named stays as it is on that day.

    materials are columns of DesignMaterial by name, all that one carton needs.
    """
    pen = pen_of(by, "change a carton design", note, now)
    require_own(by, design)
    rows = CartonDesign.objects.of(pen.cooperative).filter(slug=design.slug)
    counting = rows.on(valid_from).first() or design
    kept = {name: getattr(counting, name) for name in FIGURES}
    if materials is None:
        materials = [columns_of(row) for row in counting.materials.select_related("material")]
    wanted = _wanted(pen, design.slug, kept | checked(figures), materials, valid_from, valid_until)
    return change(pen, wanted)


@transaction.atomic
def add_carton_design(
    *,
    by: Member,
    slug: str,
    valid_from: date,
    materials: list[dict],
    valid_until: date | None = None,
    note: str = "",
    now: datetime | None = None,
    **figures,
) -> CartonDesign:
    """A design that there was not yet, from a day on."""
    pen = pen_of(by, "add a carton design", note, now)
    if CartonDesign.objects.of(pen.cooperative).filter(slug=slug).exists():
        wrong = Problem(
            "slug", slug, "names a design already", "another short name, or to change that design"
        )
        raise Conflict("There is a design of this name.", wrong)
    return change(pen, _wanted(pen, slug, checked(figures), materials, valid_from, valid_until))


@dataclass(frozen=True)
class Materials(NoParts):
    """What one carton of a design is to need; columns of DesignMaterial, each as pairs in order."""

    rows: frozenset

    def same(self, design):
        return frozenset(as_pairs(columns_of(row)) for row in design.materials.all()) == self.rows

    def write(self, design, pen):
        for row in list(design.materials.all()):
            pen.take_away(row)
        for columns in sorted(map(dict, self.rows), key=lambda one: (one["use"], one["material"].slug)):
            pen.write(DesignMaterial(design=design, **columns))

    def require_replaceable(self, design):
        """A version in which fish travels, or that a quote names, stays as it was when it was chosen."""
        users = [rel for rel in CartonDesign._meta.related_objects if rel.related_model is not DesignMaterial]
        if any(getattr(design, rel.get_accessor_name()).exists() for rel in users):
            begins = design.valid_from.isoformat()
            right = f"a day after {begins}"
            wrong = Problem("valid_from", begins, "begins with a version that is used already", right)
            raise Conflict("A version of a carton that is in use never changes.", wrong)


def columns_of(row):
    return {name: getattr(row, name) for name in ("material", "use", "quantity", "returns_with_box")}


def as_pairs(columns):
    return tuple(sorted(({"quantity": None, "returns_with_box": False} | columns).items()))


def checked(figures):
    unknown = set(figures) - set(FIGURES)
    if unknown:
        raise TypeError(f"a carton design has no {', '.join(sorted(unknown))}")
    return figures


def _wanted(pen, slug, figures, materials, valid_from, valid_until):
    rows = [as_pairs(columns) for columns in materials]
    if len(set(rows)) < len(rows):
        raise invalid(
            "materials", [dict(row)["use"] for row in rows], "name one twice", "each once for a use"
        )
    require_own(pen.by, *(columns["material"] for columns in materials))
    return Wanted(
        model=CartonDesign,
        alike={"cooperative": pen.cooperative, "slug": slug},
        figures=figures,
        valid_from=valid_from,
        valid_until=valid_until,
        parts=Materials(frozenset(rows)),
    )
