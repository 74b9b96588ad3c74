import socket

import pytest
from django.core.management.base import CommandError

from coop.management import server


def test_a_taken_port_gets_one_sentence_that_names_another():
    with socket.socket() as other:
        other.bind((server.HOST, 0))
        other.listen()
        port = other.getsockname()[1]
        with pytest.raises(CommandError, match=f"Port {port} is taken.*--port {server.another(port)}"):
            server.listening_socket(port)


def test_a_port_that_is_held_is_refused_to_the_next():
    with server.listening_socket(0) as held, pytest.raises(CommandError, match="taken"):
        server.listening_socket(held.getsockname()[1])


@pytest.mark.parametrize("port", [-1, 65536, 70000])
def test_a_number_that_is_no_port_gets_one_sentence(port):
    with pytest.raises(CommandError, match="from 1024 to 65535"):
        server.listening_socket(port)


def test_a_port_that_belongs_to_the_machine_gets_one_sentence():
    assert "from 1024 up" in server.refusal(80, PermissionError(13, "Permission denied"))


def test_the_last_port_names_one_that_exists():
    assert server.another(65535) == 8000
