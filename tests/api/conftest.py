import pytest
from django.test import Client

from tests.factories.cooperatives import CooperativeFactory, DemoCooperativeFactory


@pytest.fixture
def ours(db):
    """The cooperative that requests belong to."""
    return DemoCooperativeFactory()


@pytest.fixture
def theirs(db):
    """A cooperative of strangers."""
    return CooperativeFactory(slug="far")


@pytest.fixture
def ask(ours):
    """Asks an address below /api/v1/ and answers with the status and the body."""

    def get(address, **query):
        answer = Client().get(f"/api/v1/{address}", query)
        return answer.status_code, answer.json()

    return get
