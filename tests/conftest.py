import socket
import sqlite3

import pytest
from django.db import connections

LOOPBACK = ("127.0.0.1", "::1", "localhost")


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """A test that reaches beyond this machine fails, instead of passing only where there is a network."""
    connect = socket.socket.connect

    def connect_here(self, address):
        if self.family in (socket.AF_INET, socket.AF_INET6) and address[0] not in LOOPBACK:
            raise AssertionError(f"a test tried to reach {address[0]}")
        return connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", connect_here)


@pytest.fixture
def file_database(django_db_setup, django_db_blocker, monkeypatch, tmp_path):
    """A database of its own in a file, for tests in which several threads write at once.

    It is a copy of the migrated one, so that no migration runs again, and thrown away afterwards.
    """
    with django_db_blocker.unblock():
        memory = connections["default"]
        memory.ensure_connection()
        path = tmp_path / "test.sqlite3"
        with sqlite3.connect(path) as copy:
            memory.connection.backup(copy)
        copy.close()
        monkeypatch.setitem(memory.settings_dict, "NAME", str(path))
        connections["default"] = connections.create_connection("default")
        try:
            yield path
        finally:
            connections["default"].close()
            connections["default"] = memory
