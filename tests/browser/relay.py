"""A wire between browser and server that counts every byte, the service worker's own among them."""

import contextlib
import socket
import threading


class Relay:
    """Listens on a port of its own and hands everything on; `received` counts what came from the server."""

    def __init__(self, port):
        self.target = ("127.0.0.1", port)
        self.received = 0
        self.counting = threading.Lock()
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        self.sockets = {self.listener}

    def start(self):
        threading.Thread(target=self.accept, daemon=True).start()

    def accept(self):
        # Closing the listener is what ends this.
        with contextlib.suppress(OSError):
            while True:
                near, _ = self.listener.accept()
                far = socket.create_connection(self.target)
                self.sockets |= {near, far}
                threading.Thread(target=self.carry, args=(near, far, self.pass_by), daemon=True).start()
                threading.Thread(target=self.carry, args=(far, near, self.count), daemon=True).start()

    def carry(self, source, sink, note):
        with contextlib.suppress(OSError):
            while part := source.recv(65_536):
                note(len(part))
                sink.sendall(part)
            sink.shutdown(socket.SHUT_WR)

    def pass_by(self, _length):
        """What the phone sends is little, and not what its owner pays for."""

    def count(self, length):
        with self.counting:
            self.received += length

    def close(self):
        for one in self.sockets:
            with contextlib.suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)
            one.close()
