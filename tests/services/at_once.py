"""Several people at the same moment, each in a thread with a connection of its own."""

from threading import Barrier, Thread

from django.db import connections

from coop.errors import Failure


def at_once(*acts):
    """What each act answered or was refused with, all begun at one moment; needs `file_database`."""
    begin, answers = Barrier(len(acts)), [None] * len(acts)

    def run(number, act):
        begin.wait()
        try:
            answers[number] = act()
        except Failure as refusal:
            answers[number] = refusal
        finally:
            connections.close_all()

    threads = [Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=120)
    assert not any(thread.is_alive() for thread in threads)
    return answers
