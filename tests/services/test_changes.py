"""A figure changes from a day on; what it was stays, and who changed it is kept."""

from datetime import UTC, date, datetime, timedelta

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import FishPrice
from coop.services.changes import confirm, end, withdraw
from coop.services.fish_prices import change_fish_price
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.members import MemberFactory
from tests.factories.prices import FishPriceFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)
TODAY, TOMORROW, WEEK, MONTH = (date(2026, 3, 2) + timedelta(days=days) for days in (0, 1, 7, 30))
FIRST = date(2025, 1, 1)


@pytest.fixture
def price():
    """5500 a kilogram since the beginning of 2025."""
    return FishPriceFactory()


@pytest.fixture
def manager(price):
    return MemberFactory(cooperative=price.cooperative, role="manager", name="Manager")


@pytest.fixture
def sell(price, manager):
    """Changes what a kilogram is sold at from a day on."""

    def change(amount, valid_from, **more):
        figures = {"bought_minor_per_kg": 3000, "sold_minor_per_kg": amount, "soft_minor_per_kg": 2500}
        return change_fish_price(
            **{"by": manager, "species": price.species, "now": NOW, **figures, **more}, valid_from=valid_from
        )

    return change


@pytest.fixture
def spans(price):
    """(price, first day, end) of all that is stored, in order."""
    return lambda: list(
        FishPrice.objects.of(price.cooperative)
        .order_by("valid_from")
        .values_list("sold_minor_per_kg", "valid_from", "valid_until")
    )


def refused(kind, do):
    with pytest.raises(kind) as refusal:
        do()
    return [(one.field, one.value) for one in refusal.value.problems]


def test_what_counted_ends_where_the_new_one_begins(sell, spans):
    sell(6000, TOMORROW)
    assert spans() == [(5500, FIRST, TOMORROW), (6000, TOMORROW, None)]


def test_it_may_count_from_today_on_and_never_from_a_day_that_is_over(sell, spans):
    sell(6000, TODAY)
    yesterday = TODAY - timedelta(days=1)
    assert refused(Invalid, lambda: sell(6500, yesterday)) == [("valid_from", yesterday.isoformat())]
    assert spans() == [(5500, FIRST, TODAY), (6000, TODAY, None)]


def test_today_is_the_day_where_the_cooperative_is(sell, spans):
    """22:30 in London is the next day in Lusaka."""
    late = datetime(2026, 3, 2, 22, 30, tzinfo=UTC)
    assert refused(Invalid, lambda: sell(6000, TODAY, now=late))
    sell(6000, TOMORROW, now=late)
    assert len(spans()) == 2


def test_one_that_begins_later_stays_and_the_new_one_ends_there(sell, spans):
    sell(7000, MONTH)
    sell(6000, WEEK)
    assert spans() == [(5500, FIRST, WEEK), (6000, WEEK, MONTH), (7000, MONTH, None)]


def test_one_of_the_same_day_is_replaced_and_its_history_keeps_it(sell, spans):
    first = sell(6000, TOMORROW)
    again = sell(6200, TOMORROW, now=NOW + timedelta(hours=1))
    assert again.pk == first.pk
    assert spans() == [(5500, FIRST, TOMORROW), (6200, TOMORROW, None)]
    records = again.history.order_by("history_date")
    assert [(row.history_type, row.sold_minor_per_kg) for row in records] == [("+", 6000), ("~", 6200)]


def test_the_same_again_is_nothing_new(sell, spans, price):
    assert sell(5500, WEEK) == price
    assert spans() == [(5500, FIRST, None)]
    assert price.history.count() == 1


def test_the_same_again_later_takes_what_had_been_ended_on(sell, spans, price, manager):
    end(price, WEEK, manager, now=NOW)
    assert sell(5500, TOMORROW) == price
    assert spans() == [(5500, FIRST, None)]


def test_it_may_be_said_where_it_ends(sell, spans):
    sell(6000, TOMORROW, valid_until=WEEK)
    assert spans() == [(5500, FIRST, TOMORROW), (6000, TOMORROW, WEEK)]
    assert refused(Invalid, lambda: sell(6500, WEEK, valid_until=WEEK)) == [("valid_until", WEEK.isoformat())]


def test_who_changed_it_when_and_why_is_kept_with_both_rows(sell, price, manager):
    new = sell(6000, TOMORROW, note="heard at the market")
    for row in (new, price):
        record = row.history.order_by("history_id").last()
        assert (record.history_user, record.history_date) == (manager, NOW)
        assert record.history_change_reason == "heard at the market"
    assert (new.figures, new.source, new.confirmed_on) == ("read", "entered by a manager", TODAY)


def test_figures_of_the_demonstration_stay_invented(sell, price):
    type(price.cooperative).objects.filter(pk=price.cooperative.pk).update(is_demo=True)
    assert sell(6000, TOMORROW).figures == "invented"


def test_what_its_form_refuses_changes_nothing(sell, spans):
    assert refused(Invalid, lambda: sell(2000, TOMORROW))
    assert refused(Invalid, lambda: sell(6000, TOMORROW, note="x" * 501)) == [("note", "x" * 501)]
    assert spans() == [(5500, FIRST, None)]


def test_only_a_manager_of_the_cooperative_changes_anything(sell, price, spans):
    for role in ("member", "packer"):
        somebody = MemberFactory(cooperative=price.cooperative, role=role)
        for do in (
            lambda by: sell(6000, TOMORROW, by=by),
            lambda by: confirm(price, by, now=NOW),
            lambda by: end(price, WEEK, by, now=NOW),
            lambda by: withdraw(price, by, now=NOW),
        ):
            with pytest.raises(NotAllowed):
                do(somebody)
    stranger = MemberFactory(role="manager")
    for do in (confirm, withdraw):
        with pytest.raises(NotFound):
            do(price, stranger, now=NOW)
    sell(6000, TOMORROW, by=stranger)
    assert spans() == [(5500, FIRST, None)]


def test_to_confirm_changes_the_day_alone(price, manager):
    row = confirm(price, manager, now=NOW)
    assert row.confirmed_on == TODAY
    delta = row.history.latest().diff_against(row.history.earliest())
    assert delta.changed_fields == ["confirmed_on"]


def test_what_nobody_asks_about_cannot_be_confirmed(manager):
    limit = BuyerLimitFactory(buyer__cooperative=manager.cooperative)
    assert refused(Invalid, lambda: confirm(limit, manager, now=NOW))


def test_what_is_over_is_neither_confirmed_nor_ended(price, manager):
    price.valid_until = TODAY
    price.save()
    for do in (lambda: confirm(price, manager, now=NOW), lambda: end(price, WEEK, manager, now=NOW)):
        assert refused(Conflict, do) == [("valid_until", TODAY.isoformat())]


def test_an_end_lies_ahead_and_before_the_next_one(sell, price, manager, spans):
    sell(6000, MONTH)
    for day in (TODAY - timedelta(days=1), MONTH + timedelta(days=1)):
        assert refused(Invalid, lambda day=day: end(price, day, manager, now=NOW))
    end(price, WEEK, manager, now=NOW)
    assert spans() == [(5500, FIRST, WEEK), (6000, MONTH, None)]


def test_what_has_not_begun_is_withdrawn_rather_than_ended_on_its_first_day(sell, manager):
    coming = sell(6000, WEEK)
    assert refused(Invalid, lambda: end(coming, WEEK, manager, now=NOW)) == [
        ("valid_until", WEEK.isoformat())
    ]


def test_a_change_that_is_withdrawn_leaves_the_one_before_to_go_on(sell, price, manager, spans):
    sell(7000, MONTH)
    coming = sell(6000, WEEK)
    assert withdraw(coming, manager, "a rumour", now=NOW) == price
    assert spans() == [(5500, FIRST, MONTH), (7000, MONTH, None)]
    gone = FishPrice.history.filter(id=coming.pk).latest()
    assert (gone.history_type, gone.history_user, gone.history_change_reason) == ("-", manager, "a rumour")


def test_one_that_had_been_ended_ends_there_again_when_a_change_is_withdrawn(sell, price, manager, spans):
    end(price, MONTH, manager, now=NOW)
    withdraw(sell(6000, WEEK), manager, now=NOW)
    assert spans() == [(5500, FIRST, MONTH)]


def test_one_that_ended_for_another_goes_on_when_both_are_withdrawn(sell, manager, spans):
    later, sooner = sell(7000, MONTH), sell(6000, WEEK)
    withdraw(later, manager, now=NOW)
    withdraw(sooner, manager, now=NOW)
    assert spans() == [(5500, FIRST, None)]


def test_what_has_begun_is_not_withdrawn(sell, price, manager):
    today = sell(6000, TODAY)
    for row in (price, today):
        assert refused(Conflict, lambda row=row: withdraw(row, manager, now=NOW))


def test_the_first_of_its_kind_leaves_nothing_behind_when_it_is_withdrawn(sell, price, manager, spans):
    FishPrice.objects.of(price.cooperative).delete()
    assert withdraw(sell(6000, WEEK), manager, now=NOW) is None
    assert spans() == []
