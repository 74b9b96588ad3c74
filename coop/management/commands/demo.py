import secrets
from contextlib import contextmanager

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError

from coop.errors import Conflict
from coop.management import engines, frontend, server
from coop.models import Role
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.members import present_members_of
from coop.services.demo import load_demo
from coop.services.sign_in import set_password

LOOK = """
Carton Hour runs on {address}

  Departures   {address}
               80 kg of hard fish at Mpulungu: which departure, close the carton when, until what hour
               it may still leave, and what a delivered kilogram costs. Open one, then switch the network off.
  People       {address}enrol
               Look as {people}.
               {manager}
  Interface    {address}api/v1/schema/   what a program may ask, with examples
  Tables       {address}admin/   {admin}

Everything in it is an example: an invented cooperative at the south end of Lake Tanganyika.
What you change stays in {data}. Stop with Ctrl-C.
"""
NAME = "demo"


@contextmanager
def usable_database():
    try:
        yield
    except DatabaseError as failure:
        raise CommandError(
            f"The database in {settings.DATA} cannot be used: {failure}. "
            "Mend or move that folder, or name another in CARTON_HOUR_DATA."
        ) from failure


class Command(BaseCommand):
    help = "Sets up the demonstration, builds the screens if they changed, and serves both on this machine."
    requires_system_checks = ()

    def add_arguments(self, parser):
        parser.add_argument(
            "--port", type=int, default=8000, help="where to listen on 127.0.0.1 (default 8000)"
        )

    def handle(self, *, port, **_options):
        if settings.PRODUCTION:
            raise CommandError(
                "CARTON_HOUR_PRODUCTION is yes: the demonstration, in which anybody may look as anybody, "
                "belongs into a data folder of its own without it."
            )
        listener = server.listening_socket(port)
        with usable_database():
            call_command("migrate", verbosity=0, interactive=False)
        self.build_screens()
        self.compile_engines()
        # What the demonstration has on the road is judged as it is loaded, so the engines come first.
        with usable_database():
            load_demo()
        words = {
            "admin": self.admin_words(),
            "people": self.people_words(),
            "manager": self.manager_words(),
        }
        address = f"http://{server.HOST}:{port}/"
        self.stdout.write(LOOK.format(address=address, data=settings.DATA, **words))
        self.stdout.flush()
        server.Server(listener).run()

    def admin_words(self):
        """How to enter the tables: the password is drawn for this data folder and shown this once."""
        people = get_user_model().objects
        if people.filter(is_superuser=True).exists():
            return f"the password was shown at the first start (manage.py changepassword {NAME} sets another)"
        password = secrets.token_urlsafe(9)
        people.create_superuser(NAME, password=password)
        return f"name {NAME}, password {password} (shown only this once)"

    def people_words(self):
        """One of each role, to look as: an enrolment code is a touch away in the demonstration."""
        people = present_members_of(demo_cooperative()).order_by("id")
        firsts = (people.filter(role=role).first() for role in Role.values)
        return " or ".join(f"{one.name} ({one.role})" for one in firsts if one)

    def manager_words(self):
        """How a manager signs in: as for the tables, her password is shown when it is drawn."""
        manager = present_members_of(demo_cooperative()).filter(role=Role.MANAGER).order_by("id").first()
        if manager is None or (manager.account and manager.account.has_usable_password()):
            return "The manager signs in there, too, with the password of the first start or her own."
        name, password = manager.name.split()[0].lower(), secrets.token_urlsafe(9)
        try:
            set_password(by=manager, name=name, password=password)
        except Conflict:
            return f"{manager.name} has no password: another manager signs in as {name}."
        return f"The manager signs in there, too: name {name}, password {password} (shown only this once)"

    def compile_engines(self):
        if not engines.are_compiled():
            self.stdout.write("Compiling the engines: about a minute, and only after a change …")
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
