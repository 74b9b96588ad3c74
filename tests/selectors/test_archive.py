from datetime import UTC, date, datetime, time
from uuid import UUID

import pytest

from coop.models import Climate, Cooperative, Member, Place, Plan, Quote, Stability
from coop.selectors.archive import (
    LEFT_OUT,
    SECRETS,
    SHARED,
    Belongings,
    columns,
    is_history,
    plain,
    tables,
    targets,
)
from coop.selectors.archive_texts import NUMBERS, SUBJECTS, at_path, named_inside
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.places import ClimaticPlaceFactory
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db


def test_what_is_pointed_at_comes_first():
    found = tables()
    for place, model in enumerate(found):
        if not is_history(model):
            assert targets(model) - {model} <= {*found[:place], *outside(model)}


def outside(model):
    """What a row points at that does not travel: accounts."""
    return {target for target in targets(model) if target not in tables()}


def test_what_stays_behind_is_there_to_stay():
    names = {model.__name__ for model in tables()}
    assert not names & set(LEFT_OUT)
    for model, column in SECRETS:
        (found,) = [one for one in tables() if one.__name__ == model]
        assert found._meta.get_field(column)
        assert column not in [field.name for field in columns(found)]


def test_only_places_and_species_that_are_used_travel():
    shore = trade(CooperativeFactory())
    unused = ClimaticPlaceFactory()
    belongings = Belongings(shore.cooperative)
    codes = {line["code"] for line in belongings.lines(Place)}
    assert codes == {shore.route.origin.code, shore.route.destination.code}
    assert unused.code not in codes
    assert len(belongings.lines(Climate)) == 24
    assert set(SHARED) <= set(tables())


def test_rows_of_strangers_do_not_travel():
    shore = trade(CooperativeFactory())
    trade(CooperativeFactory())
    belongings = Belongings(shore.cooperative)
    assert [line["slug"] for line in belongings.lines(Cooperative)] == [shore.cooperative.slug]
    for model in tables():
        if not is_history(model) and model not in SHARED and model is not Cooperative:
            assert len(belongings.lines(model)) == model.objects.of(shore.cooperative).count()


def test_values_are_written_to_the_microsecond():
    assert plain(datetime(2026, 3, 1, 12, 0, 0, 5, tzinfo=UTC)) == "2026-03-01T12:00:00.000005+00:00"
    assert plain(date(2026, 3, 1)) == "2026-03-01"
    assert plain(time(16, 0)) == "16:00:00"
    assert plain(UUID(int=1)) == "00000000-0000-0000-0000-000000000001"
    assert plain(0.1) == 0.1


def test_texts_that_name_rows_are_those_of_columns_that_there_are():
    models = {model.__name__: model for model in (Plan, Quote, Stability)}
    for model, column in NUMBERS:
        assert models[model]._meta.get_field(column)
    assert named_inside("Stability") == {Member}
    assert set(SUBJECTS.values()) < named_inside("Quote")
    assert named_inside("Lot") == set()


def test_a_path_leads_into_lists_and_objects_and_past_what_is_not_there():
    value = {"a": [{"b": 1}, {"c": 2}, 3], "d": 4}
    changed = at_path(value, ("a", "*", "b"), lambda found: found + 10)
    assert changed == {"a": [{"b": 11}, {"c": 2}, 3], "d": 4}
    assert at_path(value, ("d", "*"), lambda found: 0) == value
