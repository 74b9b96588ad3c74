import secrets

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError

from coop.management import engines, frontend, server
from coop.services.demo import load_demo

LOOK = """
Carton Hour runs on {address}

  Departures   {address}
               80 kg of hard fish at Mpulungu: which departure, close the carton when, until what hour
               it may still leave, and what a delivered kilogram costs. Open one, then switch the network off.
  Interface    {address}api/v1/schema/   what a program may ask, with examples
  Tables       {address}admin/   {admin}

Everything in it is an example: an invented cooperative at the south end of Lake Tanganyika.
What you change stays in {data}. Stop with Ctrl-C.
"""
NAME = "demo"


class Command(BaseCommand):
    help = "Sets up the demonstration, builds the screens if they changed, and serves both on this machine."
    requires_system_checks = ()

    def add_arguments(self, parser):
        parser.add_argument(
            "--port", type=int, default=8000, help="where to listen on 127.0.0.1 (default 8000)"
        )

    def handle(self, *, port, **_options):
        listener = server.listening_socket(port)
        self.fill_tables()
        admin = self.admin_words()
        self.build_screens()
        self.compile_engines()
        address = f"http://{server.HOST}:{port}/"
        self.stdout.write(LOOK.format(address=address, admin=admin, data=settings.DATA))
        self.stdout.flush()
        server.Server(listener).run()

    def fill_tables(self):
        try:
            call_command("migrate", verbosity=0, interactive=False)
            load_demo()
        except DatabaseError as failure:
            raise CommandError(
                f"The database in {settings.DATA} cannot be used: {failure}. "
                "Mend or move that folder, or name another in CARTON_HOUR_DATA."
            ) from failure

    def admin_words(self):
        """How to enter the tables: the password is drawn for this data folder and shown this once."""
        people = get_user_model().objects
        if people.filter(is_superuser=True).exists():
            return f"the password was shown at the first start (manage.py changepassword {NAME} sets another)"
        password = secrets.token_urlsafe(9)
        people.create_superuser(NAME, password=password)
        return f"name {NAME}, password {password} (shown only this once)"

    def compile_engines(self):
        if not engines.are_compiled():
            self.stdout.write("Compiling the engines: about half a minute, and only after a change …")
            self.stdout.flush()
        engines.warm_up()

    def build_screens(self):
        if not frontend.is_stale(settings.FRONTEND):
            return
        self.stdout.write("Building the screens: about half a minute, and only after a change …")
        self.stdout.flush()
        try:
            frontend.build(settings.FRONTEND, log=settings.DATA / "frontend-build.log")
        except OSError as failure:
            raise CommandError(f"The screens cannot be built: {failure}.") from failure
