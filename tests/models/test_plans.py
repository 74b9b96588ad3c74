import pytest
from django.db import connection

from tests.factories.plans import PlanFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


def test_a_plan_is_accepted_by_somebody():
    plan = PlanFactory()
    for facts in ({"accepted_at": plan.asked_at}, {"accepted_by": plan.asked_by}):
        with refused("plan_accepted_by_somebody"):
            change(plan, **facts)


def test_an_accepted_plan_stays_as_it_is():
    plan = PlanFactory()
    change(plan, cost_minor=199_500)
    change(plan, accepted_at=plan.asked_at, accepted_by=plan.asked_by)
    with refused("plan_accepted_stays"):
        change(plan, cost_minor=1)
    with refused("plan_accepted_stays"), connection.cursor() as cursor:
        cursor.execute("DELETE FROM coop_plan")


def test_a_plan_last_day_not_before_first():
    with refused("plan_last_day_not_before_first"):
        change(PlanFactory(), last_day="2026-03-01")
