import pytest

from coop.services.demo import load_demo


@pytest.fixture
def demo(db):
    """The demonstration, freshly loaded."""
    load_demo()
