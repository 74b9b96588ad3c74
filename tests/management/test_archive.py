import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from coop.models import Cooperative
from tests.services.archived_day import archived_day, taken_off

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return archived_day()


def test_out_and_in_again(day, tmp_path, capsys):
    first, second, slug = tmp_path / "first.zip", tmp_path / "second.zip", day.cooperative.slug
    call_command("archive", "out", slug, first)
    taken_off(day.cooperative)
    call_command("archive", "in", first)
    said = capsys.readouterr().out
    assert f"manage.py enrol {slug}" in said
    assert Cooperative.objects.get(slug=slug).members.filter(account__isnull=False).count() == 0
    call_command("archive", "out", slug, second)
    assert first.read_bytes() == second.read_bytes()


def test_what_cannot_be_done_is_one_sentence_each(day, tmp_path):
    file, slug = tmp_path / "a.zip", day.cooperative.slug
    with pytest.raises(CommandError, match="no cooperative far"):
        call_command("archive", "out", "far", file)
    call_command("archive", "out", slug, file)
    with pytest.raises(CommandError, match="File exists"):
        call_command("archive", "out", slug, file)
    with pytest.raises(CommandError, match=r"here already[\s\S]*Nothing was taken in"):
        call_command("archive", "in", file)
    with pytest.raises(CommandError, match="No such file"):
        call_command("archive", "in", tmp_path / "b.zip")
    file.write_bytes(b"no zip")
    with pytest.raises(CommandError, match="archive: cannot be unpacked"):
        call_command("archive", "in", file)
