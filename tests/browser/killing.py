"""A phone that dies, as by a flat battery: its browser is ended without a word."""

import os
import signal
import time
from pathlib import Path


def processes_of(profile):
    """The browser that lives in this profile with all its children, by their ids."""
    parents, own = {}, set()
    for folder in Path("/proc").iterdir():
        if not folder.name.isdigit():
            continue
        try:
            command = (folder / "cmdline").read_bytes()
            parents[int(folder.name)] = int((folder / "stat").read_text().rsplit(")", 1)[1].split()[1])
        except OSError:
            continue
        if f"--user-data-dir={profile}".encode() in command.split(b"\0"):
            own.add(int(folder.name))
    while more := {one for one, parent in parents.items() if parent in own} - own:
        own |= more
    return own


def kill(profile):
    """As a dead battery would: nothing is told, nothing is tidied up."""
    own = processes_of(profile)
    assert own, "no browser lives in this profile"
    for one in own:
        try:
            os.kill(one, signal.SIGKILL)
        except ProcessLookupError:
            continue
    end = time.monotonic() + 20
    while processes_of(profile) and time.monotonic() < end:
        time.sleep(0.05)
    for lock_file in profile.glob("Singleton*"):
        lock_file.unlink()
