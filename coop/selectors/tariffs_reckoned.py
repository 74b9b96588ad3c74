"""A stored tariff as the engine of fares takes it."""

from coop.engines import tariff as fares
from coop.engines.money import exact
from coop.models.tariffs import RuleKind


def tariff_of(row):
    """engines.tariff.Tariff of a stored tariff."""
    return fares.Tariff(
        rules=tuple(_rule_of(rule) for rule in row.rules.all()),
        valid_from=row.valid_from,
        valid_until=row.valid_until,
        confirmed_on=row.confirmed_on,
    )


def _rule_of(rule):
    amounts = {"amount": rule.amount_minor, "minimum_charge": rule.minimum_minor}
    by_mass = amounts | {"minimum_mass": exact("minimum_kg", rule.minimum_kg)}
    if rule.kind == RuleKind.BY_STEP:
        steps = tuple((exact("from_kg", step.from_kg), step.amount_minor) for step in rule.steps.all())
        return fares.ByStep(
            steps=steps, minimum_charge=rule.minimum_minor, per_kilogram=rule.steps_per_kilogram
        )
    if rule.kind == RuleKind.PER_VOLUMETRIC_KILOGRAM:
        return fares.PerVolumetricKilogram(
            **by_mass, divisor=exact("divisor", rule.volumetric_divisor_cm3_per_kg)
        )
    if rule.kind == RuleKind.PER_SEAT:
        return fares.PerSeat(**amounts, seats_per_carton=rule.seats_per_carton)
    if rule.kind == RuleKind.SURCHARGE:
        return fares.Surcharge(
            share=exact("surcharge_share", rule.surcharge_share, least=-1), months=tuple(rule.months)
        )
    if rule.kind == RuleKind.PER_KILOGRAM:
        return fares.PerKilogram(**by_mass)
    plain = {
        RuleKind.PER_CARTON: fares.PerCarton,
        RuleKind.PER_VOLUME: fares.PerVolume,
        RuleKind.RETURN_OF_EMPTY: fares.ReturnOfEmpty,
    }
    return plain[rule.kind](**amounts)
