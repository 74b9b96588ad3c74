"""Members of a file, known by name and telephone; whose name is there only once may get a new number."""

from collections import Counter

from coop.errors import Problem
from coop.models import Member
from coop.selectors.exports import member_lines
from coop.selectors.members import members_of
from coop.services.imports import CHANGED, NEW, SAME, Change, Difference
from coop.services.members import add_member, change_member

COLUMNS = ("name", "phone", "role", "joined_on", "left_on")


class MemberSubject:
    name = "members"
    lines = staticmethod(member_lines)

    def order(self, values):
        return values["name"], values["phone"]

    def problems(self, _place, _values):
        return []

    def item_problems(self, item):
        return [
            Problem(f"{place}, name", item.values["name"], f"is on {item.place} already", "each member once")
            for place in item.places[1:]
        ]

    def book(self, taking, items):
        return MemberBook(self, taking, items)

    def where(self, item, field):
        return item.place, field


class MemberBook:
    def __init__(self, subject, taking, items):
        self.subject, self.taking = subject, taking
        self.known = {(row.name, row.phone): row for row in members_of(taking.cooperative)}
        self.by_name = {}
        for row in self.known.values():
            self.by_name.setdefault(row.name, []).append(row)
        self.named = Counter(item.values["name"] for item in items)

    def difference(self, item):
        values, found = item.values, self.found(item.values)
        before = {name: getattr(found, name) for name in COLUMNS} if found else {}
        after = {**values, "joined_on": values["joined_on"] or before.get("joined_on", self.taking.today)}
        if before == after:
            return Difference(item.place, SAME, values["name"])
        changes = tuple(
            Change(name, before.get(name), after[name]) for name in COLUMNS if before.get(name) != after[name]
        )
        return Difference(item.place, CHANGED if found else NEW, values["name"], changes)

    def found(self, values) -> Member | None:
        """The member that a line is about: the same name and number, or the only one of this name."""
        exact = self.known.get((values["name"], values["phone"]))
        if exact:
            return exact
        of_name = self.by_name.get(values["name"], ())
        # Two of one name in the file are two people, and so are two here.
        return of_name[0] if len(of_name) == 1 and self.named[values["name"]] == 1 else None

    def apply(self, item, difference):
        found, taking = self.found(item.values), self.taking
        after = {change.field: change.after for change in difference.changes}
        if found:
            change_member(by=taking.by, member=found, at=taking.now, **after)
            return
        left_on = after.pop("left_on", None)
        after.pop("joined_on")
        member = add_member(by=taking.by, at=taking.now, **after)
        facts = {"joined_on": item.values["joined_on"] or taking.today, "left_on": left_on}
        change_member(by=taking.by, member=member, at=taking.now, **facts)


MEMBERS = MemberSubject()
