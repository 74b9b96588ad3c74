"""A buyer's page, as a browser without an account, a script or a cookie sees it."""

import gzip
import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.core.cache import caches
from django.test import Client
from django.utils import timezone

from api.callers import LIMITS
from coop.models import Quote, QuoteQuestion, Timetable
from coop.models.timetables import WEEKDAYS
from coop.services.quotes import make_quote, revoke_quote
from tests.factories.lots import LotFactory
from tests.factories.quotes import QuoteFactory, QuoteQuestionFactory
from tests.services.packing_day import packing_day
from tests.services.quoting_day import Fish, wanted

pytestmark = pytest.mark.django_db
MOST_BYTES = 15_000


@pytest.fixture(autouse=True)
def no_counted_tries():
    caches["tries"].clear()


@pytest.fixture
def buyer():
    return Client(enforce_csrf_checks=True)


def coming(**columns):
    """A quote that counts today, whatever its departure."""
    now = timezone.now()
    return QuoteFactory(departs_at=now + timedelta(days=2), issued_at=now - timedelta(hours=1), **columns)


def text_of(answer):
    return answer.content.decode()


def test_a_link_opens_without_an_account_and_says_all_that_was_promised(buyer):
    quote = coming()
    answer = buyer.get(f"/q/{quote.secret}/")
    text = text_of(answer)
    assert answer.status_code == 200
    for words in (
        "Frozen Sleek lates, delivered",
        "From Anna, Traders",
        "K125.00",
        "K100.00",
        "at least 19 times in 20",
        "not more than 5% of the fish has softened",
        "not a certificate",
        "not frozen again",
        "between Mon, 2 Mar, 20:00 and Tue, 3 Mar, 01:30",
        "Valid until",
    ):
        assert words in text, words


def test_it_is_kept_by_nobody_found_by_no_search_and_told_to_no_other_site(buyer):
    answer = buyer.get(f"/q/{coming().secret}/")
    assert answer["Cache-Control"] == "no-store"
    assert answer["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer["X-Robots-Tag"]
    assert not answer.cookies


def test_it_has_no_script_no_style_of_its_own_and_never_repeats_its_secret(buyer):
    quote = coming()
    text = text_of(buyer.get(f"/q/{quote.secret}/?kg=40"))
    assert "<script" not in text
    assert "style=" not in text
    assert "<style" not in text
    assert quote.secret not in text


def test_the_page_with_all_that_it_loads_is_light(buyer):
    quote = coming()
    for _ in range(5):
        QuoteQuestionFactory(quote=quote)
    text = text_of(buyer.get(f"/q/{quote.secret}/?kg=40"))
    loaded = re.findall(r'href="/static/([^"]+)"', text)
    files = [Path(finders.find(name)).read_bytes() for name in loaded]
    assert len(files) == 2
    assert sum(len(gzip.compress(one)) for one in (text.encode(), *files)) <= MOST_BYTES


def test_looking_at_what_some_kilograms_cost_changes_nothing(buyer):
    quote = coming()
    text = text_of(buyer.get(f"/q/{quote.secret}/?kg=40"))
    assert "40 kg cost K5,000.00, delivered (K125.00 a kilogram)." in text
    assert "Accept 40 kg for K5,000.00" in text
    quote.refresh_from_db()
    assert quote.state == "issued"


@pytest.mark.parametrize("kg", ["39", "61", "40.5", "nan", "inf", "-1", "0", "1e300", "forty", "", "4" * 400])
def test_weights_that_are_not_offered_are_not_priced(buyer, kg):
    answer = buyer.get(f"/q/{coming().secret}/", {"kg": kg})
    assert answer.status_code == 200
    assert "Accept" not in text_of(answer)


def test_a_comma_is_read_as_a_point(buyer):
    assert "Accept 41 kg" in text_of(buyer.get(f"/q/{coming().secret}/?kg=41,0"))


@pytest.mark.parametrize("step", ["accept", "decline", "ask"])
def test_getting_the_address_of_a_form_does_nothing(buyer, step):
    quote = coming()
    assert buyer.get(f"/q/{quote.secret}/{step}/").status_code == 405
    quote.refresh_from_db()
    assert quote.state == "issued"


def test_posting_to_the_page_itself_is_refused(buyer):
    assert buyer.post(f"/q/{coming().secret}/").status_code == 405


def test_a_buyer_declines_and_reads_that_she_did(buyer):
    quote = coming()
    answer = buyer.post(f"/q/{quote.secret}/decline/", {"note": "too dear"})
    assert (answer.status_code, answer["Location"]) == (303, f"/q/{quote.secret}/")
    assert "Declined on" in text_of(buyer.get(answer["Location"]))
    quote.refresh_from_db()
    assert (quote.state, quote.note) == ("declined", "too dear")
    assert buyer.post(f"/q/{quote.secret}/decline/").status_code == 303
    assert buyer.post(f"/q/{quote.secret}/accept/", {"kg": "40", "name": "B"}).status_code == 409


def test_a_buyer_asks_and_sees_the_question_and_the_same_again_is_one(buyer):
    quote = coming()
    for _ in range(2):
        answer = buyer.post(f"/q/{quote.secret}/ask/", {"text": "  Are <b>they</b>\x00 gutted?\n"})
        assert answer.status_code == 303
    assert QuoteQuestion.objects.get().text == "Are <b>they</b> gutted?"
    assert "Are &lt;b&gt;they&lt;/b&gt; gutted?" in text_of(buyer.get(f"/q/{quote.secret}/"))


@pytest.mark.parametrize(
    ("step", "sent", "words"),
    [
        ("accept", {"kg": "40"}, "Write your name"),
        ("accept", {"kg": "40", "name": " \t"}, "Write your name"),
        ("accept", {"kg": "nan", "name": "B"}, "are not offered"),
        ("accept", {"name": "B"}, "are not offered"),
        ("accept", {"kg": "40.25", "name": "B"}, "are not offered"),
        ("accept", {"kg": "1e400", "name": "B"}, "are not offered"),
        ("accept", {"kg": "40", "name": "B" * 121}, "too long"),
        ("decline", {"note": "B" * 501}, "too long"),
        ("ask", {"text": ""}, "Write your question first"),
        ("ask", {}, "Write your question first"),
        ("ask", {"text": "B" * 501}, "too long"),
    ],
)
def test_what_is_sent_wrongly_is_said_and_changes_nothing(buyer, step, sent, words):
    quote = coming()
    answer = buyer.post(f"/q/{quote.secret}/{step}/", sent)
    assert answer.status_code == 400
    assert words in text_of(answer)
    quote.refresh_from_db()
    assert (quote.state, quote.questions.count()) == ("issued", 0)


def test_a_revoked_link_says_so_and_tells_nothing_more(buyer):
    quote = coming()
    revoke_quote(by=quote.made_by, quote=quote)
    answer = buyer.get(f"/q/{quote.secret}/")
    assert answer.status_code == 410
    assert "taken this quote back" in text_of(answer)
    assert "K125.00" not in text_of(answer)


def test_an_expired_one_says_when_it_ended(buyer):
    quote = QuoteFactory()
    text = text_of(buyer.get(f"/q/{quote.secret}/"))
    assert "This quote ended on Mon, 2 Mar, 15:20" in text
    assert "Accept" not in text


def test_fish_that_others_took_is_said_to_be_gone(buyer):
    quote = coming()
    other = coming(supply=quote.supply, cooperative=quote.cooperative)
    Quote.objects.filter(pk=other.pk).update(
        state="accepted",
        accepted_kg=50.0,
        answered_at=timezone.now(),
        lot=LotFactory(cooperative=quote.cooperative),
    )
    text = text_of(buyer.get(f"/q/{quote.secret}/"))
    assert "nothing of this fish is left" in text
    answer = buyer.post(f"/q/{quote.secret}/accept/", {"kg": "40", "name": "B"})
    assert answer.status_code == 409
    assert "can no longer be had this way" in text_of(answer)


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("", "No such quote"),
        ("fr-CA,fr;q=0.9", "Offre inconnue"),
        ("mg-MG,fr;q=0.8", "Tsy misy tolo-bidy toy izany"),
        ("sw", "Hakuna ofa kama hii"),
        ("bem,sw;q=0.5", "Hakuna ofa kama hii"),
    ],
)
def test_an_unknown_link_says_so_in_the_language_of_the_browser(buyer, language, words):
    answer = buyer.get("/q/nothing/", headers={"accept-language": language})
    assert answer.status_code == 404
    assert words in text_of(answer)


def test_whoever_tries_links_has_to_wait_and_whoever_has_one_is_then_no_better_off(buyer):
    most, _ = LIMITS["quote-links"]
    assert {buyer.get(f"/q/wrong{n}/").status_code for n in range(most)} == {404}
    answer = buyer.get(f"/q/{coming().secret}/")
    assert answer.status_code == 429
    assert int(answer["Retry-After"]) > 0
    assert "Wait" in text_of(answer)


def test_whoever_sends_forms_on_and_on_has_to_wait(buyer):
    quote = coming()
    most, _ = LIMITS["quote-answers"]
    found = [buyer.post(f"/q/{quote.secret}/ask/", {"text": ""}).status_code for _ in range(most + 1)]
    assert found == [400] * most + [429]


def test_a_token_or_none_makes_no_difference(buyer):
    address = f"/q/{coming().secret}/"
    with_token = buyer.get(address, headers={"authorization": f"Token {'0' * 64}"})
    assert with_token.status_code == buyer.get(address).status_code == 200


def test_a_buyer_accepts_in_french_and_reads_what_he_accepted(buyer):
    day = packing_day()
    # Every day at this hour, so that one leaves tomorrow whatever day the test runs on.
    Timetable.objects.update(**dict.fromkeys(WEEKDAYS, True))
    now = timezone.now()
    fish = Fish(
        member=day.owner,
        species=day.species,
        mass_kg=60.0,
        frozen_since=now - timedelta(days=2),
        ready_at=now - timedelta(hours=2),
        start_temperature_c=-18.0,
    )
    asked = wanted(day, date=(now + timedelta(days=2)).date(), language="fr", fish=fish)
    quote, secret = make_quote(by=day.owner, wanted=asked)
    assert "Frozen" not in text_of(buyer.get(f"/q/{secret}/"))
    answer = buyer.post(f"/q/{secret}/accept/", {"kg": "40", "name": "M. Banda"})
    assert answer.status_code == 303, text_of(answer)
    text = text_of(buyer.get(answer["Location"]))
    assert "Acceptée le" in text
    quote.refresh_from_db()
    assert (quote.answered_by_name, quote.accepted_kg, quote.lot.mass_kg) == ("M. Banda", 40.0, 40.0)
