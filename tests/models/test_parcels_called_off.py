"""What the database holds of a parcel that was called off: it was closed, it never left, and so it stays."""

from datetime import UTC, timedelta

import pytest
from django.core.management import call_command
from django.db import IntegrityError, connection

from coop.models import Parcel
from coop.models.parcels import REACHED_AT
from tests.factories.parcels import PartFactory, called_off, closed, departed, handed_over, settled
from tests.factories.shares import BillLineFactory
from tests.models.refusals import change, refused

HOUR = timedelta(hours=1)
WHY = "the minibus did not come"


@pytest.fixture
def parcel():
    return PartFactory().carton.parcel


@pytest.fixture
def stopped(parcel):
    return called_off(closed(parcel))


def calling_off(parcel, **changes):
    return {"state": "called_off", "called_off_at": parcel.departs_at, "called_off_note": WHY, **changes}


@pytest.mark.django_db
def test_only_a_closed_parcel_is_called_off(parcel):
    with refused("parcel_goes_forward"):
        change(parcel, **calling_off(parcel, closed_at=parcel.closes_at, sharing_rule="capped"))
    closed(parcel)
    for step in (departed, handed_over, settled):
        step(parcel)
        with refused("parcel_goes_forward|parcel_state_agrees_with_its_times"):
            change(parcel, **calling_off(parcel))


@pytest.mark.django_db
@pytest.mark.parametrize("state", ["open", *REACHED_AT])
def test_nothing_follows_on_calling_off(stopped, state):
    times = {column: stopped.called_off_at for column in list(REACHED_AT.values())[1:]}
    for columns in ({}, {"called_off_at": None, "called_off_note": ""}, times):
        with refused("parcel_goes_forward|parcel_state_agrees_with_its_times|parcel_call_off_stays"):
            change(stopped, state=state, **columns)


@pytest.mark.django_db
def test_a_parcel_that_was_called_off_was_closed_and_did_not_leave(stopped):
    for column in ("departed_at", "handed_over_at", "settled_at"):
        with refused('"?parcel_'):
            change(stopped, **{column: stopped.called_off_at})
    with refused("parcel_closing_stays|parcel_state_agrees_with_its_times"):
        change(stopped, closed_at=None)


@pytest.mark.django_db
def test_only_one_that_was_called_off_says_when_and_why(parcel):
    closed(parcel)
    with refused("parcel_state_agrees_with_its_times"):
        change(parcel, called_off_at=parcel.departs_at, called_off_note=WHY)
    for changes in (
        {"called_off_note": ""},
        {"called_off_at": None},
        {"state": "closed", "called_off_at": None},
    ):
        with refused("parcel_called_off_says_why|parcel_state_agrees_with_its_times"):
            change(parcel, **calling_off(parcel, **changes))
    assert "parcel_called_off_says_why" in {rule.name for rule in parcel._meta.constraints}
    with refused("parcel_called_off_after_closing"):
        change(parcel, **calling_off(parcel, called_off_at=parcel.closed_at - HOUR))
    change(parcel, **calling_off(parcel, called_off_at=parcel.closed_at))


@pytest.mark.django_db
@pytest.mark.parametrize("column", ["called_off_at", "called_off_note"])
def test_what_was_written_at_calling_off_stays(stopped, column):
    with refused("parcel_call_off_stays"):
        change(stopped, **{column: {"called_off_at": stopped.departs_at, "called_off_note": "else"}[column]})


@pytest.mark.django_db
def test_its_cartons_its_fish_and_its_bill_stay(stopped):
    [carton] = stopped.cartons.all()
    with refused("carton_closed_never_changes"):
        change(carton, gross_mass_kg=1)
    with refused("part_of_a_closed_carton_stays"):
        carton.parts.all().delete()
    with refused("bill_line_as_the_parcel_closes"):
        BillLineFactory(parcel=stopped)
    with refused("parcel_closed_never_vanishes"):
        rows(f"DELETE FROM coop_parcel WHERE id = {stopped.pk}")


def rows(sql):
    with connection.cursor() as cursor:
        cursor.execute(sql)
        return cursor.fetchall()


def triggers():
    return dict(rows("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"))


def migrate(to):
    call_command("migrate", "coop", to, verbosity=0)


def test_the_table_goes_to_the_new_form_and_back_with_its_rows_and_refusals(file_database):
    parcel = closed(PartFactory().carton.parcel)
    migrate("0007")
    found, refusals = Parcel.objects.values().get(), triggers()
    migrate("0006")
    assert set(refusals) - set(triggers()) == {"parcel_call_off_stays_update"}
    [(state, closed_at)] = rows("SELECT state, closed_at FROM coop_parcel")
    assert (state, closed_at.replace(tzinfo=UTC)) == ("closed", parcel.closed_at)
    with refused("parcel_goes_forward"):
        rows("UPDATE coop_parcel SET state = 'called_off'")
    migrate("0007")
    assert (Parcel.objects.values().get(), triggers()) == (found, refusals)


def test_there_is_no_way_back_that_would_lose_a_parcel_that_was_called_off(file_database):
    called_off(closed(PartFactory().carton.parcel))
    migrate("0007")
    found, refusals = Parcel.objects.values().get(), triggers()
    with pytest.raises(IntegrityError, match=r"parcel_state_known|parcel_state_agrees_with_its_times"):
        migrate("0006")
    assert (Parcel.objects.values().get(), triggers()) == (found, refusals)
