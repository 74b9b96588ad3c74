import pytest

from api.cooperatives import CLAIMS_RULES, SHARING_RULES
from coop.models import ClaimsRule, SharingRule
from tests.api.asked import fields_of


def test_the_rules_are_those_that_are_stored():
    assert set(SHARING_RULES) == set(SharingRule.values)
    assert set(CLAIMS_RULES) == set(ClaimsRule.values)


def test_a_manager_chooses_one_rule_or_both(ask_as_manager, ours):
    status, changed = ask_as_manager.patch(f"cooperatives/{ours.slug}/", {"sharing_rule": "shapley"})
    assert (status, changed["sharing_rule"], changed["claims_rule"]) == (200, "shapley", "contested")
    both = {"sharing_rule": "equal", "claims_rule": "proportional"}
    assert ask_as_manager.patch(f"cooperatives/{ours.slug}/", both)[1].items() >= both.items()


@pytest.mark.parametrize(
    ("body", "field"),
    [({"sharing_rule": "by_lot"}, "sharing_rule"), ({"name": "Ours"}, "name"), ({}, "body")],
)
def test_what_is_no_rule_is_refused(ask_as_manager, ours, body, field):
    status, answer = ask_as_manager.patch(f"cooperatives/{ours.slug}/", body)
    assert (status, fields_of(answer)[0][0]) == (400, field)
