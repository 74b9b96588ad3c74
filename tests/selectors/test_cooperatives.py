import pytest

from coop.errors import NotFound
from coop.selectors.cooperatives import cooperatives_of, demo_cooperative
from tests.factories.cooperatives import CooperativeFactory, DemoCooperativeFactory

pytestmark = pytest.mark.django_db


def test_the_demonstration_is_found_among_others():
    CooperativeFactory()
    demo = DemoCooperativeFactory()
    assert demo_cooperative() == demo


def test_without_a_demonstration_it_says_how_to_load_one():
    CooperativeFactory()
    with pytest.raises(NotFound, match="no demonstration yet"):
        demo_cooperative()


def test_a_cooperative_sees_itself_only():
    own = CooperativeFactory()
    CooperativeFactory()
    assert list(cooperatives_of(own)) == [own]
