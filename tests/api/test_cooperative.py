import pytest
from rest_framework.test import APIRequestFactory

from api.cooperative import cooperative_of
from coop.errors import NotFound
from tests.factories.cooperatives import CooperativeFactory


def test_a_request_belongs_to_the_demonstration(ours, theirs):
    assert cooperative_of(APIRequestFactory().get("/")) == ours


def test_a_request_cannot_choose_another_cooperative(ours, theirs):
    request = APIRequestFactory().get("/", {"cooperative": theirs.slug}, headers={"cooperative": theirs.slug})
    assert cooperative_of(request) == ours


@pytest.mark.django_db
def test_without_a_demonstration_a_request_belongs_to_nobody():
    CooperativeFactory()
    with pytest.raises(NotFound):
        cooperative_of(APIRequestFactory().get("/"))
