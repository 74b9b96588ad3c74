"""The demo's server: gunicorn, with one process and several threads.

One process, so that what was worked out once is in everybody's reach and the engines are compiled once;
threads, because the engines let go of Python's lock while they compute. Django's own server would do, but
says itself that it is not made to be relied on.
"""

import errno
import socket

from django.conf import settings
from django.core.management.base import CommandError
from django.core.wsgi import get_wsgi_application
from gunicorn.app.base import BaseApplication

HOST = "127.0.0.1"
# A phone whose holder reads for a while finds its line still open (gunicorn's own is 2 s): on 2G a new one
# costs a round trip or more, and a question that is sent into a line that closes just then is lost.
LINE_OPEN_S = 75


def listening_socket(port):
    """The port, held from here on: nobody can take it while the screens are being built."""
    listener = socket.socket()
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((HOST, port))
        listener.listen(128)
    except (OSError, OverflowError) as failure:
        listener.close()
        raise CommandError(refusal(port, failure)) from failure
    return listener


def refusal(port, failure):
    if isinstance(failure, OSError) and failure.errno == errno.EADDRINUSE:
        return f"Port {port} is taken: stop what uses it, or choose another, as in --port {another(port)}."
    if isinstance(failure, PermissionError):
        return f"Port {port} is not open to you: choose one from 1024 up, as in --port 8000."
    return f"Port {port} cannot be used: choose one from 1024 to 65535, as in --port 8000."


def another(port):
    return port + 1 if port < 65535 else 8000


class Server(BaseApplication):
    """gunicorn around Django, on a socket that is open already."""

    def __init__(self, listener):
        self.listener = listener
        super().__init__(prog="carton-hour")

    def load_config(self):
        self.cfg.set("bind", f"fd://{self.listener.detach()}")
        self.cfg.set("worker_class", "gthread")
        self.cfg.set("workers", 1)
        self.cfg.set("threads", settings.SERVER_THREADS)
        self.cfg.set("keepalive", LINE_OPEN_S)
        self.cfg.set("loglevel", "warning")

    def load(self):
        return get_wsgi_application()
