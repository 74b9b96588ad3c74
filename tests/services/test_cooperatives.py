import pytest

from coop.errors import Invalid, NotAllowed
from coop.services.cooperatives import choose_rules
from tests.factories.members import MemberFactory, StrangerFactory

pytestmark = pytest.mark.django_db


def test_a_manager_chooses_how_bills_and_losses_are_shared():
    manager, stranger = MemberFactory(role="manager"), StrangerFactory()
    assert choose_rules(by=manager, sharing_rule="shapley").sharing_rule == "shapley"
    assert choose_rules(by=manager, claims_rule="proportional").sharing_rule == "shapley"
    stranger.cooperative.refresh_from_db()
    assert stranger.cooperative.sharing_rule == "capped"


@pytest.mark.parametrize("role", ["member", "packer"])
def test_nobody_else_does(role):
    with pytest.raises(NotAllowed):
        choose_rules(by=MemberFactory(role=role), sharing_rule="equal")


def test_a_rule_that_nobody_knows_is_refused():
    with pytest.raises(Invalid) as refusal:
        choose_rules(by=MemberFactory(role="manager"), sharing_rule="by_lot")
    assert refusal.value.problems[0].field == "sharing_rule"
