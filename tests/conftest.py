import socket

import pytest

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
