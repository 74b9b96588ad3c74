"""The parts of tariffs and carton designs as they were at an instant, as plain values."""

from coop.models import DesignMaterial, TariffRule, TariffStep

RULE = (
    "kind",
    "amount_minor",
    "minimum_minor",
    "minimum_kg",
    "seats_per_carton",
    "steps_per_kilogram",
    "volumetric_divisor_cm3_per_kg",
    "surcharge_share",
    "months",
)


class PartsKept:
    """Records of the parts of some rows of a subject, read once."""

    def __init__(self, subject, ids):
        self.rules = self.steps = self.materials = ()
        if subject.parts == "rules":
            self.rules = _in_order(TariffRule.history.filter(tariff__in=ids))
            of_rules = {record.id for record in self.rules}
            self.steps = _in_order(TariffStep.history.filter(rule__in=of_rules))
        elif subject.parts == "materials":
            of_designs = DesignMaterial.history.filter(design__in=ids)
            self.materials = _in_order(of_designs.select_related("material"))

    def of(self, row, *, before=None):
        """Parts of a record, or of a stored row of before an instant; None of none."""
        if row is None:
            return None
        at = getattr(row, "history_date", before)
        if self.materials:
            found = (part for part in _at(self.materials, at) if part.design_id == row.id)
            return sorted(map(_material, found), key=lambda one: (one["use"], one["material"]))
        rules = sorted(
            (part for part in _at(self.rules, at) if part.tariff_id == row.id), key=lambda part: part.position
        )
        steps = _at(self.steps, at)
        return [_rule(rule, [step for step in steps if step.rule_id == rule.id]) for rule in rules]


def _in_order(records):
    return tuple(records.order_by("history_date", "history_id"))


def _at(records, instant):
    """The last record of each part until an instant, without those that were gone by then."""
    last = {record.id: record for record in records if record.history_date <= instant}
    return [record for record in last.values() if record.history_type != "-"]


def _rule(rule, steps):
    rising = sorted(steps, key=lambda step: step.from_kg)
    shown = [{"from_kg": step.from_kg, "amount_minor": step.amount_minor} for step in rising]
    return {**{name: getattr(rule, name) for name in RULE}, "steps": shown}


def _material(part):
    return {
        "material": part.material.slug,
        "name": part.material.name,
        "use": part.use,
        "quantity": part.quantity,
        "returns_with_box": part.returns_with_box,
    }
