"""What each subject of an import is: its lines, what makes one of it, and the service that changes it."""

import re
from dataclasses import dataclass

from coop.errors import Problem, invalid
from coop.models import Charge, FishPrice, MaterialPrice, Tariff, Timetable
from coop.models.timetables import WEEKDAYS
from coop.selectors import exports
from coop.selectors.buyers import buyers_of
from coop.selectors.carriers import carriers_of
from coop.selectors.materials import materials_of
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species
from coop.services.changes import end, filters
from coop.services.charges import change_charge
from coop.services.fish_prices import change_fish_price
from coop.services.imports import CHANGED, NEW, SAME, Change, Difference
from coop.services.material_prices import change_material_price
from coop.services.tariffs import change_tariff
from coop.services.timetables import change_timetable

DIRECTORIES = {
    "carrier": ("name", carriers_of),
    "route": ("slug", routes_of),
    "buyer": ("slug", buyers_of),
    "material": ("slug", materials_of),
    "species": ("code", lambda _cooperative: all_species()),
}
MOST_NAMED = 10
# A field of a rule as `change_tariff` names it; its line is that of the rule.
RULE_FIELD = re.compile(r"rules\.(\d+)\.(?:.*\.)?(\w+)$")


class Names:
    """Rows of a cooperative by the names that a file gives them, each table read once."""

    def __init__(self, cooperative):
        self.cooperative, self.found = cooperative, {}

    def __call__(self, column, name):
        if name is None:
            return None
        if column not in self.found:
            key, select = DIRECTORIES[column]
            self.found[column] = {getattr(row, key): row for row in select(self.cooperative)}
        rows = self.found[column]
        if name not in rows:
            shown = ", ".join(sorted(rows)[:MOST_NAMED])
            right = f"one of {shown}{' and others' if len(rows) > MOST_NAMED else ''}" if rows else "none yet"
            raise invalid(column, name, "is not known here", right)
        return rows[name]


@dataclass(frozen=True)
class DatedSubject:
    """Something that counts from a day on. `key` and the day name one; `named` are columns that name rows."""

    name: str
    model: type
    lines: object
    key: tuple
    named: tuple
    figures: tuple
    change: object

    def order(self, values):
        return tuple("" if values[name] is None else str(values[name]) for name in (*self.key, "valid_from"))

    def problems(self, _place, _values):
        return []

    def item_problems(self, item):
        return [
            Problem(
                f"{place}, {self.key[0]}", str(values[self.key[0]]), f"is on {item.place} already", "once"
            )
            for place, values in zip(item.places[1:], item.lines[1:], strict=True)
        ]

    def book(self, taking, _items):
        return DatedBook(self, taking)

    def where(self, item, field):
        """Place and column of a field of an item, as its service names it."""
        return item.place, field

    def title(self, values):
        return ", ".join(str(values[name]) for name in self.key if values[name] is not None)

    def flat(self, lines):
        """Figures of an item by name, as a difference shows them."""
        return {name: lines[0][name] for name in self.figures}

    def change_arguments(self, lines):
        return self.flat(lines)


class DatedBook:
    """What is stored of a subject before a file is taken in, and how an item of it is changed."""

    def __init__(self, subject, taking):
        self.subject, self.taking = subject, taking
        self.names = Names(taking.cooperative)
        self.stored = {}
        for line in subject.lines(taking.cooperative):
            of_key = self.stored.setdefault(self.key_of(line), {})
            of_key.setdefault(line["valid_from"], []).append(line)

    def key_of(self, values):
        return tuple(values[name] for name in self.subject.key)

    def difference(self, item):
        subject, values = self.subject, item.values
        days = self.stored.get(self.key_of(values), {})
        twin, day = days.get(values["valid_from"]), values["valid_from"]
        title = f"{subject.title(values)}, {day.isoformat()}"
        after = {**subject.flat(item.lines), "valid_until": values["valid_until"]}
        before = self.told(twin or self.counting(days, day))
        if twin and before == {**after, "valid_until": self.ends(days, values)}:
            return Difference(item.place, SAME, title)
        changes = tuple(
            Change(name, before.get(name), after.get(name))
            for name in dict.fromkeys([*before, *after])
            if before.get(name) != after.get(name)
        )
        return Difference(item.place, CHANGED if before else NEW, title, changes)

    def told(self, lines):
        return {**self.subject.flat(lines), "valid_until": lines[0]["valid_until"]} if lines else {}

    def ends(self, days, values):
        """Where an item ends; where it does not say, where the next one begins."""
        later = [day for day in days if day > values["valid_from"]]
        return values["valid_until"] or min(later, default=None)

    def counting(self, days, day):
        """Lines of what counts on a day, or None."""
        begun = [lines for begins, lines in days.items() if begins <= day]
        last = max(begun, key=lambda lines: lines[0]["valid_from"], default=None)
        return last if last and (last[0]["valid_until"] is None or last[0]["valid_until"] > day) else None

    def apply(self, item, _difference):
        subject, values, taking = self.subject, item.values, self.taking
        rows = {name: self.names(name, values[name]) for name in subject.named}
        alike = {name: rows.get(name, values.get(name)) for name in subject.key}
        twin = self.stored.get(self.key_of(values), {}).get(values["valid_from"])
        says_the_same = twin and subject.flat(twin) == subject.flat(item.lines)
        begins = values["valid_from"]
        if says_the_same:
            require_going_on(twin[0], taking.today)
        if says_the_same and values["valid_until"]:
            found = subject.model.objects.of(taking.cooperative).get(**filters(alike), valid_from=begins)
            end(found, values["valid_until"], taking.by, taking.note, now=taking.now)
            return
        subject.change(
            by=taking.by,
            **alike,
            **subject.change_arguments(item.lines),
            # Of what began already only its end changes, and that from today on.
            valid_from=max(begins, taking.today) if says_the_same else begins,
            valid_until=values["valid_until"],
            note=taking.note,
            now=taking.now,
        )


def require_going_on(line, today):
    if line["valid_until"] is not None and line["valid_until"] <= today:
        over = line["valid_until"].isoformat()
        raise invalid("valid_until", over, "is over, and what is over stays as it was", over)


class TimetableSubject(DatedSubject):
    def change_arguments(self, lines):
        values = self.flat(lines)
        weekdays = [number for number, name in enumerate(WEEKDAYS) if values.pop(name)]
        return {**values, "weekdays": weekdays}


class FareSubject(DatedSubject):
    """A tariff has a line for each of its rules, and a rule by steps a line for each step."""

    rule = (*exports.RULE, "months")

    def where(self, item, field):
        found = RULE_FIELD.match(field)
        if not found:
            return super().where(item, field)
        numbers = sorted({line["rule"] for line in item.lines})
        number = numbers[int(found[1])]
        place = next(
            place for place, line in zip(item.places, item.lines, strict=True) if line["rule"] == number
        )
        return place, found[2]

    def item_problems(self, item):
        found, first = [], {}
        for place, values in zip(item.places, item.lines, strict=True):
            of_rule = first.setdefault(values["rule"], values)
            same = ("valid_until", *self.rule)
            for name in same if of_rule is not values else ("valid_until",):
                wanted = (item.values if name == "valid_until" else of_rule)[name]
                if values[name] != wanted:
                    problem = "differs from the line of the same " + ("tariff" if name == same[0] else "rule")
                    found.append(Problem(f"{place}, {name}", str(values[name]), problem, str(wanted)))
            found += self.step_problems(place, values, of_rule)
        return found

    def step_problems(self, place, values, of_rule):
        is_step = values["kind"] == "by_step"
        if is_step != (values["from_kg"] is not None):
            right = "a weight for a rule by steps, and none for another"
            return [Problem(f"{place}, from_kg", values["from_kg"], "does not fit the kind", right)]
        if values is not of_rule and not is_step:
            right = "one line for each rule, but for one by steps"
            return [Problem(f"{place}, rule", str(values["rule"]), "is there already", right)]
        return []

    def change_arguments(self, lines):
        rules = {}
        for line in lines:
            rule = rules.setdefault(line["rule"], {name: line[name] for name in self.rule} | {"steps": []})
            if line["from_kg"] is None:
                rule["amount_minor"] = line["amount_minor"]
            else:
                rule["steps"].append({"from_kg": line["from_kg"], "amount_minor": line["amount_minor"]})
        return {"rules": [rules[number] for number in sorted(rules)]}

    def flat(self, lines):
        found = {}
        for number, rule in enumerate(self.change_arguments(lines)["rules"], start=1):
            steps = rule.pop("steps")
            found |= {f"rule {number}, {name}": value for name, value in rule.items()}
            for step in sorted(steps, key=lambda step: step["from_kg"]):
                found[f"rule {number}, from {step['from_kg']:g} kg, amount_minor"] = step["amount_minor"]
        return found


FARES = FareSubject(
    name="fares",
    model=Tariff,
    lines=exports.fare_lines,
    key=("carrier", "route"),
    named=("carrier", "route"),
    figures=(),
    change=change_tariff,
)
FISH_PRICES = DatedSubject(
    name="fish_prices",
    model=FishPrice,
    lines=exports.fish_price_lines,
    key=("species",),
    named=("species",),
    figures=exports.FISH_PRICE,
    change=change_fish_price,
)
MATERIAL_PRICES = DatedSubject(
    name="material_prices",
    model=MaterialPrice,
    lines=exports.material_price_lines,
    key=("material",),
    named=("material",),
    figures=("amount_minor",),
    change=change_material_price,
)
CHARGES = DatedSubject(
    name="charges",
    model=Charge,
    lines=exports.charge_lines,
    key=("kind", "name", "route", "buyer"),
    named=("route", "buyer"),
    figures=("basis", "amount_minor"),
    change=change_charge,
)
TIMETABLES = TimetableSubject(
    name="timetables",
    model=Timetable,
    lines=exports.timetable_lines,
    key=("carrier", "route", "departs_at_local"),
    named=("carrier", "route"),
    figures=(*WEEKDAYS, *exports.TIMETABLE),
    change=change_timetable,
)
