"""Numbers of rows that stand inside of a column of JSON: an archive has names there, as in other columns."""

from coop.models import (
    BuyerLimit,
    Carrier,
    CartonDesign,
    Charge,
    FishPrice,
    MaterialPrice,
    Member,
    Tariff,
    Terms,
    Timetable,
)

SUBJECTS = {
    "buyer_limit": BuyerLimit,
    "carton_design": CartonDesign,
    "charge": Charge,
    "fish_price": FishPrice,
    "material_price": MaterialPrice,
    "tariff": Tariff,
    "terms": Terms,
    "timetable": Timetable,
}
# (model, column) -> (path, what the number names); a star stands for every item of a list. Where that depends
# on its `subject`, the path leads to what has both.
NUMBERS = {
    ("Stability", "leaves"): ((("*",), Member),),
    ("Plan", "proposal"): (
        (("cartons", "*", "timetable"), Timetable),
        (("cartons", "*", "carrier", "id"), Carrier),
        (("cartons", "*", "parts", "*", "member", "id"), Member),
        (("left_behind", "*", "member", "id"), Member),
    ),
    ("Quote", "figures"): (
        (("member", "id"), Member),
        (("carrier", "id"), Carrier),
        (("rests_on", "*"), SUBJECTS),
    ),
}


def named_inside(model):
    """Models whose rows the texts of a model name."""
    paths = [path for (name, _), found in NUMBERS.items() if name == model for path in found]
    found = {target for _, target in paths if target is not SUBJECTS}
    return found | (set(SUBJECTS.values()) if any(target is SUBJECTS for _, target in paths) else set())


def with_names(model, column, value, belongings):
    """The value with the natural key of each row in place of its number; None for one that is gone."""

    def name(target, number):
        return belongings.keys[target].get(number) if isinstance(number, int) else None

    return changed(model, column, value, name)


def with_numbers(model, column, value, number_of):
    """The other way: `number_of(model, key)` says the number of a row."""

    def number(target, key):
        return None if key is None else number_of(target, key)

    return changed(model, column, value, number)


def changed(model, column, value, change):
    for path, target in NUMBERS.get((model, column), ()):
        value = at_path(value, path, lambda found, target=target: renamed(found, target, change))
    return value


def renamed(found, target, change):
    if target is not SUBJECTS:
        return change(target, found)
    of_subject = SUBJECTS.get(found.get("subject")) if isinstance(found, dict) else None
    return {**found, "id": change(of_subject, found["id"])} if of_subject else found


def at_path(value, path, change):
    if not path:
        return change(value)
    step, rest = path[0], path[1:]
    if step == "*" and isinstance(value, list):
        return [at_path(item, rest, change) for item in value]
    if isinstance(value, dict) and step in value:
        return {**value, step: at_path(value[step], rest, change)}
    return value
