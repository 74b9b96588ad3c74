import pytest
from django.contrib.auth import get_user_model


@pytest.fixture
def admin_user(db):
    """Enters without a password: to hash one takes longer than all the rest of a test."""
    return get_user_model().objects.create(username="manager", is_staff=True, is_superuser=True)
