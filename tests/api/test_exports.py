from io import BytesIO
from zipfile import ZipFile

import pytest

from api.csv_subjects import SUBJECTS as COLUMNS
from tests.api.files import SUBJECTS, Files, full_trade
from tests.factories.carriers import CarrierFactory
from tests.factories.tariffs import TariffFactory, TariffRuleFactory


@pytest.fixture
def trade(ours_trading):
    return full_trade(ours_trading)


@pytest.fixture
def files(manager, trade):
    return Files(manager)


@pytest.mark.parametrize("subject", SUBJECTS)
def test_a_table_has_its_header_and_its_lines(files, ours, subject):
    header, *lines = files.fetch(subject).decode("utf-8-sig").split("\r\n")
    assert header.split(",") == [column.name for column in COLUMNS[subject].columns(ours)]
    assert len(lines) > 1
    assert lines[-1] == ""


def test_the_header_names_the_currency(files, ours):
    ours.currency, ours.currency_decimals = "XOF", 0
    ours.save()
    header, line, _ = files.fetch("fish_prices").decode("utf-8-sig").split("\r\n")
    assert "bought_xof_per_kg" in header
    assert ",3000," in line


def test_it_is_a_file_for_whoever_asked_and_no_proxy_keeps_it(files):
    answer = files.client.get("/api/v1/exports/fares/", headers={"accept": "text/csv"})
    assert answer.status_code == 200
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="fares.csv"'
    assert "no-store" in answer["Cache-Control"]


def test_a_name_that_looks_like_a_formula_is_none_in_a_spreadsheet(files, trade):
    carrier = CarrierFactory(cooperative=trade.cooperative, name="=HYPERLINK(1)")
    TariffRuleFactory(tariff=TariffFactory(cooperative=trade.cooperative, carrier=carrier, route=trade.route))
    text = files.fetch("fares").decode("utf-8-sig")
    assert "\n'=HYPERLINK(1)," in text
    assert files.take("fares", text.encode())[1]["counts"]["new"] == 0


def test_another_subject_is_nowhere_and_another_separator_is_refused(files):
    assert files.client.get("/api/v1/exports/quotes/").status_code == 404
    assert files.client.get("/api/v1/exports/fares/", {"separator": "tab"}).status_code == 400


def test_nothing_of_strangers_is_in_it(files, theirs_trading):
    for subject in SUBJECTS:
        text = files.fetch(subject).decode()
        assert "their-route" not in text
        assert theirs_trading.carrier.name not in text


@pytest.mark.parametrize(("subject", "member"), [("archive", "manifest.json"), ("gtfs", "trips.txt")])
def test_a_zip_goes_out_under_its_own_name(files, ours, subject, member):
    answer = files.client.get(f"/api/v1/exports/{subject}/")
    assert answer["Content-Type"] == "application/zip"
    assert answer["Content-Disposition"] == f'attachment; filename="{ours.slug}-{subject}.zip"'
    assert member in ZipFile(BytesIO(answer.content)).namelist()
