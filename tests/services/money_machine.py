"""People of one cooperative do whatever comes to their minds, and after each step its money adds up.

What a carton holds is told to be safe from a mass on: no journey is followed here, all money is real.
"""

from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta

from django.db import transaction
from django.db.models import Sum
from hypothesis import strategies as some
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from coop.errors import Failure, NotFound
from coop.models import BillLine, Claim, ClaimPart, Entry, Parcel, ParcelCarton, Part, Share, SharingRule
from coop.models.cooperatives import ClaimsRule
from coop.selectors.statements import balances_of
from coop.services.calling_off import call_off_parcel
from coop.services.claims import raise_claim, reject_claim, share_claim
from coop.services.closing import close_carton, record_departure, record_hand_over
from coop.services.corrections import correct_bill
from coop.services.lots import offer_lot
from coop.services.parcels import join_parcel, leave_parcel, open_parcel
from coop.services.payments import correct_entry, record_payment
from coop.services.settling import settle_parcel
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT, PartFactory, lot_of, parcel_of
from tests.factories.scene import trade

MONDAY = date(2026, 3, 2)
MORNING = datetime(2026, 3, 2, 6, tzinfo=UTC)
LATER = datetime(2026, 3, 20, 6, tzinfo=UTC)
GOES_ON = ("closed", "departed", "handed_over")
CLOSED = (*GOES_ON, "settled", "called_off")
MASSES = some.sampled_from((6.3, 12.5, 20.0, 33.34, 41.0))
AMOUNTS = some.integers(1, 90_000)
PEOPLE = some.integers(0, 3)
WHICH = some.integers(0, 50)


class Money(RuleBasedStateMachine):
    def __init__(self):
        super().__init__()
        # What one run wrote is taken back before the next begins.
        self.undone = transaction.atomic()
        self.undone.__enter__()
        self.seen = {}
        # In all; and by parcel its bill with what was spread over it since, nothing once it was called off.
        self.expected, self.billed = 0, {}

    def teardown(self):
        transaction.set_rollback(True)
        self.undone.__exit__(None, None, None)

    @initialize(
        rule_of=some.sampled_from(SharingRule.values),
        claims=some.sampled_from(ClaimsRule.values),
        coin=some.sampled_from((1, 50, 1000)),
    )
    def found(self, rule_of, claims, coin):
        terms = {"sharing_rule": rule_of, "claims_rule": claims, "coin_minor": coin}
        self.shore = trade(CooperativeFactory(slug="shore", **terms))
        self.cooperative = self.shore.cooperative
        own = {"cooperative": self.cooperative}
        self.people = [MemberFactory(**own, name=f"Member {n}") for n in range(4)]
        self.packer = MemberFactory(**own, name="Packer", role="packer")
        far = trade(CooperativeFactory(slug="far")).cooperative
        self.stranger = MemberFactory(cooperative=far, name="Stranger", role="manager")
        # Two cartons with fish to begin with, so that short runs get far, too.
        for days in range(2):
            departs_at = DEPARTS_AT + timedelta(days=days)
            carton = parcel_of(self.shore, departs_at=departs_at, opened_by=self.packer).cartons.get()
            for number, member in enumerate(self.people[:3], start=1):
                PartFactory(carton=carton, lot=lot_of(self.shore, member=member, mass_kg=12.5 * number))

    @contextmanager
    def may_be_refused(self):
        """A refusal is an answer, too; it must have written nothing."""
        before = self.rows()
        try:
            with transaction.atomic():
                yield
        except Failure:
            assert self.rows() == before

    def rows(self):
        return Entry.objects.of(self.cooperative).count(), Part.objects.of(self.cooperative).count()

    def parcels(self, *states):
        return list(Parcel.objects.of(self.cooperative).filter(state__in=states).order_by("pk"))

    def one(self, rows, which):
        rows = list(rows)
        return rows[which % len(rows)] if rows else None

    @rule(person=PEOPLE, mass=MASSES, may_be_split=some.booleans())
    def offer(self, person, mass, may_be_split):
        offer_lot(
            by=self.people[person],
            route=self.shore.route,
            buyer=self.shore.buyer,
            species=self.shore.species,
            mass_kg=mass,
            frozen_since=MORNING - timedelta(days=2),
            ready_at=MORNING - timedelta(days=1),
            start_temperature_c=-18.0,
            may_be_split=may_be_split,
            now=MORNING,
        )

    @rule(days=some.integers(0, 2), cartons=some.integers(1, 3))
    def open(self, days, cartons):
        with self.may_be_refused():
            open_parcel(
                by=self.packer,
                timetable=self.shore.timetable,
                date=MONDAY + timedelta(days=days),
                design=self.shore.design,
                buyer=self.shore.buyer,
                cartons=cartons,
                now=MORNING,
            )

    @rule(which=WHICH, into=WHICH)
    def join(self, which, into):
        lot, parcel = self.one(self.lots(), which), self.one(self.parcels("open"), into)
        if lot and parcel:
            with self.may_be_refused():
                join_parcel(by=lot.member, parcel=parcel, lot=lot, now=MORNING)

    @rule(which=WHICH)
    def leave(self, which):
        part = self.one(Part.objects.of(self.cooperative).order_by("pk"), which)
        if part:
            with self.may_be_refused():
                leave_parcel(by=part.lot.member, parcel=part.carton.parcel, lot=part.lot)

    @rule(which=WHICH)
    def close(self, which):
        cartons = ParcelCarton.objects.of(self.cooperative).filter(closed_at=None, parcel__state="open")
        carton = self.one(cartons.order_by("pk"), which)
        if carton:
            parcel, closes_at = carton.parcel, carton.parcel.closes_at
            with self.may_be_refused():
                close_carton(by=self.packer, carton=carton, closed_at=closes_at, now=closes_at)
                parcel.refresh_from_db()
                self.billed[parcel.pk] = sum(line.amount_minor for line in parcel.bill_lines.all())
                self.expected += self.billed[parcel.pk]

    @rule(which=WHICH, soft=some.booleans(), received=some.none() | some.integers(0, 900_000))
    def go_on(self, which, soft, received):
        """The next step of a parcel that is closed."""
        parcel = self.one(self.parcels(*GOES_ON), which)
        if parcel and parcel.state == "closed":
            record_departure(by=self.packer, parcel=parcel, departed_at=parcel.departs_at, now=LATER)
        elif parcel and parcel.state == "departed":
            record_hand_over(
                by=self.packer,
                parcel=parcel,
                handed_over_at=parcel.departed_at + timedelta(hours=9),
                is_hard=not soft,
                soft_kg=round(parcel.mass_kg / 3, 3) if soft else None,
                now=LATER,
            )
        elif parcel:
            settle_parcel(by=self.packer, parcel=parcel, received_minor=received, at=LATER)
            self.expected -= received or 0

    @rule(which=WHICH, toll=some.integers(-900, 900))
    def call_off(self, which, toll):
        parcel = self.one(self.parcels("closed") or self.parcels(*CLOSED), which)
        if parcel:
            self.spread(parcel, toll)
            with self.may_be_refused():
                call_off_parcel(by=self.packer, parcel=parcel, note="it did not come", now=LATER)
                self.expected -= self.billed[parcel.pk]
                self.billed[parcel.pk] = 0
                owed = parcel.entries.order_by().values("member").annotate(sum=Sum("amount_minor"))
                assert not any(row["sum"] for row in owed)

    @rule(person=PEOPLE, amount=AMOUNTS, direction=some.sampled_from(("in", "out")))
    def pay(self, person, amount, direction):
        terms = {"member": self.people[person], "amount_minor": amount, "direction": direction}
        record_payment(by=self.packer, paid_on=MONDAY, at=LATER, **terms)
        self.expected += amount if direction == "out" else -amount

    @rule(which=WHICH)
    def correct(self, which):
        entry = self.one(Entry.objects.of(self.cooperative).order_by("pk"), which)
        if entry:
            with self.may_be_refused():
                correct_entry(by=self.packer, entry=entry, note="it was wrong", at=LATER)
                self.expected -= entry.amount_minor

    @rule(which=WHICH, amount=some.integers(-20_000, 20_000))
    def correct_a_bill(self, which, amount):
        parcel = self.one(self.parcels(*CLOSED), which)
        if parcel:
            self.spread(parcel, amount)

    def spread(self, parcel, amount):
        with self.may_be_refused():
            correct_bill(by=self.packer, parcel=parcel, amount_minor=amount, note="a toll", at=LATER)
            self.expected += amount
            self.billed[parcel.pk] += amount

    @rule(which=WHICH, claimed=AMOUNTS)
    def claim(self, which, claimed):
        parcel = self.one(self.parcels(*CLOSED), which)
        if parcel:
            owners = sorted({share.member for share in parcel.shares.all()}, key=lambda member: member.pk)
            parts = [(owner, claimed + n) for n, owner in enumerate(owners)]
            with self.may_be_refused():
                raise_claim(by=self.packer, parcel=parcel, kind="softened", parts=parts, at=LATER)

    @rule(which=WHICH, estate=some.integers(0, 120_000))
    def share_of_claim(self, which, estate):
        claim = self.one(Claim.objects.of(self.cooperative).order_by("pk"), which)
        if claim:
            with self.may_be_refused():
                share_claim(by=self.packer, claim=claim, estate_minor=estate, at=LATER)
                self.expected -= estate

    @rule(which=WHICH)
    def reject(self, which):
        claim = self.one(Claim.objects.of(self.cooperative).order_by("pk"), which)
        if claim:
            with self.may_be_refused():
                reject_claim(by=self.packer, claim=claim, note="it was hard", at=LATER)

    @precondition(lambda self: hasattr(self, "stranger"))
    @rule(which=WHICH)
    def a_stranger_finds_nothing(self, which):
        before = self.rows()
        parcel = self.one(self.parcels(*CLOSED), which)
        entry = self.one(Entry.objects.of(self.cooperative), which)
        claim = self.one(Claim.objects.of(self.cooperative), which)
        tries = [
            parcel and (lambda: settle_parcel(by=self.stranger, parcel=parcel, received_minor=1, at=LATER)),
            entry and (lambda: correct_entry(by=self.stranger, entry=entry, note="mine", at=LATER)),
            claim and (lambda: share_claim(by=self.stranger, claim=claim, estate_minor=0, at=LATER)),
        ]
        for one in filter(None, tries):
            try:
                one()
            except NotFound:
                continue
            raise AssertionError("a stranger found something")
        assert self.rows() == before

    @invariant()
    def money_adds_up(self):
        if not hasattr(self, "cooperative"):
            return
        balances = {member.pk: member.balance_minor for member in balances_of(self.cooperative)}
        entries = list(Entry.objects.of(self.cooperative))
        assert sum(balances.values()) == sum(entry.amount_minor for entry in entries) == self.expected
        for pk, balance in balances.items():
            assert balance == sum(entry.amount_minor for entry in entries if entry.member_id == pk)
        assert not Entry.objects.of(self.stranger.cooperative).exists()
        for parcel in self.parcels(*CLOSED):
            self.bill_adds_up(parcel, [entry for entry in entries if entry.parcel_id == parcel.pk])
        for claim in Claim.objects.of(self.cooperative).exclude(shared_at=None):
            parts = list(claim.parts.all())
            assert sum(part.awarded_minor for part in parts) == claim.estate_minor
            assert all(0 <= part.awarded_minor <= part.claimed_minor for part in parts)
        self.nothing_written_changed()

    def bill_adds_up(self, parcel, entries):
        bill = sum(line.amount_minor for line in parcel.bill_lines.all())
        shares = list(parcel.shares.all())
        for one in {share.rule for share in shares}:
            assert sum(share.amount_minor for share in shares if share.rule == one) == bill
        owed = {entry.member_id: entry.amount_minor for entry in entries if entry.kind == "share"}
        in_force = [share for share in shares if share.rule == parcel.sharing_rule]
        assert owed == {share.member_id: share.amount_minor for share in in_force}
        received = -sum(entry.amount_minor for entry in entries if entry.kind == "proceeds")
        assert received == (parcel.received_minor or 0)
        if parcel.state == "called_off":
            assert sum(entry.amount_minor for entry in entries) == self.billed[parcel.pk]

    def nothing_written_changed(self):
        """What was written of closed cartons and of money is what it was when it was first seen."""
        closed = Part.objects.of(self.cooperative).exclude(carton__closed_at=None)
        for rows in (
            Entry.objects.of(self.cooperative),
            Share.objects.filter(parcel__cooperative=self.cooperative),
            BillLine.objects.filter(parcel__cooperative=self.cooperative),
            ParcelCarton.objects.of(self.cooperative).exclude(closed_at=None),
            ClaimPart.objects.filter(claim__cooperative=self.cooperative).exclude(awarded_minor=None),
            closed,
        ):
            now = {row["id"]: row for row in rows.values()}
            before = self.seen.setdefault(rows.model, {})
            assert {key: now.get(key) for key in before} == before
            self.seen[rows.model] = now

    def lots(self):
        return self.cooperative.lots.order_by("pk")
