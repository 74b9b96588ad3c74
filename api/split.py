"""Who pays what of a parcel by each rule, beside what each would have paid alone, and why."""

from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import old_before_today, person_of
from api.cost_lines import NAMES, LineOut, day_of
from api.enrolment_codes import MemberName
from api.lots import PARCEL_STATES, name_of
from api.parcels import sees_money
from api.question import nothing_asked
from api.refusal_words import words_here
from api.roles import MEMBERS, PACKERS
from api.rounding import nearest
from api.split_words import words_of
from api.stored import one_of
from coop.errors import NotAllowed
from coop.selectors.old_prices import is_old
from coop.selectors.parcels import parcels_of
from coop.selectors.split import split_of

OTHERS = "others"


class BillLineOut(LineOut):
    quantity = serializers.FloatField(allow_null=True)
    rate_minor = serializers.IntegerField(allow_null=True)


class PortionOut(serializers.Serializer):
    member = MemberName(allow_null=True, help_text="null: all others together, for who does not pack")
    name = serializers.CharField()
    count = serializers.IntegerField(help_text="of members in this row")
    mine = serializers.BooleanField()
    mass_kg = serializers.FloatField()
    alone_minor = serializers.IntegerField(
        allow_null=True, help_text="the least that it would cost alone; null: no safe way, or not hers to see"
    )

    example = {
        "member": MemberName.example,
        "name": "Anna",
        "count": 1,
        "mine": True,
        "mass_kg": 20.0,
        "alone_minor": 48200,
    }


class RuleShareOut(serializers.Serializer):
    member = serializers.IntegerField(allow_null=True, help_text="id; null: all others together")
    amount_minor = serializers.IntegerField()

    example = {"member": 3, "amount_minor": 27025}


class ObjectionOut(serializers.Serializer):
    members = serializers.ListField(child=serializers.CharField(), help_text="who would leave together")
    gain_minor = serializers.IntegerField(help_text="what they would save together")

    example = {"members": ["Anna"], "gain_minor": 955}


class SplitRuleOut(serializers.Serializer):
    rule = serializers.CharField()
    feasible = serializers.BooleanField(help_text="false: somebody pays more than alone, whatever the split")
    shares = RuleShareOut(many=True)
    objection = ObjectionOut(allow_null=True, help_text="for whoever packs; others see only one of their own")
    better_alone = serializers.ListField(
        child=serializers.IntegerField(), help_text="ids of those whom it costs more than alone"
    )
    why = serializers.CharField(help_text="a code; the words say it")
    words = serializers.CharField()

    example = {
        "rule": "capped",
        "feasible": True,
        "shares": [RuleShareOut.example, {"member": None, "amount_minor": 47285}],
        "objection": None,
        "better_alone": [],
        "why": "nobody_would_leave",
        "words": "Each pays by weight, but nobody more than alone. Nobody would do better by leaving.",
    }


class SplitOut(serializers.Serializer):
    state = serializers.CharField(
        help_text=f"of the parcel: {', '.join(PARCEL_STATES)}; called off, nobody owes this bill"
    )
    bill_minor = serializers.IntegerField(allow_null=True)
    lines = BillLineOut(many=True)
    missing = serializers.ListField(child=serializers.CharField(), help_text="without which there is no bill")
    final = serializers.BooleanField(help_text="false while the parcel is open: it moves with every lot")
    rule = serializers.CharField(help_text="the one that counts")
    members = PortionOut(many=True)
    rules = SplitRuleOut(many=True)
    core_is_empty = serializers.BooleanField(
        allow_null=True, help_text="true: whatever the split, somebody would do better by leaving"
    )
    players = serializers.IntegerField()
    sampled = serializers.BooleanField(help_text="Shapley's value is an estimate: there are too many")

    example = {
        "state": "open",
        "bill_minor": 74310,
        "lines": [{**LineOut.example, "amount_minor": 74310, "rate_minor": 74310}],
        "missing": [],
        "final": False,
        "rule": "capped",
        "members": [
            PortionOut.example,
            {
                "member": None,
                "name": OTHERS,
                "count": 1,
                "mine": False,
                "mass_kg": 35.0,
                "alone_minor": None,
            },
        ],
        "rules": [SplitRuleOut.example],
        "core_is_empty": False,
        "players": 2,
        "sampled": False,
    }


class Split(APIView):
    """The bill of a parcel by every rule. A member sees her own part, and all others as one."""

    may = {"GET": MEMBERS}
    output = SplitOut

    def get(self, request, uuid):
        nothing_asked(request)
        person = person_of(request)
        parcel = one_of(parcels_of(person.cooperative), uuid=uuid)
        if not sees_money(parcel, person):
            raise NotAllowed("Only those whose fish lies in it, and whoever packs, see who pays what.")
        before = old_before_today(person.cooperative)
        return Response({"state": parcel.state, **split_shown(split_of(parcel), person, before)})


def split_shown(split, person, before):
    """SplitOut of a selectors' Split as this person may see it; what was confirmed before a day is old."""
    seen = [number for number, portion in enumerate(split.portions) if is_shown(portion, person)]
    return {
        "bill_minor": split.bill_minor,
        "lines": [
            bill_line(line, is_old=not split.final and is_old(line.priced_on, before)) for line in split.lines
        ],
        "missing": words_here(split.missing),
        "final": split.final,
        "rule": split.rule,
        "members": portions_of(split, seen, person),
        "rules": [rule_shown(found, split, seen, person) for found in split.rules],
        "core_is_empty": split.core_is_empty,
        "players": split.players,
        "sampled": split.is_sampled,
    }


def is_shown(portion, person):
    return person.role in PACKERS or portion.member.pk == person.member.pk


def portions_of(split, seen, person):
    rows = [portion_of(split.portions[number], person) for number in seen]
    hidden = [one.mass_kg for number, one in enumerate(split.portions) if number not in seen]
    return rows + ([rest_of(hidden)] if hidden else [])


def portion_of(portion, person):
    return {
        "member": name_of(portion.member),
        "name": portion.member.name,
        "count": 1,
        "mine": portion.member.pk == person.member.pk,
        "mass_kg": portion.mass_kg,
        "alone_minor": portion.alone_minor,
    }


def rest_of(masses_kg):
    """All whose money she does not see, as one row."""
    return {
        "member": None,
        "name": OTHERS,
        "count": len(masses_kg),
        "mine": False,
        "mass_kg": round(sum(masses_kg), 3),
        "alone_minor": None,
    }


def rule_shown(found, split, seen, person):
    amounts = found.amounts_minor
    shares = [{"member": split.portions[n].member.pk, "amount_minor": amounts[n]} for n in seen]
    if len(seen) < len(amounts):
        shares.append({"member": None, "amount_minor": sum(amounts) - sum(amounts[n] for n in seen)})
    ids = {split.portions[n].member.pk for n in seen}
    return {
        "rule": found.rule,
        "feasible": found.feasible,
        "shares": shares,
        "objection": objection_of(found, ids),
        "better_alone": [member.pk for member in found.better_alone if member.pk in ids],
        "why": found.why,
        "words": words_of(found),
    }


def objection_of(found, ids):
    """Who would leave, and what they would save: told where it names nobody whose money is hidden."""
    leaves = found.leaves
    if not leaves or any(member.pk not in ids for member in leaves):
        return None
    return {"members": [member.name for member in leaves], "gain_minor": found.gain_minor}


def bill_line(line, *, is_old):
    """A bill that is written rests on no price any more: none of its lines is old."""
    return {
        "code": line.code,
        "name": line.name or NAMES.get(line.code, line.code),
        "amount_minor": line.amount_minor,
        "quantity": nearest(line.quantity, 6),
        "unit": line.unit,
        "rate_minor": line.rate_minor,
        "priced_on": day_of(line.priced_on),
        "is_old": is_old,
    }
