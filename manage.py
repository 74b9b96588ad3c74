#!/usr/bin/env python3
"""The door to every command: `manage.py demo`, `migrate`, `check`, …"""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def main():
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coop.settings")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as failure:
        sys.exit(str(failure))
    except KeyboardInterrupt:
        sys.exit(130)


if __name__ == "__main__":
    main()
