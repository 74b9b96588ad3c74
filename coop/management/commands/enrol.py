from datetime import timedelta

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from coop.models import Cooperative
from coop.selectors.members import present_members_of
from coop.services.enrolment_codes import issue_code

HOURS = 24
TOLD = """
{code}

enrols a phone for {name} ({role}) of {cooperative}, once, within {hours} hours:
on the phone open /enrol#{code} of this server, or type the code there.
"""


class Command(BaseCommand):
    help = "Makes a one-time code for a member: the first manager of a cooperative has nobody else to ask."

    def add_arguments(self, parser):
        parser.add_argument("cooperative", help="its short name, as in the tables")
        parser.add_argument("member", help="her name, as in the tables")

    def handle(self, *, cooperative, member, **_options):
        found = self.member_of(cooperative, member)
        _, words = issue_code(by=None, member=found, valid_for=timedelta(hours=HOURS), at=timezone.now())
        told = {"name": found.name, "role": found.role, "cooperative": found.cooperative}
        self.stdout.write(TOLD.format(code=words, hours=HOURS, **told))

    def member_of(self, slug, name):
        cooperative = Cooperative.objects.filter(slug=slug).first()
        if cooperative is None:
            raise CommandError(f"There is no cooperative {slug}: its short name stands in the tables.")
        named = present_members_of(cooperative).filter(name=name)
        if named.count() != 1:
            raise CommandError(f"{named.count()} members of {slug} are called {name}: right is one.")
        return named.get()
