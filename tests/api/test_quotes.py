"""Quotes by the interface: what is sent, what comes back, and what is refused."""

import json
import re
from urllib.parse import urlsplit

import pytest

from api.quotes import LosingQuotesOut
from api.quotes_shapes import QuoteOut, SentOut
from coop.models import Quote, Supply, TariffRule
from coop.services.secret_links import digest_of
from tests.api.people import asking_as, cast
from tests.api.quote_rows import quote, quoting
from tests.api.test_openapi import differences
from tests.factories.quotes import QuoteFactory

pytestmark = pytest.mark.django_db
QUOTE_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c15"


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


@pytest.fixture
def body(people):
    return quoting(people)


@pytest.fixture
def ask(people):
    return asking_as(people.packer)


def fields_of(answer):
    return {one["field"] for one in answer["error"]["fields"]}


def test_a_quote_comes_with_its_link_and_a_text_to_share_and_the_link_opens_it(ask, body):
    status, answer = ask.post("quotes/", {**body, "id": QUOTE_ID, "language": "fr"})
    assert (status, differences(SentOut(), answer)) == (201, [])
    assert answer["quote"]["id"] == QUOTE_ID
    secret = re.fullmatch(r"http://testserver/q/(\w+)/", answer["address"])[1]
    assert Quote.objects.get().secret_digest == digest_of(secret)
    assert answer["text"].endswith(answer["address"])
    page = ask.client.get(f"/q/{secret}/")
    assert (page.status_code, 'lang="fr"' in page.content.decode()) == (200, True)
    again_status, again = ask.post("quotes/", {**body, "id": QUOTE_ID, "language": "fr"})
    assert (again_status, again["address"], again["text"]) == (200, None, None)
    assert secret not in str(again)


@pytest.mark.parametrize(
    ("language", "until", "care"),
    [
        ("en", "Valid until", "an estimate, not a certificate"),
        ("fr", "Valable jusqu’au", "une estimation, pas un certificat"),
        ("mg", "Hatramin’ny", "Tombana ity fa tsy"),
        ("sw", "Hadi", "makadirio, si cheti"),
    ],
)
def test_text_and_page_are_in_the_language_of_the_buyer(ask, body, language, until, care):
    status, answer = ask.post("quotes/", {**body, "language": language})
    assert status == 201
    page = ask.client.get(urlsplit(answer["address"]).path).content.decode()
    assert f'<html lang="{language}">' in page
    assert care in page
    assert until in answer["text"]


def test_what_is_shown_later_names_no_link(ask, body):
    _, sent = ask.post("quotes/", body)
    secret = sent["address"].split("/")[-2]
    for address in ("quotes/", f"quotes/{sent['quote']['id']}/"):
        _, answer = ask(address)
        assert secret not in str(answer)
        assert digest_of(secret) not in str(answer)


def test_a_preview_shows_the_same_and_writes_nothing(ask, body):
    status, shown = ask.post("quotes/preview/", body)
    assert (status, differences(QuoteOut(), shown)) == (200, [])
    assert (shown["id"], shown["supply"]["id"]) == (None, None)
    assert (Quote.objects.count(), Supply.objects.count()) == (0, 0)
    _, sent = ask.post("quotes/", body)
    assert sent["quote"]["ladder"] == shown["ladder"]
    assert sent["quote"]["lines"] == shown["lines"]


def test_lines_add_up_to_the_cost_of_what_each_price_begins_with(ask, body):
    _, shown = ask.post("quotes/preview/", body)
    for place, step in enumerate(shown["ladder"]):
        assert sum(line["amounts_minor"][place] or 0 for line in shown["lines"]) == step["cost_minor"]
        assert step["price_minor_per_kg"] * step["from_kg"] >= step["cost_minor"] * 1.25


def test_another_quote_draws_on_the_same_fish(ask, body):
    _, first = ask.post("quotes/", body)
    plain = {name: value for name, value in body.items() if name != "fish"}
    status, second = ask.post("quotes/", {**plain, "supply": first["quote"]["supply"]["id"]})
    assert (status, second["quote"]["supply"]) == (201, first["quote"]["supply"])
    status, found = ask("quotes/", supply=first["quote"]["supply"]["id"])
    assert (status, found["count"]) == (200, 2)


def test_a_member_draws_on_her_own_fish_only(people, body):
    asking_as(people.packer).post("quotes/", body)
    plain = {name: value for name, value in body.items() if name != "fish"}
    asked = {**plain, "supply": str(Supply.objects.get().uuid)}
    assert asking_as(people.owner).post("quotes/", asked)[0] == 201
    for who in (people.fellow, people.stranger):
        status, answer = asking_as(who).post("quotes/", asked)
        assert (status, "supply" in fields_of(answer) or who == people.stranger) == (400, True)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"departure": "nothing"}, "departure"),
        ({"departure": "1-20260230-common"}, "departure"),
        ({"departure": "999999999-20260302-common"}, "departure"),
        ({"buyer": "nobody"}, "buyer"),
        ({"becomes": "cart"}, "becomes"),
        ({"profit_kind": "tip"}, "profit_kind"),
        ({"profit_share": -0.1}, "profit_share"),
        ({"profit_share": 11}, "profit_share"),
        ({"profit_kind": "margin", "profit_share": 0.96}, "profit_share"),
        ({"valid_until": "2020-01-01T00:00:00+02:00"}, "valid_until"),
        ({"language": "bem"}, "language"),
        ({"supply": QUOTE_ID, "fish": None}, "supply"),
        ({"supply": None, "fish": None}, "supply"),
        ({"price": 3}, "price"),
    ],
)
def test_what_is_wrong_is_named(ask, body, changes, field):
    status, answer = ask.post("quotes/", {**body, **changes})
    assert (status, fields_of(answer)) == (400, {field})
    assert Quote.objects.count() == 0


@pytest.mark.parametrize("mass_kg", ["NaN", "Infinity", "1e400", "0", "-1", "5001", '"80"', "true"])
def test_a_mass_that_is_none_is_refused(ask, body, mass_kg):
    text = json.dumps({**body, "fish": {**body["fish"], "mass_kg": "MASS"}}).replace('"MASS"', mass_kg)
    answer = ask.client.post("/api/v1/quotes/", text, content_type="application/json")
    assert answer.status_code == 400
    assert Supply.objects.count() == 0


def test_fish_that_would_not_arrive_hard_is_refused_with_the_reason(ask, body):
    warm = {**body, "fish": {**body["fish"], "start_temperature_c": -2.6, "mass_kg": 6}}
    status, answer = ask.post("quotes/", warm)
    assert (status, answer["error"]["code"]) == (409, "not_safe")
    assert answer["error"]["message"].startswith("Nothing can be quoted")


def test_revoking_and_renewing_and_what_a_fellow_may_not(people):
    row = quote(people.ours, people.owner)
    owner = asking_as(people.owner)
    status, renewed = owner.post(f"quotes/{row.uuid}/renew-link/")
    assert (status, differences(SentOut(), renewed)) == (200, [])
    assert owner.client.get(f"/q/{row.secret}/").status_code == 404
    assert owner.client.get(renewed["address"].removeprefix("http://testserver")).status_code == 200
    status, revoked = owner.post(f"quotes/{row.uuid}/revoke/")
    assert (status, revoked["state"]) == (200, "revoked")
    assert owner.client.get(renewed["address"].removeprefix("http://testserver")).status_code == 410
    assert owner.post(f"quotes/{row.uuid}/renew-link/")[0] == 409


def test_a_list_is_filtered_by_what_became_of_them(people):
    ask = asking_as(people.packer)
    row = quote(people.ours)
    QuoteFactory(cooperative=people.ours)
    assert [ask("quotes/", state=state)[1]["count"] for state in ("issued", "expired", "revoked")] == [
        1,
        1,
        0,
    ]
    assert ask("quotes/", buyer=row.buyer.slug)[1]["count"] == 1
    assert ask("quotes/", state="gone")[0] == 400


def test_a_fare_that_rises_lists_the_quotes_that_lose_by_it(ask, body):
    ask.post("quotes/", body)
    assert ask("quotes/losing/") == (200, {"quotes": []})
    TariffRule.objects.update(amount_minor=900_000)
    status, answer = ask("quotes/losing/")
    assert (status, differences(LosingQuotesOut(), answer)) == (200, [])
    [losing] = answer["quotes"]
    assert losing["why"][0] == {
        "code": "fare_per_carton",
        "name": "Fare, by the carton",
        "before_minor": 30_000,
        "after_minor": 900_000,
    }
    assert losing["loses_minor"] > 500_000


def test_a_quote_that_was_accepted_says_what_became_of_it(ask, body):
    _, sent = ask.post("quotes/", body)
    path = sent["address"].removeprefix("http://testserver")
    assert ask.client.post(f"{path}accept/", {"kg": "80", "name": "Mr Banda"}).status_code == 303
    _, row = ask(f"quotes/{sent['quote']['id']}/")
    assert (row["state"], row["accepted_kg"], row["answered_by_name"]) == ("accepted", 80.0, "Mr Banda")
    assert row["accepted_minor"] == 80 * row["ladder"][-1]["price_minor_per_kg"]
    assert ask(f"lots/{row['lot']}/")[1]["mass_kg"] == 80.0
    assert row["supply"]["left_kg"] == 0.0
